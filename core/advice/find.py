"""Tries every change on the worst place of the load case that governs, and ranks what it brings."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import msgspec
import numpy as np

from core.advice.answer import Advice, AdviceAnswer
from core.advice.candidates import Change, apply, changes
from core.advice.slopes import find_slopes
from core.cutting import tip_force
from core.errors import BadEntry, NeedsAnalysis
from core.fasteners import rails as find_rails
from core.findings import Finding
from core.frame import Mechanism, NotTrustworthy
from core.machine.layout import Layout, layout
from core.machine.loads import LoadCase
from core.machine.project import Machine, Project
from core.model.condensed import Under, condense_gantry, solve_base
from core.model.moving import condense_head, ride, tip_compliance
from core.model.setting import Setting
from core.parts import parts
from core.plan import Plan
from core.plan.fit import cannot_stand, check_fit
from core.stiffness.deflection import deflection
from core.units import show

LEAST_GAIN = 0.002
"""Changes that take away less than this part of the deflection are not worth a line."""


def _never() -> bool:
    return False


@dataclass(frozen=True, slots=True)
class _Before:
    """The machine as it stands: what every change is measured against."""

    project: Project
    case: LoadCase
    x: float
    y: float
    under: Under
    deflection: float
    mass: float
    limits: frozenset[tuple[str, str]]


def find_advice(
    setting: Setting,
    plan: Plan,
    prices: Mapping[str, float] | None = None,
    stale: Callable[[], bool] = _never,
) -> AdviceAnswer | None:
    """Advice for a plan; None when the plan has no answer, or when `stale` says that nobody waits for it.

    Args:
        prices: money for each kilogram by material key, where known.
    """
    stiffness = plan.stiffness
    if stiffness is None:
        return None
    number = max(
        range(len(stiffness.cases)), key=lambda k: stiffness.cases[k].worst / stiffness.cases[k].limit
    )
    answer, case = stiffness.cases[number], plan.project.cases[number]
    x, y = answer.worst_x, answer.worst_y
    under = solve_base(setting, np.array([y]))
    before = _Before(
        plan.project, case, x, y, under, worst_at(setting, case, x, y, under), total_mass(plan.project, plan.layout),
        frozenset((f.code, f.where) for f in _limits(plan.project, plan.layout)),
    )  # fmt: skip
    found = []
    for change in changes(setting.machine):
        if stale():
            return None
        advice = _try(setting, change, before, prices or {})
        if advice is not None:
            found.append(advice)
    if stale():
        return None
    slopes = find_slopes(setting, case, x, y)
    ranked = tuple(sorted(found, key=lambda a: -a.gain))
    return AdviceAnswer(case.name, number, x, y, before.deflection, case.limit, ranked, slopes)


def worst_at(setting: Setting, case: LoadCase, x: float, y: float, under: Under | None = None) -> float:
    """Deflection of the tip at x, y under a case in its worst direction, m. `under`: the base, used if it fits."""
    gantry = condense_gantry(setting, np.array([y]), under)
    compliance = tip_compliance(gantry, ride(setting, gantry, np.array([x])), condense_head(setting))[0, 0]
    moved, _ = deflection(compliance, tip_force(case), case.any_direction)
    return float(np.linalg.norm(moved))


def total_mass(project: Project, lay: Layout) -> float:
    """Mass of all that the parts list weighs, kg; screws and nuts are left out."""
    return sum(line.mass for line in parts(project, lay, ()) if line.mass is not None)


def _limits(project: Project, lay: Layout) -> list[Finding]:
    every = [*check_fit(project, lay), *find_rails(project, lay)[1]]
    return [f for f in every if f.severity == "limit"]


def _try(setting: Setting, change: Change, before: _Before, prices: Mapping[str, float]) -> Advice | None:
    try:
        machine: Machine = apply(setting.machine, change.edits)
        lay = layout(machine, setting.book)
        if cannot_stand(lay):
            return None
        after = worst_at(
            Setting(machine, lay, setting.side, setting.book), before.case, before.x, before.y, before.under
        )
    except (BadEntry, NeedsAnalysis, Mechanism, NotTrustworthy):
        return None  # not possible on this machine, so nothing to advise
    gain = 1.0 - after / before.deflection
    if gain < LEAST_GAIN:
        return None
    project = msgspec.structs.replace(before.project, machine=machine)
    mass = total_mass(project, lay) - before.mass if change.weighs else None
    price = prices.get(change.material) if change.material and mass is not None and mass > 0.0 else None
    broken = [f for f in _limits(project, lay) if (f.code, f.where) not in before.limits]
    breaks = " ".join(f.message for f in broken)
    sentence = _sentence(project, change, gain, mass)
    return Advice(
        change, sentence, after, gain, mass, None if price is None else price * (mass or 0.0), breaks
    )


def _sentence(project: Project, change: Change, gain: float, mass: float | None) -> str:
    words = (
        f"{change.words}: {100 * gain:.0f} % less deflection"
        if gain >= 0.01
        else (f"{change.words}: {100 * gain:.1f} % less deflection")
    )
    if mass is None:
        return f"{words}, mass not counted."
    if abs(mass) < 5e-4:
        return f"{words}, no added mass."
    sign = "+" if mass > 0.0 else "-"
    return f"{words}, {sign}{show(abs(mass), 'mass', project.units, 2)}."
