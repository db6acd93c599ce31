"""Where a rail's screw holes are: with equal ends, or counted from a first hole that the user has set."""

from __future__ import annotations

import math
from dataclasses import dataclass

TINY = 1e-9
"""Lengths closer than this (m) are equal, so that 60 mm fits twenty times into 1.2 m."""


@dataclass(frozen=True, slots=True)
class Holes:
    """Holes of one rail.

    Attributes:
        places: distance of every hole from the rail's start, m, rising.
        first, last: distance from the first hole to the rail's start and from the last one to its end, m;
            both the rail's half length when there is no hole.
    """

    places: tuple[float, ...]
    first: float
    last: float

    @property
    def count(self) -> int:
        """Number of holes."""
        return len(self.places)


def place_holes(length: float, pitch: float, minimum_end: float, first: float | None = None) -> Holes:
    """Holes of a rail (all m).

    Without `first`: as many as fit with equal ends of at least `minimum_end`, which leaves each end below
    `minimum_end` plus half a pitch. With `first`: one every pitch up to the rail's end, as a rail cut from
    drilled stock has them, even where the last comes too near the end (the caller says so).

    Source: common practice of profiled rails.
    """
    start = minimum_end if first is None else first
    room = length - 2.0 * minimum_end if first is None else length - first
    if room < -TINY:
        return Holes((), length / 2.0, length / 2.0)
    count = math.floor((room + TINY) / pitch) + 1
    if first is None:
        start = (length - (count - 1) * pitch) / 2.0
    places = tuple(start + k * pitch for k in range(count))
    return Holes(places, start, max(length - places[-1], 0.0))
