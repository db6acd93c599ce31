"""What one round of working out gives the window: the plan with every drawing of it, and a moment later the study.

`work_out` and `deepen` run off the window's thread; what they return is frozen and may be read from any thread.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from core.drawing.primitives import Drawing
from core.drawing.views import auto_exaggeration, front_view, plan_view, side_view
from core.findings import Finding
from core.machine.project import Project
from core.machine.shares import share_ends
from core.plan import Place, Plan, Verdict, begin_plan
from core.sections import PropertyBook
from core.units import UnitSet

if TYPE_CHECKING:
    from core.study import Study

VIEWS = {"front": "Front", "side": "Side", "plan": "Plan"}


@dataclass(frozen=True, slots=True)
class Wish:
    """What the window wants to see.

    Attributes:
        place: the tool's place and the load case.
        bent: whether the bent shape is drawn.
        compare: whether the variants are worked out too; each takes as long as the machine itself.
        advise: whether what to stiffen first is worked out too; it takes as long as all the rest.
    """

    place: Place = field(default_factory=Place)
    bent: bool = False
    compare: bool = False
    advise: bool = False


@dataclass(frozen=True)
class Answer:
    """A plan with its drawings.

    Attributes:
        wish: what was asked for.
        units: those of every drawing and table.
        views: drawings of the machine by key of `VIEWS`.
        study: all that takes longer; None until it has been worked out.
    """

    plan: Plan
    wish: Wish
    units: UnitSet
    views: dict[str, Drawing]
    study: Study | None = None

    @property
    def project(self) -> Project:
        return self.plan.project

    @property
    def verdict(self) -> Verdict:
        """As known so far."""
        return self.plan.verdict if self.study is None else self.study.verdict

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All that is known so far."""
        return self.plan.findings if self.study is None else self.study.findings


def work_out(project: Project, book: PropertyBook, wish: Wish, last: Answer | None = None) -> Answer:
    """Begun plan and drawings for a project.

    Args:
        last: an earlier answer, whose base and cut list are used again if they are still the same.

    Raises:
        NeedsAnalysis: a section has no figures yet.
        BadEntry: the description cannot be worked out.
    """
    under, bill = (None, None) if last is None else (last.plan.under, last.plan.bill)
    plan = begin_plan(project, book, wish.place, under, None if bill is None else bill.cuts)
    units = project.units
    shape = plan.shape if wish.bent else None
    makers: dict[str, tuple[Any, str]] = {
        "front": (front_view, "xz"),
        "side": (side_view, "yz"),
        "plan": (plan_view, "xy"),
    }
    span = plan.layout.upright_spacing
    force = None if plan.stiffness is None else plan.stiffness.force_here(plan.place.case)
    views = {
        key: make(project, plan.layout, wish.place, units, shape, auto_exaggeration(shape, span, axes), force)
        for key, (make, axes) in makers.items()
    }
    return Answer(plan, wish, units, views)


def deepen(
    answer: Answer,
    book: PropertyBook,
    stale: Callable[[], bool],
    last: Answer | None = None,
    tell: Callable[[int, int], None] | None = None,
) -> Answer | None:
    """The same answer with its study; None when `stale` says that nobody waits any more.

    Args:
        last: an earlier answer with its study, whose variants are used again where they are the same.
        tell: told (done, altogether) while variants are worked out.

    Raises: as `work_out`.
    """
    from core.study import (
        make_study,
    )  # its rooms are loaded here, in the background, after the first answer is painted

    wish = answer.wish
    slow = [name for name, wanted in (("advice", wish.advise), ("comparison", wish.compare)) if wanted]
    earlier = None if last is None else last.study
    study = None if stale() else make_study(answer.plan, book, stale, slow=slow, tell=tell, earlier=earlier)
    return None if study is None else replace(answer, study=study)


def with_plan(answer: Answer, plan: Plan) -> Answer:
    """The answer with the same plan in which more is known."""
    study = None if answer.study is None else replace(answer.study, plan=plan)
    return replace(answer, plan=plan, study=study)


def derived_values(answer: Answer) -> dict[str, Any]:
    """What the automatic entries stand at, in SI, by full path."""
    layout, machine = answer.plan.layout, answer.project.machine
    values: dict[str, Any] = {
        "machine.gantry.beam.length": layout.beam_length_automatic,
        "machine.gantry.upright.height": layout.upright_automatic,
        "machine.gantry.foot_plate.length": layout.foot_length,
        "machine.x_guides.rail_length": layout.x_rail_automatic,
        "machine.y_guides.rail_length": layout.y_rail_automatic,
        "machine.head.guides.rail_length": layout.z_rail_automatic,
        "machine.base.length": layout.side_beam_automatic,
        **share_ends(machine),
    }
    for path, guides in (
        ("machine.x_guides", machine.x_guides),
        ("machine.y_guides", machine.y_guides),
        ("machine.head.guides", machine.head.guides),
    ):
        values[f"{path}.normal_stiffness"] = guides.normal
        values[f"{path}.lateral_stiffness"] = guides.lateral
    for path, drive in (
        ("machine.x_drive", machine.x_drive),
        ("machine.y_drive", machine.y_drive),
        ("machine.head.drive", machine.head.drive),
    ):
        values[f"{path}.nominal_diameter"] = getattr(drive, "outer", None)
    for rail in answer.plan.rails:
        guides_at = "head.guides" if rail.axis == "z" else f"{rail.axis}_guides"
        values[f"machine.{guides_at}.end_distance"] = rail.first
    return values
