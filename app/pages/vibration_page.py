"""Vibration: the modes drawn at the left, speeds to avoid, dynamic compliance and stable depth at the right."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QModelIndex, QSignalBlocker
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QTabWidget, QVBoxLayout, QWidget

from app.answers import Answer
from app.look.theme import Theme
from app.pages.entries import below
from app.pages.headline import HeadlineBar, say
from app.pages.mode_panel import ModePanel
from app.pages.page import Page, quiet, two_columns
from app.pages.tables import ReportTable
from app.pages.vibration_plots import depth_words, quiet_words, show_depth, show_receptance, show_speeds
from app.widgets.form import Form
from app.widgets.plot import LinePlot
from app.widgets.plot_engine import PlotEngine
from core.machine.project import Machine, Project
from core.report.headlines import modes_headline, vibration_headline
from core.report.study.vibration import avoid_table, modes_table, places_table, stability_table
from core.units import METRIC, UnitSet
from core.vibration import VibrationAnswer

SHARES = frozenset(f"{what} {axis}" for what in ("Mass", "Tip") for axis in "XYZ")
WORDS = frozenset({"Mode", "What moves", "Softest there", "All soft", "All stiff"})
"""Columns of the modes that stand in the drawing's words or on the other of two tabs."""
LIST_HEIGHT = 246
LEFT_OUT = frozenset({"Stable, high", "Rings at", "Edge stands at", "Teeth in the cut"})
NO_CUT = "No load case is described by its cut: speeds to avoid and the stable depth need teeth, speed and material."
ABOUT_MODES = (
    "The whole machine as a frame with consistent masses; saddle, head and motors as lumps with their inertia. All soft and all "
    "stiff: with every uncertain spring at its low and at its high end."
)
BOUNDS = (
    "Linear and small: no gaps, motors hold still, the table top, sheet and cables do not count. Modes above a few hundred "
    "hertz are rough."
)


class VibrationPage(Page):
    """Modes, speeds, compliance over frequency and limits of depth."""

    def __init__(self, theme: Theme, engine: PlotEngine, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._units: UnitSet = METRIC
        self._found: VibrationAnswer | None = None
        self._answer: Answer | None = None
        self.panel = ModePanel(theme, self)
        self.panel.chosen.connect(self._mark_row)
        self.modes = ReportTable("Modes of vibration", self)
        self.modes.stretch("Softest there")
        self.modes.set_about(ABOUT_MODES, "What moves")
        self.shares = ReportTable("Shares of the modes", self)
        self.shares.set_about(
            "Shares along X, Y, Z: of the machine's mass that follows a shaken floor, and of the tip's static compliance."
        )
        for table in (self.modes, self.shares):
            table.clicked.connect(self._row_clicked)
        others = frozenset(Machine.__struct_fields__) - {"damping"}
        self.form = Form(theme, Machine, METRIC, skip=others)
        self.form.edited.connect(lambda path, value: self.edited.emit(f"machine.{path}", value))
        self.form.left.connect(lambda path: self.left.emit(f"machine.{path}"))
        self.case = QComboBox(self)
        self.case.setAccessibleName("Load case")
        self.case.activated.connect(lambda _row: self._show_case())
        self.speeds = LinePlot(theme, engine, "Speeds and modes", "", "", from_zero=True, parent=self)
        self.tip = LinePlot(
            theme, engine, "Dynamic compliance of the tip", "", "", from_zero=True, parent=self
        )
        self.depth = LinePlot(
            theme, engine, "Depth of cut without chatter", "", "", from_zero=True, parent=self
        )
        self.words = quiet()
        self.headline = HeadlineBar(theme, self)
        self.places = ReportTable("Frequencies over the table", self)
        self.avoid = ReportTable("Spindle speeds to avoid", self)
        self.places.set_about(ABOUT_MODES)
        self.avoid.set_about(
            "Speeds at which spindle or teeth beat within 10 % of a mode that the tip feels (common practice)."
        )
        self.avoid.stretch("What beats")
        self.limits = ReportTable("Depth of cut without chatter", self)
        self.limits.stretch("Load case")
        self.limits.set_about(
            "Stable: at every speed. Here: at the load case's own speed. Low: little damping and high cutting pressure. Source: "
            "Altintas, Manufacturing Automation, ch. 4 (Tlusty's limit)."
        )
        self._lay_out()

    def _lay_out(self) -> None:
        self.plots, self.tables, self.lists = QTabWidget(self), QTabWidget(self), QTabWidget(self)
        for plot, words in ((self.speeds, "Speeds"), (self.tip, "Compliance"), (self.depth, "Depth")):
            self.plots.addTab(plot, words)
        for table, words in (
            (self.avoid, "Speeds to avoid"), (self.limits, "Depth of cut"), (self.places, "Over the table"),
        ):  # fmt: skip
            self.tables.addTab(table, words)
        self.lists.addTab(self.modes, "Six slowest modes")
        self.lists.addTab(self.shares, "Shares of mass and tip")
        for tabs in (self.plots, self.tables, self.lists):
            tabs.setDocumentMode(True)
        left = QWidget(self)
        column = QVBoxLayout(left)
        column.setContentsMargins(12, 10, 6, 8)
        column.addWidget(self.panel, 1)
        column.addWidget(self.lists)
        column.addWidget(quiet(BOUNDS))
        self.lists.setFixedHeight(LIST_HEIGHT)
        right = QWidget(self)
        beside = QVBoxLayout(right)
        beside.setContentsMargins(6, 10, 12, 8)
        self.case_row = QWidget(self)
        row = QHBoxLayout(self.case_row)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(QLabel("Load case", self))
        row.addWidget(self.case, 1)
        beside.addWidget(self.case_row)
        beside.addWidget(self.headline)
        beside.addWidget(self.plots, 5)
        beside.addWidget(self.words)
        beside.addWidget(self.form)
        beside.addWidget(self.tables, 3)
        two_columns(self, left, right, (585, 675), grow=(1, 1))

    def show_project(self, project: Project, units: UnitSet) -> None:
        if units != self._units:
            self._units = units
            self.form.set_units(units)
        self.form.show_values(project.machine)

    def show_problems(self, problems: dict[str, str]) -> None:
        own = below("machine", problems)
        self.form.show_problems({path: text for path, text in own.items() if path.startswith("damping")})

    def show_study(self, answer: Answer, study: Any) -> None:
        found: VibrationAnswer | None = study.vibration
        self._answer, self._found, self._units = answer, found, answer.units
        self.panel.show_modes(answer, found)
        names = [cut.name for cut in found.speeds] if found is not None else []
        if names != [self.case.itemText(row) for row in range(self.case.count())]:
            row = self.case.currentIndex()
            with QSignalBlocker(self.case):
                self.case.clear()
                self.case.addItems(names)
                self.case.setCurrentIndex(min(max(row, 0), len(names) - 1))
        self.case_row.setVisible(bool(names))
        for tabs, rows in ((self.plots, (0, 2)), (self.tables, (0, 1))):
            for row in rows:  # they tell of cuts only
                tabs.setTabVisible(row, bool(names))
        if found is None:
            for plot in (self.speeds, self.tip, self.depth):
                plot.set_curves([])
            self.headline.say(None)
            self.words.setText("")
            return
        modes = modes_table(found, answer.units)
        self.modes.show_table(modes, SHARES | {"What moves"})
        self.shares.show_table(modes, WORDS)
        self.places.show_table(places_table(found, answer.units))
        self.limits.show_table(stability_table(found, answer.units), LEFT_OUT)
        show_receptance(self.tip, found, answer.units)
        self._show_case()

    def _show_case(self) -> None:
        found, row = self._found, self.case.currentIndex()
        if found is None:
            return
        some = 0 <= row < len(found.speeds)
        speeds, depth = (found.speeds[row], found.stability[row]) if some else (None, None)
        show_speeds(self.speeds, found, speeds, self._units)
        show_depth(self.depth, depth, self._units)
        self.avoid.show_table(avoid_table((speeds,) if speeds else (), self._units), frozenset({"Load case"}))
        if speeds is None or depth is None:
            self.headline.say(modes_headline(found, self._units))
            say(self.words, NO_CUT)
            return
        start = f"cases.{speeds.case}."
        said = [finding for finding in found.findings if finding.where.startswith(start)]
        self.headline.say(vibration_headline(speeds, depth, self._units))
        calm = f"{quiet_words(speeds, self._units)} {depth_words(depth, self._units)}"
        say(self.words, "\n".join(finding.message for finding in said) or calm, said)

    def _row_clicked(self, index: QModelIndex) -> None:
        self.panel.choose(index.row())

    def _mark_row(self, row: int) -> None:
        for table in (self.modes, self.shares):
            table.selectRow(row)
