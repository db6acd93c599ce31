"""Both rails of an axis one above the other, to scale, with their pieces, joints and how far joints lie apart."""

from __future__ import annotations

from collections.abc import Sequence

from core.drawing.primitives import Circle, Dimension, Drawing, Line, Shape, Text, rectangle
from core.fasteners import RailAnswer
from core.fasteners.behind import Stretch
from core.machine.guides import RAILS
from core.units import UnitSet, show


def rail_pair_drawing(rails: Sequence[RailAnswer], behind: Sequence[Stretch], units: UnitSet) -> Drawing:
    """The rails of one axis seen from above, starts at x = 0; the first one below."""
    if not rails:
        return Drawing()
    data, length = RAILS[rails[0].size], rails[0].length
    half, step = data.rail_width / 2.0, max(0.05 * length, 3.0 * data.rail_width)
    items: list[Shape] = []
    for part in behind:
        low, high = max(part.start, 0.0), min(part.end, length)
        hint = f"Behind it: {part.what}"
        items.append(
            rectangle(low, -1.9 * half, high, step * (len(rails) - 1) + 1.9 * half, "slot", part.what, hint)
        )
    for row, rail in enumerate(rails):
        items += _rail(rail, row * step, half, units)
    joints = [(piece.end, row) for row, rail in enumerate(rails) for piece in rail.pieces[:-1]]
    pairs = [(abs(a - b), a, b) for a, i in joints for b, j in joints if i < j]
    if pairs:
        gap, a, b = min(pairs)
        low, high = min(a, b), max(a, b)
        if gap > 0.0:
            label = f"apart {show(gap, 'length', units)}"
            y = step / 2.0
            items.append(Dimension(start=(low, y), end=(high, y), offset=0.0, label=label))
    return Drawing(tuple(items), f"Pieces of the {rails[0].axis.upper()} rails")


def _rail(rail: RailAnswer, y: float, half: float, units: UnitSet) -> list[Shape]:
    items: list[Shape] = []
    for piece in rail.pieces:
        hint = (
            f"{rail.label}, piece {piece.number}: {show(piece.length, 'length', units)}, {piece.count} holes"
        )
        items.append(rectangle(piece.start, y - half, piece.end, y + half, "rail", rail.key, hint))
        middle = (piece.start + piece.end) / 2.0
        words = (
            f"{piece.number}: {show(piece.length, 'length', units)}" if len(rail.pieces) > 1 else rail.label
        )
        side = -1.0 if y == 0.0 else 1.0
        items.append(
            Text(
                at=(middle, y + side * (half + 0.022 * rail.length)), text=words, anchor="centre", role="note"
            )
        )
    for number, place in enumerate(rail.holes, start=1):
        hint = f"{rail.label}, hole {number}: {show(place, 'length', units)}"
        radius = RAILS[rail.size].hole_diameter / 2.0
        items.append(Circle(centre=(place, y), radius=radius, role="hole", key=f"hole {number}", hint=hint))
    for piece in rail.pieces[:-1]:
        hint = f"{rail.label}, joint {piece.number}: {show(piece.end, 'length', units)} from the start"
        ends = ((piece.end, y - 1.7 * half), (piece.end, y + 1.7 * half))
        items.append(Line(start=ends[0], end=ends[1], role="finding", key=f"joint {piece.number}", hint=hint))
    return items
