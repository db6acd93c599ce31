"""The bars of the cut list to scale along their length: pieces with marks, scrap hatched, rests to keep dashed, each in words."""

from __future__ import annotations

from core.cuts import CutAnswer, CutBar, CutGroup, PlacedPiece
from core.drawing.primitives import Drawing, Line, Polygon, Shape, Text, rectangle
from core.units import UnitSet, show

PIXELS = 700.0
"""Width of the picture that letters are planned for; letters of 12 are about 7 wide."""
LETTER = 7.0
LEAST_ROWS = 7
"""Room is kept for so many bars, so that two or three are not drawn as thick as a table."""


def bars_drawing(answer: CutAnswer, units: UnitSet, group: int | None = None) -> Drawing:
    """Bars from top to bottom in the order of cutting, their first end at x = 0; all sections, or one of them."""
    chosen = answer.groups if group is None else answer.groups[group : group + 1]
    longest = max((bar.length for one in chosen for bar in one.bars), default=1.0)
    pitch = longest / 14.0
    items: list[Shape] = []
    y = 0.0
    for one in chosen:
        if not one.bars:
            continue
        y -= 0.55 * pitch
        items.append(Text(at=(0.0, y), text=one.label, role="note"))
        for bar in one.bars:
            y -= pitch
            items += _bar(one, bar, y, 0.42 * pitch, longest, units)
    rows = (len(items) > 0) * LEAST_ROWS
    if items and -y < rows * pitch:  # an unseen line keeps the scale of a full picture
        items.append(Line(start=(0.0, -rows * pitch), end=(0.0, -rows * pitch), role="note"))
    title = "Cut list" if group is None or not chosen else f"Cut list, {chosen[0].label}"
    return Drawing(items=tuple(items), title=title)


def _bar(
    group: CutGroup, bar: CutBar, y: float, height: float, longest: float, units: UnitSet
) -> list[Shape]:
    """One bar with its lower edge at y; its words stand above it."""
    key, letter = f"bar {bar.number}", LETTER * longest / PIXELS
    source = "to buy" if bar.source == "bought" else "on hand"
    words = f"Bar {bar.number}, {source}, {show(bar.length, 'length', units)}"
    above = y + 1.55 * height
    items: list[Shape] = [Text(at=(0.0, above), text=words, role="dimension")]
    if bar.trim > 0.0:
        hint = f"End trim {show(bar.trim, 'length', units)}"
        items.append(rectangle(0.0, y, bar.trim, y + height, "steel", key, hint))
    for placed in bar.pieces:
        items.append(_piece(placed, y, height, key, units))
        text = _fitting(placed, letter, units)
        if text:
            middle = ((placed.start + placed.end) / 2.0, y + height / 2.0)
            items.append(Text(at=middle, text=text, anchor="centre", role="note"))
    if bar.offcut > 0.0:
        start, size = bar.length - bar.offcut, show(bar.offcut, "length", units)
        word = f"keep {size}" if bar.kept else f"scrap {size}"
        role = "hidden" if bar.kept else "steel"
        items.append(rectangle(start, y, bar.length, y + height, role, key, f"{group.label}: {word}"))
        inside = bar.offcut > (len(word) + 2) * letter
        at = ((start + bar.length) / 2.0, y + height / 2.0) if inside else (bar.length, above)
        items.append(Text(at=at, text=word, anchor="centre" if inside else "right", role="note"))
    return items


def _piece(placed: PlacedPiece, y: float, height: float, key: str, units: UnitSet) -> Shape:
    """The piece; slanting ends show that it is mitred, not by how much."""
    piece = placed.piece
    slant = min(0.8 * height, 0.25 * piece.length) if piece.mitre > 0.0 else 0.0
    mitred = ", both ends mitred, length from tip to tip" if piece.mitre > 0.0 else ""
    hint = (
        f"{piece.mark}: {piece.what}, {show(piece.length, 'length', units)}{mitred}; from "
        f"{show(placed.start, 'length', units)} to {show(placed.end, 'length', units)}"
    )
    outline = (
        (placed.start, y),
        (placed.end - slant, y),
        (placed.end, y + height),
        (placed.start + slant, y + height),
    )
    return Polygon(outline=outline, role="plate", key=key, hint=hint)


def _fitting(placed: PlacedPiece, letter: float, units: UnitSet) -> str:
    """Mark and length, or the mark alone, as far as the piece has room for letters."""
    mark = placed.piece.mark
    size = show(placed.piece.length, "length", units).split(" ")[0]
    for text in (f"{mark}  {size}", mark):
        if (len(text) + 1) * letter <= placed.piece.length:
            return text
    return ""
