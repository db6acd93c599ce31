"""Each rail drawn with its holes, in pieces with its drilling list, its T-nuts, and what may be done while screws are short."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QTabWidget, QVBoxLayout, QWidget

from app.answers import Answer
from app.finding_places import page_of
from app.look.theme import Theme
from app.pages.headline import HeadlineBar
from app.pages.page import Page, heading, quiet
from app.pages.rails_arrived import ArrivedPanel
from app.pages.rails_drill import DrillPanel
from app.pages.rails_slots import SlotsPanel
from app.pages.tables import ReportTable
from app.widgets.drawing_view import DrawingView
from core.drawing.views import rail_drawing
from core.fasteners import RailAnswer, totals
from core.machine.project import Project
from core.report import Column, Table, fasteners_table
from core.report.rail_words import rails_headline
from core.report.tables import figure_column
from core.report.tables import number as shown_number
from core.units import UnitSet, show

ELSEWHERE = frozenset({"Hole pitch", "First hole", "Last hole to end", "Screw length", "Note"})
"""Columns that the page leaves out, because the drawing and the sentence under it say the same."""


TABS = ("Holes", "Pieces and drilling list", "Slots and nuts", "What has arrived")
VIEW_HEIGHT = (150, 260)
"""Least and most height of the drawing, which is long and low."""


class RailsPage(Page):
    """The rail in view is chosen above; below it four views of it: holes, pieces and drilling list, T-nuts, what has arrived.

    Signals:
        recorded(key, field, value, words): a count of a screw or nut, as on the page of parts.
        troubled(sentence): a file could not be written.
    """

    recorded = Signal(str, str, object, str)
    troubled = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._answer: Answer | None = None
        self._key = ""
        self._problems: dict[str, str] = {}
        self.headline = HeadlineBar(theme, self)
        self.view = DrawingView(theme, self)
        self.words = quiet()
        self.totals = ReportTable("Screws and nuts to buy", self)
        self.table = ReportTable("Rails and fasteners", self)
        self.table.keep_height()
        self.places = ReportTable("Places of the holes", self)
        self.places_heading = heading("Places of the holes")
        self.rail = QComboBox(self)
        self.rail.setAccessibleName("Rail in view")
        self.rail.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.rail.setMinimumWidth(140)
        self.rail.activated.connect(lambda _row: self.show_rail(str(self.rail.currentData())))
        self.drill = DrillPanel(theme, self)
        self.slots = SlotsPanel(theme, self)
        self.arrived = ArrivedPanel(theme, self)
        self.panels = (self.drill, self.slots, self.arrived)
        for panel in self.panels:
            panel.edited.connect(self.edited)
            panel.left.connect(self.left)
        self.drill.troubled.connect(self.troubled)
        self.arrived.recorded.connect(self.recorded)
        self.tabs = QTabWidget(self)
        self.tabs.setDocumentMode(True)
        for widget, words in zip((self._holes(), *self.panels), TABS, strict=True):
            self.tabs.addTab(widget, words)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 8)
        column.setSpacing(4)
        corner = QWidget(self)
        row = QHBoxLayout(corner)
        row.setContentsMargins(0, 0, 0, 4)
        row.addWidget(QLabel("Rail", self))
        row.addWidget(self.rail)
        self.tabs.setCornerWidget(corner)
        column.addWidget(self.tabs, 1)

    def _holes(self) -> QWidget:
        """The first view: one rail's holes, every rail's screws, what to buy."""
        inside = QWidget(self)
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 6, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.headline)
        column.addWidget(self.view)
        column.addWidget(self.words)
        column.addWidget(heading("Screws and nuts of every rail"))
        column.addWidget(self.table)
        below = QHBoxLayout()
        below.setSpacing(14)
        for words, table, share in (
            (heading("To buy for the rails alone, with spares"), self.totals, 3),
            (self.places_heading, self.places, 2),
        ):
            part = QVBoxLayout()
            part.addWidget(words)
            part.addWidget(table, 1)
            below.addLayout(part, share)
        column.addLayout(below, 1)
        return inside

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        least, most = VIEW_HEIGHT
        self.view.setFixedHeight(min(most, max(least, self.height() // 4)))

    def show_project(self, project: Project, units: UnitSet) -> None:
        for panel in self.panels:
            panel.show_project(project, units)

    def show_study(self, answer: Answer, study: Any) -> None:
        self.drill.show_found(answer, study.drilling)
        self.slots.show_found(answer, study.slots)
        self.arrived.show_found(answer, study.interim)

    def show_problems(self, problems: dict[str, str]) -> None:
        self._problems = problems
        for panel in self.panels:
            panel.show_problems(problems)

    def show_answer(self, answer: Answer) -> None:
        self._answer = answer
        rails = answer.plan.rails
        if [rail.key for rail in rails] != [self.rail.itemData(row) for row in range(self.rail.count())]:
            self._fill_rails(rails)
        own = [f for f in answer.plan.findings if page_of(f) == "rails"]
        self.headline.say(rails_headline(rails, own))
        self.table.show_table(fasteners_table(answer.plan), ELSEWHERE)
        self.totals.show_table(_totals(answer))
        self._show_rail()

    def show_rail(self, key: str) -> None:
        self._key = key
        self.rail.setCurrentIndex(self.rail.findData(key))
        self._show_rail()
        self.view.fit()
        for panel in self.panels:
            panel.show_rail(key)
            panel.view.fit()
            panel.show_problems(self._problems)

    def _fill_rails(self, rails: tuple[RailAnswer, ...]) -> None:
        self.rail.clear()
        for rail in rails:
            self.rail.addItem(rail.label, rail.key)
        if self.rail.findData(self._key) < 0:
            self._key = rails[0].key if rails else ""
            for panel in self.panels:
                panel.show_rail(self._key)
        self.rail.setCurrentIndex(self.rail.findData(self._key))

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
