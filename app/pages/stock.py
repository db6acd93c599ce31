"""A button whose menu lists the catalogue's sections by family."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QMenu, QToolButton, QWidget

from core.catalogue import built_ups, entries


class StockButton(QToolButton):
    """Offers the stock sections; the menu is filled when it is first opened.

    Signals:
        taken(section): the user picked this section.
        taken_entry(entry): the same with its catalogue entry.
    """

    taken = Signal(object)
    taken_entry = Signal(object)

    def __init__(self, parent: QWidget | None = None, words: str = "Take a stock size") -> None:
        super().__init__(parent)
        self.setText(words)
        self.setProperty("segment", "true")
        self.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.setToolTip("Fills in the dimensions of a size from the catalogue.")
        menu = QMenu(self)
        menu.aboutToShow.connect(self.fill)
        self.setMenu(menu)

    def fill(self) -> None:
        """List the catalogue, once."""
        menu = self.menu()
        if not menu.isEmpty():
            return
        families: dict[str, QMenu] = {}
        for entry in (*entries(), *built_ups()):
            if entry.family not in families:
                families[entry.family] = menu.addMenu(entry.family)
            families[entry.family].addAction(entry.label, lambda entry=entry: self._take(entry))

    def _take(self, entry: object) -> None:
        self.taken.emit(entry.section)  # type: ignore[attr-defined]
        self.taken_entry.emit(entry)
