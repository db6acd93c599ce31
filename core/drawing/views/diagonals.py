"""The base's diagonals as bars seen from the front, the side or above."""

from __future__ import annotations

import math
from typing import Literal

from core.drawing.primitives import Polygon, Shape
from core.drawing.views.boxes import stuff_role
from core.machine.base import Legs
from core.machine.diagonals import diagonals
from core.machine.layout import Layout
from core.machine.project import Project


def diagonal_bars(project: Project, lay: Layout, axes: Literal["xz", "yz", "xy"]) -> list[Shape]:
    """Bars between the legs' middle lines, as deep as their section; those seen end on are left to the legs."""
    stand, section = project.machine.base.stand, lay.sections.diagonal
    if not isinstance(stand, Legs) or stand.diagonals is None or section is None:
        return []
    first, second = ("xyz".index(letter) for letter in axes)
    half = (section.width if axes == "xy" else section.height) / 2.0
    role = stuff_role(stand.diagonals.material)
    shapes: list[Shape] = []
    for d in diagonals(project.machine, lay):
        a, b = (d.start[first], d.start[second]), (d.end[first], d.end[second])
        run, rise = b[0] - a[0], b[1] - a[1]
        length = math.hypot(run, rise)
        seen_end_on = abs(run) < 1e-6 and axes != "xy"
        if length < 1e-6 or seen_end_on:
            continue
        nx, ny = -rise / length * half, run / length * half
        outline = (
            (a[0] + nx, a[1] + ny),
            (b[0] + nx, b[1] + ny),
            (b[0] - nx, b[1] - ny),
            (a[0] - nx, a[1] - ny),
        )
        shapes.append(Polygon(outline=outline, role=role, key="diagonal", hint="Diagonal"))
    return shapes
