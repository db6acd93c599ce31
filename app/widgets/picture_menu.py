"""The menu behind every drawing and plot: copy or save the picture, copy or save its numbers."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QByteArray, QMimeData, QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication, QImage
from PySide6.QtWidgets import QFileDialog, QMenu, QWidget

from app.widgets.picture import CannotSave, kind_of, save_bytes

Numbers = Callable[[], str]


class Pictured(Protocol):
    """A widget that can give its picture."""

    def picture(self, kind: str) -> bytes: ...

    def title(self) -> str: ...


class PictureMenu(QObject):
    """Gives a widget the menu, and the same deeds to be called from elsewhere.

    Signals:
        trouble(sentence): a file could not be written.
        saved(path): it was.
    """

    trouble = Signal(str)
    saved = Signal(str)

    def __init__(self, widget: QWidget, source: Pictured) -> None:
        super().__init__(widget)
        self._widget = widget
        self._source = source
        self._numbers: Numbers | None = None
        widget.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        widget.customContextMenuRequested.connect(self._open)

    def set_numbers(self, numbers: Numbers | None) -> None:
        """Offer figures as CSV text, asked for when they are wanted."""
        self._numbers = numbers

    def menu(self) -> QMenu:
        """A fresh menu; the caller shows it."""
        menu = QMenu(self._widget)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.addAction("Copy picture", self.copy_picture)
        menu.addAction("Save picture…", self._ask_picture)
        if self._numbers is not None:
            menu.addSeparator()
            menu.addAction("Copy numbers", self.copy_numbers)
            menu.addAction("Save numbers…", self._ask_numbers)
        return menu

    def copy_picture(self) -> None:
        """Put the picture on the clipboard, as pixels and as SVG."""
        data = QMimeData()
        data.setImageData(QImage.fromData(QByteArray(self._source.picture("png")), "PNG"))
        data.setData("image/svg+xml", QByteArray(self._source.picture("svg")))
        QGuiApplication.clipboard().setMimeData(data)

    def copy_numbers(self) -> None:
        """Put the figures on the clipboard as CSV."""
        if self._numbers is not None:
            QGuiApplication.clipboard().setText(self._numbers())

    def save_picture(self, path: Path) -> None:
        """Write the picture; the name's ending says which kind."""
        self._save(path, lambda: self._source.picture(kind_of(path)))

    def save_numbers(self, path: Path) -> None:
        """Write the figures as CSV in UTF-8."""
        if (numbers := self._numbers) is not None:
            self._save(path, lambda: numbers().encode("utf-8"))

    def _save(self, path: Path, data: Callable[[], bytes]) -> None:
        try:
            save_bytes(path, data())
        except CannotSave as error:
            self.trouble.emit(str(error))
        else:
            self.saved.emit(str(path))

    def _open(self, at: object) -> None:
        self.menu().popup(self._widget.mapToGlobal(at))

    def _ask_picture(self) -> None:
        self._ask("Save picture", "SVG (*.svg);;PDF (*.pdf);;PNG (*.png)", "svg", self.save_picture)

    def _ask_numbers(self) -> None:
        self._ask("Save numbers", "CSV (*.csv)", "csv", self.save_numbers)

    def _ask(self, words: str, kinds: str, ending: str, save: Callable[[Path], None]) -> None:
        stem = self._source.title().lower().replace(" ", "-") or "picture"
        name, chosen = QFileDialog.getSaveFileName(self._widget, words, f"{stem}.{ending}", kinds)
        if name:
            path = Path(name)
            if not path.suffix:
                path = path.with_suffix(chosen[chosen.find("*") + 1 : -1])
            save(path)
