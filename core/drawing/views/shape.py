"""The deflected shape in a view, drawn so much larger that it can be seen, and how much larger."""

from __future__ import annotations

import math

import numpy as np

from core.drawing.primitives import Polyline, Shape, Text
from core.stiffness import DeflectedShape

AXES = {"x": 0, "y": 1, "z": 2}
DRAWN_SHARE = 0.04  # the largest drawn movement as a share of the span


def auto_exaggeration(shape: DeflectedShape | None, span: float, axes: str = "xyz") -> float:
    """A round number (1, 2, 5 times a power of ten) by which movements are drawn larger; 0 without a shape.

    `axes` are those that the view shows ("xz" for the front): movement across the view is not seen and does not count.
    """
    if shape is None:
        return 0.0
    seen = [AXES[axis] for axis in axes]
    largest = max(float(np.abs(line.moved[:, seen]).max()) for line in shape.lines)
    largest = max(largest, float(np.abs(shape.tip_moved[seen]).max()))
    if not largest > 0.0:
        return 0.0
    wanted = DRAWN_SHARE * span / largest
    power = 10.0 ** math.floor(math.log10(wanted))
    return max(step * power for step in (1.0, 2.0, 5.0) if step * power <= wanted * (1.0 + 1e-12))


def shape_lines(shape: DeflectedShape, across: str, up: str, exaggeration: float) -> list[Shape]:
    """Dashed lines of the deflected machine in a view."""
    a, b = AXES[across], AXES[up]
    found: list[Shape] = []
    for line in shape.lines:
        drawn = line.points + exaggeration * line.moved
        vertices = tuple((float(p[a]), float(p[b])) for p in drawn)
        if len(vertices) > 1 and any(v != vertices[0] for v in vertices):
            found.append(Polyline(vertices=vertices, role="deflected", key="shape", hint="Deflected shape"))
    return found


def shape_note(exaggeration: float, left: float, bottom: float) -> Text:
    """Words that say how much larger the bending is drawn."""
    return Text(at=(left, bottom), text=f"Bending drawn {exaggeration:,.0f} times larger", role="note")
