"""The cutter's bite from above: cutter, teeth, what is left of the sheet, and the arc in which a tooth cuts."""

from __future__ import annotations

import math

from core.cutting import CutCase
from core.drawing.primitives import Arrow, Circle, Dimension, Drawing, Line, Polygon, Polyline, Shape, Text
from core.units import UnitSet, show

ARC = 48


def bite_drawing(case: CutCase, units: UnitSet) -> Drawing:
    """Looking down the spindle, which turns clockwise; the cutter moves to the right. Lengths to scale.

    In conventional milling the sheet lies so that a tooth begins where the chip is zero, in climb milling where it is
    thickest.
    """
    cut, chip = case.cut, case.chip
    radius = cut.diameter / 2.0
    # Conventional: clockwise from the far left edge (chip zero) over the front; the angle runs from +Y here.
    side = -1.0 if cut.climb else 1.0
    edge = side * radius  # the side on which the bite reaches the full diameter's rim
    inner = edge - side * cut.width
    reach = 2.6 * radius
    items: list[Shape] = [_sheet(radius, edge, inner, reach, chip.engagement, side)]
    items.append(
        Circle(centre=(0.0, 0.0), radius=radius, role="plate", key="cutter", hint="Cutter, turning clockwise")
    )
    for number in range(cut.teeth):
        turn = chip.thickest_at + 2.0 * math.pi * number / cut.teeth
        tip = _rim(turn, radius)
        items.append(Line(start=(0.0, 0.0), end=tip, role="note", hint=f"Tooth {number + 1}"))
    angles = [chip.entry + chip.engagement * k / ARC for k in range(ARC + 1)]
    arc = tuple(_rim(a, 1.02 * radius) for a in angles)
    hint = f"A tooth cuts over {show(chip.engagement, 'angle', units)}"
    items.append(Polyline(vertices=arc, role="load", key="bite", hint=hint))
    items.append(Arrow(start=(-2.4 * radius, 0.0), end=(-1.25 * radius, 0.0), role="load", hint="Feed"))
    items.append(Text(at=(-1.85 * radius, 0.22 * radius), text="Feed", anchor="centre", role="note"))
    items.append(
        Dimension(start=(reach, min(edge, inner)), end=(reach, max(edge, inner)), offset=-0.35 * radius,
                  label=f"Width {show(cut.width, 'length', units)}")
    )  # fmt: skip
    words = f"{'Climb' if cut.climb else 'Conventional'}, {show(chip.engagement, 'angle', units)} engaged"
    items.append(Text(at=(0.0, -1.75 * radius), text=words, anchor="centre", role="note"))
    return Drawing(items=tuple(items), title="Bite of the cutter")


def _rim(angle: float, radius: float) -> tuple[float, float]:
    """Place on the rim: angle zero at the top, turning clockwise, so that a right angle points along the feed."""
    return (radius * math.sin(angle), radius * math.cos(angle))


def _sheet(radius: float, edge: float, inner: float, reach: float, engagement: float, side: float) -> Polygon:
    """The strip that is still to be cut: in front of the cutter, as wide as the cut."""
    ends = [k / ARC * engagement for k in range(ARC + 1)]
    arc = [(radius * math.sin(a), side * radius * math.cos(a)) for a in ends]
    outline = ((reach, edge), *arc, (reach, inner))
    return Polygon(outline=outline, role="sheet", key="sheet", hint="What the cutter is about to take")
