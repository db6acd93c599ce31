"""The verdicts of Parts and Money: what is to order, what it costs, what stands in the way; the same figures on both."""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.bill import BillAnswer
from core.machine.ordering import Budget, StockRow
from core.machine.prices import PriceRow, Prices
from core.machine.project import Project
from core.plan import begin_plan, count_bars
from core.prices import show_money
from core.report.bill_words import money_headline, parts_headline
from core.sections import stock_book

PRICES = Prices(rows=(PriceRow(part="X carriage", price=30.0, per="piece"),), tax=0.2)


def bill_for(counted: bool = True, **fields: object) -> BillAnswer:
    plan = begin_plan(Project(**fields), stock_book())  # type: ignore[arg-type]
    made = count_bars(plan) if counted else plan
    assert made is not None
    assert made.bill is not None
    return made.bill


def test_without_prices_no_sum_is_told() -> None:
    bill = bill_for()
    assert parts_headline(bill).state == "warning"
    assert "EUR" not in parts_headline(bill).words
    assert money_headline(bill).state == "note"


def test_lines_to_order_and_their_cost_are_told_with_what_has_no_price() -> None:
    bill = bill_for(prices=PRICES)
    words = parts_headline(bill).words
    order = [line for line in bill.lines if line.to_order]
    for figure in (len(order), len(order) - 1, show_money(bill.to_come.goods, "EUR"), "24.00 EUR tax"):
        assert str(figure) in words
    assert bill.to_come.unpriced == len(order) - 1


def test_nothing_left_to_order_is_good_and_a_wrong_count_is_not() -> None:
    first = bill_for()
    rows = tuple(
        StockRow(part=line.key, ordered=line.to_order, arrived=line.to_order)
        for line in first.lines
        if line.to_order
    )
    assert parts_headline(bill_for(stock=rows)).state == "good"
    away = (replace_row(rows[0], arrived=0), *rows[1:])
    assert parts_headline(bill_for(stock=away)).state == "note"
    wrong = (replace_row(rows[0], fitted=99), *rows[1:])
    assert parts_headline(bill_for(stock=wrong)).state == "warning"


def replace_row(row: StockRow, **fields: int) -> StockRow:
    return StockRow(part=row.part, **{"ordered": row.ordered, "arrived": row.arrived, **fields})  # type: ignore[arg-type]


@pytest.mark.parametrize(("budget", "words"), [(5000.0, "At most"), (1.0, "At least")])
def test_what_has_no_price_leaves_the_budget_open(budget: float, words: str) -> None:
    bill = bill_for(prices=PRICES, budget=Budget(amount=budget))
    assert words in money_headline(bill).words
    assert money_headline(bill).state == "warning"
    priced = replace(bill, to_come=replace(bill.to_come, unpriced=0))
    assert words not in money_headline(priced).words


def test_bars_that_are_being_counted_are_told_where_only_they_know() -> None:
    key = "bar_80_x_40_x_3_hollow_cold_formed_s235_6000"
    early = bill_for(counted=False, prices=PRICES, stock=(StockRow(part=key, ordered=3),))
    assert any(line.waits for line in early.lines)
    assert "being counted" in parts_headline(early).words
    assert "being counted" in money_headline(early).words


def test_what_was_ordered_at_no_known_price_is_not_passed_over() -> None:
    bill = bill_for(stock=(StockRow(part="x_carriage", ordered=4),), budget=Budget(amount=100.0))
    assert bill.spent == 0
    headline = money_headline(bill)
    assert "1 line ordered at no known price" in headline.words
    assert "At most" in headline.words
    assert headline.state == "warning"
