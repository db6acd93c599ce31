"""Beams side by side: stiffness, mass, sag and budget; any of them can become the machine's own."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from app.answers import Answer
from app.look.theme import Theme
from app.pages.beginnings import make
from app.pages.curves import shares_of
from app.pages.entries import CHOICES, below
from app.pages.kinds import KIND_WORDS
from app.pages.page import Page, heading, quiet
from app.pages.stock import StockButton
from app.pages.tables import ReportTable
from app.widgets.bar_plot import BarPlot
from app.widgets.form import Form
from core.machine.variants import Variant
from core.machine.project import Project
from core.report import Column, Table, alternatives_table
from core.report.tables import cell_text
from core.study import Study
from core.units import UnitSet

FEW_BARS, BAR_ROOM = 5, 36
"""Bars of a budget on a low page; height in pixels for each where there is more room."""
LEAST_BARS, AROUND = 165, 100
"""Least height of the budgets, and of all that is neither table nor budget, in pixels."""


def side_by_side(table: Table) -> Table:
    """The same table turned: a row for each figure, a column for each beam."""
    names = [str(row[0]) for row in table.rows]
    columns = (
        Column("Figure", align="left"),
        Column("Unit", align="left"),
        *(Column(name) for name in names),
    )
    rows = tuple(
        (
            column.header,
            column.unit,
            *(cell_text(row[number], column.digits, column.decimals) for row in table.rows),
        )
        for number, column in enumerate(table.columns)
        if number > 0
    )
    return Table(table.title, columns, rows)


class ComparePage(Page):
    """Table and budgets of all beams; the picked one can be edited, used or removed.

    Signals:
        beam_added(entry): a catalogue entry to compare.
        copy_added(): the machine's own beam to compare.
        beam_used(row), beam_removed(row): of the alternatives, counted from 0.
    """

    beam_added = Signal(object)
    copy_added = Signal()
    beam_used = Signal(int)
    beam_removed = Signal(int)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._project: Project | None = None
        self._units: UnitSet | None = None
        self._form: Form | None = None
        self._row = -1
        self._answer: Answer | None = None
        self.table = ReportTable("Beams side by side", self)
        self.table.setSortingEnabled(False)
        self.table.keep_height()
        self.table.setSelectionMode(ReportTable.SelectionMode.SingleSelection)
        self.table.setSelectionBehavior(ReportTable.SelectionBehavior.SelectColumns)
        self.table.clicked.connect(lambda index: self.pick(index.column() - 2))
        self.add = StockButton(self, "Add from the catalogue")
        self.add.setToolTip("Adds a beam of this size to the comparison.")
        self.add.taken_entry.connect(self.beam_added)
        self.copy = QPushButton("Add a copy of the machine's beam", self)
        self.copy.clicked.connect(self.copy_added)
        self.use = QPushButton("Use this beam", self)
        self.use.clicked.connect(lambda: self.beam_used.emit(self._row))
        self.remove = QPushButton("Remove", self)
        self.remove.clicked.connect(lambda: self.beam_removed.emit(self._row))
        row = QHBoxLayout()
        row.addWidget(heading("Beams side by side"))
        row.addStretch(1)
        for button in (self.add, self.copy, self.use, self.remove):
            row.addWidget(button)
        self.words = quiet(
            "Pick a beam's column to edit it or to make it the machine's own; that can be undone."
        )
        self._bars = QHBoxLayout()
        self._bars.setSpacing(10)
        self._bars.setAlignment(Qt.AlignmentFlag.AlignLeft)
        self._plots: list[BarPlot] = []
        bars = QWidget(self)
        bars.setLayout(self._bars)
        self._bar_area = QScrollArea(self)
        self._bar_area.setWidgetResizable(True)
        self._bar_area.setFrameShape(QFrame.Shape.NoFrame)
        self._bar_area.setWidget(bars)
        self._bar_area.setMinimumHeight(LEAST_BARS)
        self._area = QScrollArea(self)
        self._area.setWidgetResizable(True)
        self._area.setFrameShape(QFrame.Shape.NoFrame)
        self._area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._area.setMinimumWidth(400)
        self._area.hide()
        left = QWidget(self)
        inside = QVBoxLayout(left)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addWidget(self.table)
        inside.addWidget(self.words)
        inside.addWidget(self._bar_area, 1)
        across = QSplitter(self)
        across.addWidget(left)
        across.addWidget(self._area)
        across.setStretchFactor(0, 1)
        across.setStretchFactor(1, 0)
        across.setChildrenCollapsible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        column.addLayout(row)
        column.addWidget(across, 1)
        self._enable()

    def pick(self, row: int) -> None:
        """Edit the alternative of this row; -1 is the machine's own beam, which is edited on its own page."""
        self._row = row
        self._enable()
        self._show_form()

    def picked(self) -> int:
        return self._row

    def show_project(self, project: Project, units: UnitSet) -> None:
        if self._form is not None and units != self._units:
            self._form.set_units(units)
        self._project, self._units = project, units
        if self._row >= len(project.variants):
            self._row = -1
        self._enable()
        self._show_form()

    def show_study(self, answer: Answer, study: Study) -> None:
        if not answer.wish.compare:
            return
        self.table.show_table(side_by_side(alternatives_table(answer.plan)))
        self._answer = answer
        self._show_budgets()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.table.keep_height(self.height() - AROUND - LEAST_BARS)
        self._show_budgets()

    def _room_for_bars(self) -> int:
        return self.height() - self.table.height() - AROUND

    def _show_budgets(self) -> None:
        """As many bars as there is room for."""
        answer = self._answer
        if answer is None:
            return
        beams = answer.plan.alternatives
        most = max(FEW_BARS, self._room_for_bars() // BAR_ROOM - 2)
        names = [f"Budget: {beam.name}" for beam in beams]
        if names != [plot.title() for plot in self._plots]:
            self._make_plots(names)
        for plot, beam in zip(self._plots, beams, strict=True):
            worst = beam.worst[0] if beam.worst else 0.0
            plot.set_shares(shares_of(dict(beam.shares).items(), answer.units, worst, 0.01, most))

    def show_problems(self, problems: dict[str, str]) -> None:
        if self._form is not None and self._row >= 0:
            self._form.show_problems(below(f"variants.{self._row}", problems))

    def _make_plots(self, names: list[str]) -> None:
        for plot in self._plots:
            self._bars.removeWidget(plot)
            plot.hide()
            plot.deleteLater()
        self._plots = [BarPlot(self.theme, name, self) for name in names]
        for plot in self._plots:
            plot.setMinimumWidth(270)
            plot.setMaximumWidth(640)
            self._bars.addWidget(plot)

    def _enable(self) -> None:
        self.use.setEnabled(self._row >= 0)
        self.remove.setEnabled(self._row >= 0)

    def _show_form(self) -> None:
        shown = False  # the form of listed changes is on its way
        if shown and self._form is None:
            assert self._units is not None
            self._form = Form(
                self.theme, Variant, self._units, choices=CHOICES, words=KIND_WORDS, make=make
            )
            self._form.edited.connect(self._edited)
            self._form.left.connect(lambda path: self.left.emit(f"variants.{self._row}.{path}"))
            self._area.setWidget(self._form)
        self._area.setVisible(shown)
        if shown and self._form is not None and self._project is not None:
            self._form.show_values(self._project.variants[self._row])

    def _edited(self, path: str, value: Any) -> None:
        if self._row >= 0:
            self.edited.emit(f"variants.{self._row}.{path}", value)
