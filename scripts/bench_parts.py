"""All fasteners and parts of a project after an edit, each answer timed by the processor's clock; a part of the bench."""

from __future__ import annotations

import itertools
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from app.cli.solving import with_sections
from core.bill import find_bill
from core.commands import value_at
from core.fasteners import joints as find_joint_screws
from core.fasteners import rails as find_rails
from core.fasteners.drilling import find_drilling
from core.fasteners.interim import find_interim
from core.fasteners.slots import find_slots
from core.fasteners.strength import find_joints
from core.machine.layout import layout
from core.machine.project import Project, replace_at
from core.model.setting import Setting
from core.parts import parts as find_parts
from core.plan import Plan, begin_plan, count_bars
from core.sections import PropertyBook
from core.storage import load_project
from core.study.shared import Shared

Figures = dict[str, Any]
ROUNDS = 9
AIM = 0.030
EDITED = "machine.work.travel_y"
"""Changes rails, holes, screws, pieces to cut and bars alike."""


class _Clock:
    """Seconds of processor time by name, the least of all rounds."""

    def __init__(self) -> None:
        self.best: dict[str, float] = {}
        self.whole = float("inf")
        self._round: dict[str, float] = {}

    def take(self, name: str, work: Callable[[], Any]) -> Any:
        begin = time.process_time()
        made = work()
        self._round[name] = self._round.get(name, 0.0) + time.process_time() - begin
        return made

    def end_round(self) -> None:
        self.whole = min(self.whole, sum(self._round.values()))
        for name, taken in self._round.items():
            self.best[name] = min(taken, self.best.get(name, taken))
        self._round = {}


def bench_parts(files: Sequence[Path]) -> Figures:
    """For each project: seconds of each answer and of all of them together, number of lines and screws."""
    return {file.stem: _one(load_project(file)) for file in files}


def _one(project: Project) -> Figures:
    start = value_at(project, EDITED)
    assert isinstance(start, float)
    edits = itertools.cycle([start * (1.0 + 1e-3 * k) for k in range(1, 4)])
    clock, lines = _Clock(), 0

    def whole(book: PropertyBook) -> None:
        nonlocal lines
        known = count_bars(begin_plan(project, book))
        cuts = None if known is None or known.bill is None else known.bill.cuts
        for _ in range(ROUNDS):
            edited = replace_at(project, EDITED, next(edits))
            assert isinstance(edited, Project)
            lines = _round(clock, edited, book, cuts)
            clock.end_round()

    with_sections(whole)
    return {"seconds": clock.whole, "lines": lines, "answers": clock.best}


def _round(clock: _Clock, project: Project, book: PropertyBook, cuts: Any) -> int:
    plan: Plan = begin_plan(project, book)
    setting = Setting(project.machine, plan.layout, "likely", book)
    shared = Shared(setting, plan)
    chain = (
        shared.free_chain if plan.stiffness is not None else None
    )  # the frame's own answers, shared with others
    carriages = shared.carriages
    lay = clock.take("lengths", lambda: layout(project.machine, book))
    rails, _ = clock.take("rails", lambda: find_rails(project, lay))
    joints, _ = clock.take("joints", lambda: find_joint_screws(project, lay))
    parts = clock.take("parts", lambda: find_parts(project, lay, rails, joints))
    bill = clock.take("bill", lambda: find_bill(project, lay, rails, parts, cuts))
    clock.take("drilling list", lambda: find_drilling(project, lay, rails))
    clock.take("T-nuts", lambda: find_slots(project, lay, rails, joints))
    clock.take(
        "joints' margins",
        lambda: find_joints(setting, project, joints, rails, chain, stands=plan.stiffness is not None),
    )
    clock.take(
        "short of screws",
        lambda: find_interim(
            setting, project, rails, plan.under, plan.stiffness is not None, lambda: carriages
        ),
    )
    return len(bill.lines)


def part_rows(found: Figures) -> list[tuple[str, str]]:
    """The rows of the bench's table: the slowest project."""
    name, slowest = max(found.items(), key=lambda item: item[1]["seconds"])
    apart = ", ".join(
        f"{words} {taken * 1e3:.1f}"
        for words, taken in sorted(slowest["answers"].items(), key=lambda item: -item[1])
    )
    return [
        (
            "fasteners and parts after an edit",
            f"{slowest['seconds'] * 1e3:.0f} ms of the processor (aim {AIM * 1e3:.0f}), {slowest['lines']} lines, {name}",
        ),
        ("  of which, ms", apart),
    ]
