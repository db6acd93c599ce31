"""Joints: every kind of joint with its screws, torque and margins; the picked one drawn, its entries at the left."""

from __future__ import annotations

import math
from typing import Any

from PySide6.QtCore import QSignalBlocker
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QTabWidget, QVBoxLayout, QWidget

from app.answers import Answer
from app.look.theme import Theme
from app.pages.entries import below
from app.pages.fold import Fold
from app.pages.form_column import FormColumn
from app.pages.headline import HeadlineBar
from app.pages.page import Page, heading, quiet, two_columns
from app.pages.tables import ReportTable
from app.widgets.drawing_view import DrawingView
from app.widgets.form import Form
from core.drawing.primitives import Drawing
from core.drawing.views.stack import pattern_drawing, stack_drawing
from core.fasteners.strength import JointsAnswer, JointStrength
from core.machine.joints import AxisJoints, Joint, Joints
from core.machine.project import Project
from core.report.headlines import Headline
from core.report.joint_words import joint_words, joints_headline
from core.report.study.joints import joints_table, limits_table
from core.units import METRIC, UnitSet

PATH = "machine.joints"
GENERAL = frozenset(
    {"friction", "screw_friction", "tightened", "wanted_margin", "spare_share", "nut_kind"}
) | {f"{what}pack_size" for what in ("", "nut_", "washer_")}
KINDS = frozenset(Joints.__struct_fields__) - GENERAL
ON_DEMAND = frozenset(
    {
        "Into",
        "Nuts",
        "Washers",
        "Preload",
        "Least when",
        "Torque set by",
        "Fatigue limit at, low",
        "Plate bends at",
    }
    | {f"{does} at, {side}" for does in ("Slips", "Opens") for side in ("low", "high")}
)
"""Columns of the CSV that the page leaves out: drawing, words and hover say the same."""
ABOUT = (
    "Torque: 90 % of the screw's yield strength (VDI 2230) or less, where a partner bears less. Slips, opens: times that all "
    "loads together could grow; forces from the frame solution, spread over the screws elastically, friction between the parts "
    "as entered. Fatigue limit: the same for the screws' fatigue limit (VDI 2230). "
    "Likely figures here; low and high in the words below and in the file."
)
CAUTION = (
    "A planning aid. Block gantry and head before a joint is opened: they drop. Tighten crosswise in steps; a breaking screw "
    "lets go all at once, so stand clear of it."
)
RAIL_NOTE = "The entries of rails stand on the page Machine, with the beam that carries them."


class JointsPage(Page):
    """Chooser and entries at the left; table, drawing and words at the right."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._project: Project | None = None
        self._units: UnitSet = METRIC
        self._problems: dict[str, str] = {}
        self._found: JointsAnswer | None = None
        self._key = "seat"
        self.chooser = QComboBox(self)
        self.chooser.setAccessibleName("Joint")
        self.chooser.activated.connect(lambda row: self.pick(self.chooser.itemData(row)))
        self.form = Form(theme, Joint, METRIC)
        self.form.edited.connect(lambda path, value: self.edited.emit(f"{self._path()}.{path}", value))
        self.form.left.connect(lambda path: self.left.emit(f"{self._path()}.{path}"))
        rest = frozenset(AxisJoints.__struct_fields__) - {"motor_frame"}
        self.frame = Form(theme, AxisJoints, METRIC, skip=rest)
        self.frame.edited.connect(lambda path, value: self.edited.emit(f"{self._axis_path()}.{path}", value))
        self.frame.left.connect(lambda path: self.left.emit(f"{self._axis_path()}.{path}"))
        self.rail_note = quiet(RAIL_NOTE)
        self.general: Form | None = None
        self.fold = Fold("Friction, tightening and packs", self._make_general, self)
        self.headline = HeadlineBar(theme, self)
        self.table = ReportTable("Joints", self)
        self.table.setToolTip(ABOUT)
        self.table.horizontalHeader().setHighlightSections(False)
        self.table.clicked.connect(lambda index: self._pick_row(index.row()))
        self.stack = DrawingView(theme, self)
        self.pattern = DrawingView(theme, self)
        self.words = quiet()
        self.limits = ReportTable("What the parts bear", self)
        self.tabs = QTabWidget(self)
        self.tabs.setDocumentMode(True)
        self._lay_out()

    def _lay_out(self) -> None:
        top = QWidget(self)
        row = QHBoxLayout(top)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(QLabel("Joint"))
        row.addWidget(self.chooser, 1)
        left = FormColumn(self, top, self.rail_note, self.frame, self.form, self.fold)
        drawn = QWidget(self)
        pictures = QHBoxLayout(drawn)
        pictures.setContentsMargins(0, 4, 0, 0)
        pictures.addWidget(self.stack, 8)
        pictures.addWidget(self.pattern, 5)
        self.tabs.addTab(drawn, "Stack and screws")
        self.tabs.addTab(self.limits, "What the parts bear")
        right = QWidget(self)
        inside = QVBoxLayout(right)
        inside.setContentsMargins(6, 10, 12, 8)
        inside.addWidget(self.headline)
        inside.addWidget(self.table, 5)
        self.title = heading("")
        inside.addWidget(self.title)
        inside.addWidget(self.words)
        inside.addWidget(self.tabs, 5)
        inside.addWidget(quiet(CAUTION))
        two_columns(self, left, right, (left.minimumWidth(), 800))

    def pick(self, key: str) -> None:
        """Show this kind of joint."""
        self._key = key
        self._mark_chooser()
        self._fill()
        self._show_one()
        self.stack.fit()
        self.pattern.fit()
        self.show_problems(self._problems)

    def show_project(self, project: Project, units: UnitSet) -> None:
        if units != self._units:
            for form in (self.form, self.frame, self.general):
                if form is not None:
                    form.set_units(units)
        self._project, self._units = project, units
        self._fill()

    def show_study(self, answer: Answer, study: Any) -> None:
        found: JointsAnswer = study.joints
        self._found, self._units = found, answer.units
        self.headline.say(joints_headline(found) if found is not None else Headline("No answer.", "bad"))
        if found is None:
            return
        self._fill_chooser(found)
        self.table.show_table(joints_table(found, answer.units), ON_DEMAND)
        self._fill()
        self._show_one()

    def show_problems(self, problems: dict[str, str]) -> None:
        self._problems = dict(problems)
        at = below(self._path(), problems)
        own = problems.get(self._path())
        self.form.show_problems({**at, **({"": own} if own else {})})
        self.frame.show_problems({})
        if self.general is not None:
            every = below(PATH, problems)
            self.general.show_problems(
                {p: words for p, words in every.items() if p.partition(".")[0] in GENERAL}
            )

    def _fill_chooser(self, found: JointsAnswer) -> None:
        keys = [one.joint.key for one in found.joints]
        shown = [
            (self.chooser.itemData(row), self.chooser.itemText(row)) for row in range(self.chooser.count())
        ]
        if shown != [(one.joint.key, one.joint.label) for one in found.joints]:
            with QSignalBlocker(self.chooser):
                self.chooser.clear()
                for one in found.joints:
                    self.chooser.addItem(one.joint.label, one.joint.key)
        if self._key not in keys:
            self._key = keys[0]
        self._mark_chooser()

    def _mark_chooser(self) -> None:
        with QSignalBlocker(self.chooser):
            self.chooser.setCurrentIndex(self.chooser.findData(self._key))

    def _one(self) -> JointStrength | None:
        found = self._found
        every = found.joints if found is not None else ()
        return next((one for one in every if one.joint.key == self._key), None)

    def _path(self) -> str:
        one = self._one()
        return f"{PATH}.{self._key}" if one is None else one.joint.site.path

    def _axis_path(self) -> str:
        return self._path().rpartition(".")[0]

    def _make_general(self) -> Form:
        form = Form(self.theme, Joints, self._units, skip=KINDS)
        form.edited.connect(lambda path, value: self.edited.emit(f"{PATH}.{path}", value))
        form.left.connect(lambda path: self.left.emit(f"{PATH}.{path}"))
        self.general = form
        if self._project is not None:
            form.show_values(self._project.machine.joints)
        self.show_problems(self._problems)
        return form

    def _fill(self) -> None:
        project = self._project
        if project is None:
            return
        if self.general is not None:
            self.general.show_values(project.machine.joints)
        path, one = self._path(), self._one()
        ours = path.startswith(PATH)
        motor = ours and path.endswith(".motor")
        self.form.setVisible(ours)
        self.rail_note.setVisible(not ours)
        self.frame.setVisible(motor)
        if not ours:
            return
        at: Any = project
        for name in path.split("."):
            at = getattr(at, name)
        self.form.show_values(at, _derived(one))
        if motor:
            self.frame.show_values(getattr(project.machine.joints, path.split(".")[2]))

    def _pick_row(self, row: int) -> None:
        if self._found is not None and 0 <= row < len(self._found.joints):
            self.pick(self._found.joints[row].joint.key)

    def _show_one(self) -> None:
        one, found = self._one(), self._found
        if one is None or found is None:
            self.stack.set_drawing(Drawing())
            self.pattern.set_drawing(Drawing())
            return
        self.title.setText(one.joint.label)
        self.words.setText(joint_words(one, found.wanted, self._units))
        bolted = not one.joint.welded
        self.stack.setVisible(bolted)
        self.stack.set_drawing(stack_drawing(one.joint, self._units))
        self.pattern.set_drawing(pattern_drawing(one.joint, one.radius, self._units))
        self.limits.show_table(limits_table(found, self._units, one.joint.key), frozenset({"Joint"}))
        with QSignalBlocker(self.table):
            self.table.selectRow([s.joint.key for s in found.joints].index(self._key))


def _derived(one: JointStrength | None) -> dict[str, Any]:
    """Values of automatic entries."""
    if one is None:
        return {}
    joint, values = one.joint, {}
    if joint.pattern is not None and joint.stack is not None:
        pattern = joint.pattern
        values = {
            "along": pattern.along,
            "across": pattern.across,
            "thread": joint.stack.thread,
            "torque": one.torque,
        }
        values["pitch_along"] = pattern.pitch_along or None
        values["pitch_across"] = pattern.pitch_across or None
        clamped = [layer for layer in joint.stack.layers if layer.kind == "clamped"]
        values["plate"] = clamped[0].thickness + joint.site.joint.sunk if clamped else None
    if joint.welded:
        values["weld_length"] = joint.weld_length
    return {name: value for name, value in values.items() if value is not None and math.isfinite(value)}
