"""When plots are drawn: matplotlib is loaded in the background, and at most one plot is redrawn in full at a
time.

A full redraw takes some 25 ms. When several plots need one at once, each gets a turn of the event loop of its
own, so
that keystrokes are served in between.
"""

from __future__ import annotations

import importlib
import weakref
from types import ModuleType
from typing import Protocol

from PySide6.QtCore import QObject, QThread, QTimer, Signal
from shiboken6 import isValid


class Redrawn(Protocol):
    """A widget that can be drawn in full."""

    def redraw_now(self) -> None: ...


class _Loader(QThread):
    """Imports the plotting module; the failure, if any, is kept for the window's thread."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.error: Exception | None = None

    def run(self) -> None:
        try:
            importlib.import_module("app.widgets.plot_figure")
        except Exception as caught:  # shown in place of the plots; the window lives on
            self.error = caught


class PlotEngine(QObject):
    """Loads matplotlib and gives the plots their turns. One for the window, handed to every plot.

    Signals:
        ready: plots can be drawn.
        failed(sentence): they cannot.
    """

    ready = Signal()
    failed = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._module: ModuleType | None = None
        self._loader: _Loader | None = None
        self._waiting: dict[int, weakref.ReferenceType[QObject]] = {}
        self._turn = QTimer(self)
        self._turn.setSingleShot(True)
        self._turn.setInterval(0)
        self._turn.timeout.connect(self._next)

    @property
    def module(self) -> ModuleType | None:
        """`app.widgets.plot_figure` once it is loaded."""
        return self._module

    def start(self) -> None:
        """Load in the background; call it after the window's first paint."""
        if self._module is None and self._loader is None:
            self._loader = _Loader(self)
            self._loader.finished.connect(self._loaded)
            self._loader.start(QThread.Priority.LowPriority)

    def load_now(self) -> ModuleType:
        """Load at once and return the module (half a second when nothing is loaded yet)."""
        if self._module is None:
            self._module = importlib.import_module("app.widgets.plot_figure")
            self.ready.emit()
        return self._module

    def close(self) -> None:
        """Wait for the loading to end and give no more turns."""
        self._turn.stop()
        self._waiting.clear()
        if self._loader is not None:
            self._loader.wait()

    def ask(self, plot: QObject) -> None:
        """Give a plot (which is `Redrawn`) a turn soon; asking twice before it comes is asking once."""
        self._waiting.setdefault(id(plot), weakref.ref(plot))
        if not self._turn.isActive():
            self._turn.start()

    def _loaded(self) -> None:
        loader = self._loader
        if loader is None or self._module is not None:
            return
        if loader.error is not None:
            self.failed.emit(f"Plots cannot be drawn: {loader.error}")
            return
        self.load_now()

    def _next(self) -> None:
        while self._waiting:
            plot = self._waiting.pop(next(iter(self._waiting)))()
            if plot is not None and isValid(plot):
                if self._waiting:
                    self._turn.start()
                plot.redraw_now()  # type: ignore[attr-defined]
                return
