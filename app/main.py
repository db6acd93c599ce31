"""Starts the window."""

from __future__ import annotations

import gc
import sys
from pathlib import Path

from PySide6.QtWidgets import QApplication

from app.look.fonts import load_fonts, window_font
from app.look.theme import CHOICES, Theme
from app.recent import Memory
from app.window import MainWindow


def application() -> QApplication:
    """The application in our own look, the same on every system."""
    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication)
    app.setApplicationName("gantrywright")
    app.setApplicationDisplayName("")
    app.setStyle("Fusion")
    app.setFont(window_font(load_fonts()))
    return app


def collect_later(window: MainWindow) -> None:
    """Leave all that the start loads out of the garbage collector's rounds: it lives to the end anyway.

    A full round over it would stop the window for a tenth of a second each time.
    """
    gc.disable()

    def begin() -> None:
        gc.freeze()
        gc.enable()

    window.settled.connect(begin)


def run(path: str | Path | None = None) -> int:
    """Open the window, on a project if one is given, and return the exit code when it is closed."""
    app = application()
    memory = Memory()
    choice = memory.theme()
    theme = Theme(choice if choice in CHOICES else "system")  # type: ignore[arg-type]
    theme.apply(app)
    theme.changed.connect(lambda: theme.apply(app))
    app.setWindowIcon(theme.icon("gantrywright"))
    window = MainWindow(theme, None if path is None else Path(path), memory)
    geometry = memory.geometry()
    if geometry is None or not window.restoreGeometry(geometry):
        screen = app.primaryScreen().availableGeometry()
        window.resize(min(1500, screen.width()), min(900, screen.height()))
    collect_later(window)
    window.show()
    code = app.exec()
    window.finish()
    return code
