"""A cross-section to scale with its outer size."""

from __future__ import annotations

from core.drawing.primitives import Dimension, Drawing, Line, Shape
from core.drawing.views.boxes import outline_shape
from core.sections import Section, label, outline
from core.units import UnitSet, show


def section_drawing(section: Section, turned: bool, units: UnitSet) -> Drawing:
    """The section as it stands, middle of its outer box at the origin, with its axes."""
    rings = outline(section, turned)
    points = rings[0]
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    bottom, top = min(y for _, y in points), max(y for _, y in points)
    size = max(right - left, top - bottom)
    items: list[Shape] = [
        outline_shape(rings, 0.0, 0.0, "beam", "section", label(section)),
        Line(start=(left - 0.1 * size, 0.0), end=(right + 0.1 * size, 0.0), role="axis", hint="y-y axis"),
        Line(start=(0.0, bottom - 0.1 * size), end=(0.0, top + 0.1 * size), role="axis", hint="z-z axis"),
        Dimension(start=(left, bottom), end=(right, bottom), offset=-0.25 * size,
                  label=show(right - left, "length", units)),
        Dimension(start=(left, bottom), end=(left, top), offset=0.25 * size,
                  label=show(top - bottom, "length", units)),
    ]  # fmt: skip
    return Drawing(items=tuple(items), title=label(section))
