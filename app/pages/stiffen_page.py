"""How sure the figures are, at the left, and what to stiffen first, at the right; a change is put in with one click."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from app.answers import Answer
from app.look.theme import Theme
from app.pages.headline import HeadlineBar
from app.pages.page import Page, heading, quiet, two_columns
from app.pages.tables import ReportTable
from app.widgets.plot import LinePlot
from app.widgets.plot_data import Curve, Level
from app.widgets.plot_engine import PlotEngine
from app.widgets.swing_plot import Swing, SwingPlot
from core.advice import Advice, AdviceAnswer
from core.certainty import BandsAnswer, CaseBand, cause_words
from core.machine.project import Project
from core.report import csv_text
from core.report.headlines import advice_headline
from core.report.study.advice import advice_table, slopes_table
from core.report.study.bands import band_curve_table, bands_table, causes_table
from core.units import METRIC, UnitSet, from_si, show, show_beside, tell, unit_label

MOST_SWINGS = 12
LEAST_SWING = 0.005
"""Causes smaller than this part of the widest are left to the file."""
ELSEWHERE = frozenset({"Deflection", "Mind"})
"""Columns of the changes that the sentence of a picked change tells."""
CORNERS = frozenset({"All favourable", "All unfavourable"})
"""Columns of the file that the screen has no room for."""
ABOUT_SWINGS = (
    "The worst deflection with one figure at its low end (hatched) and at its high end (filled), all others likely. "
    "Solved exactly, one at a time."
)
ABOUT_BAND = "Nine of ten machines within the given limits lie in the band; 5 % above it and 5 % below."
ABOUT_ADVICE = (
    "Each change is solved exactly at the place that is worst now. Mass is that of the parts list; gain for the money is for one "
    "unit of your currency. Pick one, then put it "
    "in; that is one step and can be undone."
)
ABOUT_SLOPES = "Exact slopes at the machine as it stands, by the adjoint method; they hold for small changes."
NOT_YET = "The changes are being tried."
NO_ANSWER = "There is no answer to improve: the machine cannot carry load as described."


class StiffenPage(Page):
    """Bands with their causes, and changes with their gain.

    Signals:
        change_wanted(edits, words): the user puts this change into the machine.
    """

    change_wanted = Signal(object, str)

    def __init__(self, theme: Theme, engine: PlotEngine, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._units: UnitSet = METRIC
        self._bands: BandsAnswer | None = None
        self._advices: tuple[Advice, ...] = ()
        self._likely: dict[int, Any] = {}
        self.case = QComboBox(self)
        self.case.setAccessibleName("Load case of the band")
        self.case.currentIndexChanged.connect(lambda _row: self._show_case())
        self.table = ReportTable("Bands", self)
        self.table.stretch("Figure")
        self.table.keep_height(210)
        self.table.set_about(ABOUT_BAND)
        self.swings = SwingPlot(theme, "What makes the band wide", self)
        self.swings.set_about(ABOUT_SWINGS)
        self.curve = LinePlot(theme, engine, "Band along X", "", "", from_zero=True, parent=self)
        self.curve.set_about(ABOUT_BAND)
        self.words = quiet()
        self.changes = ReportTable("What to stiffen first", self)
        self.changes.stretch("Change")
        self.changes.setSelectionMode(ReportTable.SelectionMode.SingleSelection)
        self.changes.selectionModel().selectionChanged.connect(lambda *_: self._enable())
        self.slopes = ReportTable("How the deflection follows each entry", self)
        self.slopes.stretch("Entry")
        self.changes.set_about(ABOUT_ADVICE, "Mind")
        self.slopes.set_about(ABOUT_SLOPES)
        self.put_in = QPushButton("Put this change in", self)
        self.put_in.setToolTip("Sets the entries of the picked change; one step that can be undone.")
        self.put_in.clicked.connect(self._put_in)
        self.governs = quiet(NOT_YET)
        self.headline = HeadlineBar(theme, self)
        self.mind = quiet()
        self._lay_out()
        self._enable()

    def _lay_out(self) -> None:
        left = QWidget(self)
        column = QVBoxLayout(left)
        column.setContentsMargins(12, 10, 6, 8)
        row = QHBoxLayout()
        row.addWidget(heading("How sure is it?"))
        row.addStretch(1)
        row.addWidget(QLabel("Load case", self))
        row.addWidget(self.case)
        column.addLayout(row)
        column.addWidget(self.table)
        pictures = QTabWidget(self)
        pictures.setDocumentMode(True)
        pictures.addTab(self.swings, "Causes")
        pictures.addTab(self.curve, "Along X")
        column.addWidget(pictures, 1)
        column.addWidget(self.words)
        right = QWidget(self)
        beside = QVBoxLayout(right)
        beside.setContentsMargins(6, 10, 12, 8)
        top = QHBoxLayout()
        top.addWidget(heading("What to stiffen first"))
        top.addStretch(1)
        top.addWidget(self.put_in)
        beside.addLayout(top)
        beside.addWidget(self.headline)
        beside.addWidget(self.governs)
        tabs = QTabWidget(self)
        tabs.setDocumentMode(True)
        tabs.addTab(self.changes, "Changes")
        tabs.addTab(self.slopes, "Each entry")
        tabs.setTabToolTip(0, ABOUT_ADVICE)
        tabs.setTabToolTip(1, ABOUT_SLOPES)
        beside.addWidget(tabs, 1)
        beside.addWidget(self.mind)
        two_columns(self, left, right, (580, 680), grow=(1, 1))

    def show_project(self, project: Project, units: UnitSet) -> None:
        self._units = units
        names = [case.name for case in project.cases]
        if names != [self.case.itemText(row) for row in range(self.case.count())]:
            with QSignalBlocker(self.case):
                self.case.clear()
                self.case.addItems(names)

    def show_study(self, answer: Answer, study: Any) -> None:
        """The newest bands, and the changes once they have been tried."""
        self._units, self._bands = answer.units, study.bands
        stiffness = answer.plan.stiffness
        self._likely = {} if stiffness is None else {k: c.along_x for k, c in enumerate(stiffness.cases)}
        if self._bands is not None:
            self.table.show_table(bands_table(self._bands, self._units), CORNERS)
        self.table.setVisible(self._bands is not None)
        self._show_case()
        self._show_advice(study.advice, stiffness is not None)

    def _show_case(self) -> None:
        case = self._case()
        units, bands = self._units, self._bands
        self.curve.set_labels(
            f"Place along X, {unit_label('length', units)}", f"Deflection, {unit_label('deflection', units)}"
        )
        if case is None or bands is None:
            self.swings.set_swings([], 0.0, "")
            self.curve.set_curves([])
            self.words.setText(NO_ANSWER if bands is None else "")
            return
        shown = [c for c in case.causes if c.swing >= LEAST_SWING * case.causes[0].swing]
        likely = f"likely {show(case.spread.likely, 'deflection', units, 3)}"
        self.swings.set_swings(
            [_swing(cause, units) for cause in shown[:MOST_SWINGS]], case.spread.likely, likely
        )
        self.swings.set_numbers(lambda: csv_text(causes_table(bands, units)))
        x, y, low, high = (
            np.asarray(from_si(np.asarray(v, float), q, units), float)
            for v, q in (
                (bands.along_x, "length"), (self._likely[case.number], "deflection"),
                (case.low_along_x, "deflection"), (case.high_along_x, "deflection"),
            )
        )  # fmt: skip
        limit = case.spread.limit
        levels = []
        if limit is not None:
            words = f"limit {show(limit, 'deflection', units)}"
            levels = [Level(float(from_si(limit, "deflection", units)), words)]
        self.curve.set_curves([Curve(x, y, case.name, "1", "solid", low, high)], levels)
        self.curve.set_numbers(lambda: csv_text(band_curve_table(bands, units)))
        self.words.setText(
            f"{cause_words(case, units)} {bands.samples} machines drawn within the limits given."
        )

    def _case(self) -> CaseBand | None:
        row = self.case.currentIndex()
        cases = self._bands.cases if self._bands is not None else ()
        return cases[row] if 0 <= row < len(cases) else None

    def _show_advice(self, advice: AdviceAnswer | None, stands: bool) -> None:
        if advice is None:
            self.headline.say(None)
            self.governs.setText(NOT_YET if stands else NO_ANSWER)
            if not stands:
                self._advices = ()
                self.changes.setVisible(False)
                self.slopes.setVisible(False)
            self._enable()
            return
        units = self._units
        self._advices = advice.advices
        self.headline.say(advice_headline(advice))
        self.changes.setVisible(True)
        self.slopes.setVisible(True)
        priced = any(a.price is not None for a in advice.advices)
        self.changes.show_table(
            advice_table(advice, units), ELSEWHERE if priced else ELSEWHERE | {"Gain for the money"}
        )
        self.slopes.show_table(slopes_table(advice, units))
        before = show_beside(advice.before, advice.limit, "deflection", units)
        limit = show(advice.limit, "deflection", units)
        self.governs.setText(
            f"{advice.case} governs: {before} at x {tell(advice.x, 'length', units, 4)}, y {tell(advice.y, 'length', units, 4)}; "
            f"limit {limit}. {len(advice.advices)} changes help, the best first."
        )
        self._enable()

    def picked(self) -> Advice | None:
        """The change that is picked, if any."""
        rows = self.changes.selectionModel().selectedRows()
        if not rows:
            return None
        words = str(rows[0].siblingAtColumn(0).data())
        return next((a for a in self._advices if a.change.words == words), None)

    def _enable(self) -> None:
        advice = self.picked()
        self.put_in.setEnabled(advice is not None)
        if advice is None:
            self.mind.setText(ABOUT_ADVICE)
        else:
            self.mind.setText(
                f"{advice.sentence} {f'Mind: {advice.breaks}' if advice.breaks else ''}".strip()
            )
        self.mind.setProperty("tone", "problem" if advice is not None and advice.breaks else "quiet")
        self.mind.style().polish(self.mind)

    def _put_in(self) -> None:
        advice = self.picked()
        if advice is not None:
            self.change_wanted.emit(advice.change.edits, advice.change.words)


def _swing(cause: Any, units: UnitSet) -> Swing:
    i = cause.input
    low, likely, high = (show(v, i.quantity, units) for v in (i.low, i.likely, i.high))
    ends = [tell(v, "deflection", units) for v in (cause.at_low, cause.at_high)]
    where = "typical of the program, from memory" if i.automatic else "as entered"
    hint = (
        f"{i.label}: {low} to {high}, likely {likely} ({where}).\nDeflection {ends[0]} at its low end, {ends[1]} at its "
        f"high end.\n{100 * cause.share:.0f} % of the band's width goes with it (squared rank correlation)."
    )
    return Swing(i.label, cause.at_low, cause.at_high, tell(cause.swing, "deflection", units, 2), hint)
