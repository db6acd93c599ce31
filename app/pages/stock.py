"""A button whose menu lists the catalogue's sections by family, hollow sections by outer size too."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QMenu, QToolButton, QWidget

from core.catalogue import Entry, built_ups, entries
from core.sections import RectangularHollow
from core.sections.labels import sizes


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
        menus: dict[tuple[str, ...], QMenu] = {}
        for entry in (*entries(), *built_ups()):
            below = menu
            path = _path(entry)
            for depth in range(1, len(path) + 1):
                if path[:depth] not in menus:
                    menus[path[:depth]] = below.addMenu(path[depth - 1])
                below = menus[path[:depth]]
            below.addAction(entry.label, lambda entry=entry: self._take(entry))

    def _take(self, entry: object) -> None:
        self.taken.emit(entry.section)  # type: ignore[attr-defined]
        self.taken_entry.emit(entry)


def _path(entry: Entry) -> tuple[str, ...]:
    """Headings under which an entry stands: there are hundreds of hollow sections, of a few dozen outer sizes."""
    section = entry.section
    if isinstance(section, RectangularHollow):
        return entry.family, sizes(section.height, section.width)
    return (entry.family,)
