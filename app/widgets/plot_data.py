"""What a plot shows, as plain data, and the choice of its axes: neither Qt nor matplotlib here.

Axes keep still while the curves move within them (hysteresis), because a change of axes costs a full redraw
and makes
figures hard to follow.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from app.widgets.dates import LETTER, date_ticks

Array = npt.NDArray[np.float64]
Dash = Literal["solid", "dash", "dot", "dashdot", "sparse", "sparse dot", "sparse dots"]
Range = tuple[float, float]

MOST_BEYOND, MOST_SHORT = 0.002, 0.015
"""How far curves may end beyond or short of kept limits in x, as a share of their span: a pixel, and a few."""
LEAST_USE = 0.35
"""Axes are drawn closer when the data fills less than this part of them."""


@dataclass(frozen=True, eq=False, slots=True)
class Curve:
    """A curve, its figures in the units of the axis labels.

    Attributes:
        x, y: arrays of one length; NaN breaks the line.
        label: words for the legend.
        role: "1" to "6" for the palette's curves, or a colour field of the palette ("bad", "quiet").
        dash: how the line is broken, so that colour is not alone.
        low, high: limits of a band around the curve, of the same length, or None.
    """

    x: Array
    y: Array
    label: str
    role: str = "1"
    dash: Dash = "solid"
    low: Array | None = None
    high: Array | None = None


@dataclass(frozen=True, slots=True)
class Level:
    """A place on an axis with its words: a limit on y, or a marker on x; a limit may take the colour of its curve."""

    at: float
    label: str
    role: str = "bad"
    dash: Dash = "dash"


@dataclass(frozen=True, eq=False, slots=True)
class LineData:
    """Everything a line plot shows; with `dates`, x is days of the calendar (`date.toordinal`)."""

    title: str
    x_label: str
    y_label: str
    curves: tuple[Curve, ...] = ()
    limits: tuple[Level, ...] = ()
    marker: Level | None = None
    from_zero: bool = False
    dates: bool = False

    def x_range(self) -> Range | None:
        """Range of the finite x of all curves; None without any."""
        return _range([curve.x for curve in self.curves])

    def y_range(self) -> Range | None:
        """Range of all that has to be seen in y: curves, bands, limits, and zero when wished."""
        arrays = [a for c in self.curves for a in (c.y, c.low, c.high) if a is not None]
        arrays.append(np.array([level.at for level in self.limits] + ([0.0] if self.from_zero else [])))
        return _range(arrays)


@dataclass(frozen=True, slots=True)
class Axes:
    """Limits of both axes."""

    x: Range
    y: Range


def _range(arrays: list[Array]) -> Range | None:
    finite = [a[np.isfinite(a)] for a in (np.asarray(array, float) for array in arrays)]
    filled = [a for a in finite if a.size]
    if not filled:
        return None
    return float(min(a.min() for a in filled)), float(max(a.max() for a in filled))


def nice_step(span: float, pieces: int = 4) -> float:
    """A step of 1, 2 or 5 times a power of ten that cuts `span` into about that many pieces."""
    rough = span / pieces
    if not (math.isfinite(rough) and rough > 0.0):
        return 1.0
    power = 10.0 ** math.floor(math.log10(rough))
    return power * next(step for step in (1.0, 2.0, 5.0, 10.0) if rough <= step * power * (1 + 1e-9))


def _rounded_out(low: float, high: float) -> Range:
    if high - low <= 1e-9 * max(abs(low), abs(high)):
        room = abs(high) * 0.5 or 1.0
        low, high = low - room, high + room
    step = nice_step(high - low)
    room = 0.04 * (high - low)
    bottom = math.floor((low - (0.0 if low == 0.0 else room)) / step) * step
    top = math.ceil((high + (0.0 if high == 0.0 else room)) / step) * step
    return bottom, top


def y_axis(data: Range | None, kept: Range | None) -> Range:
    """Limits in y: those kept while the data lies within and fills enough, else afresh."""
    if data is None:
        return kept or (0.0, 1.0)
    low, high = data
    if kept is not None and kept[0] <= low and high <= kept[1]:
        fresh = _rounded_out(low, high)
        if fresh[1] - fresh[0] >= LEAST_USE * (kept[1] - kept[0]):
            return kept
    return _rounded_out(low, high)


def x_axis(data: Range | None, kept: Range | None) -> Range:
    """Limits in x: the data's own, or those kept while the data ends within a hair of them, so that a length that is
    being typed does not redraw the axes at every key."""
    if data is None:
        return kept or (0.0, 1.0)
    low, high = data if data[1] > data[0] else (data[0] - 0.5, data[1] + 0.5)
    if kept is not None:
        span = kept[1] - kept[0]
        beyond = max(kept[0] - low, high - kept[1]) / span
        short = max(low - kept[0], kept[1] - high) / span
        if beyond <= MOST_BEYOND and short <= MOST_SHORT:
            return kept
    return low, high


def axes_for(plot: LineData, kept: Axes | None) -> Axes:
    """Limits for a plot, those of the last one where they still serve."""
    return Axes(
        x_axis(plot.x_range(), kept.x if kept else None), y_axis(plot.y_range(), kept.y if kept else None)
    )


def ticks(limits: Range, pieces: int = 4) -> tuple[list[float], list[str]]:
    """Places of the ticks within limits, and their labels."""
    places: list[float] = []
    step = 1.0
    for wanted in range(pieces, pieces + 4):  # one tick alone would tell no scale
        step = nice_step(limits[1] - limits[0], wanted)
        first, last = math.ceil(limits[0] / step - 1e-9), math.floor(limits[1] / step + 1e-9)
        places = [number * step for number in range(first, last + 1)]
        if len(places) > 1:
            break
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    plain = decimals <= 6 and max((abs(place) for place in places), default=0.0) < 1e7
    labels = [f"{place:.{decimals}f}" if plain else f"{place:.3g}" for place in places]
    return places, [label.replace("-", "\N{MINUS SIGN}") for label in labels]


def x_ticks(plot: LineData, limits: Range, room: float, pieces: int) -> tuple[list[float], list[str]]:
    """Ticks across a plot of so many pixels and their labels: figures or days; no day where nothing lies."""
    if plot.dates and plot.x_range() is None:
        return [], []
    return date_ticks(limits, room) if plot.dates else thinned(*ticks(limits, pieces), room)


def thinned(places: list[float], labels: list[str], room: float) -> tuple[list[float], list[str]]:
    """Every second tick, and again, until the labels stand clear of each other in `room` pixels; zero stays."""
    while len(places) > 2 and sum(LETTER * (len(label) + 1.5) for label in labels) > room:
        first = places.index(0.0) % 2 if 0.0 in places else 0
        places, labels = places[first::2], labels[first::2]
    return places, labels
