"""The cut list in a sentence: what to buy, what it costs, what is wasted, and how sure that is."""

from __future__ import annotations

from decimal import Decimal

from core.cuts import CutAnswer
from core.prices import show_money
from core.report.headlines import Headline, gravest
from core.units import UnitSet, show


def cuts_headline(answer: CutAnswer, units: UnitSet) -> Headline:
    """Bars to buy, their length and price, waste."""
    if not answer.groups:
        return Headline("No piece of this project is cut from a bar.", "note")
    wanting = [piece.mark for group in answer.groups for piece in (*group.too_long, *group.left)]
    if wanting:
        few = ", ".join(wanting[:4]) + (" and more" if len(wanting) > 4 else "")
        return Headline(f"No bar is long enough for {few}.", gravest(answer.findings))
    bars = [bar for group in answer.groups for bar in group.bought]
    placed = sum(len(group.ordered) for group in answer.groups)
    there = sum(len(group.bars) for group in answer.groups) - len(bars) - placed
    gone = sum(bar.length - bar.saved for _, bar in answer.bars)
    waste = sum(group.waste for group in answer.groups)
    words = f"Buy {_count(len(bars), 'bar')}" if bars else "No bar is left to buy"
    if bars:
        words += f", {show(sum(bar.length for bar in bars), 'length', units)} together"
    prices = [group.price for group in answer.groups]
    if bars and None not in prices:
        total = sum((price for price in prices if price is not None), Decimal(0))
        words += f", {show_money(total, answer.currency)}"
    used = [f"{placed} ordered" if placed else "", f"{there} on hand" if there else ""]
    words += f", use {' and '.join(word for word in used if word)}" if placed or there else ""
    words += (
        f", for {_count(answer.pieces, 'piece')}; {100.0 * waste / gone if gone else 0.0:.2g} % is waste."
    )
    return Headline(f"{words} {_how_sure(answer)}", gravest(answer.findings))


def _count(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def _how_sure(answer: CutAnswer) -> str:
    if all(answer.proven(group) for group in answer.groups):
        return "Proven: no list buys fewer, nor uses up less."
    if all(group.fewest_proven for group in answer.groups):
        return "Proven: no list buys fewer; another might use up a little less."
    return "Not proven yet: another list might buy fewer."
