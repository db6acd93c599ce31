"""Cutting loads: the cut of a load case at the left, its forces over a turn, its bite and its figures at the right."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
from PySide6.QtCore import QSignalBlocker
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QMenu,
    QPushButton,
    QSizePolicy,
    QSpacerItem,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.answers import Answer
from app.finding_places import page_of
from app.look.theme import Theme
from app.pages.beginnings import make
from app.pages.choices import WORKPIECE_CHOICES
from app.pages.form_column import ScrolledColumn
from app.pages.headline import HeadlineBar, say
from app.pages.page import Page, heading, quiet, two_columns
from app.pages.tables import ReportTable
from app.widgets.drawing_view import DrawingView
from app.widgets.form import Form
from app.widgets.plot import LinePlot
from app.widgets.plot_data import Curve
from app.widgets.plot_engine import PlotEngine
from core.cutting import CutCase
from core.drawing.primitives import Drawing
from core.drawing.views.bite import bite_drawing
from core.fields import Band
from core.findings import Finding, first_sentence
from core.machine.loads import CutForce
from core.machine.project import Project
from core.machine.spindle import Spindle
from core.materials.workpieces import sheets
from core.report import csv_text
from core.report.headlines import cutting_headline, gravest
from core.report.study.cutting import cutting_table, force_table, turn_table
from core.units import METRIC, UnitSet, from_si, tell, unit_label

ENTRIES_WIDTH = 456
ABOUT = (
    "All teeth together over one turn, at the likely pressure. The statics take the mean force; the peak tells how hard "
    "the cutter knocks."
)
RESTS_ON = (
    "Chip and forces: Kienzle's specific cutting force for metals, kc = kc1.1 / h^mc (DIN 6584), the entered range for all "
    "else, summed over a turn of every tooth. Pressures of sheet materials are wide ranges, most from memory."
)
NO_CUT = (
    "This load case is given as a force. Choose one with a cut, or describe this one by its cut: chip, pressure, forces "
    "over a turn, power and torque then stand here."
)
CAUTION = (
    "Planning figures with wide bands. A spinning cutter throws chips and broken pieces: eye and ear protection, dust "
    "extraction, hands and sleeves away, work held fast; power off before changing the tool."
)


class CuttingPage(Page):
    """Entries of one load case's cut and of the spindle, and all figures of that cut."""

    def __init__(self, theme: Theme, engine: PlotEngine, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._project: Project | None = None
        self._units: UnitSet = METRIC
        self._row = 0
        self._problems: dict[str, str] = {}
        self._cases: dict[int, CutCase] = {}
        self._findings: dict[int, list[Finding]] = {}
        self.case = QComboBox(self)
        self.case.setAccessibleName("Load case")
        self.case.activated.connect(self.choose)
        self.sheets = QToolButton(self)
        self.sheets.setText("Take a sheet material's pressure")
        self.sheets.setProperty("segment", "true")
        self.sheets.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.sheets.setToolTip("Fills in a wide range of specific cutting pressure; most are from memory.")
        self.sheets.setMenu(self._sheet_menu())
        self.form = Form(theme, CutForce, METRIC, choices={"workpiece": WORKPIECE_CHOICES}, make=make)
        self.form.edited.connect(lambda path, value: self.edited.emit(f"{self._path()}.{path}", value))
        self.form.left.connect(lambda path: self.left.emit(f"{self._path()}.{path}"))
        self.spindle = Form(theme, Spindle, METRIC)
        at = "machine.head.spindle"
        self.spindle.edited.connect(lambda path, value: self.edited.emit(f"{at}.{path}", value))
        self.spindle.left.connect(lambda path: self.left.emit(f"{at}.{path}"))
        self.given = quiet("This load case is given as a force, so there is no cut to work out.")
        self.describe = QPushButton("Describe it by its cut", self)
        self.describe.clicked.connect(self._describe)
        self.turn = LinePlot(theme, engine, "Force over one turn of the cutter", "", "", parent=self)
        self.turn.set_about(ABOUT)
        self.bite = DrawingView(theme, self)
        self.words = quiet()
        self.headline = HeadlineBar(theme, self)
        self.table = ReportTable("Figures of the cut", self)
        self.table.set_about(RESTS_ON)
        self.table.stretch("Where from")
        self._lay_out()

    def _lay_out(self) -> None:
        inside = QWidget(self)
        column = QVBoxLayout(inside)
        column.setContentsMargins(8, 8, 8, 8)
        for widget in (heading("Cut"), self.given, self.describe, self.form, self.sheets):
            column.addWidget(widget)
        column.addWidget(heading("Spindle"))
        column.addWidget(self.spindle)
        column.addStretch(1)
        scroll = ScrolledColumn(inside)
        left = QWidget(self)
        beside = QVBoxLayout(left)
        beside.setContentsMargins(8, 10, 0, 4)
        row = QHBoxLayout()
        row.addWidget(QLabel("Load case", self))
        row.addWidget(self.case, 1)
        beside.addLayout(row)
        beside.addWidget(scroll, 1)
        left.setMinimumWidth(ENTRIES_WIDTH)
        self.upper = QWidget(self)
        pictures = QHBoxLayout(self.upper)
        pictures.setContentsMargins(0, 0, 0, 0)
        pictures.addWidget(self.turn, 3)
        pictures.addWidget(self.bite, 2)
        right = QWidget(self)
        rows = QVBoxLayout(right)
        rows.setContentsMargins(6, 10, 12, 8)
        rows.addWidget(self.headline)
        rows.addWidget(self.upper, 5)
        rows.addWidget(self.words)
        rows.addWidget(self.table, 6)
        rows.addWidget(quiet(CAUTION))
        rows.addSpacerItem(QSpacerItem(0, 0, QSizePolicy.Policy.Minimum, QSizePolicy.Policy.Expanding))
        two_columns(self, left, right, (ENTRIES_WIDTH, 800))

    def choose(self, row: int) -> None:
        """Show the load case at this row."""
        self._row = row
        self._fill()
        self._show()

    def show_project(self, project: Project, units: UnitSet) -> None:
        if units != self._units:
            self.form.set_units(units)
            self.spindle.set_units(units)
        self._project, self._units = project, units
        names = [case.name for case in project.cases]
        if names != [self.case.itemText(row) for row in range(self.case.count())]:
            with QSignalBlocker(self.case):
                first = self.case.count() == 0
                self.case.clear()
                self.case.addItems(names)
            if first:  # begin with a case that has something to show
                cuts = [k for k, case in enumerate(project.cases) if isinstance(case.load, CutForce)]
                self._row = cuts[0] if cuts else 0
        self._row = min(self._row, len(names) - 1)
        self._fill()

    def show_study(self, answer: Answer, study: Any) -> None:
        """The newest answers of the second stage."""
        found = study.cutting
        self._units = answer.units
        self._cases = {case.number: case for case in found.cases} if found is not None else {}
        self._findings = {}
        own = found.findings if found is not None else ()
        others = (f for f in answer.findings if f.where.startswith("cases.") and ".load." in f.where)
        for finding in (*own, *(f for f in others if f not in own)):
            number = int(finding.where.split(".")[1])
            self._findings.setdefault(number, []).append(finding)
        self._mark()
        self._show()

    def show_problems(self, problems: dict[str, str]) -> None:
        self._problems = dict(problems)
        self._mark()

    def _path(self) -> str:
        return f"cases.{self._row}.load"

    def _load(self) -> Any:
        return self._project.cases[self._row].load if self._project is not None else None

    def _fill(self) -> None:
        with QSignalBlocker(self.case):
            self.case.setCurrentIndex(self._row)
        load = self._load()
        is_cut = isinstance(load, CutForce)
        for widget in (self.form, self.sheets):
            widget.setVisible(is_cut)
        for widget in (self.given, self.describe):
            widget.setVisible(not is_cut)
        if is_cut:
            case = self._cases.get(self._row)
            derived = {}
            if case is not None:
                derived = {"plunge_feed": case.plunge.feed, "thinnest_chip": case.thinnest,
                           "thickest_chip": case.thickest}  # fmt: skip
            self.form.show_values(load, derived)
        if self._project is not None:
            self.spindle.show_values(self._project.machine.head.spindle)
        self._mark()

    def _mark(self) -> None:
        for form, path in ((self.form, self._path()), (self.spindle, "machine.head.spindle")):
            start = path + "."
            own = {p[len(start) :]: text for p, text in self._problems.items() if p.startswith(start)}
            form.show_problems(own)

    def _show(self) -> None:
        case = self._cases.get(self._row)
        units = self._units
        self.upper.setVisible(case is not None)
        angle, force = unit_label("angle", units), unit_label("force", units)
        self.turn.set_labels(f"Turned by, {angle}", f"Force, {force}")
        if case is None:
            self.turn.set_curves([])
            self.bite.set_drawing(Drawing())
            self.headline.say(None)
            say(self.words, NO_CUT)
            if self._project is not None:
                self.table.show_table(force_table(self._project.cases[self._row], units))
                self.table.setMaximumHeight(self.table.wanted_height())
            return
        if isinstance(self._load(), CutForce):
            self._fill()
        turn = case.turn
        x = np.asarray(from_si(turn.angle, "angle", units))
        curves = [
            (turn.resultant, "all together", "1", "solid"),
            (turn.along, "along the feed", "2", "dash"),
            (turn.across, "across the feed", "3", "dot"),
            (turn.tooth, "one tooth", "4", "dashdot"),
        ]
        level = f"mean {tell(turn.mean, 'force', units)}"
        curves.append((np.full_like(turn.angle, turn.mean), level, "quiet", "dash"))
        self.turn.set_curves(
            [
                Curve(x, np.asarray(from_si(y, "force", units)), name, role, dash)
                for y, name, role, dash in curves
            ]
        )
        self.turn.set_numbers(lambda: csv_text(turn_table(case, units)))
        self.bite.set_drawing(bite_drawing(case, units))
        self.table.show_table(cutting_table(case, units))
        self.table.setMaximumHeight(self.table.wanted_height())
        found = self._findings.get(self._row, [])
        head = cutting_headline(case, units)
        self.headline.say(replace(head, state=gravest(found)))
        own = [f for f in found if page_of(f) == "cutting"]
        told = [f.message for f in own]
        if not own and turn.mean:
            told.append(
                f"Chip, power and speed hold. The peak is {turn.peak / turn.mean:.1f} times the mean."
            )
        told += [
            f"{first_sentence(f.message)} See Vibration."
            for f in found
            if f not in own and f.severity != "note"
        ]
        say(self.words, " ".join(told), found)

    def _describe(self) -> None:
        self.edited.emit(self._path(), CutForce())
        self.left.emit(self._path())

    def _sheet_menu(self) -> QMenu:
        menu = QMenu(self)
        menu.setToolTipsVisible(True)
        for stuff in sheets():
            action = menu.addAction(stuff.name, lambda stuff=stuff: self._take(stuff.pressure))
            action.setToolTip(f"{stuff.source} ({stuff.status})")
        return menu

    def _take(self, pressure: tuple[float, float, float]) -> None:
        load = self._load()
        if isinstance(load, CutForce) and load.workpiece:
            self.edited.emit(f"{self._path()}.workpiece", "")
        low, likely, high = pressure
        self.edited.emit(f"{self._path()}.pressure", Band(low=low, likely=likely, high=high))
        self.left.emit(f"{self._path()}.pressure")
