"""Drives: motion and drive of one axis at the left, its figures and curves at the right; racking of the gantry beside."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QVBoxLayout,
    QWidget,
)

from app.answers import Answer
from app.look.theme import Theme
from app.pages.beginnings import make
from app.pages.form_column import ScrolledColumn
from app.pages.headline import HeadlineBar, say
from app.pages.kinds import KIND_WORDS
from app.pages.page import Page, quiet, two_columns
from app.pages.tables import ReportTable
from app.widgets.form import Form
from app.widgets.plot import LinePlot
from app.widgets.plot_data import Curve, Level
from app.widgets.plot_engine import PlotEngine
from app.widgets.views import ViewButtons
from core.drives import AxisDrive, DrivesAnswer, Racking
from core.findings import Finding, first_sentence
from core.machine.head import Head
from core.machine.motion import AxisMotion, Motion
from core.machine.project import Machine, Project
from core.report import Table, csv_text
from core.report.headlines import axis_headline, gravest, racking_headline
from core.report.study.drives import rows_table, stiffness_table, torque_table
from core.units import METRIC, UnitSet, from_si, show, unit_label

ENTRIES_WIDTH = 546
VIEWS = {"x": "X", "y": "Y, each side", "z": "Z", "gantry": "Gantry racking"}
AXES = ("x", "y", "z")
CAUTION = (
    "A driven gantry pinches, starts without warning and runs on when power fails: stay out of its travel, fit end stops, and "
    "block the head up before hands go below it. Local codes come first."
)
STIFFNESS = (
    "Parts of the drive in series, with the motor held still. The band is that of the entered figures."
)
TORQUE = "At the motor's shaft. The band is that of the entered torques; friction and losses are taken at their likely figures."
LINE = (
    "How a line along X stands off when one side lags: by geometry alone, and at the tool tip, where drives, carriages and "
    "frame give way (between the ends of the travel drawn straight)."
)
HIDDEN = frozenset({"Where from", "Compared"})
SIGNS = {"good": "Nothing found amiss.", "warning": "Wants a look.", "bad": "Over a limit.", "note": ""}
WAITING = "Worked out a moment after the machine has been solved."
PARTS = ("2", "3", "4")
DASHES: tuple[Any, ...] = ("dash", "dot", "dashdot")


class DrivesPage(Page):
    """Entries, figures and curves of one axis, or of the gantry between its two drives."""

    def __init__(self, theme: Theme, engine: PlotEngine, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._project: Project | None = None
        self._units: UnitSet = METRIC
        self._found: DrivesAnswer | None = None
        self._problems: dict[str, str] = {}
        self._view = "x"
        self._forms: dict[str, Form] = {}
        self._made_in: dict[str, UnitSet] = {}
        self.stiffness = LinePlot(
            theme, engine, "Stiffness along the travel", "", "", from_zero=True, parent=self
        )
        self.torque = LinePlot(theme, engine, "Motor torque", "", "", from_zero=True, parent=self)
        self.line = LinePlot(theme, engine, "A line along X when one side lags", "", "", parent=self)
        self.stiffness.set_about(STIFFNESS)
        self.torque.set_about(TORQUE)
        self.line.set_about(LINE)
        self.words = quiet(WAITING)
        self.headline = HeadlineBar(theme, self)
        self.table = ReportTable("Figures of the drive", self)
        self.table.set_about("", "Where from")
        self.table.stretch("Note")
        self.views = ViewButtons(VIEWS, self._view, self)
        self.views.picked.connect(self.choose)
        self._lay_out()

    def _lay_out(self) -> None:
        inside = QWidget(self)
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(8, 8, 8, 8)
        self._column.addStretch(1)
        scroll = ScrolledColumn(inside)
        left = QWidget(self)
        beside = QVBoxLayout(left)
        beside.setContentsMargins(8, 10, 0, 4)
        beside.addWidget(self.views, 0, Qt.AlignmentFlag.AlignLeft)
        beside.addWidget(scroll, 1)
        left.setMinimumWidth(ENTRIES_WIDTH)
        upper = QWidget(self)
        plots = QHBoxLayout(upper)
        plots.setContentsMargins(0, 0, 0, 0)
        for plot in (self.stiffness, self.torque, self.line):
            plots.addWidget(plot, 1)
        right = QWidget(self)
        rows = QVBoxLayout(right)
        rows.setContentsMargins(6, 10, 12, 8)
        rows.addWidget(self.headline)
        rows.addWidget(upper, 5)
        rows.addWidget(self.words)
        rows.addWidget(self.table, 6)
        rows.addWidget(quiet(CAUTION))
        two_columns(self, left, right, (ENTRIES_WIDTH, 800))

    def choose(self, view: str) -> None:
        """Show an axis ("x", "y", "z") or the "gantry"."""
        self._view = view
        self.views.set_shown(view)
        self._open()
        self._show()

    def show_project(self, project: Project, units: UnitSet) -> None:
        self._project, self._units = project, units
        if self._forms:  # they are made when the page is first looked at
            self._fill()

    def make_entries(self) -> Iterator[None]:
        """The forms of the view that is seen first; those of the others are made when they are chosen."""
        for _ in self._own_forms(self._view):
            yield
        self._open()

    def show_study(self, answer: Answer, study: Any) -> None:
        """The newest answers of the second stage."""
        self._found, self._units = study.drives, answer.units
        self._open()
        self._sign_buttons()
        self._show()

    def show_problems(self, problems: dict[str, str]) -> None:
        self._problems = dict(problems)
        if self._forms:
            self._mark()

    def axis(self) -> AxisDrive | None:
        """The answer of the axis that is shown."""
        axes = self._found.axes if self._found is not None else ()
        return next((axis for axis in axes if axis.axis == self._view), None)

    def _own_forms(self, view: str) -> Iterator[str]:
        """Keys of the forms of a view, each made when first wanted; a key is the path above the form's entries."""
        if view == "gantry":
            yield self._form("machine.motion", Motion, frozenset(AXES))
            yield self._form("machine", Machine, _all_but("y_drive"), "machine of y")
            return
        yield self._form(f"machine.motion.{view}", AxisMotion, _not_for(view))
        if view == "z":
            yield self._form("machine.head", Head, frozenset(Head.__struct_fields__) - {"drive"})
        else:
            yield self._form("machine", Machine, _all_but(f"{view}_drive"), f"machine of {view}")

    def _form(self, path: str, struct: type[Any], skip: frozenset[str], key: str = "") -> str:
        key = key or path
        if key not in self._forms:
            form = Form(self.theme, struct, self._units, skip=skip, words=KIND_WORDS, make=make)
            form.setProperty("above", path)
            form.edited.connect(lambda name, value: self.edited.emit(f"{path}.{name}", value))
            form.left.connect(lambda name: self.left.emit(f"{path}.{name}"))
            self._column.insertWidget(self._column.count() - 1, form)
            self._forms[key], self._made_in[key] = form, self._units
        return key

    def _open(self) -> None:
        own = tuple(self._own_forms(self._view))
        for key, form in self._forms.items():
            form.setVisible(key in own)
        for place, key in enumerate(own):
            self._column.insertWidget(place, self._forms[key])
        self._fill()

    def _fill(self) -> None:
        if self._project is None:
            return
        machine = self._project.machine
        values = {"machine": machine, "machine.head": machine.head, "machine.motion": machine.motion}
        values |= {f"machine.motion.{axis}": getattr(machine.motion, axis) for axis in AXES}
        for key in self._own_forms(self._view):
            form = self._forms[key]
            if self._made_in[key] != self._units:
                form.set_units(self._units)
                self._made_in[key] = self._units
            form.show_values(values[form.property("above")], self._derived())
        self._mark()

    def _derived(self) -> dict[str, Any]:
        if self._project is None:
            return {}
        machine, axis = self._project.machine, self.axis()
        if self._view == "gantry":
            return {"y_drive.nominal_diameter": getattr(machine.y_drive, "outer", None)}
        motion = getattr(machine.motion, self._view)
        drive = machine.head.drive if self._view == "z" else getattr(machine, f"{self._view}_drive")
        place = "drive" if self._view == "z" else f"{self._view}_drive"
        found = {"deceleration": motion.stopping, f"{place}.nominal_diameter": getattr(drive, "outer", None)}
        return found | ({"gear_ratio": axis.ratio} if axis is not None else {})

    def _mark(self) -> None:
        for key in self._own_forms(self._view):
            form = self._forms[key]
            start = f"{form.property('above')}."
            own = {p[len(start) :]: text for p, text in self._problems.items() if p.startswith(start)}
            places = tuple(form.paths())
            form.show_problems({p: text for p, text in own.items() if p.startswith(_tops(places))})

    def _show(self) -> None:
        gantry = self._view == "gantry"
        self.line.setVisible(gantry)
        self.stiffness.setVisible(not gantry)
        self.torque.setVisible(not gantry)
        axis = self.axis()
        racking = self._found.racking if self._found is not None else None
        if gantry and racking is not None:
            self._show_racking(racking)
        elif axis is not None:
            self._show_axis(axis)
        else:
            self.headline.say(None)
            self.table.show_table(Table("", (), ()))
            solved = self._found is not None
            self._say(
                [],
                "The frame cannot be solved as described, so its racking is not known."
                if solved
                else WAITING,
            )

    def _show_axis(self, axis: AxisDrive) -> None:
        units = self._units
        self.table.show_table(rows_table(axis.label, axis.rows, units), HIDDEN)
        show_stiffness(self.stiffness, axis, units)
        show_torque(self.torque, axis, units)
        found = self._of_axis(axis.axis)
        self.headline.say(axis_headline(axis, found, units))
        self._say(found, "")

    def _show_racking(self, racking: Racking) -> None:
        self.table.show_table(rows_table("Gantry racking", racking.rows, self._units), HIDDEN)
        if self._project is not None:
            show_line(self.line, racking, self._project.machine.work.travel_x, self._units)
        found = _said(self._found, "machine.motion.lag")
        self.headline.say(racking_headline(racking, found, self._units))
        self._say(found, "Nothing found amiss between the two sides.")

    def _of_axis(self, axis: str) -> list[Finding]:
        return _said(self._found, f"machine.motion.{axis}", _drive_path(axis))

    def _sign_buttons(self) -> None:
        """A sign on the button of each axis, so that the one to look at is found at once."""
        for key, button in self.views.buttons.items():
            state = gravest(self._of_axis(key) if key in AXES else _said(self._found, "machine.motion.lag"))
            name, ink = {"bad": ("limit-broken", "bad"), "warning": ("warning", "warn")}.get(
                state, ("ok", "good")
            )
            button.setIcon(self.theme.icon(name, ink))
            button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
            button.setToolTip(SIGNS[state])

    def _say(self, found: list[Finding], otherwise: str) -> None:
        """What the headline has not said already."""
        head = self.headline.text() if self.headline.isVisibleTo(self) else ""
        told = [f for f in found if f.message != head]
        said = [
            f.message.removeprefix(head).strip() if first_sentence(f.message) == head else f.message
            for f in told
        ]
        say(self.words, " ".join(said) or otherwise, told)
        self.words.setVisible(bool(self.words.text()))


def _all_but(name: str) -> frozenset[str]:
    return frozenset(Machine.__struct_fields__) - {name}


def _not_for(view: str) -> frozenset[str]:
    """Entries of a motion that do not concern this axis."""
    return frozenset() if view == "z" else frozenset({"balance"})


def _tops(places: tuple[str, ...]) -> tuple[str, ...]:
    return tuple({place.partition(".")[0] for place in places}) or ("\0",)


def _drive_path(axis: str) -> str:
    return "machine.head.drive" if axis == "z" else f"machine.{axis}_drive"


def _said(found: DrivesAnswer | None, *starts: str) -> list[Finding]:
    return [f for f in (found.findings if found is not None else ()) if f.where.startswith(starts)]


def _shown(values: Any, quantity: str, units: UnitSet) -> np.ndarray:
    return np.asarray(from_si(np.asarray(values, float), quantity, units), float)


def show_stiffness(plot: LinePlot, axis: AxisDrive, units: UnitSet) -> None:
    """Stiffness along the travel with its band, and that of each part when there are several."""
    place = f"Place along {axis.axis.upper()}, {unit_label('length', units)}"
    plot.set_labels(place, f"Stiffness, {unit_label('stiffness', units)}")
    x = _shown(axis.place, "length", units)
    low, likely, high = (_shown(k, "stiffness", units) for k in axis.stiffness)
    curves = [Curve(x, likely, "whole drive", "1", "solid", low, high)]
    if len(axis.parts) > 1:
        for number, (name, k) in enumerate(axis.parts.items()):
            curves.append(
                Curve(x, _shown(k, "stiffness", units), name, PARTS[number % 3], DASHES[number % 3])
            )
    plot.set_curves(curves)
    plot.set_numbers(lambda: csv_text(stiffness_table(axis, units)))


def show_torque(plot: LinePlot, axis: AxisDrive, units: UnitSet) -> None:
    """Torque that the motor has over the axis' speed, and what accelerating and cutting ask of it."""
    plot.set_labels(
        f"Speed of the axis, {unit_label('speed', units)}", f"Torque, {unit_label('torque', units)}"
    )
    x = _shown(axis.speed, "speed", units)
    low, likely, high = (_shown(t, "torque", units) for t in axis.available)
    curves = [Curve(x, likely, "motor has", "1", "solid", low, high)]
    wanted = (
        ("to accelerate", axis.accelerating, axis.rapid, "2", "dash"),
        ("to cut", axis.cutting, axis.feed, "3", "dot"),
    )
    for name, torque, end, role, dash in wanted:
        ends = _shown([0.0, end], "speed", units)
        at = _shown([torque[1], torque[1]], "torque", units)
        curves.append(Curve(ends, at, name, role, dash))  # type: ignore[arg-type]
    plot.set_curves(curves, [], Level(float(from_si(axis.rapid, "speed", units)), "rapid"))
    plot.set_numbers(lambda: csv_text(torque_table(axis, units)))


def show_line(plot: LinePlot, racking: Racking, travel: float, units: UnitSet) -> None:
    """How a line along X stands off when one side lags."""
    plot.set_labels(
        f"Place along X, {unit_label('length', units)}", f"Stands off by, {unit_label('deflection', units)}"
    )
    x = _shown([-travel / 2.0, travel / 2.0], "length", units)
    curves = [
        Curve(x, _shown([-end / 2.0, end / 2.0], "deflection", units), name, role, dash)  # type: ignore[arg-type]
        for end, name, role, dash in (
            (racking.offset_elastic, "at the tool tip", "1", "solid"),
            (racking.offset, "by geometry alone", "2", "dash"),
        )
    ]
    plot.set_curves(curves)
    plot.set_summary(f"One side lags by {show(racking.lag, 'deflection', units)}.")
