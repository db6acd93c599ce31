"""The bill in sentences: how its metal is counted, by bars or by pieces."""

from __future__ import annotations

from core.bill import BillAnswer
from core.prices import show_money
from core.report.headlines import Headline
from core.units import UnitSet, tell

MISMATCHES = frozenset({"more-arrived", "more-fitted"})
"""Findings about records that cannot both be right."""
NOBODY_YET = "Nothing is spent yet: enter what was ordered beside the parts, or a purchase at the right."


def parts_headline(bill: BillAnswer) -> Headline:
    """What is still to order and what it costs, what is on its way, and what stands in the way of ordering all of it."""
    order = [line for line in bill.lines if line.to_order]
    come, waits = bill.to_come, any(line.waits for line in bill.lines)
    if order:
        words = f"{_count(len(order), 'line')} to order"
        priced = len(order) - come.unpriced
        if priced and bill.cost.any_price:
            words += f", {show_money(come.goods, bill.currency)}"
            words += f" and {show_money(come.tax, bill.currency)} tax" if come.tax else ""
        words += f"; {come.unpriced if priced else 'all'} of them without a price" if come.unpriced else ""
    else:
        words = "Nothing is left to order" if not waits else "Nothing but metal is left to order"
    away = sum(line.awaited > 0 for line in bill.lines)
    words += f". {_count(away, 'line')} on the way" if away else ""
    if waits:
        words += ". The bars are being counted; their metal is in no sum yet"
    wrong = sum(finding.severity == "warning" and finding.code in MISMATCHES for finding in bill.findings)
    words += f". {_count(wrong, 'record')} to mend: counts that do not add up" if wrong else ""
    bare = [] if bill.cuts is None else bill.cuts.groups
    left = sum(len(group.too_long) + len(group.left) for group in bare)
    words += f". {_count(left, 'piece')} without a bar long enough" if left else ""
    blocked = bool(wrong or left or (order and come.unpriced))
    return Headline(f"{words}.", "warning" if blocked else "note" if order or waits or away else "good")


def money_headline(bill: BillAnswer) -> Headline:
    """Spent and still to come, against the budget; how far what has no price leaves that open."""
    nothing = not any(line.record.ordered for line in bill.lines)
    if nothing and not bill.spendings and not bill.cost.any_price:
        return Headline(NOBODY_YET, "note")
    words = f"Spent {show_money(bill.spent, bill.currency)}"
    if bill.cost.any_price:
        words += f", still to come {show_money(bill.to_come.total, bill.currency)}"
    open_lines, waits = bill.to_come.unpriced, any(line.waits for line in bill.lines)
    words += f"; {_count(open_lines, 'line')} to order without a price" if open_lines else ""
    words += f"; {_count(bill.estimated, 'sum')} by the price list" if bill.estimated else ""
    unpaid = sum(line.spent is None for line in bill.lines)
    words += f"; {_count(unpaid, 'line')} ordered at no known price" if unpaid else ""
    words += "; the bars are being counted" if waits else ""
    over = bill.left is not None and bill.left < 0
    if bill.left is not None:
        more = open_lines or unpaid or waits
        least = "" if not more else "at least " if over else "at most "
        amount = show_money(abs(bill.left), bill.currency)
        words += f". {_capital(least)}{amount} {'over' if over else 'within'} the budget"
    unsure = over or bool(open_lines or unpaid)
    return Headline(f"{words}.", "warning" if unsure else "good" if bill.left is not None else "note")


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def bars_words(bill: BillAnswer, units: UnitSet) -> str:
    """How metal stands in the bill: bars to buy, those ordered and on hand, rests kept; or that bars are not counted yet."""
    cuts = bill.cuts
    if cuts is None:
        return "Bars to buy are not counted yet; until then metal stands by its pieces and their net lengths."
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
