"""The depth of cut up to which the machine does not chatter, from the oriented dynamic compliance of its tip.

A tooth leaves a wave that the next one cuts; the chip then varies with the tip's movement across the cut surface.
Averaged direction: all teeth in the cut act as one edge in the middle of the bite, with their mean number.
b_lim = -1 / (2 K_t z* Re_min). Source: Tlusty's limit of regenerative chatter, as in Altintas, Manufacturing
Automation, ch. 4 (chatter in orthogonal cutting, and its use for milling); from memory.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.cutting.chip import find_chip
from core.cutting.pressure import pressure_at
from core.machine.loads import CutForce
from core.vibration.receptance import Receptance

Floats = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]
DIRECTIONS = 36
SPEEDS = 121
ENDLESS = 1.0e3
"""Depths beyond this, in m, are rounding; they count as infinite."""


@dataclass(frozen=True, eq=False, slots=True)
class Stability:
    """One cut's limiting depth.

    Attributes:
        case: number of the load case. name: its. depth: as entered, m.
        limit: (low, likely, high) depth that is stable at every speed, m; low takes little damping and the high
            cutting pressure. Infinite when the tip gives no negative real part.
        frequency: Hz at which it would chatter. direction: rad from X of the edge in the middle of the bite.
        teeth: mean number in the cut.
        speeds: (s,) rev/s over the spindle's range. lobes: (s,) stable depth there, m, likely figures.
        here: (low, likely) stable depth at the speed as entered, m; low as for `limit`.
    """

    case: int
    name: str
    depth: float
    limit: tuple[float, float, float]
    frequency: float
    direction: float
    teeth: float
    speeds: Floats
    lobes: Floats
    here: tuple[float, float]


def find_stability(
    case: int,
    name: str,
    cut: CutForce,
    any_direction: bool,
    receptance: Receptance,
    speeds: tuple[float, float],
) -> Stability:
    """Limiting depth of one cut; `speeds` are the slowest and fastest of the spindle, rev/s."""
    chip = find_chip(cut)
    angles = (
        np.linspace(0.0, 2.0 * np.pi, DIRECTIONS, endpoint=False)
        if any_direction
        else np.array([-0.5 * np.pi])
    )
    across, pull = directions(cut, angles)
    oriented = oriented_receptance(receptance.tip, across, pull)  # (3, directions, f)
    limits, worsts = [], []
    for damping, side in ((0, "high"), (1, "likely"), (2, "low")):
        pressure = pressure_at(cut, chip.mean, side)  # type: ignore[arg-type]  # one of the three sides
        lowest = oriented[damping].real
        at = np.unravel_index(int(np.argmin(lowest)), lowest.shape)
        limits.append(limit_depth(pressure, chip.engaged, float(lowest[at])))
        worsts.append((int(at[0]), int(at[1])))
    grid = np.append(np.linspace(*speeds, SPEEDS), cut.speed)
    worst = worsts[1]
    hertz = receptance.frequency
    lobes = stable_depths(
        grid * cut.teeth, hertz, oriented[1, worst[0]], pressure_at(cut, chip.mean) * chip.engaged
    )
    hard = pressure_at(cut, chip.mean, "high") * chip.engaged
    low = stable_depths(grid[-1:] * cut.teeth, hertz, oriented[0, worsts[0][0]], hard)
    return Stability(
        case=case, name=name, depth=cut.depth, limit=(limits[0], limits[1], limits[2]),
        frequency=float(hertz[worst[1]]), direction=float(angles[worst[0]]), teeth=chip.engaged,
        speeds=grid[:-1], lobes=lobes[:-1], here=(float(low[0]), float(lobes[-1])),
    )  # fmt: skip


def directions(cut: CutForce, angles: Floats) -> tuple[Floats, Floats]:
    """Unit vectors (a, 3) across the cut surface, away from it, and the force (a, 3) on the tool per tangential one,
    for edges that stand at `angles` from X as seen from the tool's axis; the spindle turns clockwise from above."""
    zero = np.zeros_like(angles)
    outward = np.stack([np.cos(angles), np.sin(angles), zero], axis=-1)
    tangential = np.stack([-np.sin(angles), np.cos(angles), zero], axis=-1)
    across = -outward
    pull = tangential + cut.radial_share * across
    pull[:, 2] = cut.axial_share
    return across, pull


def oriented_receptance(tip: Complex, across: Floats, pull: Floats) -> Complex:
    """(sides, a, f): movement across the cut surface by the force of a unit tangential force, m/N."""
    pairs = (across[:, :, None] * pull[:, None, :]).reshape(len(across), 9)
    return np.asarray(np.swapaxes(tip.reshape(*tip.shape[:2], 9) @ pairs.T, -1, -2))


def limit_depth(pressure: float, teeth: float, lowest: float) -> float:
    """Depth in m that is stable at every speed; pressure in Pa, mean teeth in the cut, lowest real part in m/N."""
    depth = -1.0 / (2.0 * pressure * teeth * lowest) if lowest < 0.0 else np.inf
    return depth if depth < ENDLESS else np.inf


def stable_depths(teeth_rate: Floats, frequency: Floats, oriented: Complex, pressure: float) -> Floats:
    """Stable depth (s,) in m at each tooth-passing frequency (s,), Hz: the lowest of all lobes there.

    A depth is at the border when 1 + K b G (1 - e^(-i omega T)) = 0 for some chatter frequency; K in Pa counts all
    teeth in the cut. Infinite where no border is met.
    """
    delay = 1.0 - np.exp(-2j * np.pi * frequency / teeth_rate[:, None])
    push = oriented * delay  # the depth is -1 / (K push); only few pairs of frequencies enclose a border
    turns, opposed = push.imag[:, :-1] * push.imag[:, 1:] <= 0.0, push.real < 0.0
    speed, at = np.nonzero(turns & opposed[:, :-1] & opposed[:, 1:])
    one, other = (-1.0 / (pressure * push[speed, k]) for k in (at, at + 1))
    step = one.imag - other.imag
    share = np.divide(one.imag, step, out=np.zeros_like(step), where=step != 0.0)
    border = one.real + share * (other.real - one.real)
    found = np.full(len(teeth_rate), np.inf)
    np.minimum.at(found, speed, np.where(border < ENDLESS, border, np.inf))
    return found
