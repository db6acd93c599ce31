"""Loads the engine and the pages in the background, after the window's first paint."""

from __future__ import annotations

import importlib

from PySide6.QtCore import QThread
from PySide6.QtWidgets import QWidget


class EngineLoader(QThread):
    """Imports everything that the pages need, off the window's thread."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.error: Exception | None = None

    def run(self) -> None:
        try:
            for name in ("app.desk", "app.files", "app.exports", "app.rescue_strip"):
                importlib.import_module(name)
            # The first figure shown loads the units' library, a tenth of a second that belongs here.
            importlib.import_module("core.units").show(0.001, "length")
        except Exception as caught:  # told in the window, which lives on
            self.error = caught
