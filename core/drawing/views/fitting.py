"""A rail with the holes that are filled now, those still open, the longest open stretch and where carriages rest."""

from __future__ import annotations

from core.drawing.primitives import Circle, Dimension, Drawing, Line, Shape, Text, rectangle
from core.fasteners import RailAnswer
from core.fasteners.interim import RailInterim
from core.machine.guides import RAILS
from core.units import UnitSet, show


def fitting_drawing(rail: RailAnswer, plan: RailInterim, units: UnitSet) -> Drawing:
    """The rail seen from above, start at x = 0; numbers tell the order of filling."""
    data = RAILS[rail.size]
    half, length = data.rail_width / 2.0, rail.length
    items: list[Shape] = [rectangle(0.0, -half, length, half, "rail", "rail", rail.label)]
    for place in plan.rests:
        reach = data.carriage_length / 2.0
        side = data.carriage_width / 2.0
        items.append(
            rectangle(place - reach, -side, place + reach, side, "block", "carriage", "A carriage rests here")
        )
    for piece in rail.pieces[:-1]:
        items.append(
            Line(start=(piece.end, -1.7 * half), end=(piece.end, 1.7 * half), role="hidden", key="joint")
        )
    order = {hole: k for k, hole in enumerate(plan.now, start=1)}
    for number, at in enumerate(rail.holes, start=1):
        rank = order.get(number)
        hint = f"Hole {number}: filled as number {rank}" if rank else f"Hole {number}: still open"
        role = "screw" if rank else "hole"
        radius = data.counterbore_diameter / 2.0
        items.append(Circle(centre=(at, 0.0), radius=radius, role=role, key=f"hole {number}", hint=hint))
        if rank is not None and rank <= 9:
            items.append(Text(at=(at, half + 0.022 * length), text=str(rank), anchor="centre", role="note"))
    if plan.longest is not None and plan.still:
        words = f"open {show(plan.longest.length, 'length', units)}"
        start, end = plan.longest.start, plan.longest.end
        items.append(Dimension(start=(start, -half), end=(end, -half), offset=-0.05 * length, label=words))
    return Drawing(tuple(items), f"{rail.label}, what to fill now")
