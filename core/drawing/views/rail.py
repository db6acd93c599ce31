"""One rail to scale with every screw hole, its end distances, pitch and length."""

from __future__ import annotations

from core.drawing.primitives import Circle, Dimension, Drawing, Line, Shape, Text, rectangle
from core.fasteners import RailAnswer
from core.machine.guides import RAILS
from core.units import UnitSet, show

NUMBER_EVERY = 5
NUMBER_GAP = 3  # holes between the last number and the one before, so that they do not run together


def rail_drawing(rail: RailAnswer, units: UnitSet) -> Drawing:
    """The rail seen from above, start at x = 0, holes numbered from the start."""
    data = RAILS[rail.size]
    half = data.rail_width / 2.0
    items: list[Shape] = [rectangle(0.0, -half, rail.length, half, "rail", "rail", rail.label)]
    for number, at in enumerate(rail.holes, start=1):
        hint = f"Hole {number}: {show(at, 'length', units)} from the rail's start"
        items.append(Circle(centre=(at, 0.0), radius=data.counterbore_diameter / 2.0, role="screw", key=f"hole {number}",
                            hint=hint))  # fmt: skip
        items.append(
            Circle(
                centre=(at, 0.0),
                radius=data.hole_diameter / 2.0,
                role="hole",
                key=f"hole {number}",
                hint=hint,
            )
        )
        if _numbered(number, len(rail.holes)):
            place = (at, half + 0.022 * rail.length)
            items.append(Text(at=place, text=str(number), anchor="centre", role="note"))
    for piece in rail.pieces[:-1]:
        hint = f"Joint {piece.number}: {show(piece.end, 'length', units)} from the rail's start"
        ends = ((piece.end, -1.6 * half), (piece.end, 1.6 * half))
        items.append(Line(start=ends[0], end=ends[1], role="finding", key=f"joint {piece.number}", hint=hint))
    step = half + 0.04 * rail.length
    items.append(
        Dimension(
            start=(0.0, -half),
            end=(rail.length, -half),
            offset=-step - 0.035 * rail.length,
            label=show(rail.length, "length", units),
        )
    )
    if rail.holes:
        last = rail.holes[-1]
        items.append(Dimension(start=(0.0, -half), end=(rail.holes[0], -half), offset=-step,
                               label=show(rail.first, "length", units)))  # fmt: skip
        items.append(Dimension(start=(rail.length, -half), end=(last, -half), offset=step,
                               label=show(rail.last, "length", units)))  # fmt: skip
        if len(rail.holes) > 3:
            middle = len(rail.holes) // 2
            a, b = rail.holes[middle - 1], rail.holes[middle]
            items.append(Dimension(start=(a, -half), end=(b, -half), offset=-step,
                                   label=f"Pitch {show(rail.pitch, 'length', units)}"))  # fmt: skip
    return Drawing(items=tuple(items), title=rail.label)


def _numbered(number: int, count: int) -> bool:
    if number in (1, count):
        return True
    return number % NUMBER_EVERY == 0 and count - number >= NUMBER_GAP
