"""The base: its entries at the left; level of the rails, share of the give and force on every foot at the right."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QSlider,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from app.answers import Answer
from app.look.theme import Theme
from app.pages.beginnings import make
from app.pages.curves import deflection_label, place_label
from app.pages.entries import CHOICES, below
from app.pages.form_column import ScrolledColumn
from app.pages.headline import HeadlineBar, say
from app.pages.kinds import KIND_WORDS
from app.pages.page import Page, heading, quiet, two_columns
from app.pages.tables import ReportTable
from app.widgets.drawing_view import DrawingView
from app.widgets.form import Form
from app.widgets.plot import LinePlot
from app.widgets.plot_data import Curve, Level
from app.widgets.plot_engine import PlotEngine
from core.drawing.primitives import Drawing
from core.drawing.views.feet import feet_plan
from core.footing import FootingAnswer
from core.machine.base import Base
from core.machine.loads import Limits
from core.machine.project import Project
from core.report import csv_text
from core.report.headlines import Headline, footing_headline
from core.report.study.footing import HEAD_AT, feet_table, travel_table
from core.units import METRIC, UnitSet, from_si, tell

ENTRIES_WIDTH = 456
ALIKE = 0.01
"""Two lines nearer than this part of their span are drawn as one."""
PATH = "machine.base"
ELSEWHERE = frozenset(Limits.__struct_fields__) - {"rail_level"}
ABOUT_LEVEL = (
    "Height of each rail under the gantry, head in the middle, against the unloaded line: the weight of the base, of the "
    "gantry that rolls on it, and uneven feet. Levelling takes out a straight line; what changes along the way stays. "
    "Worked out at 17 places, joined by straight lines."
)
ABOUT_TILT = (
    "Right rail over left, for three places of the head. What changes along the way twists the gantry."
)
ABOUT_SHARE = (
    "How much of the tool tip's deflection the side beams, legs and feet give, from the strain energy (Clapeyron), the "
    "head in the middle."
)
ABOUT_FEET = (
    "The whole base solved as a frame: side beams over all their supports, legs, cross members and feet as springs that press "
    "but do not pull, for every place of the gantry."
)
CAUTION = (
    "Side beams and frames are heavy and tip: lift with help, prop before you shim, keep hands and feet from under. Level "
    "with the power off and the gantry blocked."
)
NOTHING = "The machine cannot carry load as described, so the base has no answer; the findings say why."


class BasePage(Page):
    """Entries of the base, plots along Y, a plan with the force of every foot, and their tables."""

    def __init__(self, theme: Theme, engine: PlotEngine, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._project: Project | None = None
        self._units: UnitSet = METRIC
        self._problems: dict[str, str] = {}
        self._found: FootingAnswer | None = None
        self._answer: Answer | None = None
        self.form: Form | None = None
        self.uneven: Form | None = None
        self.limit: Form | None = None
        self._inside = QWidget(self)
        self.level = LinePlot(theme, engine, "Height of the rails under the gantry", "", "", parent=self)
        self.level.set_about(ABOUT_LEVEL)
        self.tilt = LinePlot(theme, engine, "Right rail over left", "", "", from_zero=True, parent=self)
        self.tilt.set_about(ABOUT_TILT)
        self.share = LinePlot(
            theme, engine, "The base's share of the tip's deflection", "", "", from_zero=True, parent=self
        )
        self.share.set_about(ABOUT_SHARE)
        self.plots = QTabWidget(self)
        self.plots.setDocumentMode(True)
        for plot, words in ((self.level, "Level"), (self.tilt, "Twist"), (self.share, "Share of the give")):
            self.plots.addTab(plot, words)
        self.plan = DrawingView(theme, self)
        self.place = QSlider(Qt.Orientation.Horizontal, self)
        self.place.setAccessibleName("Place of the gantry along Y")
        self.place.setToolTip("Where the gantry stands along Y.")
        self.place.valueChanged.connect(self._show_plan)
        self.head = QComboBox(self)
        self.head.addItems([words.capitalize() for words in HEAD_AT])
        self.head.setCurrentIndex(1)
        self.head.setAccessibleName("Place of the head along X")
        self.head.currentIndexChanged.connect(self._show_plan)
        self.at = QLabel(self)
        self.words = quiet()
        self.headline = HeadlineBar(theme, self)
        self.feet = ReportTable("Force on every foot", self)
        self.travel = ReportTable("Rails and base along the travel", self)
        self.feet.set_about(ABOUT_FEET)
        self.travel.set_about(f"{ABOUT_LEVEL} {ABOUT_TILT}")
        self._lay_out()

    def _lay_out(self) -> None:
        self._column = QVBoxLayout(self._inside)
        self._column.setContentsMargins(8, 8, 8, 8)
        self._column.addWidget(heading("Feet and level"))
        scroll = ScrolledColumn(self._inside, ENTRIES_WIDTH)
        feet = QWidget(self)
        inside = QVBoxLayout(feet)
        inside.setContentsMargins(4, 0, 0, 0)
        row = QHBoxLayout()
        row.addWidget(QLabel("Gantry at", self))
        row.addWidget(self.at)
        row.addWidget(self.place, 1)
        inside.addLayout(row)
        inside.addWidget(self.plan, 1)
        inside.addWidget(self.head)
        self.at.setMinimumWidth(self.fontMetrics().horizontalAdvance("y -1000.0 mm"))
        self.upper = QWidget(self)
        pictures = QHBoxLayout(self.upper)
        pictures.setContentsMargins(0, 0, 0, 0)
        pictures.addWidget(self.plots, 3)
        pictures.addWidget(feet, 2)
        self.lower = QTabWidget(self)
        self.lower.setDocumentMode(True)
        for widget, words in ((self.feet, "Feet"), (self.travel, "Along the travel")):
            self.lower.addTab(widget, words)
        right = QWidget(self)
        rows = QVBoxLayout(right)
        rows.setContentsMargins(6, 10, 12, 8)
        rows.addWidget(self.headline)
        rows.addWidget(self.upper, 7)
        rows.addWidget(self.words)
        rows.addWidget(self.lower, 4)
        rows.addWidget(quiet(CAUTION))
        two_columns(self, scroll, right, (ENTRIES_WIDTH, 830))

    def forms(self) -> list[tuple[Form, str]]:
        """Each form with the path of its struct; none before the page was first looked at."""
        pairs = ((self.uneven, PATH), (self.limit, "limits"), (self.form, PATH))
        return [(form, path) for form, path in pairs if form is not None]

    def make_entries(self) -> Iterator[None]:
        """The forms."""
        rest = frozenset(Base.__struct_fields__) - {"uneven"}
        skip = frozenset({"rail_fastening", "uneven"})
        self.uneven = Form(self.theme, Base, self._units, words=KIND_WORDS, skip=rest, make=make)
        yield self._add(self.uneven, PATH)
        self.limit = Form(self.theme, Limits, self._units, skip=ELSEWHERE)
        yield self._add(self.limit, "limits")
        self._column.addWidget(heading("Beams, legs and diagonals"))
        self.form = Form(
            self.theme, Base, self._units, choices=CHOICES, words=KIND_WORDS, skip=skip, make=make
        )
        yield self._add(self.form, PATH)
        self._column.addStretch(1)
        self._fill()
        self.show_problems(self._problems)

    def _add(self, form: Form, path: str) -> None:
        form.edited.connect(lambda name, value: self.edited.emit(f"{path}.{name}", value))
        form.left.connect(lambda name: self.left.emit(f"{path}.{name}"))
        self._column.addWidget(form)

    def show_project(self, project: Project, units: UnitSet) -> None:
        new_units = units != self._units
        self._project, self._units = project, units
        for form, _ in self.forms() if new_units else ():
            form.set_units(units)
        self._fill()

    def show_answer(self, answer: Answer) -> None:
        self._answer = answer
        self._fill()

    def show_study(self, answer: Answer, study: Any) -> None:
        found: FootingAnswer | None = study.footing
        self._answer, self._found, self._units = answer, found, answer.units
        for widget in (self.upper, self.lower):
            widget.setVisible(found is not None)
        if found is None:
            self.plan.set_drawing(Drawing())
            self.headline.say(Headline(NOTHING, "bad"))
            say(self.words, "")
            return
        self._show_curves(found, answer.units)
        with QSignalBlocker(self.place):
            first = self.place.maximum() != found.y.size - 1
            self.place.setRange(0, found.y.size - 1)
            if first:
                self.place.setValue(found.y.size // 2)
        self._show_plan()
        self.feet.show_table(feet_table(found, answer.units))
        self.travel.show_table(travel_table(found, answer.units))
        self.headline.say(footing_headline(found, answer.project.limits.rail_level, answer.units))
        told = [finding.message for finding in found.findings]
        say(self.words, " ".join([*told, _in_words(found, answer.units)]), found.findings)

    def show_problems(self, problems: dict[str, str]) -> None:
        self._problems = dict(problems)
        for form, path in self.forms():
            own = below(path, problems)
            here = {
                p: words
                for p, words in own.items()
                if (p.partition(".")[0] == "uneven") == (form is self.uneven)
            }
            form.show_problems(here)

    def _fill(self) -> None:
        if self._project is None:
            return
        plan = self._answer.plan if self._answer is not None else None
        derived = {"length": plan.layout.side_beam_automatic} if plan is not None else {}
        for form, path in self.forms():
            form.show_values(
                self._project.limits if path == "limits" else self._project.machine.base, derived
            )

    def _show_curves(self, found: FootingAnswer, units: UnitSet) -> None:
        y = np.asarray(from_si(found.y, "length", units))

        def curve(values: np.ndarray, words: str, role: str, dash: str) -> Curve:
            return Curve(y, np.asarray(from_si(values, "deflection", units)), words, role, dash)

        place = place_label(units, "Y")
        self.level.set_labels(place, f"Height, {deflection_label(units).rpartition(', ')[2]}")
        span = float(np.ptp([found.left[:, 1], found.right[:, 1]])) or 1.0
        alike = float(np.abs(found.left - found.right)[:, 1].max()) < ALIKE * span
        if alike:  # one line would hide the other
            curves = [
                curve(found.left[:, 1], "both rails", "1", "solid"),
                curve(found.rolling_left[:, 1], "both, by the gantry alone", "3", "dot"),
            ]
        else:
            curves = [
                curve(found.left[:, 1], "left rail", "1", "solid"),
                curve(found.right[:, 1], "right rail", "2", "dash"),
                curve(found.rolling_left[:, 1], "left, by the gantry alone", "3", "dot"),
                curve(found.rolling_right[:, 1], "right, by the gantry alone", "4", "dashdot"),
            ]
        self.level.set_curves(curves)
        self.tilt.set_labels(place, f"Right over left, {deflection_label(units).rpartition(', ')[2]}")
        dashes = ("dot", "solid", "dash")
        self.tilt.set_curves([curve(found.tilt[:, k], HEAD_AT[k], str(k + 1), dashes[k]) for k in range(3)])
        self.share.set_labels(place, "Share, %")
        self.share.set_curves(
            [
                Curve(y, 100.0 * found.share[:, 1, k], f"along {axis}", str(k + 1), dash)
                for k, (axis, dash) in enumerate(zip("XYZ", ("solid", "dash", "dot"), strict=True))
            ],
            Level(50.0, "half of all"),
        )
        for plot in (self.level, self.tilt, self.share):
            plot.set_numbers(lambda: csv_text(travel_table(found, units)))

    def _show_plan(self, _changed: int = 0) -> None:
        found, answer = self._found, self._answer
        if found is None or answer is None:
            return
        place, units = min(self.place.value(), found.y.size - 1), self._units
        self.at.setText(f"y {tell(float(found.y[place]), 'length', units, 4)}")
        layout = answer.plan.layout
        self.plan.set_drawing(feet_plan(found, layout, place, max(self.head.currentIndex(), 0), units))


def _in_words(found: FootingAnswer, units: UnitSet) -> str:
    middle = found.give[found.y.size // 2, 1]
    gives = ", ".join(
        f"{axis} {tell(float(v), 'compliance', units, 2)}" for axis, v in zip("XYZ", middle, strict=True)
    )
    return (
        f"Base and gantry weigh {tell(found.weight, 'force', units)} on {len(found.feet)} feet. Under the rolling gantry a side "
        f"beam sinks by up to {tell(found.sag, 'deflection', units, 2)}. In the middle the base gives {gives}."
    )
