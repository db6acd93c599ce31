"""The whole answer about vibration, at the chosen tool place and at nine places over the table."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.fields import Band
from core.findings import Finding
from core.frame import NotTrustworthy
from core.machine.loads import CutForce
from core.machine.project import Project
from core.model.setting import Setting
from core.modes import Joined
from core.plan import Plan
from core.vibration.advice import advise
from core.vibration.chatter import Stability, find_stability
from core.vibration.mode import ModeAnswer, find_modes_here
from core.vibration.receptance import Receptance, find_receptance, frequency_grid
from core.vibration.reduced import modes_at, reduce
from core.vibration.speeds import FELT, SpeedMap, find_speeds

Floats = npt.NDArray[np.float64]
COUNT = 6
AGREE = 0.01
"""Largest difference between the static compliance of the reduced machine and that of the plan."""


@dataclass(frozen=True, eq=False, slots=True)
class VibrationAnswer:
    """How the machine vibrates.

    Attributes:
        place: tool place (x, y) of modes, receptance and limits, m. modes: the six slowest there.
        places: (9, 2) tool places over the table, m. frequencies: (9, 6) Hz there.
        mass: of the machine as far as described, kg. damping: ratios low, likely, high.
        receptance: of the tip. speeds, stability: one for each load case that is a cut.
        findings: codes near-tooth-passing, near-spindle, chatter-depth.
    """

    place: tuple[float, float]
    modes: tuple[ModeAnswer, ...]
    places: Floats
    frequencies: Floats
    mass: float
    damping: Band
    receptance: Receptance
    speeds: tuple[SpeedMap, ...]
    stability: tuple[Stability, ...]
    findings: tuple[Finding, ...]


def find_vibration(setting: Setting, project: Project, plan: Plan) -> VibrationAnswer:
    """Answer for a machine whose statics are known.

    Errors: NotTrustworthy when statics gave no answer or differ from the reduced machine; Mechanism.
    """
    if plan.stiffness is None:
        raise NotTrustworthy("statics have no answer")
    work = project.machine.work
    half_x, half_y = work.travel_x / 2.0, work.travel_y / 2.0
    grid = np.array([(x, y) for y in (-half_y, 0.0, half_y) for x in (-half_x, 0.0, half_x)])
    place = (plan.place.x, plan.place.y)
    every = np.concatenate([[place], grid])
    reduced = reduce(setting)
    joined, held = modes_at(reduced, every[:, 0], every[:, 1], 1)
    static = plan.stiffness.compliance_place
    _check(joined, static, plan.stiffness.compliance)
    damping = project.machine.damping
    frequencies = joined.frequencies[0]
    rise = resonances(joined, static, damping)
    felt = rise >= FELT
    spindle = project.machine.head.spindle
    highest = max(4.0 * float(frequencies[COUNT - 1]), 1.3 * float(frequencies[felt].max(initial=0.0)))
    receptance = find_receptance(joined, static, damping, frequency_grid(frequencies, felt, damping, highest))
    speeds, stability = [], []
    for number, case in enumerate(project.cases):
        if isinstance(case.load, CutForce):
            speeds.append(find_speeds(number, case.name, case.load, spindle, frequencies, rise))
            span = (spindle.slowest, spindle.fastest)
            stability.append(
                find_stability(number, case.name, case.load, case.any_direction, receptance, span)
            )
    return VibrationAnswer(
        place=place,
        modes=find_modes_here(reduced, joined, held, place, static, COUNT),
        places=grid,
        frequencies=joined.frequencies[1:, :COUNT],
        mass=reduced.weight,
        damping=damping,
        receptance=receptance,
        speeds=tuple(speeds),
        stability=tuple(stability),
        findings=advise(project, tuple(speeds), tuple(stability)),
    )


def resonances(joined: Joined, static: Floats, damping: Band) -> Floats:
    """(k,) height of each mode's resonance at the tip over the largest static compliance, at the first place."""
    peak = (joined.tip[0] ** 2 / (2.0 * damping.likely * joined.squares[0])).max(axis=0)
    return np.asarray(peak / np.diag(static).max())


def _check(joined: Joined, here: Floats, table: Floats) -> None:
    """Statics of the reduced machine against those of the plan, at the chosen place and at the table's corners."""
    if not np.all(joined.squares > 0.0):
        raise NotTrustworthy("a mode has no frequency")
    rows, columns = table.shape[0], table.shape[1]
    known = [here]
    for row in (0, rows // 2, rows - 1):
        known += [table[row, column] for column in (0, columns // 2, columns - 1)]
    theirs = np.array(known)
    size = np.abs(theirs).max(axis=(-2, -1))
    apart = np.abs(joined.static - theirs).max(axis=(-2, -1)) / size
    if not np.all(apart <= AGREE):
        raise NotTrustworthy(
            f"the reduced machine is not as stiff as statics say ({100 * float(apart.max()):.1f} % apart)"
        )
