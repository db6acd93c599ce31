"""Bars in the bill: every piece once, as a piece or out of a bar; what is there is deducted; another machine, another list."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.bill import BillAnswer, cost_of
from core.machine.ordering import Budget, StockRow
from core.machine.prices import PriceRow, Prices
from core.machine.project import Project, replace_at
from core.machine.saw import OwnPiece, StockBar
from core.plan import Plan, begin_plan, count_bars, with_cuts
from core.sections import stock_book

BOOK = stock_book()
BAR = StockBar(length=6.0, price=80.0)
SHELF = OwnPiece(name="Shelf", section="30 x 30 x 2", material="S235", length=0.4, quantity=3)


def counted(**fields: object) -> Plan:
    plan = count_bars(begin_plan(Project(**fields), BOOK))  # type: ignore[arg-type]
    assert plan is not None
    return plan


def bill_of(plan: Plan) -> BillAnswer:
    assert plan.bill is not None
    return plan.bill


def bars(bill: BillAnswer) -> list[tuple[str, int, int, int]]:
    return [(x.key, x.needed, x.on_hand, x.to_order) for x in bill.lines if x.part.group == "Bars"]


def test_bars_are_bought_and_their_pieces_are_not() -> None:
    plan = counted(stock_bars=(BAR,), own_pieces=(SHELF,))
    bill = bill_of(plan)
    assert bill.cuts is not None
    made = Counter(placed.piece.key for _, bar in bill.cuts.bars for placed in bar.pieces)
    for line in bill.lines:
        assert line.cut == made[line.key]
        if line.cut:
            assert (line.bought, line.to_order, line.planned) == (0, 0, Decimal(0))
    bought = sum(len(group.bought) for group in bill.cuts.groups)
    assert sum(order for _, _, _, order in bars(bill)) == bought
    own = next(line for line in bill.lines if line.part.what == "Shelf")
    assert own.cut == 3
    assert bill.cost.goods == 80 * bought


def test_until_the_bars_are_counted_metal_stands_by_its_pieces() -> None:
    project = Project(stock_bars=(BAR,), own_pieces=(SHELF,))
    bill = bill_of(begin_plan(project, BOOK))
    assert bill.cuts is None
    assert bars(bill) == []
    assert bill.line("side_beam").to_order == 2
    assert any(line.part.what == "Shelf" and line.to_order == 3 for line in bill.lines)


def test_own_pieces_are_recorded_under_a_key_that_outlives_their_length() -> None:
    record = StockRow(part="own_piece_shelf_30_x_30_x_2", on_hand=1)
    for length in (0.4, 0.7):
        piece = msgspec.structs.replace(SHELF, length=length)
        bill = bill_of(counted(own_pieces=(piece,), stock=(record,), stock_bars=(BAR,)))
        line = bill.line(record.part)
        assert (line.on_hand, line.cut, line.to_order) == (1, 2, 0)
        assert bill.findings == () or "stock-stray" not in {f.code for f in bill.findings}


def test_pieces_that_are_there_or_ordered_are_not_cut_again_and_spares_are() -> None:
    rows = (StockRow(part="side_beam", ordered=1, paid=50.0), StockRow(part="beam", spare=1))
    bill = bill_of(counted(stock_bars=(BAR,), stock=rows))
    assert bill.line("side_beam").cut == 1
    assert bill.line("side_beam").spent == Decimal("50.00")
    assert bill.line("beam").cut == 2


def test_bars_on_hand_are_deducted_and_offcuts_too() -> None:
    section = bill_of(counted(stock_bars=(BAR,))).line("side_beam").part.spec.partition(",")[0]
    there = StockBar(section=section, length=6.0, on_hand=1, price=80.0)
    more = bill_of(counted(stock_bars=(there, BAR)))
    less = bill_of(counted(stock_bars=(BAR,)))
    assert sum(x[3] for x in bars(more)) == sum(x[3] for x in bars(less)) - 1
    assert sum(x[2] for x in bars(more)) == 1
    assert more.cost.goods == less.cost.goods, "new, it costs the same"
    assert more.to_come.goods == less.to_come.goods - 80


def test_ordered_bars_count_and_pieces_cut_from_them_may_be_fitted() -> None:
    first = bill_of(counted(stock_bars=(BAR,)))
    rows = (
        *(StockRow(part=key, ordered=need, arrived=need, paid=75.0) for key, need, _, _ in bars(first)),
        StockRow(part="side_beam", fitted=2),
    )
    bill = bill_of(counted(stock_bars=(BAR,), stock=rows, budget=Budget(amount=1.0)))
    assert all(order == 0 for _, _, _, order in bars(bill))
    assert bill.to_come.goods == 0
    assert {f.code for f in bill.findings} & {"more-fitted", "stock-stray"} == set()
    early = bill_of(begin_plan(Project(stock_bars=(BAR,), stock=rows, budget=Budget(amount=1.0)), BOOK))
    assert {f.code for f in early.findings} == {"spent-undated"}, "nothing is said that the bars might answer"
    pieces = [x for x in early.lines if x.part.section is not None]
    assert pieces
    assert all((x.to_order, x.to_come) == (0, 0) for x in pieces), "their bars are ordered"
    assert all(x.waits == (x.key != "side_beam") for x in pieces)


def test_pieces_without_a_bar_stay_pieces() -> None:
    bill = bill_of(counted(stock_bars=(StockBar(length=1.0),)))
    beam = bill.line("beam")
    assert (beam.cut, beam.to_order) == (0, 1)


def test_a_list_serves_as_long_as_it_is_asked_for() -> None:
    plan = counted(stock_bars=(BAR,), own_pieces=(SHELF,))
    bill = bill_of(plan)
    assert bill.cuts is not None

    def bill_with(path: str, value: object) -> BillAnswer:
        changed = replace_at(plan.project, path, value)
        return bill_of(begin_plan(changed, BOOK, cuts=bill.cuts))  # type: ignore[arg-type]

    assert bill_with("budget.amount", 50.0).cuts is bill.cuts
    for path, value in (
        ("machine.work.travel_x", 1.0),
        ("saw.kerf", 0.004),
        ("own_pieces.0.quantity", 4),
        ("stock_bars.0.length", 5.0),
        ("display.length", "in"),
        ("stock", (StockRow(part="beam", ordered=1),)),
    ):
        assert bill_with(path, value).cuts is None, path
    dearer = bill_with("stock_bars.0.price", 90.0)
    assert dearer.cuts is not None
    assert dearer.cost.goods == bill.cost.goods / 80 * 90
    assert all(bar.price == 90 for _, bar in dearer.cuts.bars)
    other = begin_plan(replace_at(plan.project, "saw.kerf", 0.004), BOOK)  # type: ignore[arg-type]
    assert with_cuts(other, bill.cuts) is None


def test_bars_of_ones_own_words_take_a_price_by_the_metre() -> None:
    prices = Prices(rows=(PriceRow(section="30 x 30 x 2", price=4.0, per="metre"),))
    bill = bill_of(counted(own_pieces=(SHELF,), prices=prices, stock_bars=(StockBar(length=6.0),)))
    bar = next(
        line for line in bill.lines if line.part.spec.startswith("30 x 30 x 2") and line.part.group == "Bars"
    )
    assert bar.planned == Decimal("24.00")


def test_variants_are_compared_by_net_lengths() -> None:
    plan = counted(stock_bars=(BAR,), prices=Prices(rows=(PriceRow(family="rectangular hollow", price=1.0),)))
    assert cost_of(plan.project, plan).goods == cost_of(plan.project, begin_plan(plan.project, BOOK)).goods


@settings(max_examples=12)
@given(
    on_hand=st.integers(0, 3),
    ordered=st.integers(0, 3),
    spare=st.integers(0, 2),
    length=st.sampled_from((0.6, 3.0, 6.0)),
)
def test_every_piece_is_had_once(on_hand: int, ordered: int, spare: int, length: float) -> None:
    row = StockRow(part="side_beam", on_hand=on_hand, ordered=ordered, spare=spare)
    bill = bill_of(counted(stock_bars=(StockBar(length=length),), stock=(row,)))
    line = bill.line("side_beam")
    had = on_hand + ordered + line.cut + line.to_order
    assert had == max(line.wanted, on_hand + ordered)
    assert line.bought + line.cut == line.wanted


@pytest.mark.parametrize("seconds", [0.0, 0.5])
def test_a_search_that_nobody_waits_for_gives_nothing(seconds: float) -> None:
    plan = begin_plan(Project(stock_bars=(BAR,)), BOOK)
    assert count_bars(plan, seconds, lambda: True) is None


def test_a_bar_whose_pieces_are_all_fitted_is_not_ordered() -> None:
    fields = {"own_pieces": (SHELF,), "stock_bars": (BAR,)}
    key = next(line.key for line in bill_of(counted(**fields)).lines if line.part.what == "Shelf")
    for fitted, to_order in ((3, 0), (2, 1)):
        bill = bill_of(counted(**fields, stock=(StockRow(part=key, fitted=fitted),)))
        bar = next(line for line in bill.lines if line.part.where == "cut into Shelf")
        assert (bar.needed, bar.to_order) == (1, to_order)
        told = [f for f in bill.findings if f.code == "more-fitted" and f.place == bar.part.what]
        assert bool(told) == (to_order == 0)


def test_a_piece_that_arrived_is_not_cut_again_though_no_order_was_recorded() -> None:
    bill = bill_of(counted(stock_bars=(BAR,), stock=(StockRow(part="side_beam", arrived=2),)))
    assert bill.line("side_beam").cut == 0
    assert bill.line("side_beam").to_order == 0


def shelves(length: float, quantity: int, **fields: object) -> Project:
    """A project whose shelf is cut from bars of 6 m and 3 m."""
    bars = tuple(StockBar(length=length, price=price) for length, price in ((6.0, 80.0), (3.0, 42.0)))
    return Project(
        stock_bars=bars,
        own_pieces=(msgspec.structs.replace(SHELF, length=length, quantity=quantity),),
        **fields,
    )  # type: ignore[arg-type]


def of_shelf(plan: Plan) -> list[tuple[str, int, int]]:
    lines = (line for line in bill_of(plan).lines if line.part.where == "cut into Shelf")
    return [(line.key.rpartition("_")[2], line.needed, line.to_order) for line in lines]


def test_ordered_bars_are_used_before_another_length_is_bought() -> None:
    fresh = count_bars(begin_plan(shelves(1.9, 2), BOOK))
    assert fresh is not None
    assert of_shelf(fresh) == [("6000", 1, 1)]
    key = next(line.key for line in bill_of(fresh).lines if line.part.where == "cut into Shelf")
    short = f"{key.removesuffix('6000')}3000"
    # Two of 3 m were ordered when the shelves were longer: none of 6 m has to be bought on top.
    plan = count_bars(begin_plan(shelves(1.9, 2, stock=(StockRow(part=short, ordered=2),)), BOOK))
    assert plan is not None
    assert of_shelf(plan) == [("3000", 2, 0)]
    cuts = bill_of(plan).cuts
    assert cuts is not None
    group = next(group for group in cuts.groups if group.section == SHELF.section)
    assert (len(group.bought), len(group.ordered)) == (0, 2)


def test_a_list_lives_on_while_its_bars_are_ordered_one_by_one() -> None:
    project = shelves(1.9, 7)
    plan = count_bars(begin_plan(project, BOOK))
    assert plan is not None
    wanted = of_shelf(plan)
    assert sum(need for _, need, _ in wanted) == 3
    cuts = bill_of(plan).cuts
    assert cuts is not None
    key = next(line.key for line in bill_of(plan).lines if line.part.where == "cut into Shelf")
    need = bill_of(plan).line(key).needed
    for ordered in (*range(1, need + 1), need + 5):
        row = StockRow(part=key, ordered=ordered)
        again = with_cuts(begin_plan(replace_at(project, "stock", (row,)), BOOK), cuts)
        if ordered > need and len(wanted) > 1:
            assert again is None  # what is too much may spare the other bar
            continue
        assert again is not None
        assert bill_of(again).line(key).to_order == max(0, need - ordered)
        fewer = bill_of(again).cuts
        assert fewer is not None
        group = next(group for group in fewer.groups if group.section == SHELF.section)
        assert len(group.ordered) == min(ordered, need)
        assert group.fewest_proven
        assert len(group.bought) == 3 - min(ordered, need)


def test_an_order_that_is_taken_back_asks_for_a_new_list() -> None:
    fields = {"stock_bars": (BAR,), "own_pieces": (SHELF,)}
    key = next(key for key, need, _, _ in bars(bill_of(counted(**fields))) if need)
    plan = counted(**fields, stock=(StockRow(part=key, ordered=1),))
    cuts = bill_of(plan).cuts
    assert cuts is not None
    assert with_cuts(begin_plan(Project(**fields), BOOK), cuts) is None  # type: ignore[arg-type]


def test_bars_that_lie_there_and_bars_of_that_length_to_buy_keep_their_keys() -> None:
    offcut = StockBar(length=6.0, section="80 x 40 x 3", material="S235", sold=False, on_hand=1)
    fresh = bill_of(counted(stock_bars=(BAR,)))
    key, need = next(
        (x.key, x.needed) for x in fresh.lines if "80_x_40_x_3" in x.key and x.part.group == "Bars"
    )
    assert need > 1
    both = bill_of(counted(stock_bars=(BAR, offcut)))
    lines = {x.key: (x.needed, x.on_hand, x.to_order) for x in both.lines if "80_x_40_x_3" in x.key}
    assert lines[key] == (need - 1, 0, need - 1)
    assert sorted(lines.values()) == sorted([lines[key], (1, 1, 0)])


def test_a_budget_held_against_net_lengths_says_that_bars_may_cost_more() -> None:
    price = PriceRow(family="rectangular hollow", price=9.0, per="metre")
    fields = {"stock_bars": (BAR,), "prices": Prices(rows=(price,)), "budget": Budget(amount=10.0)}
    plan = begin_plan(Project(**fields), BOOK)  # type: ignore[arg-type]
    after = count_bars(plan)
    assert after is not None
    told = []
    for bill in (bill_of(plan), bill_of(after)):
        (over,) = (finding for finding in bill.findings if finding.code == "over-budget")
        assert over.value == float(bill.expected)
        told.append("bars" in over.message)
    assert told == [True, False]


def test_bars_ordered_in_a_length_that_is_no_longer_offered_are_used_all_the_same() -> None:
    before = count_bars(begin_plan(shelves(1.9, 3), BOOK))
    assert before is not None
    key = next(line.key for line in bill_of(before).lines if line.part.where == "cut into Shelf")
    assert key.endswith("_6000")
    ordered = (StockRow(part=key, ordered=1, paid=80.0),)
    project = replace_at(shelves(1.9, 3, stock=ordered), "stock_bars", (StockBar(length=3.0, price=42.0),))
    after = count_bars(begin_plan(project, BOOK))
    assert after is not None
    assert of_shelf(after) == [("6000", 1, 0)]
    assert bill_of(after).strays == ()
    cuts = bill_of(after).cuts
    assert cuts is not None
    again = with_cuts(begin_plan(replace_at(project, "stock_bars.0.price", 50.0), BOOK), cuts)
    assert again is not None
    assert of_shelf(again) == [("6000", 1, 0)]
