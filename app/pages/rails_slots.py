"""T-nuts slot by slot: which go in from which end, in which order, what closes an end, and what stays parked."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSplitter, QVBoxLayout, QWidget

from app.answers import Answer
from app.look.theme import Theme
from app.pages.entry_row import EntryRow
from app.pages.page import heading, quiet
from app.pages.tables import ReportTable
from app.widgets.drawing_view import DrawingView
from core.drawing.primitives import Drawing
from core.drawing.views.slot import slot_drawing
from core.fasteners.site import held
from core.fasteners.slots import NEEDS, SlotPlan, SlotsAnswer
from core.machine.fastening import RailFastening
from core.machine.project import Project
from core.report.study.slots import joint_nuts_table, slot_table, slots_table
from core.units import METRIC, UnitSet

PATHS = {
    "x": "machine.gantry.beam.rail_fastening",
    "y": "machine.base.rail_fastening",
    "z": "machine.head.rail_fastening",
}
KINDS = (("slide-in", "Slide-in"), ("roll-in", "Roll-in"), ("swivel", "Swivel"))
CLOSED = (
    ("automatic", "Automatic"),
    ("neither", "Neither end"),
    ("start", "Left or front end"),
    ("end", "Right or back end"),
    ("both", "Both ends"),
)
LESS = frozenset({"What the kind wants", "Bars", "Face", "Slot", "In at the start", "In at the end"})
"""Columns that the page leaves out of the table of slots: the steps and the drawing tell them."""
NONE = "No T-nuts hold this rail: its screws go into a {hold}. T-nuts are chosen on the page Machine, as what screws go into."


class SlotsPanel(QWidget):
    """Signals: edited(path, value), left(path) as of a page."""

    edited = Signal(str, object)
    left = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._key = "x_low"
        self._picked = ""
        self._project: Project | None = None
        self._units: UnitSet = METRIC
        self._found: SlotsAnswer | None = None
        fields = ("nut_kind", "closed_ends", "parked_nuts")
        choices = {"nut_kind": KINDS, "closed_ends": CLOSED}
        self.entries = EntryRow(theme, RailFastening, fields, 3, choices=choices, parent=self)
        self.entries.edited.connect(
            lambda name, value: self.edited.emit(f"{PATHS[self._key[0]]}.{name}", value)
        )
        self.entries.left.connect(lambda name: self.left.emit(f"{PATHS[self._key[0]]}.{name}"))
        self.view = DrawingView(theme, self)
        self.view.setFixedHeight(130)
        self.words = quiet()
        self.steps = QLabel(self)
        self.steps.setWordWrap(True)
        self.steps.setTextFormat(Qt.TextFormat.PlainText)
        self.steps.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.steps.setAccessibleName("Steps of loading the slot")
        self.slots = ReportTable("T-nuts by slot", self)
        self.slots.keep_height(190)
        self.slots.horizontalHeader().setHighlightSections(False)
        self.slots.clicked.connect(lambda index: self._pick_row(index.row()))
        self.order = ReportTable("Loading order", self)
        self.joints = ReportTable("T-nuts of joints", self)
        self.joints.keep_height(190)
        self.title = heading("")
        self.joints_heading = heading("T-nuts of joints, counted")
        self.slots_heading = heading("Every slot with T-nuts: click one to see it")
        self.body = QWidget(self)
        left, right = QWidget(self), QWidget(self)
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 8, 0)
        column.addWidget(heading("In this order"))
        column.addWidget(self.steps, 1)
        beside = QVBoxLayout(right)
        beside.setContentsMargins(6, 0, 0, 0)
        beside.addWidget(heading("Nut by nut"))
        beside.addWidget(self.order, 1)
        across = QSplitter(Qt.Orientation.Horizontal, self)
        across.addWidget(left)
        across.addWidget(right)
        across.setSizes([640, 460])
        across.setChildrenCollapsible(False)
        inside = QVBoxLayout(self.body)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(6)
        inside.addWidget(self.entries)
        inside.addWidget(self.title)
        inside.addWidget(self.view)
        inside.addWidget(across, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 6, 0, 0)
        whole.setSpacing(6)
        whole.addWidget(self.words)
        whole.addWidget(self.body, 1)
        below = QHBoxLayout()
        below.setSpacing(14)
        for head, table, share in (
            (self.slots_heading, self.slots, 5),
            (self.joints_heading, self.joints, 4),
        ):
            part = QVBoxLayout()
            part.addWidget(head)
            part.addWidget(table)
            part.addStretch(1)
            below.addLayout(part, share)
        whole.addLayout(below)
        whole.addStretch(0)

    def show_project(self, project: Project, units: UnitSet) -> None:
        self._project, self._units = project, units
        self._show_entries()

    def show_rail(self, key: str) -> None:
        """Look at the slot under this rail."""
        self._key, self._picked = key, ""
        self._show_entries()
        self._show()

    def pick(self, key: str) -> None:
        """Look at the slot of this plan, whatever rail is in view."""
        self._picked = key
        self._show()
        self.view.fit()

    def _pick_row(self, row: int) -> None:
        if self._found is not None and 0 <= row < len(self._found.slots):
            self.pick(self._found.slots[row].key)

    def show_found(self, answer: Answer, found: SlotsAnswer | None) -> None:
        self._found, self._units, self._project = found, answer.units, answer.project
        self._show()

    def show_problems(self, problems: dict[str, str]) -> None:
        start = f"{PATHS[self._key[0]]}."
        self.entries.show_problems(
            {p.removeprefix(start): w for p, w in problems.items() if p.startswith(start)}
        )

    def plan(self) -> SlotPlan | None:
        """The slot that was clicked, else the one under the rail in view."""
        slots = self._found.slots if self._found is not None else ()
        by_key = {plan.key: plan for plan in slots}
        return by_key.get(self._picked) or by_key.get(self._key)

    def _show_entries(self) -> None:
        if self._project is not None:
            self.entries.show_values(held(self._project)[self._key[0]][0], self._units)

    def _show(self) -> None:
        plan, found = self.plan(), self._found
        self.body.setVisible(plan is not None)
        for widget in (self.slots_heading, self.slots):
            widget.setVisible(found is not None and bool(found.slots))
        for widget in (self.joints_heading, self.joints):
            widget.setVisible(found is not None and bool(found.joints))
        if found is not None:
            self.slots.show_table(slots_table(found, self._units), LESS)
            if plan is not None:
                with QSignalBlocker(self.slots):
                    self.slots.selectRow(found.slots.index(plan))
            self.joints.show_table(joint_nuts_table(found, self._units))
        if plan is None:
            self.view.set_drawing(Drawing())
            if self._project is not None:
                hold = held(self._project)[self._key[0]][0].hold
                self.words.setText(NONE.format(hold=hold))
            return
        self.entries.setVisible(plan.key == self._key)
        self.title.setText(f"{plan.label}, {_where(plan)}")
        self.words.setText(f"A {plan.kind} nut {NEEDS[plan.kind]} (common practice).")
        self.view.set_drawing(slot_drawing(plan, self._units))
        self.steps.setText("\n".join(f"{number}. {step}" for number, step in enumerate(plan.steps, start=1)))
        less = {"Kind"} if len({nut.kind for nut in plan.nuts}) == 1 else set()
        less |= {"Thread"} if len({nut.thread for nut in plan.nuts}) == 1 else set()
        self.order.show_table(slot_table(plan, self._units), frozenset(less))


def _where(plan: SlotPlan) -> str:
    """The slot in words: which face and number, on which bars."""
    if plan.covered is None:
        return f"{len(plan.bars)} bars alike" if len(plan.bars) > 1 else plan.bars[0]
    slot = "no slot" if plan.slot is None else f"slot {plan.slot + 1} of the {plan.face} face"
    return f"{plan.bars[0]}, {slot}"
