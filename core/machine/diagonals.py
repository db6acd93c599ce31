"""Where the diagonals of the base run: one list that the model, the parts table and the drawings share."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from core.machine.base import Legs
from core.machine.layout import Layout, support_places
from core.machine.project import Machine

Point = tuple[float, float, float]
LEAST_RISE = 0.02  # m; lower legs have no room for a diagonal
LEAST_KNEE = 0.02  # m; lower cross members nearer to the floor than this are none


@dataclass(frozen=True, slots=True)
class Diagonal:
    """One diagonal between the middle lines of two legs.

    Attributes:
        name: "left diagonal 0 1", "across diagonal 0 left". plane: "along" (Y) or "across" (X) the table.
        low, high: (side, support number) of the leg at its lower and upper end.
        start, end: places of these ends, m.
        width: room between the two legs' faces, level, m; the length to cut follows from it.
    """

    name: str
    plane: Literal["along", "across"]
    low: tuple[str, int]
    high: tuple[str, int]
    start: Point
    end: Point
    width: float

    def cut_length(self, depth: float) -> float:
        """Length from tip to tip, m, mitred to both legs, for a bar `depth` m deep as seen from the side."""
        level = math.hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])
        rise = self.end[2] - self.start[2]
        return self.width * math.hypot(level, rise) / level + depth * rise / level


def knee_height(legs: Legs) -> float:
    """Height of the lower cross members above the floor, m; zero when there are none."""
    height = legs.low_cross * legs.height
    return height if height > LEAST_KNEE else 0.0


def diagonals(machine: Machine, lay: Layout) -> tuple[Diagonal, ...]:
    """Every diagonal that the description asks for, left side, right side, then across."""
    stand, leg = machine.base.stand, lay.sections.leg
    if not isinstance(stand, Legs) or stand.diagonals is None or leg is None:
        return ()
    low = lay.floor_z + knee_height(stand)
    top = lay.floor_z + stand.height
    if top - low < LEAST_RISE:
        return ()
    places = support_places(machine, lay)
    wanted = stand.diagonals
    found: list[Diagonal] = []
    for side, sign in (("left", -1.0), ("right", 1.0)):
        x = sign * lay.side_x
        for bay in _chosen(wanted.along, len(places) - 1):
            rising = bay < (len(places) - 1) / 2.0  # single ones rise towards the middle of the table
            for a, b in ((bay, bay + 1), (bay + 1, bay))[:: 1 if rising else -1][
                : 2 if wanted.crossed else 1
            ]:
                found.append(
                    Diagonal(f"{side} diagonal {a} {b}", "along", (side, a), (side, b), (x, places[a], low),
                             (x, places[b], top), abs(places[b] - places[a]) - leg.height)
                )  # fmt: skip
    for number in _chosen(wanted.across, len(places)):
        pair = ("left", "right") if number % 2 == 0 else ("right", "left")
        for near, far in (pair, pair[::-1])[: 2 if wanted.crossed else 1]:
            sign, y = -1.0 if near == "left" else 1.0, places[number]
            x = sign * lay.side_x
            found.append(
                Diagonal(f"across diagonal {number} {near}", "across", (near, number), (far, number), (x, y, low),
                         (-x, y, top), 2.0 * lay.side_x - leg.width)
            )  # fmt: skip
    return tuple(d for d in found if d.width > 0.0)


def _chosen(which: str, count: int) -> list[int]:
    if which == "none" or count < 1:
        return []
    return list(range(count)) if which.startswith("every") else sorted({0, count - 1})
