"""Spindle speeds at which the turning spindle or its teeth beat in time with a mode that the tip feels."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.machine.loads import CutForce
from core.machine.spindle import Spindle

Floats = npt.NDArray[np.float64]
MARGIN = 0.1
"""Speeds this share above and below a resonance are avoided (common practice: 10 to 20 %)."""
HARMONICS = (1, 2, 3)
FELT = 0.5
"""A mode counts when its resonance, over the number of the harmonic, gives this share of the static compliance (an
assumption: a tooth's force falls about as one over the harmonic)."""


@dataclass(frozen=True, slots=True)
class Avoid:
    """One range of speeds to avoid.

    Attributes:
        mode: number of the mode, from 0. frequency: its, Hz.
        harmonic: 1 to 3 for multiples of the tooth-passing frequency, 0 for once a turn (unbalance).
        centre, low, high: rev/s.
    """

    mode: int
    frequency: float
    harmonic: int
    centre: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class SpeedMap:
    """Speeds of one cut within the spindle's range.

    Attributes:
        case: number of the load case. name: its. teeth. speed: as entered. slowest, fastest: of the spindle, rev/s.
        avoid: by rising speed. quiet: (low, high) ranges between them that are free, rev/s.
        hits: those that the speed as entered falls into, the nearest first.
    """

    case: int
    name: str
    teeth: int
    speed: float
    slowest: float
    fastest: float
    avoid: tuple[Avoid, ...]
    quiet: tuple[tuple[float, float], ...]
    hits: tuple[Avoid, ...]


def nearest_quiet(speeds: SpeedMap) -> float | None:
    """The quiet speed nearest to the one in use, rev/s; None when no speed of the spindle is quiet."""
    ends = (min(max(speeds.speed, low), high) for low, high in speeds.quiet)
    return min(ends, key=lambda s: abs(s - speeds.speed), default=None)


def find_speeds(
    case: int, name: str, cut: CutForce, spindle: Spindle, frequencies: Floats, rise: Floats
) -> SpeedMap:
    """Speed map of one cut from the modes' frequencies (k,), Hz, and how far each rises at the tip (`answer.resonances`)."""
    avoid = []
    for mode in np.flatnonzero(rise >= FELT):
        frequency = float(frequencies[mode])
        for harmonic in (0, *HARMONICS):
            if rise[mode] < FELT * max(harmonic, 1):
                continue
            beats = harmonic * cut.teeth if harmonic else 1
            centre = frequency / beats
            low, high = centre * (1.0 - MARGIN), centre * (1.0 + MARGIN)
            if high >= spindle.slowest and low <= spindle.fastest:
                avoid.append(Avoid(int(mode), frequency, harmonic, centre, low, high))
    avoid.sort(key=lambda a: a.centre)
    hits = [a for a in avoid if a.low <= cut.speed <= a.high]
    hits.sort(key=lambda a: (a.harmonic != 1, abs(a.centre / cut.speed - 1.0)))
    quiet = _between(avoid, spindle.slowest, spindle.fastest)
    return SpeedMap(
        case, name, cut.teeth, cut.speed, spindle.slowest, spindle.fastest, tuple(avoid), quiet, tuple(hits)
    )


def _between(avoid: list[Avoid], slowest: float, fastest: float) -> tuple[tuple[float, float], ...]:
    """What the ranges leave free between two speeds."""
    free, at = [], slowest
    for a in sorted(avoid, key=lambda each: each.low):
        if a.low > at:
            free.append((at, min(a.low, fastest)))
        at = max(at, a.high)
    if at < fastest:
        free.append((at, fastest))
    return tuple((low, high) for low, high in free if high > low)
