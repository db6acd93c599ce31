"""Each rail drawn with its holes, and what it takes in screws and nuts."""

from __future__ import annotations

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QToolButton, QVBoxLayout, QWidget

from app.answers import Answer
from app.look.theme import Theme
from app.pages.page import Page, heading, quiet
from app.pages.tables import ReportTable
from app.widgets.drawing_view import DrawingView
from core.drawing.views import rail_drawing
from core.fasteners import RailAnswer, totals
from core.report import Column, Table, fasteners_table
from core.report.tables import figure_column
from core.report.tables import number as shown_number
from core.units import UnitSet, show

ELSEWHERE = frozenset({"Hole pitch", "First hole", "Last hole to end", "Screw length", "Note"})
"""Columns that the page leaves out, because the drawing and the sentence under it say the same."""


VIEW_HEIGHT = (150, 260)
"""Least and most height of the drawing, which is long and low."""


class RailsPage(Page):
    """A rail's drawing, its words, and the table of all rails."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._answer: Answer | None = None
        self._key = ""
        self.view = DrawingView(theme, self)
        self.words = quiet()
        self.totals = ReportTable("Screws and nuts to buy", self)
        self.table = ReportTable("Rails and fasteners", self)
        self.table.keep_height()
        self.places = ReportTable("Places of the holes", self)
        self.places_heading = heading("Places of the holes")
        self._row = QHBoxLayout()
        self._row.setSpacing(6)
        self._group = QButtonGroup(self)
        self._buttons: dict[str, QToolButton] = {}
        self._row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        column.setSpacing(6)
        column.addWidget(heading("Holes of a rail"))
        column.addLayout(self._row)
        column.addWidget(self.view)
        column.addWidget(self.words)
        column.addWidget(heading("Screws and nuts of every rail"))
        column.addWidget(self.table)
        below = QHBoxLayout()
        below.setSpacing(14)
        for words, table, share in (
            (heading("To buy, with spares, in whole packs"), self.totals, 3),
            (self.places_heading, self.places, 2),
        ):
            part = QVBoxLayout()
            part.addWidget(words)
            part.addWidget(table, 1)
            below.addLayout(part, share)
        column.addLayout(below, 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        least, most = VIEW_HEIGHT
        self.view.setFixedHeight(min(most, max(least, self.height() // 4)))

    def show_answer(self, answer: Answer) -> None:
        self._answer = answer
        rails = answer.plan.rails
        if [rail.key for rail in rails] != list(self._buttons):
            self._make_buttons(rails)
        self.table.show_table(fasteners_table(answer.plan), ELSEWHERE)
        self.totals.show_table(_totals(answer))
        self._show_rail()

    def show_rail(self, key: str) -> None:
        self._key = key
        self._buttons[key].setChecked(True)
        self._show_rail()
        self.view.fit()

    def _make_buttons(self, rails: tuple[RailAnswer, ...]) -> None:
        for button in self._buttons.values():
            self._group.removeButton(button)
            self._row.removeWidget(button)
            button.deleteLater()
        self._buttons = {}
        for number, rail in enumerate(rails):
            button = QToolButton(self)
            button.setText(rail.label)
            button.setCheckable(True)
            button.setProperty("segment", "true")
            button.clicked.connect(lambda _checked=False, key=rail.key: self.show_rail(key))
            self._group.addButton(button)
            self._row.insertWidget(number, button)
            self._buttons[rail.key] = button
        if self._key not in self._buttons:
            self._key = rails[0].key if rails else ""
        if self._key:
            self._buttons[self._key].setChecked(True)

    def _show_rail(self) -> None:
        answer = self._answer
        rail = next((rail for rail in answer.plan.rails if rail.key == self._key), None) if answer else None
        if answer is None or rail is None:
            return
        self.view.set_drawing(rail_drawing(rail, answer.units))
        self.words.setText(_words(rail, answer.units))
        self.places_heading.setText(f"Places of the holes, {rail.label}")
        self.places.show_table(_places(rail, answer.units))


def _words(rail: RailAnswer, units: UnitSet) -> str:
    nuts = f" and {rail.nuts} nuts" if rail.nuts else ""
    sentence = (
        f"{rail.label}: {show(rail.length, 'length', units)} long, {rail.count} holes at "
        f"{show(rail.pitch, 'length', units)}, the first {show(rail.first, 'length', units)} and the last "
        f"{show(rail.last, 'length', units)} from the ends. {rail.screws} screws {rail.screw_text}{nuts}."
    )
    return f"{sentence} {rail.note}".strip()


def _totals(answer: Answer) -> Table:
    rows = tuple(
        (total.what, total.spec, total.needed, total.spare, total.pack_size, total.packs, total.bought)
        for total in totals(answer.plan.rails, answer.project)
    )
    words = tuple(Column(header, align="left") for header in ("Fastener", "Specification"))
    figures = tuple(Column(header) for header in ("Needed", "Spares", "In a pack", "Packs", "Bought"))
    return Table("Screws and nuts to buy", (*words, *figures), rows)


def _places(rail: RailAnswer, units: UnitSet) -> Table:
    columns = (
        Column("Hole"),
        figure_column("From the rail's start", "length", units),
        figure_column("From its end", "length", units),
    )
    rows = tuple(
        (hole, shown_number(at, "length", units), shown_number(rail.length - at, "length", units))
        for hole, at in enumerate(rail.holes, start=1)
    )
    return Table("Places of the holes", columns, rows)
