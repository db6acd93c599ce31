"""The frozen answer about bands, as screens, tables and files read it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.certainty.inputs import UncertainInput
from core.findings import Finding

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Spread:
    """One figure with its band.

    Attributes:
        likely: with every input at its likely figure. low, high: 5 and 95 % of the samples lie below; likely is inside.
        limit: the user's, or None. within: share of the samples that hold it (1 without a limit).
        values: (n,) of the samples, sorted.
    """

    likely: float
    low: float
    high: float
    limit: float | None
    within: float
    values: Floats


@dataclass(frozen=True, slots=True)
class Cause:
    """What one uncertain input does to one load case's deflection.

    Attributes:
        input: which.
        at_low, at_high: deflection with this input at its low and its high end and all others likely, m.
        correlation: Spearman's, of the input with the deflection over the samples.
        share: part of the band's width that goes with this input (squared correlations, summing to one).
    """

    input: UncertainInput
    at_low: float
    at_high: float
    correlation: float
    share: float

    @property
    def swing(self) -> float:
        """Width from one end to the other, m."""
        return abs(self.at_high - self.at_low)


@dataclass(frozen=True, slots=True)
class CaseBand:
    """Band of one load case.

    Attributes:
        name, number: the case. x, y: its worst place, where the band is found, m.
        spread: deflection there. best, worst: with every input at its favourable and its unfavourable end.
        causes: widest swing first. low_along_x, high_along_x: (nx,) along X at the chosen y, m.
    """

    name: str
    number: int
    x: float
    y: float
    spread: Spread
    best: float
    worst: float
    causes: tuple[Cause, ...]
    low_along_x: Floats
    high_along_x: Floats


@dataclass(frozen=True, slots=True)
class BandsAnswer:
    """Bands of a project's figures.

    Attributes:
        inputs: the uncertain inputs that move an answer. samples, curve_samples: machines drawn for the headline figures,
            and for the curves and the path error.
        along_x: (nx,) places of the curves. place_y: the y at which they stand.
        cases: one a load case. sag, path_error: m. first_mode: first natural frequency with the tool at the chosen place, Hz.
        checked: largest relative difference of a sample from the whole frame solved with the same figures.
    """

    inputs: tuple[UncertainInput, ...]
    samples: int
    curve_samples: int
    along_x: Floats
    place_y: float
    cases: tuple[CaseBand, ...]
    sag: Spread
    path_error: Spread
    first_mode: Spread
    checked: float
    findings: tuple[Finding, ...]
