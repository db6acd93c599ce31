"""Chains of points joined to closed rings, and rings put together to one outline with holes.

What cannot be an outline is refused with its place, in mm as drawn.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import Any

from core.errors import BadEntry
from core.sections.outlines import Point, Ring

JOIN = 1e-5
"""Ends that lie closer (m) are one point."""

GRID = 1e-9
"""Points are rounded to this, m, which keeps project files short."""

MOST_RINGS = 200
WHERE = "drawing"


@dataclass(frozen=True, slots=True)
class Chain:
    """Points in m one after the other; closed when the last is the first."""

    points: tuple[Point, ...]

    def length(self) -> float:
        """Along all points, m."""
        return sum(math.dist(a, b) for a, b in zip(self.points, self.points[1:], strict=False))

    @property
    def closed(self) -> bool:
        return len(self.points) > 2 and math.dist(self.points[0], self.points[-1]) <= JOIN

    def signature(self) -> tuple[tuple[int, int], ...]:
        """The same for the same chain, whichever way it runs."""
        spots = tuple((round(y / JOIN), round(z / JOIN)) for y, z in self.points)
        return min(spots, spots[::-1])


def rings_of(chains: list[Chain]) -> tuple[Ring, ...]:
    """Outer ring anticlockwise, then its holes clockwise, about the middle of the outer box.

    Raises:
        BadEntry: open or branching chains, rings that cross or touch, several outlines apart, metal within a hole.
    """
    closed = [chain.points for chain in chains if chain.closed]
    rings = [_clean(points) for points in (*closed, *_joined([c for c in chains if not c.closed]))]
    if len(rings) > MOST_RINGS:
        raise BadEntry(WHERE, f"{len(rings)} closed loops", "are too many", f"up to {MOST_RINGS}")
    outer, holes = _nested(rings)
    y, z = zip(*outer, strict=True)
    dy, dz = (min(y) + max(y)) / 2, (min(z) + max(z)) / 2
    return tuple(
        tuple((_rounded(y - dy), _rounded(z - dz)) for y, z in _wound(ring, number == 0))
        for number, ring in enumerate((outer, *holes))
    )


def _rounded(value: float) -> float:
    return round(value / GRID) * GRID if abs(value) >= GRID / 2 else 0.0


def _clean(points: tuple[Point, ...]) -> Ring:
    """A closed chain as a ring, without points that coincide."""
    found: list[Point] = []
    for point in points:
        if not found or math.dist(point, found[-1]) > JOIN / 10:
            found.append(point)
    while len(found) > 1 and math.dist(found[0], found[-1]) <= JOIN:
        found.pop()
    if len(found) < 3:
        raise BadEntry(
            WHERE, f"a loop at {_at(points[0])}", "has no area", "closed loops of three points or more"
        )
    return tuple(found)


def _joined(chains: list[Chain]) -> list[tuple[Point, ...]]:
    """Open chains put end to end."""
    ends = [chain.points[k] for chain in chains for k in (0, -1)]
    meets = _meeting(ends)
    by_spot: dict[int, list[int]] = defaultdict(list)
    for end, spot in enumerate(meets):
        by_spot[spot].append(end)
    _check_ends(ends, by_spot)
    partner = {}
    for one, other in by_spot.values():
        partner[one], partner[other] = other, one
    found, used = [], [False] * len(chains)
    for first in range(len(chains)):
        if used[first]:
            continue
        points: list[Point] = []
        end = 2 * first
        while not used[end // 2]:
            used[end // 2] = True
            own = chains[end // 2].points
            points += own if end % 2 == 0 else own[::-1]
            end = partner[end ^ 1]
        found.append((*points, points[0]))
    return found


def _meeting(ends: list[Point]) -> list[int]:
    """For every end the number of the spot where it lies; ends within `JOIN` share one."""
    if not ends:
        return []
    from scipy.spatial import cKDTree

    spots = list(range(len(ends)))
    for one, other in sorted(cKDTree(ends).query_pairs(JOIN)):
        spots[other] = min(spots[other], spots[one])
    return spots


def _check_ends(ends: list[Point], by_spot: dict[int, list[int]]) -> None:
    for meeting in by_spot.values():
        if len(meeting) > 2:
            raise BadEntry(
                WHERE,
                f"{len(meeting)} lines",
                f"meet at {_at(ends[meeting[0]])}",
                "loops that neither branch nor touch; lines drawn over each other are cleared away first",
            )
    loose = [ends[meeting[0]] for meeting in by_spot.values() if len(meeting) == 1]
    if not loose:
        return
    first = loose[0]
    gaps = [(math.dist(first, other), other) for other in loose[1:]]
    gap, other = min(gaps, default=(0.0, first))
    words = f", {gap * 1e3:.4g} mm from the next open end at {_at(other)}" if gaps else ""
    raise BadEntry(
        WHERE,
        "the outline",
        f"is open at {_at(first)}{words}",
        f"closed loops; ends within {JOIN * 1e3:g} mm are joined",
    )


def _nested(rings: list[Ring]) -> tuple[Ring, list[Ring]]:
    """The outer ring and its holes."""
    from shapely import Polygon, STRtree

    shapes = [Polygon(ring) for ring in rings]
    for shape in shapes:
        _check_simple(shape)
    tree = STRtree(shapes)
    depth = [0] * len(shapes)
    for number, shape in enumerate(shapes):
        for near in sorted(int(k) for k in tree.query(shape)):
            if near == number:
                continue
            if near > number:
                _check_apart(shape, shapes[near])
            if shapes[near].contains(shape.representative_point()) and shapes[near].area > shape.area:
                depth[number] += 1
    outer = [ring for ring, level in zip(rings, depth, strict=True) if level == 0]
    if len(outer) > 1:
        places = " and ".join(_at(ring[0]) for ring in outer[:2])
        raise BadEntry(
            WHERE,
            f"{len(outer)} outlines",
            f"lie apart (one at {places})",
            "one outline; holes lie inside it",
        )
    inside = [ring for ring, level in zip(rings, depth, strict=True) if level > 1]
    if inside:
        raise BadEntry(WHERE, f"a loop at {_at(inside[0][0])}", "lies within a hole", "one piece of metal")
    return outer[0], [ring for ring, level in zip(rings, depth, strict=True) if level == 1]


def _check_simple(shape: Any) -> None:
    from shapely.validation import explain_validity

    if not shape.is_valid:
        words = explain_validity(shape)  # "Self-intersection[0.05 0.02]"
        spot = [float(v) for v in words.partition("[")[2].rstrip("]").split()[:2]]
        place = _at((spot[0], spot[1])) if len(spot) == 2 else _at(shape.exterior.coords[0])
        raise BadEntry(
            WHERE, "a loop", f"crosses or touches itself at {place}", "loops that stay clear of themselves"
        )


def _check_apart(one: Any, other: Any) -> None:
    shared = one.exterior.intersection(other.exterior)
    if not shared.is_empty:
        spot = shared.representative_point()
        raise BadEntry(
            WHERE,
            "two loops",
            f"cross or touch at {_at((spot.x, spot.y))}",
            "loops that stay clear of each other",
        )


def _wound(ring: Ring, anticlockwise: bool) -> Ring:
    turn = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))
    return ring if (turn > 0.0) == anticlockwise else ring[::-1]


def _at(point: tuple[float, ...]) -> str:
    return f"({point[0] * 1e3:.6g}, {point[1] * 1e3:.6g}) mm"
