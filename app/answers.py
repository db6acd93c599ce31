"""What one round of working out gives the window: the plan and every drawing of it.

`work_out` runs off the window's thread; everything it returns is frozen and may be read from any thread.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from core.drawing.primitives import Drawing
from core.drawing.views import auto_exaggeration, front_view, plan_view, rail_drawing, side_view
from core.machine.project import Project
from core.plan import Place, Plan, make_plan
from core.sections import PropertyBook
from core.units import UnitSet

VIEWS = {"front": "Front", "side": "Side", "plan": "Plan"}


@dataclass(frozen=True, slots=True)
class Wish:
    """What the window wants to see.

    Attributes:
        place: the tool's place and the load case.
        bent: whether the bent shape is drawn.
        compare: whether the beams to compare are worked out too; each takes as long as the machine itself.
    """

    place: Place = field(default_factory=Place)
    bent: bool = False
    compare: bool = False


@dataclass(frozen=True)
class Answer:
    """A plan with its drawings.

    Attributes:
        wish: what was asked for.
        units: those of every drawing and table.
        views: drawings of the machine by key of `VIEWS`.
        rails: a drawing for each rail by its key.
    """

    plan: Plan
    wish: Wish
    units: UnitSet
    views: dict[str, Drawing]
    rails: dict[str, Drawing]

    @property
    def project(self) -> Project:
        return self.plan.project


def work_out(project: Project, book: PropertyBook, wish: Wish) -> Answer:
    """Plan and drawings for a project.

    Raises:
        NeedsAnalysis: a section has no figures yet.
        BadEntry: the description cannot be worked out.
    """
    plan = make_plan(project, book, wish.place, alternatives=wish.compare)
    units = project.units
    shape = plan.shape if wish.bent else None
    makers: dict[str, tuple[Any, str]] = {
        "front": (front_view, "xz"),
        "side": (side_view, "yz"),
        "plan": (plan_view, "xy"),
    }
    span = plan.layout.upright_spacing
    views = {
        key: make(project, plan.layout, wish.place, units, shape, auto_exaggeration(shape, span, axes))
        for key, (make, axes) in makers.items()
    }
    rails = {rail.key: rail_drawing(rail, units) for rail in plan.rails}
    return Answer(plan, wish, units, views, rails)


def derived_values(answer: Answer) -> dict[str, Any]:
    """What the automatic entries stand at, in SI, by full path."""
    layout, machine = answer.plan.layout, answer.project.machine
    values: dict[str, Any] = {
        "machine.gantry.beam.length": layout.beam_length_automatic,
        "machine.gantry.upright.height": layout.upright_automatic,
        "machine.gantry.foot_plate.length": layout.foot_length,
        "machine.x_guides.rail_length": layout.x_rail_automatic,
        "machine.y_guides.rail_length": layout.y_rail_automatic,
        "machine.base.length": layout.side_beam_automatic,
    }
    for path, guides in (
        ("machine.x_guides", machine.x_guides),
        ("machine.y_guides", machine.y_guides),
        ("machine.head.guides", machine.head.guides),
    ):
        values[f"{path}.normal_stiffness"] = guides.normal
        values[f"{path}.lateral_stiffness"] = guides.lateral
    for rail in answer.plan.rails:
        values[f"machine.{rail.axis.lower()}_guides.end_distance"] = rail.first
    return values
