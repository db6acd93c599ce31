"""Loads the program in the background: what the first answer needs after the window's first paint, the rest after it."""

from __future__ import annotations

import importlib

from PySide6.QtCore import QThread
from PySide6.QtWidgets import QWidget

FIRST = ("app.desk", "app.files", "app.findings_panel")
REST = ("app.pages.others", "app.comparing", "app.ranking", "app.exports", "app.rescue", "app.rescue_strip")


class EngineLoader(QThread):
    """Imports modules off the window's thread.

    Args:
        names: of the modules, `FIRST` or `REST`.
    """

    def __init__(self, names: tuple[str, ...], parent: QWidget) -> None:
        super().__init__(parent)
        self._names = names
        self.error: Exception | None = None

    def run(self) -> None:
        try:
            for name in self._names:
                importlib.import_module(name)
            # The first figure shown loads the units' library, a tenth of a second that belongs here.
            importlib.import_module("core.units").show(0.001, "length")
        except Exception as caught:  # told in the window, which lives on
            self.error = caught
