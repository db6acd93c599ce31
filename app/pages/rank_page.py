"""Which beam: every section of the catalogue tried in this machine, as a table beside a chart, both with one picked beam."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from app.look.theme import Theme
from app.pages.headline import HeadlineBar
from app.pages.page import Page, quiet
from app.pages.rank_card import RankCard
from app.pages.rank_filters import RankFilters
from app.pages.rank_table import RankTable
from app.pages.rank_waiting import RankWaiting
from app.widgets.picture import CannotSave, save_bytes
from app.widgets.plot_data import Level
from app.widgets.scatter_data import Kind, ScatterData
from app.widgets.scatter_plot import ScatterPlot
from core.machine.project import Project
from core.rank import COSTS, RankAnswer, best, far, least, wanted_rows
from core.report import csv_text
from core.report.rank_screen import Screen, make_screen, shown_table
from core.report.rank_words import (
    chart_title,
    cost_axis,
    deflection_axis,
    point_words,
    rank_counts,
    rank_headline,
)
from core.units import METRIC, UnitSet

HOLDS, BREAKS, IDLE, BEST, BEST_BREAKS = range(5)
KINDS = (
    Kind("Holds every limit", "disc", "good"),
    Kind("Breaks a limit", "triangle", "bad", False),
    Kind("Cannot be used as it is", "cross", "quiet"),
    Kind("", "diamond", "accent", size=5.0),
    Kind("", "diamond", "bad", False, 5.0),
)
PAINTED = (IDLE, BREAKS, HOLDS, BEST_BREAKS, BEST)
"""Later ones lie over earlier ones."""
BEST_WORDS = {
    "moving_mass": "Best: no lighter one is stiffer",
    "beam_mass": "Best: no lighter one is stiffer",
    "height": "Best: no lower one is stiffer",
    "price": "Best: no cheaper one is stiffer",
}
UNFIT = "Unfit: it cannot be used as it is; the rails find no hold, or it cannot be modelled. Pick one to read why."
NOTHING_YET = "Every beam stands here as a point as soon as it has been tried in this machine."
ABOUT_CHART = (
    "Every beam shown, through the whole model. Click a point, or use the arrow keys: left and right along the best, up and "
    "down through all. The bar through the picked point is its band."
)


class RankPage(Page):
    """Headline, filters, table, chart and the picked beam.

    Signals:
        rank_wanted(yes): try every beam, or give it up.
        used(candidate), kept(candidate): put a beam into the machine; add a variant with it.
        troubled(sentence): a file could not be written. saved(): it was.
    """

    rank_wanted = Signal(bool)
    used = Signal(object)
    kept = Signal(object)
    troubled = Signal(str)
    saved = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._units: UnitSet = METRIC
        self._answer: RankAnswer | None = None
        self._shown = np.zeros(0, dtype=np.bool_)
        self._best = np.zeros(0, dtype=np.bool_)
        self._picked = -1
        self._chosen = False  # by the user, not by the headline
        self._screen: Screen | None = None
        self.headline = HeadlineBar(theme, self)
        self.waiting = RankWaiting(self)
        self.waiting.asked.connect(self.rank_wanted)
        self.filters = RankFilters(theme, self)
        self.filters.changed.connect(self._choose)
        self.cost, self.case = QComboBox(self), QComboBox(self)
        self.cost.setAccessibleName("Axis to the right")
        self.case.setAccessibleName("Axis up")
        for key, (words, _) in COSTS.items():
            self.cost.addItem(words, key)
        self.case.addItem("Share of the limit", None)
        for box in (self.cost, self.case):
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
            box.currentIndexChanged.connect(lambda _row: self._choose())
        self.save = QPushButton("Save as CSV…", self)
        self.save.setToolTip("The beams shown, in the order shown, with every figure.")
        self.save.clicked.connect(self._ask_file)
        self.counts = quiet()
        self.counts.setToolTip(UNFIT)
        self.table = RankTable(self)
        self.table.picked.connect(self.pick)
        self.chart = ScatterPlot(theme, chart_title(0), self)
        self.chart.set_about(ABOUT_CHART)
        self.chart.picked.connect(self.pick)
        self.chart.set_numbers(self.csv)
        self.chart.files.trouble.connect(self.troubled)
        self.card = RankCard(self)
        self.card.used.connect(self.used)
        self.card.kept.connect(self.kept)
        self._lay_out()
        self._choose()

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addWidget(self.headline, 1)
        top.addWidget(self.waiting, 0, Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignRight)
        left, right = QWidget(self), QWidget(self)
        rows = QVBoxLayout(left)
        rows.setContentsMargins(0, 0, 4, 0)
        below = QHBoxLayout()
        below.addWidget(self.counts, 1)
        below.addWidget(self.save)
        rows.addLayout(below)
        rows.addWidget(self.table, 1)
        axes = QHBoxLayout()
        axes.addWidget(self.case)
        axes.addWidget(QLabel("over", self))
        axes.addWidget(self.cost)
        axes.addStretch(1)
        beside = QVBoxLayout(right)
        beside.setContentsMargins(4, 0, 0, 0)
        beside.addLayout(axes)
        beside.addWidget(self.chart, 1)
        beside.addWidget(self.card)
        across = QSplitter(self)
        for number, (half, share) in enumerate(((left, 10), (right, 10))):
            across.addWidget(half)
            across.setStretchFactor(number, share)
        across.setSizes([830, 410])
        across.setChildrenCollapsible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 12, 8)
        column.setSpacing(6)
        column.addLayout(top)
        column.addWidget(self.filters)
        column.addWidget(across, 1)

    def show_project(self, project: Project, units: UnitSet) -> None:
        if units != self._units:
            self._units = units
            self.filters.set_units(units)
            self._choose()

    def answer(self) -> RankAnswer | None:
        """The ranking shown."""
        return self._answer

    def show_rank(self, answer: RankAnswer | None, screen: Screen | None = None) -> None:
        """Show a ranking; the picked beam stays picked where it is found again. None shows none.

        Args:
            screen: its table where that was made ready beforehand.
        """
        key = self._key() if self._chosen else ""
        self._answer, self._screen = answer, screen
        if screen is not None and screen.units != self._units:
            self._units = screen.units
            self.filters.set_units(screen.units)
        self._picked, self._chosen = -1, False
        if answer is not None:
            keys = [one.key for one in answer.candidates]
            self._picked = keys.index(key) if key in keys else -1
            self._chosen = self._picked >= 0
            self.filters.show_choices(answer)
            cases = [self.case.itemText(row) for row in range(1, self.case.count())]
            if list(answer.case_names) != cases:
                kept = self.case.currentText()
                with QSignalBlocker(self.case):
                    while self.case.count() > 1:
                        self.case.removeItem(1)
                    for number, name in enumerate(answer.case_names):
                        self.case.addItem(name, number)
                    self.case.setCurrentIndex(max(0, self.case.findText(kept)))
        self._choose()

    def case_wanted(self) -> int | None:
        """The load case of the table shown; None for the largest of all over its limit."""
        found: int | None = self.case.currentData()
        return found

    def pick(self, number: int) -> None:
        """The user's pick; it stays while filters leave it in view, where else the beam that the headline names is picked."""
        self._chosen = number >= 0
        self._show_picked(number)

    def _show_picked(self, number: int) -> None:
        """Show this candidate as the picked one, in table, chart and words; -1 for none."""
        self._picked = number
        self.table.pick(number)
        self.chart.set_picked(number)
        self.card.show_beam(self._answer, number, self._units)

    def picked(self) -> int:
        return self._picked

    def shown(self) -> list[int]:
        """The candidates shown, in the order of the table."""
        return self.table.order()

    def csv(self) -> str:
        """The beams shown as CSV text, in the order shown; empty before there are any."""
        if self._answer is None:
            return ""
        return csv_text(shown_table(self._answer, self._units, self.shown(), self._best))

    def save_csv(self, path: Path) -> None:
        """Write the beams shown as CSV."""
        try:
            save_bytes(path, self.csv().encode("utf-8"))
        except CannotSave as error:
            self.troubled.emit(str(error))
        else:
            self.saved.emit()

    def _ask_file(self) -> None:
        name, _ = QFileDialog.getSaveFileName(self, "Save the beams shown", "beams.csv", "CSV (*.csv)")
        if name:
            self.save_csv(Path(name))

    def _key(self) -> str:
        answer, row = self._answer, self._picked
        return answer.candidates[row].key if answer is not None and row >= 0 else ""

    def _choose(self) -> None:
        """Show what the filters leave and the axes ask for; nothing is solved."""
        answer = self._answer
        self._enable()
        if answer is None:
            self.headline.say(None)
            self.table.show_beams([], self._best)
            self.chart.set_data(ScatterData(empty=NOTHING_YET), str)
            return
        cost, case = self.cost.currentData(), self.case.currentData()
        self._shown = wanted_rows(answer, self.filters.wanted())
        among = self._shown.copy()
        self._shown[0] = True  # the machine's own beam stays, to be compared with
        self._best = best(answer, cost, case, among)
        self.headline.say(rank_headline(answer, self._units, among, cost))
        self.counts.setText(rank_counts(answer, self._shown))
        rows = np.flatnonzero(self._shown).tolist()
        if self._screen is None or (self._screen.units, self._screen.case) != (self._units, case):
            self._screen = make_screen(answer, self._units, case)
        self.table.take(self._screen)
        self.table.show_beams(rows, self._best)
        self._draw(answer, cost, case)
        if not self._chosen or not self._shown[self._picked]:
            found = least(answer, cost, among)
            if found is None and cost != "moving_mass":
                found = least(answer, "moving_mass", among)
            self._picked, self._chosen = 0 if found is None else found, False
        self._show_picked(self._picked)

    def _draw(self, answer: RankAnswer, cost: str, case: int | None) -> None:
        units = self._units
        across, up = cost_axis(answer, cost, units), deflection_axis(answer, case, units)
        kind = np.where(answer.fits, np.where(answer.holds, HOLDS, BREAKS), IDLE)
        kind = np.where(self._best, np.where(answer.holds, BEST, BEST_BREAKS), kind)
        beyond = far(answer, case) & ~self._best
        x = np.where(self._shown & ~beyond, across.values, np.nan)
        y = np.where(self._shown & ~beyond, up.values, np.nan)
        self.chart.set_title(chart_title(int((beyond & self._shown).sum())))
        steps = np.flatnonzero(self._best)
        limit = None if up.limit is None else Level(up.limit, up.limit_words)
        data = ScatterData(
            across.label, up.label, x, y, tuple(KINDS[number] for number in PAINTED), np.argsort(PAINTED)[kind],
            steps[np.lexsort((y[steps], x[steps]))], BEST_WORDS[cost], 0, "This machine's beam", up.low, up.high, limit,
            across.empty or "None of the beams shown has figures.",
        )  # fmt: skip
        self.chart.set_data(data, lambda number: point_words(answer, number, units))
        self.chart.set_summary(f"{self.headline.text()} {self.counts.text()}")

    def _enable(self) -> None:
        there = self._answer is not None
        for widget in (self.filters, self.table, self.chart, self.card, self.save, self.cost, self.case):
            widget.setEnabled(there)
        if not there:
            self.counts.setText("")
            self.card.show_beam(None, -1, self._units)
