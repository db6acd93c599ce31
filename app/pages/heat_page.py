"""Heat: the shop's temperatures at the left; the tool's path, bow, travel error and growth at the right."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtWidgets import QHBoxLayout, QTabWidget, QVBoxLayout, QWidget

from app.answers import Answer
from app.look.theme import Theme
from app.pages.curves import deflection_label, place_label
from app.pages.entries import below
from app.pages.form_column import FormColumn
from app.pages.headline import HeadlineBar, say
from app.pages.page import Page, heading, quiet, two_columns
from app.pages.tables import ReportTable
from app.widgets.form import Form
from app.widgets.plot import LinePlot
from app.widgets.plot_data import Curve
from app.widgets.plot_engine import PlotEngine
from core.machine.heat import Heat
from core.machine.project import Machine, Project
from core.report import csv_text
from core.report.headlines import heat_headline
from core.report.study.heat import bow_table, growth_table, heat_path_table, scale_table
from core.thermal import HeatAnswer, HeatPath
from core.units import METRIC, UnitSet, from_si, tell

ABOUT = (
    "The line is the upper bound: rails that hold without slip at every screw (two bonded bars, Timoshenko 1925). Rails "
    "that slide leave the path straight, zero here, unless a plate of another metal bows the beam by itself. The truth lies "
    "between, in the band."
)
ABOUT_GROWTH = "Length times expansion times the change of temperature since set-up; expansions are those of the materials' list."
ABOUT_SCALE = "Growth of what the axis takes its length from, less that of the work: how much too long or short a travel is cut."
BOUNDS = (
    "True at the temperature of set-up. Uneven warming, the spindle's own heat and moisture in wood or plywood are not in "
    "these figures."
)


class HeatPage(Page):
    """Temperatures, and all that they change."""

    def __init__(self, theme: Theme, engine: PlotEngine, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._units: UnitSet = METRIC
        self.form = Form(theme, Heat, METRIC)
        self.form.edited.connect(lambda path, value: self.edited.emit(f"heat.{path}", value))
        self.form.left.connect(lambda path: self.left.emit(f"heat.{path}"))
        others = frozenset(Machine.__struct_fields__) - {"temperature"}
        self.set_up = Form(theme, Machine, METRIC, skip=others)
        self.set_up.edited.connect(lambda path, value: self.edited.emit(f"machine.{path}", value))
        self.set_up.left.connect(lambda path: self.left.emit(f"machine.{path}"))
        self.along_x = LinePlot(
            theme, engine, "Tool's path along X by heat", "", "", from_zero=True, parent=self
        )
        self.along_y = LinePlot(
            theme, engine, "Tool's path along Y by heat", "", "", from_zero=True, parent=self
        )
        self.words = quiet()
        self.headline = HeadlineBar(theme, self)
        self.bow = ReportTable("Bow by heat", self)
        self.bow.stretch("What it means")
        self.scale = ReportTable("Error over the travel by heat", self)
        self.scale.stretch("Its length follows")
        self.growth = ReportTable("Growth by heat", self)
        self.growth.stretch("Material")
        self.bow.set_about(
            f"{ABOUT} Bow is measured over the whole beam; the path is what is left along the travel."
        )
        self.scale.set_about(ABOUT_SCALE)
        self.growth.set_about(ABOUT_GROWTH)
        self.tables = QTabWidget(self)
        self.tables.setDocumentMode(True)
        for table, words in ((self.bow, "Bow"), (self.scale, "Error over a travel"), (self.growth, "Growth")):
            self.tables.addTab(table, words)
        self._lay_out()

    def _lay_out(self) -> None:
        left = FormColumn(
            self, heading("Set up at"), self.set_up, heading("At work"), self.form, quiet(BOUNDS)
        )
        plots = QWidget(self)
        row = QHBoxLayout(plots)
        row.setContentsMargins(0, 0, 0, 0)
        for plot in (self.along_x, self.along_y):
            plot.set_about(ABOUT)
            row.addWidget(plot, 1)
        right = QWidget(self)
        column = QVBoxLayout(right)
        column.setContentsMargins(6, 10, 12, 8)
        column.addWidget(self.headline)
        column.addWidget(plots, 5)
        column.addWidget(self.words)
        column.addWidget(self.tables, 6)
        two_columns(self, left, right, (left.minimumWidth(), 800))

    def show_project(self, project: Project, units: UnitSet) -> None:
        if units != self._units:
            self._units = units
            self.form.set_units(units)
            self.set_up.set_units(units)
        self.form.show_values(project.heat)
        self.set_up.show_values(project.machine)

    def show_study(self, answer: Answer, study: Any) -> None:
        found: HeatAnswer | None = study.heat
        if found is None:
            return
        units = answer.units
        for plot, path in ((self.along_x, found.paths[0]), (self.along_y, found.paths[1])):
            self._show_path(plot, path, units)
        self.bow.show_table(bow_table(found, units))
        self.scale.show_table(scale_table(found, units))
        self.growth.show_table(growth_table(found, units))
        self.headline.say(heat_headline(found, answer.project))
        say(self.words, "\n".join(finding.message for finding in found.findings), found.findings)
        self.words.setVisible(bool(found.findings))

    def show_problems(self, problems: dict[str, str]) -> None:
        self.form.show_problems(below("heat", problems))
        own = below("machine", problems)
        self.set_up.show_problems({path: text for path, text in own.items() if path == "temperature"})

    def _show_path(self, plot: LinePlot, path: HeatPath, units: UnitSet) -> None:
        plot.set_labels(place_label(units, path.axis), deflection_label(units))
        x = np.asarray(from_si(path.place, "length", units))
        across = [axis for axis in "XYZ" if axis != path.axis]
        sizes = {axis: float(np.abs(path.moved[..., "XYZ".index(axis)]).max()) for axis in across}
        axis = max(across, key=lambda a: sizes[a])
        curves = []
        for number, words in enumerate(("coldest", "warmest")):
            y = np.asarray(from_si(path.moved[number, :, "XYZ".index(axis)], "deflection", units))
            nothing = np.zeros_like(y)
            curves.append(
                Curve(x, y, f"{axis}, {words}, rails {path.rails}", str(number + 1), ("solid", "dash")[number],
                      np.minimum(y, nothing), np.maximum(y, nothing))
            )  # fmt: skip
        plot.set_curves(curves)
        plot.set_summary(f"Up to {tell(path.worst, 'deflection', units)} out of straight along {path.axis}.")
        plot.set_numbers(lambda: csv_text(heat_path_table(path, units)))
