"""Cost of variants against the machine: only lines that differ need a price, and what has none is told, not guessed."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from core.comparison import ComparisonAnswer, find_comparison
from core.machine.prices import PriceRow, Prices
from core.machine.project import Project, replace_at
from core.machine.variants import Change, Variant
from core.plan import begin_plan, count_bars
from core.prices import NO_PRICE
from core.report import comparison_lines
from core.report.study.comparison import variants_json
from core.report.study.cost_differences import cost_sentences, costs_table
from core.sections import stock_book

THICK = "machine.gantry.beam.section.wall"
VARIANTS = (
    Variant(name="Thick", changes=(Change(path=THICK, value=0.0052),)),
    Variant(name="Same"),
    Variant(name="Big", changes=(Change(path="machine.head.guides.size", value=20),)),
)
STEEL = PriceRow(family="rectangular hollow", price=3.0, per="kilogram")


def compared(*rows: PriceRow, bars: bool = False) -> ComparisonAnswer:
    book = stock_book()
    plan = begin_plan(Project(prices=Prices(rows=rows), variants=VARIANTS), book)
    counted = count_bars(plan) if bars else plan
    assert counted is not None
    found = find_comparison(counted, book)
    assert found is not None
    return found


def test_only_what_differs_needs_a_price() -> None:
    found = compared(STEEL)
    assert found.costs[1] is not None
    assert [row[0] for row in found.costs[1].rows] == ["Gantry beam"]
    mass = [machine.values["beam_mass"].likely or 0.0 for machine in found.machines]
    assert float(found.costs[1].known) == pytest.approx(3.0 * (mass[1] - mass[0]), abs=0.02)
    row = found.figure("cost_difference").likely
    assert row[:3] == (0.0, float(found.costs[1].known), 0.0)
    assert row[3] is None, "carriages have no price"


def test_what_has_no_price_is_told() -> None:
    found = compared(STEEL)
    thick, same, big = cost_sentences(found)
    assert "more than this machine" in thick
    assert "as much as" in same
    assert "Z carriage" in big or "Z rail" in big
    rows = costs_table(found).rows
    assert any(row[0] == "Big" and row[4] == NO_PRICE for row in rows)
    sums = [row for row in rows if row[0] == "Thick"]
    assert sums[-1][4] == sum(row[4] for row in sums[:-1])  # type: ignore[misc]
    assert found.costs[1] is not None
    said = variants_json(found, found.machines[0].project.units)
    assert said[1]["cost_against_machine"]["known"] == f"{found.costs[1].known:f}"
    assert said[3]["cost_against_machine"]["lines_without_price"] > 0
    assert thick in comparison_lines(found, found.machines[0].project.units)


def test_without_any_price_nothing_is_said_about_cost() -> None:
    found = compared()
    assert set(found.figure("cost_difference").likely) == {None}
    assert not any(
        "everything new" in line for line in comparison_lines(found, found.machines[0].project.units)
    )


def test_bars_in_the_bill_change_no_difference() -> None:
    one, other = compared(STEEL), compared(STEEL, bars=True)
    assert one.costs == other.costs
    assert one.machines[0].findings == other.machines[0].findings


def test_a_dearer_machine_makes_its_variants_cheaper() -> None:
    book = stock_book()
    base: Any = replace_at(Project(prices=Prices(rows=(STEEL,))), THICK, 0.0052)
    section: Any = Project().machine.gantry.beam.section
    thin = Variant(name="Thin", changes=(Change(path=THICK, value=section.wall),))
    changed: Any = replace_at(base, "variants", (thin,))
    found = find_comparison(begin_plan(changed, book), book)
    assert found is not None
    first = compared(STEEL).costs[1]
    assert found.costs[1] is not None
    assert first is not None
    assert found.costs[1].known == -first.known < Decimal(0)
    assert "less than this machine" in cost_sentences(found)[0]
