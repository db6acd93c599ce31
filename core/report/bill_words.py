"""The bill in sentences: how its metal is counted, by bars or by pieces."""

from __future__ import annotations

from core.bill import BillAnswer
from core.units import UnitSet, tell


def bars_words(bill: BillAnswer, units: UnitSet) -> str:
    """How metal stands in the bill: bars to buy, those on hand, rests kept; or that bars are not counted yet."""
    cuts = bill.cuts
    if cuts is None:
        return "Bars to buy are not counted yet; metal stands by its pieces and their net lengths."
    if not cuts.groups:
        return "Nothing is cut from bars."
    bars = [bar for _, bar in cuts.bars]
    there = sum(bar.source == "on hand" for bar in bars)
    placed = sum(bar.source == "ordered" for bar in bars)
    words = f"Metal by the bar: {_count(len(bars) - there, 'bar')} for {_count(cuts.pieces, 'piece')}"
    words += f", {'all' if placed == len(bars) - there else placed} of them ordered" if placed else ""
    words += f", {there} on hand used first" if there else ""
    saved = sum(bar.saved for bar in bars)
    words += f"; rests of {tell(saved, 'length', units)} altogether are left to keep" if saved else ""
    left = sum(len(group.too_long) + len(group.left) for group in cuts.groups)
    words += f"; {_count(left, 'piece')} without a bar, counted by the piece" if left else ""
    return f"{words}."


def _count(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
