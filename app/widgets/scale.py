"""A scale of an axis, even or logarithmic, whichever fits the figures, with its ticks."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from app.widgets.plot_data import ticks

Array = npt.NDArray[np.float64]

LOG_FROM = 6.0
"""Figures whose largest is so many times the smallest are spread by their logarithm."""
ROOM = 0.04
"""Share of an axis left free at either end."""


@dataclass(frozen=True, slots=True)
class Scale:
    """From one figure to another, evenly or by the logarithm."""

    low: float
    high: float
    log: bool = False

    def share(self, values: Array) -> Array:
        """How far along the axis each figure lies, 0 to 1."""
        if self.log:
            with np.errstate(divide="ignore", invalid="ignore"):
                return np.asarray(np.log(values / self.low) / math.log(self.high / self.low))
        return np.asarray((values - self.low) / (self.high - self.low))

    def ticks(self, pieces: int) -> tuple[list[float], list[str]]:
        """Places of about so many ticks, and their labels."""
        if not self.log:
            return ticks((self.low, self.high), pieces)
        decades = range(math.floor(math.log10(self.low)), math.ceil(math.log10(self.high)) + 1)
        for steps in ((1, 2, 3, 5, 7), (1, 2, 5), (1, 3), (1,)):
            places = [step * 10.0**power for power in decades for step in steps]
            places = [place for place in places if self.low <= place <= self.high]
            if len(places) <= 1.6 * pieces:
                break
        return places, [f"{place:.10g}" for place in places]


def scale_for(figures: Array, also: tuple[float, ...] = ()) -> Scale:
    """A scale that shows all finite figures and, where they are not far off, `also` some more (a limit)."""
    finite = figures[np.isfinite(figures)]
    if not finite.size:
        return Scale(0.0, 1.0)
    low, high = float(finite.min()), float(finite.max())
    for more in also:
        low, high = min(low, more), max(high, more)
    if low > 0.0 and high > LOG_FROM * low:
        room = (high / low) ** ROOM
        return Scale(low / room, high * room, True)
    room = ROOM * (high - low) or abs(high) * 0.5 or 1.0
    return Scale(low - room if low < 0.0 else max(0.0, low - room), high + room)
