"""The bill: spares and packs, what is still to order, money that adds up, findings, the difference of two variants."""

from __future__ import annotations

import math
import time
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.bill import bill_line, cost_difference, cost_of, find_bill, weld_length
from core.errors import BadEntry
from core.machine.form import Straightness, Weld
from core.machine.ordering import Budget, OwnPart, Purchase, StockRow
from core.machine.prices import PriceRow, Prices
from core.machine.project import Project, replace_at
from core.parts import PartLine
from core.plan import Plan, begin_plan, count_bars
from core.prices import Pricer
from core.report.bill_tables import bill_table, groups_table
from core.sections import stock_book

BOOK = stock_book()
SCREW = PartLine("screw", "Fasteners", "Screw", "M5 x 16", 148, None, None, None, 15, 50, 4)
PRICES = Prices(
    rows=(
        PriceRow(family="rectangular hollow", price=2.9, per="kilogram"),
        PriceRow(part="X carriage", price=31.5, per="piece"),
    )
)


def planned(**fields: object) -> Plan:
    return begin_plan(Project(**fields), BOOK)  # type: ignore[arg-type]


def codes(plan: Plan) -> set[str]:
    assert plan.bill is not None
    return {finding.code for finding in plan.bill.findings}


def test_a_machine_without_prices_has_no_cost_anywhere() -> None:
    bill = planned().bill
    assert bill is not None
    assert bill.lines
    assert not bill.cost.any_price
    assert all(line.price is None and line.planned is None for line in bill.lines)
    assert bill.findings == ()
    assert bill.spent == 0


def test_spares_by_number_go_before_a_share_and_that_before_the_list() -> None:
    pricer = Pricer(Project())
    assert bill_line(SCREW, None, pricer, 0.0).spare == 15
    assert bill_line(SCREW, StockRow(part="screw", spare_share=0.05), pricer, 0.0).spare == 8
    assert bill_line(SCREW, StockRow(part="screw", spare_share=0.05, spare=0), pricer, 0.0).spare == 0


def test_packs_follow_from_what_is_there_and_ordered() -> None:
    pricer = Pricer(Project())
    line = bill_line(
        SCREW, StockRow(part="screw", on_hand=20, ordered=100, arrived=50, fitted=30), pricer, 0.0
    )
    assert (line.bought, line.packs) == (200, 4)
    assert (line.to_order, line.packs_to_order) == (50, 1)  # 163 wanted, 120 there or ordered: 43 more
    assert (line.awaited, line.here, line.short) == (50, 70, 78)
    single = bill_line(SCREW, StockRow(part="screw", pack_size=1, ordered=160), pricer, 0.0)
    assert (single.bought, single.packs, single.to_order) == (163, 0, 3)


def test_paid_prices_go_before_the_list_and_hold_the_tax() -> None:
    pricer = Pricer(Project(prices=Prices(rows=(PriceRow(part="screw", price=0.1, per="piece"),))))
    guessed = bill_line(SCREW, StockRow(part="screw", ordered=100), pricer, 0.2)
    assert guessed.spent == Decimal("12.00")
    assert guessed.estimated
    paid = bill_line(SCREW, StockRow(part="screw", ordered=100, paid=0.09, price=0.3), pricer, 0.2)
    assert paid.spent == Decimal("9.00")
    assert paid.to_come == Decimal("30.00")  # two packs at the price entered beside the part, tax apart
    unknown = bill_line(SCREW, StockRow(part="screw", ordered=100), Pricer(Project()), 0.2)
    assert unknown.spent is None


def test_the_running_cost_steps_on_the_days_entered() -> None:
    bill = planned(
        prices=PRICES,
        stock=(StockRow(part="x_carriage", ordered=4, paid=30.0, date="2026-03-02"),),
        purchases=(
            Purchase(date="2026-03-05", what="Carrier", kind="shipping", amount=35.5),
            Purchase(date="2026-03-05", what="Paint", kind="consumables", amount=20.25),
            Purchase(what="Drill", kind="tools", amount=9.0),
            Purchase(date="2026-03-09", what="Refund", amount=-10.0),
        ),
        budget=Budget(amount=5000.0, shipping=60.0),
    ).bill
    assert bill is not None
    assert [(step.day, step.total) for step in bill.steps] == [
        (date(2026, 3, 2), Decimal("120.00")),
        (date(2026, 3, 5), Decimal("175.75")),
        (date(2026, 3, 9), Decimal("165.75")),
    ]
    assert bill.spent == Decimal("174.75")
    assert bill.to_come.shipping == Decimal("24.50")
    assert bill.left == Decimal("5000.00") - bill.expected
    assert {finding.code for finding in bill.findings} == {"no-price", "spent-undated"}


def test_groups_add_up_to_the_whole() -> None:
    bill = planned(
        prices=Prices(rows=PRICES.rows, tax=0.19, fitting_rate=20.0, welding_rate=50.0),
        straightness=Straightness(welds=(Weld(count=4, length=1.0),)),
        stock=(StockRow(part="x_carriage", ordered=2, paid=30.0),),
        purchases=(
            Purchase(what="Welder", kind="work", amount=55.0),
            Purchase(kind="tax", amount=7.0),
            Purchase(amount=-4.0),
        ),
        budget=Budget(shipping=80.0),
    ).bill
    assert bill is not None
    assert sum(group.planned for group in bill.groups) == bill.cost.known - bill.cost.tax
    assert sum(group.spent for group in bill.groups) == bill.spent
    assert sum(group.to_come for group in bill.groups) == bill.to_come.total - bill.to_come.tax
    welding = next(line for line in bill.work if line.key == "welding")
    assert welding.hours == pytest.approx(2.0)
    assert welding.cost == Decimal("100.00")


def test_welds_of_the_side_beams_count_on_both() -> None:
    for part, metres in (("gantry beam", 1.5), ("side beam", 3.0)):
        weld = Weld(count=2, length=1.0, filled=0.75, part=part)  # type: ignore[arg-type]
        plan = planned(straightness=Straightness(welds=(weld,)))
        assert weld_length(plan.project, plan.layout) == pytest.approx(metres)


@pytest.mark.parametrize(
    ("row", "code"),
    [
        (StockRow(part="x_carriage", ordered=2, arrived=3), "more-arrived"),
        (StockRow(part="x_carriage", on_hand=1, ordered=2, arrived=2, fitted=4), "more-fitted"),
        (StockRow(part="x_carriage", on_hand=6, fitted=6), "fitted-over-need"),
        (StockRow(part="gone", ordered=3), "stock-stray"),
    ],
)
def test_counts_that_do_not_add_up_are_found(row: StockRow, code: str) -> None:
    plan = planned(stock=(row,))
    assert codes(plan) == {code}
    assert plan.verdict.code != code


def test_sound_counts_find_nothing() -> None:
    assert (
        codes(planned(stock=(StockRow(part="x_carriage", on_hand=1, ordered=3, arrived=3, fitted=4),)))
        == set()
    )


def test_the_budget_is_watched_before_it_is_spent() -> None:
    assert "over-budget" in codes(planned(prices=PRICES, budget=Budget(amount=10.0)))
    assert "over-budget" not in codes(planned(prices=PRICES, budget=Budget(amount=10000.0)))
    twice = Prices(rows=(PriceRow(part="x rail", price=1.0), PriceRow(part="X  Rail", price=2.0)))
    assert "price-twice" in codes(planned(prices=twice))


def test_own_parts_stand_in_the_bill() -> None:
    chain = OwnPart(key="own_1", name="Cable chain", quantity=2, mass_each=0.7)
    bill = planned(own_parts=(chain,), stock=(StockRow(part="own_1", price=18.0),)).bill
    assert bill is not None
    assert bill.line("own_1").planned == Decimal("36.00")
    for bad in (lambda: OwnPart(key="x", name="A"), lambda: Project(own_parts=(chain, chain))):
        with pytest.raises(BadEntry):
            bad()
    with pytest.raises(BadEntry):
        StockRow(part="own_1", date="14.3.2026")


def test_the_keys_of_fasteners_outlive_other_fasteners() -> None:
    plan = planned()
    screws = {part.key for part in plan.parts if part.group == "Fasteners"}
    changed = replace_at(plan.project, "machine.head.guides.size", 25)
    after = {part.key for part in begin_plan(changed, BOOK).parts if part.group == "Fasteners"}
    assert screws & after, "the screws of the other rails are the same things still"
    assert len(after) == len(set(after))


def test_the_difference_of_two_variants_needs_prices_only_where_they_differ() -> None:
    project = Project(prices=PRICES)
    one = begin_plan(project, BOOK)
    changed = replace_at(project, "machine.gantry.beam.section.wall", 0.0052)  # the same screws still fit
    other = begin_plan(changed, BOOK)  # type: ignore[arg-type]
    a, b = cost_of(one.project, one), cost_of(other.project, other)
    found = cost_difference(a, b)
    assert not a.complete
    assert found.open == ()
    assert [row[0] for row in found.rows] == ["Gantry beam"]
    assert found.known == b.known - a.known > 0
    assert cost_difference(a, a).rows == ()
    bare = replace_at(other.project, "prices.rows", ())
    assert cost_difference(a, cost_of(bare, other)).open  # type: ignore[arg-type]


@given(
    needed=st.integers(1, 500),
    pack=st.one_of(st.none(), st.integers(1, 100)),
    on_hand=st.integers(0, 300),
    ordered=st.integers(0, 300),
    share=st.floats(0.0, 1.0),
)
def test_what_is_ordered_covers_what_is_wanted_with_no_pack_too_many(
    needed: int, pack: int | None, on_hand: int, ordered: int, share: float
) -> None:
    part = PartLine("p", "g", "w", "s", needed, None, None, None)
    row = StockRow(part="p", on_hand=on_hand, ordered=ordered, spare_share=share, pack_size=pack)
    line = bill_line(part, row, Pricer(Project()), 0.0)
    assert line.wanted >= needed
    assert on_hand + ordered + line.to_order >= line.wanted
    if line.to_order:
        assert on_hand + ordered + line.to_order - max(pack or 1, 1) < line.wanted
    assert line.spare == math.ceil(needed * share - 1e-9)


def test_the_whole_bill_is_quick() -> None:
    project = Project(
        prices=Prices(rows=tuple(PriceRow(part=f"part {n}", price=float(n), per="piece") for n in range(200)))
    )
    plan = begin_plan(project, BOOK)
    find_bill(project, plan.layout, plan.rails, plan.parts)
    began = time.perf_counter()
    find_bill(project, plan.layout, plan.rails, plan.parts)
    assert time.perf_counter() - began < 0.03


@given(
    on_hand=st.integers(0, 90),
    ordered=st.integers(0, 90),
    arrived=st.integers(0, 90),
    fitted=st.integers(0, 190),
    pack=st.sampled_from([None, 10, 50]),
)
def test_what_is_there_fitted_or_on_its_way_is_never_ordered_again(
    on_hand: int, ordered: int, arrived: int, fitted: int, pack: int | None
) -> None:
    row = StockRow(
        part="screw", on_hand=on_hand, ordered=ordered, arrived=arrived, fitted=fitted, pack_size=pack
    )
    line = bill_line(SCREW, row, Pricer(Project()), 0.0)
    missing = 163 - max(on_hand + ordered, on_hand + arrived, fitted)
    assert (line.to_order > 0) == (missing > 0)
    assert 0 <= line.to_order - max(0, missing) < line.pack_size
    assert line.short == max(0, 148 - max(on_hand + arrived, fitted))


def test_a_fitted_piece_is_not_ordered_before_the_bars_are_counted_either() -> None:
    bill = planned(stock=(StockRow(part="side_beam", fitted=2),)).bill
    assert bill is not None
    assert bill.line("side_beam").to_order == 0


def test_money_paid_for_what_is_no_longer_needed_does_not_vanish() -> None:
    row = StockRow(part="some_plate", ordered=2, arrived=2, paid=40.0, date="2026-03-01", spare=4)
    plan = planned(stock=(row,))
    bill = plan.bill
    assert bill is not None
    assert bill.spent == Decimal("80.00")
    assert bill.strays == ("some_plate",)
    line = bill.line("some_plate")
    assert (line.needed, line.to_order, line.planned) == (0, 0, Decimal(0))
    assert sum(group.spent for group in bill.groups) == Decimal("80.00")
    assert codes(plan) == {"stock-stray"}


def test_paid_bars_are_spent_before_the_bars_are_counted_too() -> None:
    key = "bar_80_x_40_x_3_hollow_cold_formed_s235_6000"
    plan = planned(stock=(StockRow(part=key, ordered=3, paid=50.0),))
    counted = count_bars(plan)
    assert counted is not None
    for bill in (plan.bill, counted.bill):
        assert bill is not None
        assert bill.spent == Decimal("150.00")
        assert next(group for group in bill.groups if group.group == "Bars").spent == Decimal("150.00")


def test_spares_that_are_left_when_all_is_fitted_are_not_still_to_be_fitted() -> None:
    row = StockRow(part="x_carriage", on_hand=6, fitted=4)
    bill = planned(stock=(row,)).bill
    assert bill is not None
    assert not bill_table(bill, Project().units, "fit").rows


def test_a_group_without_any_price_says_so_though_some_of_it_is_cut_from_bars() -> None:
    counted = count_bars(planned())
    assert counted is not None
    assert counted.bill is not None
    assert not counted.bill.cost.any_price
    rows = {row[0]: row for row in groups_table(counted.bill).rows}
    assert rows["Gantry"][2] == rows["Gantry"][4] == "no price"
