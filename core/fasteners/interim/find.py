"""Works out the interim plan: what is here, where it goes, what is left of the slip margin, what may be moved."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from core.fasteners.interim.answer import InterimAnswer, RailInterim, Three
from core.fasteners.interim.bodies import fitting_rails, gone_parts, held_by_bodies
from core.fasteners.interim.carried import held_by_joints
from core.fasteners.interim.judge import NUMBER, RIDES, findings_of, judge_axis
from core.fasteners.interim.loads import UnitForces, rail_forces
from core.fasteners.interim.margin import (
    RailSection,
    most_acceleration,
    push_demand,
    slip_margin,
    speeding_demand,
    weight_demand,
)
from core.fasteners.interim.offers import find_offers
from core.fasteners.interim.order import end_holes, longest_stretch
from core.fasteners.interim.supply import AXES, Kind, claims, here, share_out, wants
from core.fasteners.joints import FittedJoint
from core.fasteners.rails import RailAnswer
from core.fasteners.strength import find_torque, partner_limits, preload_at
from core.fasteners.strength.rail_joints import rail_joints, slot_of
from core.guides.forces import CarriageForces, carriage_forces
from core.machine.guides import Guides
from core.machine.layout import Layout
from core.machine.project import Project
from core.model.condensed import Under
from core.model.setting import Setting
from core.parts.table import PartLine
from core.stiffness.answer import table_grid

NONE: Three = (0.0, 0.0, 0.0)


def find_interim(
    setting: Setting,
    project: Project,
    rails: tuple[RailAnswer, ...],
    under: Under | None,
    solved: bool,
    known: Callable[[], CarriageForces] | None = None,
    joints: Sequence[FittedJoint] = (),
    parts: Sequence[PartLine] = (),
) -> InterimAnswer:
    """The plan for a project.

    Args:
        under: the base as the plan solved it. solved: whether the machine has an answer, so that forces can be found.
        joints: every other joint; they are offered what the rails leave. parts: the parts list, for rails and beams that are
            not here yet.
        known: the forces on the carriages at the ends and in the middle of both axes, where another answer has found them.

    Errors: Mechanism, NotTrustworthy as `carriage_forces`.
    """
    wanted = {rail.key: wants(project, rail) for rail in rails}
    words = {key: text for want in wanted.values() for key, text in want.words.items()}
    found = {key: here(project, key) for key in words}
    recorded = any(count is not None for count in found.values())
    store = {key: count or 0 for key, count in found.items()}
    rests = {rail.key: rest_places(setting, project, rail) for rail in rails}
    gone = gone_parts(project, parts)
    fitting = fitting_rails(rails, gone)
    _, wishes = claims(fitting, rests)
    filled, used = share_out(wishes, wanted, store)
    kinds = tuple(
        Kind(key, *words[key], needed, store[key], used[key])
        for key in words
        if (needed := sum(rail.count for rail in rails if key in wanted[rail.key].words))
    )
    complete = not gone and all(len(filled[rail.key]) == rail.count for rail in rails)
    forces = None
    if recorded and solved and not complete:
        x, y = (grid[[0, grid.size // 2, -1]] for grid in table_grid(setting))
        forces = carriage_forces(setting, x, y, under) if known is None else known()
    pulls = preloads(project, setting.layout, rails)
    made = tuple(
        _rail(project, rail, filled[rail.key], rests[rail.key], forces, pulls.get(rail.axis, NONE))
        for rail in rails
    )
    offers = find_offers(project, joints, used)
    if not recorded or (complete and all(offer.can >= offer.count for offer in offers)):
        return InterimAnswer(recorded, complete, kinds, made, (), (), offers)
    motion, work, units = project.machine.motion, project.interim, project.units
    judged = (judge_axis(axis, made, work, motion, units) for axis in AXES)
    axes = tuple(held_by_bodies(held_by_joints(axis, offers), gone) for axis in judged)
    said = tuple(findings_of(axes, made, units))
    names = tuple(one.words for one in gone)
    return InterimAnswer(True, complete, kinds, made, axes, said, offers, names)


def rest_places(setting: Setting, project: Project, rail: RailAnswer) -> tuple[float, ...]:
    """Carriage middles along a rail while head and gantry rest, m from its start; none for Z, whose rails move."""
    lay, work = setting.layout, project.interim
    if rail.axis == "x":
        middle, guides = rail.length / 2.0 + work.rest_x, project.machine.x_guides
    elif rail.axis == "y":
        middle = lay.gantry_y(work.rest_y) - lay.side_y + rail.length / 2.0
        guides = project.machine.y_guides
    else:
        return ()
    return tuple(middle + place for place in guides.places())


def _guides(project: Project, axis: str) -> Guides:
    machine = project.machine
    return {"x": machine.x_guides, "y": machine.y_guides, "z": machine.head.guides}[axis]


def _rail(
    project: Project,
    rail: RailAnswer,
    now: tuple[int, ...],
    rests: tuple[float, ...],
    forces: CarriageForces | None,
    preload: Three,
) -> RailInterim:
    longest = longest_stretch(rail.holes, rail.pieces, now)
    still = tuple(n for n in range(1, rail.count + 1) if n not in set(now))
    ends = set(end_holes(rail.pieces))
    good = bool(ends) and ends <= set(now)
    margins: tuple[Three | None, Three | None, Three | None, Three | None, float | None] = (None,) * 5
    if good and forces is not None and longest is not None:
        guides = _guides(project, rail.axis)
        second = rail.key.rpartition("_")[2] in ("high", "back", "right")
        unit = rail_forces(forces, rail.axis, second, guides)
        own = min(sum(p.holes[0] <= n <= p.holes[1] for n in now) for p in rail.pieces)
        margins = _margins(project, rail, unit, longest.length, own, preload)
    return RailInterim(
        rail.key, rail.label, rail.axis, rail.count, now, still, longest, _open_at(rail, now, rests), good, preload,
        *margins, rests,
    )  # fmt: skip


def preloads(project: Project, lay: Layout, rails: tuple[RailAnswer, ...]) -> dict[str, Three]:
    """(low, likely, high) preload of one screw by axis, N, tightened to what its weakest partner bears.

    An axis without a standard screw has none. Source: `core.fasteners.strength`.
    """
    with_ = project.machine.joints
    found = {}
    for joint in rail_joints(project, lay, rails):
        limits = partner_limits(joint, slot_of(project, lay, joint))
        preload = preload_at(joint, with_, find_torque(joint, with_, limits)[0])
        found[joint.key[0]] = (preload.low, preload.likely, preload.high)
    return found


def _open_at(rail: RailAnswer, now: Sequence[int], rests: Sequence[float]) -> float:
    """The longest stretch without a screw that a resting carriage stands on, m."""
    places = sorted(rail.holes[n - 1] for n in now)
    bounds = np.array([0.0, *places, rail.length])
    gaps = [
        np.diff(bounds)[max(0, int(np.searchsorted(bounds, r)) - 1)] for r in rests if 0.0 < r < rail.length
    ]
    return float(max(gaps, default=0.0))


def _margins(
    project: Project, rail: RailAnswer, unit: UnitForces, gap: float, screws: int, preload: Three
) -> tuple[Three, Three, Three, Three, float]:
    work, motion = project.interim, project.machine.motion
    guides = _guides(project, rail.axis)
    data, mass = guides.data, guides.data.linear_mass
    drag = getattr(motion, rail.axis).friction.high
    rest = weight_demand(unit, gap, mass, drag, screws)
    hand = rest.plus(push_demand(unit, gap, work.hand_push))
    each = [speeding_demand(unit, gap, mass, axis) for axis in range(3)]
    friction = project.machine.joints.friction
    rub = (friction.low, friction.likely, friction.high)

    def three(demand: object) -> Three:
        low, likely, high = (slip_margin(demand, mu, f) for mu, f in zip(rub, preload, strict=True))  # type: ignore[arg-type]
        return low, likely, high

    moving = [axis for axis, felt in RIDES.items() if rail.axis in felt]
    at_work = [
        three(rest.plus(each[NUMBER[axis]].times(getattr(motion, axis).acceleration))) for axis in moving
    ]
    planned = min(at_work)
    fastest = [most_acceleration(rest, one, rub[0], preload[0], work.margin) for one in each]
    section = RailSection.of(mass, data.rail_width, data.rail_height)
    return three(rest), three(hand), planned, (fastest[0], fastest[1], fastest[2]), section.give(hand, gap)
