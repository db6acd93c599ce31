"""Shims: measured heights of the two rails of an axis, the best line through them, and what goes under each hole."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.look.theme import Theme
from app.pages.curves import deflection_label
from app.pages.heights_entry import HeightsEntry
from app.pages.page import quiet, two_columns
from app.pages.tables import ReportTable
from app.widgets.plot import LinePlot
from app.widgets.plot_data import Curve
from app.widgets.plot_engine import PlotEngine
from core.errors import BadEntry
from core.form import FormAnswer, Survey, read_heights
from core.machine.project import Project
from core.report import csv_text
from core.report.study.form import shim_table
from core.units import METRIC, UnitSet, from_si, show, unit_label

AXES = (("x", "X rails"), ("y", "Y rails"))
RAILS = {"x": ("Lower (or front) rail", "Upper (or back) rail"), "y": ("Left rail", "Right rail")}
NOTHING = (
    "Measure the height of each rail's seat with a dial indicator or a straight edge, best at every hole, and enter it here: "
    "hole or place, then height. Best line, shim for each hole and what is left over follow. Both rails from one reference "
    "give twist and tilt too."
)
LARGEST_FILE = 200_000


class ShimsPanel(QWidget):
    """Signals: edited(path, value) and left(path) with full paths, as of a page."""

    edited = Signal(str, object)
    left = Signal(str)

    def __init__(self, theme: Theme, engine: PlotEngine, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._project: Project | None = None
        self._units: UnitSet = METRIC
        self._found: FormAnswer | None = None
        self.axis = QComboBox(self)
        self.axis.setAccessibleName("Rails measured")
        for key, words in AXES:
            self.axis.addItem(words, key)
        self.axis.activated.connect(self._switch)
        self.file = QPushButton("Read a file…", self)
        self.file.setToolTip(
            "Text or CSV: hole or place, height; with the rail (1 or 2) in front when it holds both."
        )
        self.file.clicked.connect(self._ask_file)
        self.entries = (HeightsEntry(self), HeightsEntry(self))
        for name, entry in zip(("first", "second"), self.entries, strict=True):
            entry.edited.connect(lambda rows, name=name: self.edited.emit(f"{self._path()}.{name}", rows))
            entry.left.connect(lambda name=name: self.left.emit(f"{self._path()}.{name}"))
        self.plot = LinePlot(theme, engine, "Seats of the rails", "", "", parent=self)
        self.plot.set_about(
            "Least squares through the readings; lifted until nothing has to be taken off. Two rails share one slope."
        )
        self.words = quiet()
        self.table = ReportTable("Shims", self)
        self.table.stretch("Rail")
        self._lay_out()

    def _lay_out(self) -> None:
        left = QWidget(self)
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 6, 6, 0)
        row = QHBoxLayout()
        row.addWidget(QLabel("Measured", self))
        row.addWidget(self.axis, 1)
        column.addLayout(row)
        for entry in self.entries:
            column.addWidget(entry, 1)
        column.addWidget(self.file)
        left.setMinimumWidth(230)
        right = QWidget(self)
        beside = QVBoxLayout(right)
        beside.setContentsMargins(6, 6, 0, 0)
        beside.addWidget(self.plot, 4)
        beside.addWidget(self.words)
        beside.addWidget(self.table, 5)
        two_columns(self, left, right, (230, 560))

    def _key(self) -> str:
        return str(self.axis.currentData())

    def _path(self) -> str:
        return f"straightness.{self._key()}_heights"

    def show_project(self, project: Project, units: UnitSet) -> None:
        self._project, self._units = project, units
        heights = getattr(project.straightness, f"{self._key()}_heights")
        for entry, words, readings in zip(
            self.entries, RAILS[self._key()], (heights.first, heights.second), strict=True
        ):
            entry.set_title(words)
            entry.show_readings(readings, units)

    def show_form(self, found: FormAnswer, units: UnitSet) -> None:
        self._found, self._units = found, units
        self._show()

    def read_file(self, path: Path) -> None:
        """Take both rails' readings of the axis from a file; what is wrong with it stands under the first entry."""
        try:
            with path.open("rb") as stream:
                data = stream.read(LARGEST_FILE + 1)
            if len(data) > LARGEST_FILE:
                raise BadEntry("file", path.name, "is too long for readings", f"up to {LARGEST_FILE} bytes")
            heights = read_heights(data.decode("utf-8-sig"), self._units)
        except (OSError, UnicodeDecodeError) as error:
            self.entries[0].problem.setText(f"{path.name} cannot be read as text: {error}.")
            self.entries[0].problem.show()
            return
        except BadEntry as error:
            self.entries[0].problem.setText(f"{error.value} {error.problem}. Accepted: {error.accepted}.")
            self.entries[0].problem.show()
            return
        self.left.emit(self._path())
        self.edited.emit(self._path(), heights)
        self.left.emit(self._path())

    def _ask_file(self) -> None:
        name, _ = QFileDialog.getOpenFileName(
            self, "Measured heights", "", "Text or CSV (*.csv *.txt *.tsv);;All (*)"
        )
        if name:
            self.read_file(Path(name))

    def _switch(self) -> None:
        if self._project is not None:
            self.show_project(self._project, self._units)
        self._show()

    def _survey(self) -> Survey | None:
        surveys = self._found.surveys if self._found is not None else ()
        return next((survey for survey in surveys if survey.axis.lower() == self._key()), None)

    def _show(self) -> None:
        survey, units = self._survey(), self._units
        self.plot.set_labels(f"Place along the rail, {unit_label('length', units)}", deflection_label(units))
        self.plot.setVisible(survey is not None)
        self.table.setVisible(survey is not None)
        if survey is None or self._found is None:
            self.plot.set_curves([])
            self.words.setText(NOTHING)
            self.words.setAlignment(Qt.AlignmentFlag.AlignTop)
            return
        curves = []
        for number, rail in enumerate(survey.rails):
            for pairs, words, dash in (
                ([(shim.place, shim.height) for shim in rail.shims], "measured", ("solid", "dash")[number]),
                ([(shim.place, shim.height + shim.shim) for shim in rail.shims], "with shims", "dot"),
            ):
                places, heights = np.array(pairs).T
                curves.append(
                    Curve(np.asarray(from_si(places, "length", units)), np.asarray(from_si(heights, "deflection", units)),
                          f"{rail.label}, {words}", str(number + 1), dash)  # type: ignore[arg-type]
                )  # fmt: skip
        self.plot.set_curves(curves)
        only = FormAnswer((), (), (), (survey,), {}, ())
        table = shim_table(only, units)
        self.plot.set_numbers(lambda: csv_text(table))
        self.table.show_table(table)
        self.words.setText(_words(survey, units))


def _words(survey: Survey, units: UnitSet) -> str:
    words = (
        f"Out of true by up to {show(survey.before, 'deflection', units)}; thickest shim "
        f"{show(survey.thickest, 'deflection', units)}; left over {show(survey.worst_left, 'deflection', units, 2)} at most."
    )
    if len(survey.rails) == 2:
        words += (
            f" The second rail lies {show(survey.tilt, 'deflection', units)} above the first, with a twist of "
            f"{show(survey.twist, 'deflection', units)} from end to end."
        )
    return words
