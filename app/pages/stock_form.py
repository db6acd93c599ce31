"""What is recorded of the picked part: counts, prices, day, source and link, in two rows below the bill."""

from __future__ import annotations

from functools import partial
from typing import Any

from PySide6.QtCore import Qt, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QWidget

from app.look.theme import Theme
from app.pages.page import heading, quiet
from app.widgets.entry import Entry
from app.widgets.maybe_entry import DayEntry, MaybeCountEntry, MaybeQuantityEntry
from app.widgets.quantity_entry import CountEntry, QuantityEntry
from app.widgets.simple_entries import TextEntry
from core.bill import BillLine
from core.fields import Spec, specs
from core.machine.ordering import OwnPart, StockRow
from core.machine.project import Project
from core.prices import show_amount
from core.report.links import may_be_opened
from core.units import METRIC, UnitSet

STOCK_PLACES = {
    "on_hand": (0, 0, 1),
    "ordered": (0, 1, 1),
    "arrived": (0, 2, 1),
    "fitted": (0, 3, 1),
    "spare": (0, 4, 1),
    "pack_size": (0, 5, 1),
    "price": (0, 6, 1),
    "paid": (0, 7, 1),
    "date": (2, 0, 2),
    "note": (2, 2, 3),
    "link": (2, 5, 2),
}
"""Row, column and columns taken, of each entry; its words stand a row above."""
OWN_PLACES = {
    "name": (0, 0, 2),
    "spec": (0, 2, 2),
    "group": (0, 4, 1),
    "quantity": (0, 5, 1),
    "length": (0, 6, 1),
    "mass_each": (0, 7, 1),
    "where": (2, 0, 3),
}
OPTIONAL = frozenset({"spare", "pack_size", "price", "paid", "length", "mass_each"})
NO_LINK = "Addresses that begin with http://, https:// or mailto: can be opened; other text stays text."
NOBODY = "Pick a line to record what is on hand, ordered, arrived and fitted."


def _entry(theme: Theme, name: str, spec: Spec) -> Entry:
    words: tuple[Any, ...] = (spec.label, spec.help)
    if spec.quantity == "day":
        return DayEntry(theme, *words)
    if spec.quantity == "count" and spec.high is None:
        return TextEntry(theme, *words)
    if spec.quantity == "count":
        return (MaybeCountEntry if name in OPTIONAL else CountEntry)(theme, *words, spec.low, spec.high)
    return (MaybeQuantityEntry if name in OPTIONAL else QuantityEntry)(
        theme, spec.quantity, *words, spec.low, spec.high
    )


class Grid(QWidget):
    """Entries of a struct in rows with their words above.

    Signals:
        edited(field, value), left(): as of an entry.
    """

    edited = Signal(str, object)
    left = Signal()

    def __init__(
        self,
        theme: Theme,
        struct: type,
        places: dict[str, tuple[int, int, int]],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.entries: dict[str, Entry] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(1)
        declared = specs(struct)
        for name, (row, column, span) in places.items():
            entry = _entry(theme, name, declared[name])
            entry.setObjectName(name)
            entry.edited.connect(partial(self.edited.emit, name))
            entry.left.connect(self.left)
            label = QLabel(declared[name].label, self)
            label.setToolTip(declared[name].help)
            label.setBuddy(entry)
            grid.addWidget(label, row, column, 1, span)
            grid.addWidget(entry, row + 1, column, 1, span, Qt.AlignmentFlag.AlignTop)
            self.entries[name] = entry
        for column in range(8):
            grid.setColumnStretch(column, 1)

    def show_values(self, value: Any, units: UnitSet) -> None:
        for name, entry in self.entries.items():
            entry.set_units(units)
            entry.set_value(getattr(value, name))

    def show_problems(self, problems: dict[str, str]) -> None:
        for name, entry in self.entries.items():
            entry.set_problem(problems.get(name))


class StockForm(QWidget):
    """The picked part's record and, for a part of the user's own, the part itself.

    Signals:
        recorded(key, field, value, words): a figure of the record.
        described(row, field, value): an entry of the user's own part.
        removed(row): the user's own part is to go.
        left(): the user is done with an entry.
    """

    recorded = Signal(str, str, object, str)
    described = Signal(int, str, object)
    removed = Signal(int)
    left = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._line: BillLine | None = None
        self._own = -1
        self.title = heading(NOBODY)
        self.title.setTextFormat(Qt.TextFormat.PlainText)
        self.stock = Grid(theme, StockRow, STOCK_PLACES, self)
        self.stock.edited.connect(self._record)
        self.stock.left.connect(self.left)
        self.own = Grid(theme, OwnPart, OWN_PLACES, self)
        self.own.edited.connect(lambda field, value: self.described.emit(self._own, field, value))
        self.own.left.connect(self.left)
        self.words = quiet()
        self.open = QPushButton("Open link", self)
        self.open.clicked.connect(self._open)
        self.stock.layout().addWidget(self.open, 3, 7, Qt.AlignmentFlag.AlignTop)  # type: ignore[call-arg, union-attr]
        self.remove = QPushButton("Remove this part", self)
        self.remove.clicked.connect(lambda: self.removed.emit(self._own))
        column = QGridLayout(self)
        column.setContentsMargins(0, 4, 0, 0)
        column.setVerticalSpacing(4)
        column.addWidget(self.title, 0, 0)
        column.addWidget(self.remove, 0, 1)
        column.addWidget(self.words, 1, 0, 1, 2)
        column.addWidget(self.own, 2, 0, 1, 2)
        column.addWidget(self.stock, 3, 0, 1, 2)
        column.setColumnStretch(0, 1)
        self.show_line(None, None, METRIC)

    def key(self) -> str:
        """Key of the part in view; empty without one."""
        return self._line.key if self._line is not None else ""

    def show_line(self, line: BillLine | None, project: Project | None, units: UnitSet) -> None:
        """Show a line of the bill, or a word when none is picked."""
        self._line = line
        own = project.own_parts if project is not None else ()
        self._own = next((k for k, part in enumerate(own) if line is not None and part.key == line.key), -1)
        self.stock.setVisible(line is not None)
        self.words.setVisible(line is not None)
        for widget in (self.own, self.remove):
            widget.setVisible(self._own >= 0)
        if line is None or project is None:
            self.title.setText(NOBODY)
            return
        self.title.setText(f"{line.part.what}, {line.part.spec}" if line.part.spec else line.part.what)
        self.words.setText(_in_words(line))
        self._hint(line)
        self.stock.show_values(line.record, units)
        self._show_link(line.record.link)
        if self._own >= 0:
            self.own.show_values(own[self._own], units)

    def _hint(self, line: BillLine) -> None:
        """What stands in for entries that are left empty."""
        hints = {
            "spare": str(line.spare),
            "pack_size": str(line.pack_size) if line.pack_size > 1 else "single",
            "price": show_amount(None if line.price is None else line.price.each),
            "paid": "not yet" if not line.record.ordered else "as price",
        }
        for name, words in hints.items():
            self.stock.entries[name].hint(words)  # type: ignore[attr-defined]
        rule = "" if line.price is None else f" Now: {line.price.rule}."
        self.stock.entries["price"].setToolTip(f"{self.stock.entries['price'].help_text()}{rule}")

    def _show_link(self, link: str) -> None:
        """Only a web or mail address can be opened, and it is told in full before it is; all else stays text."""
        good = may_be_opened(link)
        self.open.setEnabled(good)
        self.open.setToolTip(f"Opens {link.strip()}" if good else NO_LINK)

    def _open(self) -> None:
        link = "" if self._line is None else self._line.record.link.strip()
        if may_be_opened(link):
            QDesktopServices.openUrl(QUrl(link, QUrl.ParsingMode.StrictMode))

    def _record(self, field: str, value: object) -> None:
        if self._line is not None:
            self.recorded.emit(self._line.key, field, value, self._line.part.what)


def _in_words(line: BillLine) -> str:
    """Where the pieces go and what is still to be done about them."""
    words = [f"{line.needed} needed" + (f" and {line.spare} spare" if line.spare else "")]
    if line.part.where:
        words[0] += f", {line.part.where}"
    if line.cut:
        words.append(f"{line.cut} cut from the bars of this list")
    if line.on_hand > line.record.on_hand:
        words.append(f"{line.on_hand - line.record.on_hand} on hand by the cut list")
    if line.to_order:
        packs = f" ({line.packs_to_order} packs of {line.pack_size})" if line.packs_to_order else ""
        words.append(f"{line.to_order} to order{packs}")
    if line.awaited:
        words.append(f"{line.awaited} on the way")
    if line.short or not line.cut:  # whether bars for those to be cut are there, their own line tells
        words.append(f"{line.short} short of" if line.short else "enough are there")
    return f"{'; '.join(words)}."
