"""Which shape of a drawing lies under a point: for hover texts, clicks and drags, and testable without a
screen.
"""

from __future__ import annotations

import math
from itertools import pairwise

from core.drawing.primitives import Circle, Dimension, Drawing, Point, Polygon, Shape


def segment_distance(at: Point, start: Point, end: Point) -> float:
    """Distance from a point to a straight segment, in the unit of the coordinates."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    square = dx * dx + dy * dy
    along = 0.0 if square == 0.0 else ((at[0] - start[0]) * dx + (at[1] - start[1]) * dy) / square
    along = min(1.0, max(0.0, along))
    return math.hypot(at[0] - start[0] - along * dx, at[1] - start[1] - along * dy)


def _inside(at: Point, ring: tuple[Point, ...]) -> bool:
    """Even-odd rule."""
    x, y = at
    inside = False
    for (x0, y0), (x1, y1) in pairwise((*ring, ring[0])):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            inside = not inside
    return inside


def distance(shape: Shape, at: Point) -> float:
    """Distance from a point to a shape, metres; zero inside a filled one (its holes are outside)."""
    if isinstance(shape, Circle):
        return max(0.0, math.hypot(at[0] - shape.centre[0], at[1] - shape.centre[1]) - shape.radius)
    if isinstance(shape, Polygon):
        rings = (shape.outline, *shape.holes)
        if sum(_inside(at, ring) for ring in rings) % 2:
            return 0.0
        return min(segment_distance(at, a, b) for ring in rings for a, b in pairwise((*ring, ring[0])))
    points = shape.line() if isinstance(shape, Dimension) else shape.points()
    if len(points) == 1:
        return math.dist(at, points[0])
    return min(segment_distance(at, a, b) for a, b in pairwise(points))


def topmost(drawing: Drawing, at: Point, reach: float, keys: frozenset[str] | None = None) -> Shape | None:
    """The uppermost shape within `reach` metres of a point; with `keys`, only among shapes of those keys."""
    for shape in reversed(drawing.items):
        if (keys is None or shape.key in keys) and distance(shape, at) <= reach:
            return shape
    return None


def hint_at(drawing: Drawing, at: Point, reach: float) -> str:
    """The hint of the uppermost shape under a point that has one; empty when none has."""
    for shape in reversed(drawing.items):
        if shape.hint and distance(shape, at) <= reach:
            return shape.hint
    return ""
