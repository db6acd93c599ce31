"""What the variants cost more or less than the machine: as a table, as JSON and in a sentence each."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from core.bill import CostDifference
from core.comparison import ComparisonAnswer
from core.prices import show_money
from core.report.tables import Cell, Table, amount, money_column, text_column

MOST_NAMES = 4


def costs_table(answer: ComparisonAnswer) -> Table:
    """Every line of the bill that differs, and under each variant's the sum of those with a price on both sides."""
    currency = answer.machines[0].project.prices.currency
    columns = (
        text_column("Variant"),
        text_column("Line"),
        money_column("This machine", currency),
        money_column("Variant's", currency),
        money_column("Difference", currency),
    )
    rows: list[tuple[Cell, ...]] = []
    for machine, found in zip(answer.machines[1:], answer.costs[1:], strict=True):
        if found is None:
            continue
        for name, was, now in found.rows:
            if was is not None and was == now:
                continue  # another amount of the same cost, such as hours of one's own
            apart = None if was is None or now is None else now - was
            rows.append((machine.name, name, amount(was), amount(now), amount(apart)))
        if found.rows:
            known = None if len(found.open) == len(found.rows) else found.known
            rows.append((machine.name, "All that has a price", None, None, amount(known)))
    return Table("What the variants cost otherwise", columns, tuple(rows))


def cost_words(name: str, found: CostDifference | None) -> str:
    """One variant's difference in a sentence; what it leaves out is told."""
    if found is None:
        return f"{name}: no cost, for it has no figures."
    if not found.rows:
        return f"{name}: everything new costs as much as this machine."
    unknown = _names(found.open)
    if len(found.open) == len(found.rows):
        return f"{name}: its cost against this machine is not known; no price for {unknown}."
    if found.known == 0:
        words = "as much as this machine"
    else:
        side = "more" if found.known > 0 else "less"
        words = f"{show_money(abs(found.known), found.currency)} {side} than this machine"
    return f"{name}: everything new costs {words}" + (
        f"; left out, without a price: {unknown}." if unknown else "."
    )


def cost_sentences(answer: ComparisonAnswer) -> tuple[str, ...]:
    """One for each variant."""
    return tuple(
        cost_words(machine.name, found)
        for machine, found in zip(answer.machines[1:], answer.costs[1:], strict=True)
    )


def costs_json(found: CostDifference | None) -> dict[str, Any] | None:
    """One variant's difference; sums as texts of exact decimals, null for no price."""
    if found is None:
        return None
    return {
        "known": _text(found.known),
        "lines": [{"what": name, "machine": _text(was), "here": _text(now)} for name, was, now in found.rows],
        "lines_without_price": len(found.open),
    }


def _names(names: tuple[str, ...]) -> str:
    shown = list(dict.fromkeys(names))
    more = len(shown) - MOST_NAMES
    return ", ".join(shown[:MOST_NAMES]) + (f" and {more} more" if more > 0 else "")


def _text(value: Decimal | None) -> str | None:
    return None if value is None else f"{value:f}"
