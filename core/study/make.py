"""Works out the study of a plan, one answer after the other, and stops between two as soon as it is out of date."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, field
from typing import Any

from core.advice import find_advice
from core.bars import find_bars
from core.certainty import find_bands
from core.comparison import ComparisonAnswer, find_comparison
from core.cutting import find_cutting
from core.drives import DrivesAnswer, find_drives
from core.fasteners.drilling import find_drilling
from core.fasteners.interim import InterimAnswer, find_interim
from core.fasteners.slots import find_slots
from core.fasteners.strength import JointsAnswer, find_joints
from core.findings import Finding
from core.footing import FootingAnswer, find_footing
from core.form import find_form
from core.frame import Mechanism, NotTrustworthy
from core.guides import GuidesAnswer, find_guides
from core.machine.project import Project
from core.model.setting import Setting
from core.plan import Plan
from core.prices import prices_by_mass
from core.sections import PropertyBook
from core.study.results import Study
from core.study.shared import Shared
from core.thermal import find_heat
from core.vibration import find_vibration


@dataclass(frozen=True, slots=True)
class Inputs:
    """What every answer may read."""

    setting: Setting
    plan: Plan
    book: PropertyBook
    stale: Callable[[], bool]
    tell: Callable[[int, int], None] | None = None
    earlier: Study | None = None
    shared: Shared = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "shared", Shared(self.setting, self.plan))

    @property
    def project(self) -> Project:
        return self.plan.project


Find = Callable[[Inputs], Any]


def _drives(inputs: Inputs) -> DrivesAnswer:
    stands = inputs.plan.stiffness is not None
    return find_drives(inputs.setting, inputs.project, inputs.plan.place.y, stands)


def _guides(inputs: Inputs) -> GuidesAnswer | None:
    plan = inputs.plan
    if plan.stiffness is None:
        return None
    return find_guides(inputs.setting, inputs.project, forces=inputs.shared.carriages)


def _footing(inputs: Inputs) -> FootingAnswer | None:
    plan = inputs.plan
    if plan.stiffness is None:
        return None
    known = plan.stiffness
    whole = known.compliance[:, [0, known.x.size // 2, -1]]  # at both ends and in the middle of the beam
    return find_footing(inputs.setting, inputs.project, whole=whole, chain=inputs.shared.chain)


def _joints(inputs: Inputs) -> JointsAnswer:
    plan = inputs.plan
    stands = plan.stiffness is not None
    chain = inputs.shared.free_chain if stands else None
    return find_joints(inputs.setting, inputs.project, plan.joints, plan.rails, chain, stands=stands)


def _interim(inputs: Inputs) -> InterimAnswer:
    plan, shared = inputs.plan, inputs.shared
    solved = plan.stiffness is not None
    return find_interim(
        inputs.setting,
        inputs.project,
        plan.rails,
        plan.under,
        solved,
        lambda: shared.carriages,
        plan.joints,
        plan.parts,
    )


def _comparison(inputs: Inputs) -> ComparisonAnswer | None:
    known = None if inputs.earlier is None else inputs.earlier.comparison
    return find_comparison(inputs.plan, inputs.book, inputs.stale, inputs.tell, known)


# Each answer by its field in `Study`, in the order in which it is worked out: quick ones first.
STEPS: tuple[tuple[str, str, Find], ...] = (
    ("bars", "Sections", lambda inputs: find_bars(inputs.project, inputs.plan.layout, inputs.book)),
    ("heat", "Heat", lambda inputs: find_heat(inputs.setting, inputs.project)),
    ("form", "Form", lambda inputs: find_form(inputs.project, inputs.plan.layout, inputs.plan.rails)),
    (
        "drilling",
        "Drilling list",
        lambda inputs: find_drilling(inputs.project, inputs.plan.layout, inputs.plan.rails),
    ),
    (
        "slots",
        "T-nuts",
        lambda inputs: find_slots(inputs.project, inputs.plan.layout, inputs.plan.rails, inputs.plan.joints),
    ),
    ("cutting", "Cutting loads", lambda inputs: find_cutting(inputs.project)),
    ("drives", "Drives", _drives),
    ("footing", "The base", _footing),
    ("guides", "Loads on carriages", _guides),
    ("joints", "Joints", _joints),
    ("interim", "What may be moved meanwhile", _interim),
    (
        "vibration",
        "Vibration",
        lambda inputs: find_vibration(inputs.setting, inputs.project, inputs.plan),
    ),
    ("bands", "Bands", lambda inputs: find_bands(inputs.setting, inputs.plan)),
    (
        "advice",
        "Advice",
        lambda inputs: find_advice(inputs.setting, inputs.plan, prices_by_mass(inputs.project), inputs.stale),
    ),
    ("comparison", "Variants", _comparison),
)


SLOW = ("advice", "comparison")
"""Answers that take as long as all others together; a window asks for each while its page is in view."""


def _never() -> bool:
    return False


def make_study(
    plan: Plan,
    book: PropertyBook,
    stale: Callable[[], bool] = _never,
    *,
    slow: bool | Collection[str] = True,
    tell: Callable[[int, int], None] | None = None,
    earlier: Study | None = None,
) -> Study | None:
    """The study of a finished plan, or None when `stale` says that nobody waits for it any more.

    Args:
        slow: whether the answers of `SLOW` are worked out too, or which of them.
        tell: told (done, altogether) while many machines are worked out. earlier: a study of the same project; what is
            still the same in its comparison is taken from it.

    Errors: NeedsAnalysis, BadEntry. An answer that the machine cannot give is left out, with a finding.
    """
    setting = Setting(plan.project.machine, plan.layout, "likely", book)
    inputs = Inputs(setting, plan, book, stale, tell, earlier)
    wanted = (SLOW if slow else ()) if isinstance(slow, bool) else slow
    found: dict[str, Any] = {}
    troubles = []
    for name, words, find in STEPS:
        if name in SLOW and name not in wanted:
            continue
        if stale():
            return None
        try:
            found[name] = find(inputs)
        except (Mechanism, NotTrustworthy) as error:
            if plan.stiffness is not None:  # otherwise the plan has said so already
                troubles.append(
                    Finding("no-answer", "warning", "machine", f"{words} could not be worked out: {error}")
                )
    return None if stale() else Study(plan, tuple(troubles), **found)
