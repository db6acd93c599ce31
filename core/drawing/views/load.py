"""The load at the tool tip, drawn in its own direction as each view sees it."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from core.drawing.primitives import Arrow, Circle, Line, Point, Shape
from core.units import UnitSet, show

AXES = {"x": 0, "y": 1, "z": 2}
CLEAR = 0.018  # m between the arrow's head and the tip
LENGTH, RING, DOT = 2.0, 0.32, 0.07  # in rows of letters: the arrow seen square on, ring and dot of the sign
BESIDE = (1.3, 0.45)  # where the sign stands from the tip, in rows, away from where the clearance is written
FLAT, STEEP = 0.2, 0.75  # shares of the force seen: below the first no arrow, below the second the sign too


def load_shapes(
    tip: Point, force: NDArray[np.float64] | None, across: str, up: str, units: UnitSet, row: float
) -> list[Shape]:
    """An arrow onto the tip; for a load along the line of sight a ring with a dot (towards you) or a cross (away).

    Args:
        tip: in the view, m. force: (3,) N, or None for no load. across, up: the view's axes. row: height of a row
            of letters in the view, m, by which the signs are sized.
    """
    if force is None or not float(np.linalg.norm(force)) > 0.0:
        return []
    unit = force / float(np.linalg.norm(force))
    flat = (float(unit[AXES[across]]), float(unit[AXES[up]]))
    seen = math.hypot(*flat)
    hint = _hint(force, units)
    shapes: list[Shape] = []
    if seen > FLAT:
        dx, dy = flat[0] / seen, flat[1] / seen
        long = CLEAR + LENGTH * row * max(seen, 0.5)
        start, end = (tip[0] - long * dx, tip[1] - long * dy), (tip[0] - CLEAR * dx, tip[1] - CLEAR * dy)
        shapes.append(Arrow(start=start, end=end, role="load", key="load", hint=hint))
    if seen < STEEP:
        eye = np.cross(np.eye(3)[AXES[across]], np.eye(3)[AXES[up]])  # from the drawing towards the reader
        side = 1.0 if tip[0] >= 0.0 else -1.0
        at = (tip[0] + side * BESIDE[0] * row, tip[1] + BESIDE[1] * row)
        shapes += _end_on(at, bool(unit @ eye > 0.0), hint, row)
    return shapes


def _end_on(at: Point, towards: bool, hint: str, row: float) -> list[Shape]:
    ring = Circle(centre=at, radius=RING * row, role="load", key="load", hint=hint)
    if towards:
        return [ring, Circle(centre=at, radius=DOT * row, role="load", key="load", hint=hint)]
    reach = RING * row * math.sqrt(0.5)
    (x, y) = at
    ends = (
        ((x - reach, y - reach), (x + reach, y + reach)),
        ((x - reach, y + reach), (x + reach, y - reach)),
    )
    return [ring, *(Line(start=a, end=b, role="load", key="load", hint=hint) for a, b in ends)]


def _hint(force: NDArray[np.float64], units: UnitSet) -> str:
    parts = ", ".join(
        f"{axis} {show(value, 'force', units, 2)}" for axis, value in zip("XYZ", force.tolist(), strict=True)
    )
    return f"Load of the chosen case, in its worst direction here: {parts}"
