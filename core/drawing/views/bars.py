"""The bars of the cut list to scale along their length: pieces with marks, scrap hatched, rests to keep dashed, each in words.

Thickness and distance of the bars are chosen for letters of a fixed size.
"""

from __future__ import annotations

from core.cuts import CutAnswer, CutBar, CutGroup, PlacedPiece
from core.drawing.primitives import Drawing, Polygon, Shape, Text, rectangle
from core.units import UnitSet, show

PIXELS = 690.0
"""Width of the picture that letters are planned for; letters of 12 are about 7 wide."""
LETTER = 7.0
LEFT, RIGHT = 0.36, 0.27
"""Room beside the bars for words, as a share of the longest bar."""
ROW = 24.0
"""Pixels from bar to bar in such a picture."""


def bars_drawing(answer: CutAnswer, units: UnitSet, group: int | None = None) -> Drawing:
    """Bars from top to bottom in the order of cutting, their first end at x = 0; all sections, or one of them."""
    chosen = answer.groups if group is None else answer.groups[group : group + 1]
    longest = max((bar.length for one in chosen for bar in one.bars), default=1.0)
    metre = PIXELS / ((1.0 + LEFT + RIGHT) * longest)  # pixels for one
    row = ROW / metre
    items: list[Shape] = []
    y = 0.0
    for one in chosen:
        if not one.bars:
            continue
        y -= (1.15 if items else 0.8) * row
        buy = f"{len(one.bought)} to buy" if one.bought or not one.ordered else "all ordered"
        words = f"{one.label}: {buy}, {100.0 * one.waste_share:.2g} % waste"
        items.append(Text(at=(-LEFT * longest, y), text=words, role="note"))
        for bar in one.bars:
            y -= row
            items += _bar(one, bar, y, 0.7 * row, LEFT * longest, LETTER / metre, units)
    if items:  # an empty text keeps room for the words behind the longest bar
        items.append(Text(at=((1.0 + RIGHT) * longest, y), text="", role="note"))
    title = "Cut list" if group is None or not chosen else f"Cut list, {chosen[0].label}"
    return Drawing(items=tuple(items), title=title)


def _bar(
    group: CutGroup, bar: CutBar, y: float, height: float, left: float, letter: float, units: UnitSet
) -> list[Shape]:
    """One bar whose middle lies at y; its number, source and length stand at its left."""
    key, low, high = f"bar {bar.number}", y - height / 2.0, y + height / 2.0
    source = "to buy" if bar.source == "bought" else bar.source
    words = f"{bar.number}, {source}, {show(bar.length, 'length', units)}"
    items: list[Shape] = [Text(at=(-left, y), text=words, role="dimension")]
    if bar.trim > 0.0:
        hint = f"End trim {show(bar.trim, 'length', units)}"
        items.append(rectangle(0.0, low, bar.trim, high, "steel", key, hint))
    for placed in bar.pieces:
        items.append(_piece(placed, low, high, key, units))
        text = _fitting(placed, letter, units)
        if text:
            middle = ((placed.start + placed.end) / 2.0, y)
            items.append(Text(at=middle, text=text, anchor="centre", role="note"))
    if bar.offcut > 0.0:
        start, size = bar.length - bar.offcut, show(bar.offcut, "length", units)
        word = f"keep {size}" if bar.kept else f"scrap {size}"
        role = "hidden" if bar.kept else "steel"
        items.append(rectangle(start, low, bar.length, high, role, key, f"{group.label}: {word}"))
        inside = bar.offcut > (len(word) + 2) * letter
        at = ((start + bar.length) / 2.0, y) if inside else (bar.length + letter, y)
        items.append(Text(at=at, text=word, anchor="centre" if inside else "left", role="note"))
    return items


def _piece(placed: PlacedPiece, low: float, high: float, key: str, units: UnitSet) -> Shape:
    """The piece; slanting ends show that it is mitred, not by how much."""
    piece = placed.piece
    slant = min(0.8 * (high - low), 0.25 * piece.length) if piece.mitre > 0.0 else 0.0
    mitred = ", both ends mitred, length from tip to tip" if piece.mitre > 0.0 else ""
    hint = (
        f"{piece.mark}: {piece.what}, {show(piece.length, 'length', units)}{mitred}; from "
        f"{show(placed.start, 'length', units)} to {show(placed.end, 'length', units)}"
    )
    outline = (
        (placed.start, low),
        (placed.end - slant, low),
        (placed.end, high),
        (placed.start + slant, high),
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
