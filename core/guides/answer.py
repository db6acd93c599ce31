"""The answer about all carriages: loads in every state of work, life, static safety, and the tightest of them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.cutting import tip_force
from core.findings import Finding
from core.guides.forces import CarriageForces, carriage_forces
from core.guides.judge import judge
from core.guides.life import (
    RATED_DISTANCE,
    cubic_mean,
    for_100_km,
    hours,
    life,
    lost_preload,
    static_safety,
    with_preload,
)
from core.guides.names import Carriage
from core.guides.states import DIRECTIONS, State, most_pull, speeding, worst_state, worst_turn
from core.machine.guides import Guides
from core.machine.loads import LoadCase
from core.machine.project import Project
from core.model.condensed import Under
from core.model.setting import Setting
from core.stiffness.answer import table_grid

Floats = npt.NDArray[np.float64]
CUTTING_SHARE = 0.6  # of all travel, where the load cases do not say: an assumption


@dataclass(frozen=True, slots=True)
class GuidesAnswer:
    """Figures for c carriages; SI.

    Attributes:
        carriages: names, axes and places. states: worst loads in each state of work: weight, each axis speeding up both
            ways, the worst of these (moving), then each load case alone and while speeding up.
        dynamic (c,): C for 100 km, N. static (c,): C0, N. typical (c,): whether one of them is a figure from memory.
        mean_load (c,): cubic mean over the travel, preload included, N. life (c,): L10, m. hours (c,).
        largest (c,): largest equivalent load, N, and largest_state (c) its state. safety (c,): C0 over it.
        pull (c,): largest pull off the rail, N. holds (c,): pull at which the preload is gone, N.
        wanted_life (c,), wanted_safety (c,): m and ratio.
        use (c,): load over the load that what is wanted allows; over 1 is too much. tightest: number of the largest.
        shares: of the travel by load case, the rest last. x (nx,), y (ny,): tool places that were looked at, m.
        balance: largest unbalanced share of forces and moments of a body. findings: of the carriages.
    """

    carriages: tuple[Carriage, ...]
    states: tuple[State, ...]
    dynamic: Floats
    static: Floats
    typical: npt.NDArray[np.bool_]
    mean_load: Floats
    life: Floats
    hours: Floats
    largest: Floats
    largest_state: tuple[str, ...]
    safety: Floats
    pull: Floats
    holds: Floats
    wanted_life: Floats
    wanted_safety: Floats
    use: Floats
    tightest: int
    shares: tuple[float, ...]
    x: Floats
    y: Floats
    balance: float
    findings: tuple[Finding, ...]


def travel_shares(cases: tuple[LoadCase, ...]) -> tuple[float, ...]:
    """Shares of all travel by load case, then the rest without cutting; they sum to one.

    What the cases say stands (scaled down to one if it is more); the others share alike what is left of `CUTTING_SHARE`.
    """
    told = sum(case.duty for case in cases if case.duty is not None)
    silent = sum(case.duty is None for case in cases)
    each = max(0.0, CUTTING_SHARE - told) / silent if silent else 0.0
    scale = 1.0 / max(1.0, told)
    found = [each if case.duty is None else case.duty * scale for case in cases]
    return (*found, max(0.0, 1.0 - sum(found)))


def find_guides(
    setting: Setting, project: Project, under: Under | None = None, forces: CarriageForces | None = None
) -> GuidesAnswer:
    """Answer for a machine with the tool at both ends and the middle of X and Y.

    Args:
        under: the base as the plan solved it (`Plan.under`). forces: on the carriages there, where they are known.

    Errors: Mechanism when the base moves freely; NotTrustworthy when the forces cannot be found or do not balance.
    """
    machine = setting.machine
    # Places that the plan's base knows.
    x, y = (grid[[0, grid.size // 2, -1]] for grid in table_grid(setting))
    forces = carriage_forces(setting, x, y, under) if forces is None else forces
    normal, lateral = speeding(forces, machine.motion)
    shares = travel_shares(project.cases)
    states = [worst_state(forces, "Weight alone", "weight", 0.0, normal[:1], lateral[:1])]
    for k, words in enumerate(DIRECTIONS, start=1):
        one = slice(k, k + 1)
        name = f"Speeding up {words}"
        states.append(worst_state(forces, name, "speeding up", 0.0, normal[one], lateral[one]))
    states.append(worst_state(forces, "Moving without cutting", "moving", shares[-1], normal, lateral))
    pull = most_pull(forces, normal, np.zeros(3), False)
    for case, share in zip(project.cases, shares, strict=False):
        likely, high = tip_force(case), tip_force(case, "high")
        cut = worst_turn(forces, normal[:1], lateral[:1], likely, case.any_direction)
        states.append(worst_state(forces, case.name, "cutting", share, *cut))
        both = worst_turn(forces, normal, lateral, high, case.any_direction)
        name = f"{case.name}, speeding up"
        states.append(worst_state(forces, name, "cutting and speeding up", 0.0, *both))
        pull = np.maximum(pull, most_pull(forces, normal, high, case.any_direction))
    return _rate(project, forces.carriages, tuple(states), pull, shares, (x, y), forces.balance)


def _rate(
    project: Project,
    carriages: tuple[Carriage, ...],
    states: tuple[State, ...],
    pull: Floats,
    shares: tuple[float, ...],
    places: tuple[Floats, Floats],
    balance: float,
) -> GuidesAnswer:
    machine = project.machine
    by_axis: dict[str, Guides] = {"X": machine.x_guides, "Y": machine.y_guides, "Z": machine.head.guides}
    guides = [by_axis[c.axis] for c in carriages]
    ratings = [g.rating for g in guides]
    dynamic = np.array([for_100_km(g.dynamic_rating, g.rating.rated_for) for g in guides])
    static = np.array([g.static_rating for g in guides])
    worn = [s for s in states if s.share > 0.0]
    rated = np.array([g.dynamic_rating for g in guides])
    preload = np.array([r.preload for r in ratings]) * rated
    in_rows = np.stack([with_preload(s.load, preload) for s in worn])
    mean = cubic_mean(in_rows, np.array([s.share for s in worn]))
    loads = np.stack([s.load for s in states])
    largest = loads.max(axis=0)
    run = life(dynamic, mean)
    wanted_life = np.array([r.wanted_life for r in ratings])
    wanted_safety = np.array([r.wanted_static_safety for r in ratings])
    use = np.maximum(mean / dynamic * np.cbrt(wanted_life / RATED_DISTANCE), largest * wanted_safety / static)
    holds = lost_preload(preload)
    names = tuple(states[k].name for k in loads.argmax(axis=0))
    safety = static_safety(static, largest)
    tightest = int(np.argmax(use))
    findings = judge(project, carriages, run, wanted_life, safety, wanted_safety, largest, names, pull, holds)
    return GuidesAnswer(
        carriages, states, dynamic, static, np.array([r.dynamic is None or r.static is None for r in ratings]),
        mean, run, hours(run, np.array([r.mean_speed for r in ratings])), largest, names, safety, pull, holds,
        wanted_life, wanted_safety, use, tightest, shares, *places, balance, findings,
    )  # fmt: skip
