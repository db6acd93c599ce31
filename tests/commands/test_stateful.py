"""Hundreds of random edits, undos, redos, saves and reopens against a plain list of every state there was."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from core.commands import (
    AddBeam,
    AddRow,
    Command,
    CopyVariant,
    DropChange,
    History,
    MoveRow,
    RemoveRow,
    SetEntry,
    SetInVariant,
    UseBeam,
    UseVariant,
)
from core.errors import BadEntry
from core.machine.drives import BallScrew, KnownStiffness, RackPinion, ToothedBelt
from core.machine.loads import CutForce, DirectForce, LoadCase
from core.machine.project import Project
from core.sections import Channel, FlatBar, RectangularHollow
from core.storage import load_project, save_project

NUMBERS = st.one_of(st.floats(-1.0, 20.0), st.floats(allow_nan=True, allow_infinity=True), st.none())
LENGTHS = st.sampled_from(
    [
        "machine.work.travel_x",
        "machine.work.clearance",
        "machine.gantry.beam.length",
        "machine.gantry.upright.height",
        "machine.x_guides.spread",
        "machine.base.top",
        "cases.0.limit",
        "cases.1.limit",
        "limits.path_error",
    ]
)
SECTIONS = st.sampled_from(
    [
        FlatBar(height=0.12, width=0.02),
        RectangularHollow(height=0.1, width=0.1, wall=0.004),
        Channel(height=0.1, width=0.05, web=0.006, flange=0.0085),
    ]
)
DRIVES = st.sampled_from([BallScrew(), KnownStiffness(), RackPinion(), ToothedBelt()])
LOADS = st.sampled_from([DirectForce(y=20.0), CutForce()])
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
INDEX = st.integers(-1, 4)


class Editing(RuleBasedStateMachine):
    """Drives a history and keeps the states it must come back to."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.file = Path(self.folder.name) / "project.json"
        self.history = History(Project())
        self.past: list[Project] = []
        self.future: list[Project] = []
        self.on_disk: Project | None = None

    def teardown(self) -> None:
        self.folder.cleanup()

    def do(self, command: Command) -> None:
        before = self.history
        try:
            expected = command.apply(before.project)
        except BadEntry:
            return
        self.history = before.do(command)
        assert self.history.project == expected
        if len(self.history.done) > len(before.done):
            self.past.append(before.project)
        elif len(self.history.done) < len(before.done):
            self.past.pop()
        if expected != before.project:
            self.future.clear()

    @rule(path=LENGTHS, value=NUMBERS)
    def type_number(self, path: str, value: float | None) -> None:
        self.do(SetEntry(path, value))

    @rule(path=st.sampled_from(["name", "note", "cases.0.name", "machine.base.material"]), text=TEXTS)
    def type_text(self, path: str, text: str) -> None:
        self.do(SetEntry(path, text))

    @rule(
        path=st.sampled_from(["machine.gantry.beam", "machine.gantry.upright", "machine.base"]),
        section=SECTIONS,
    )
    def choose_section(self, path: str, section: Any) -> None:
        self.do(SetEntry(f"{path}.section", section))

    @rule(path=st.sampled_from(["machine.x_drive", "machine.y_drive", "machine.head.drive"]), drive=DRIVES)
    def choose_drive(self, path: str, drive: Any) -> None:
        self.do(SetEntry(path, drive))

    @rule(name=TEXTS, load=LOADS, index=st.none() | INDEX)
    def add_case(self, name: str, load: Any, index: int | None) -> None:
        try:
            case = LoadCase(name=name, load=load)
        except BadEntry:
            return
        self.do(AddRow("cases", case, index))

    @rule(name=TEXTS, section=SECTIONS)
    def add_beam(self, name: str, section: Any) -> None:
        self.do(AddBeam(section, name))

    @rule(name=TEXTS, section=SECTIONS)
    def use_beam(self, name: str, section: Any) -> None:
        self.do(UseBeam(section, name))

    @rule(index=INDEX, path=LENGTHS, value=NUMBERS)
    def type_in_variant(self, index: int, path: str, value: float | None) -> None:
        self.do(SetInVariant(index, path, value))

    @rule(index=INDEX, path=LENGTHS | st.just("machine.gantry.beam.section"))
    def drop_change(self, index: int, path: str) -> None:
        self.do(DropChange(index, path))

    @rule(index=INDEX)
    def copy_variant(self, index: int) -> None:
        self.do(CopyVariant(index))

    @rule(path=st.sampled_from(["cases", "variants"]), index=INDEX)
    def remove_row(self, path: str, index: int) -> None:
        self.do(RemoveRow(path, index))

    @rule(path=st.sampled_from(["cases", "variants"]), index=INDEX, to=INDEX)
    def move_row(self, path: str, index: int, to: int) -> None:
        self.do(MoveRow(path, index, to))

    @rule(index=INDEX)
    def use_variant(self, index: int) -> None:
        self.do(UseVariant(index))

    @rule()
    def leave_entry(self) -> None:
        self.history = self.history.seal()

    @precondition(lambda self: self.past)
    @rule(count=st.integers(1, 5))
    def undo(self, count: int) -> None:
        for _ in range(min(count, len(self.past))):
            self.future.append(self.history.project)
            self.history = self.history.undo()
            assert self.history.project == self.past.pop()

    @precondition(lambda self: self.future)
    @rule(count=st.integers(1, 5))
    def redo(self, count: int) -> None:
        for _ in range(min(count, len(self.future))):
            self.past.append(self.history.project)
            self.history = self.history.redo()
            assert self.history.project == self.future.pop()

    @rule()
    def save(self) -> None:
        save_project(self.file, self.history.project)
        self.history = self.history.mark_saved()
        self.on_disk = self.history.project

    @precondition(lambda self: self.on_disk is not None)
    @rule()
    def reopen(self) -> None:
        project = load_project(self.file)
        assert project == self.on_disk
        self.history = History(project, saved=project)
        self.past.clear()
        self.future.clear()

    @invariant()
    def counts_and_marks_agree(self) -> None:
        assert self.history.can_undo == bool(self.past)
        assert self.history.can_redo == bool(self.future)
        assert self.history.changed == (self.on_disk is None or self.on_disk != self.history.project)
        assert bool(self.history.undo_label) == bool(self.past)


TestEditing = Editing.TestCase
TestEditing.settings = settings(max_examples=25, stateful_step_count=60)
