"""Prices: which row is for a piece, exact sums, no price where none was entered."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadEntry
from core.machine.prices import PriceRow, Prices
from core.machine.project import Project
from core.parts import PartLine
from core.prices import (
    Pricer,
    exact,
    price_of_beam,
    price_of_line,
    prices_by_mass,
    rounded,
    show_amount,
    show_money,
    times,
    total,
)
from core.sections import BoltedPlate, FlatBar, RectangularHollow, RoundTube, TwoProfiles

TUBE = RectangularHollow(height=0.12, width=0.08, wall=0.005, finish="cold formed")


def priced(*rows: PriceRow) -> Project:
    return Project(prices=Prices(rows=rows))


def test_without_prices_there_is_none_and_no_zero() -> None:
    assert price_of_beam(Project(), TUBE, "s235", 2.0) is None
    assert price_of_beam(priced(PriceRow(family="round tube", price=3.0)), TUBE, "s235", 2.0) is None
    assert price_of_beam(priced(PriceRow(family="rectangular hollow")), TUBE, "s235", 2.0) is None
    assert show_money(None, "EUR") == "no price"


def test_a_length_is_priced_by_metre_foot_and_piece() -> None:
    for per, price, each in (("metre", 12.4, "19.84"), ("piece", 30.0, "30"), ("foot", 3.0, "15.75")):
        found = price_of_beam(
            priced(PriceRow(family="rectangular hollow", price=price, per=per)), TUBE, "s235", 1.6
        )
        assert found is not None
        assert found.each == Decimal(each)  # 1.6 m = 5.24934 ft
        assert found.currency == "EUR"


def test_a_mass_is_priced_by_kilogram_and_pound() -> None:
    per_kilogram = priced(PriceRow(material="steel", price=2.0, per="kilogram"))
    found = price_of_beam(per_kilogram, FlatBar(height=0.1, width=0.02), "s235", 1.0)
    assert found is not None
    assert found.each == Decimal("31.40")  # 0.1 x 0.02 x 1 m3 x 7850 kg/m3 x 2
    per_pound = priced(PriceRow(material="steel", price=1.0, per="pound"))
    told = price_of_beam(per_pound, TUBE, "s235", 1.0, mass=0.45359237)
    assert told is not None
    assert told.each == Decimal("1.00")


def test_the_row_that_says_most_wins_and_of_equals_the_first() -> None:
    family = PriceRow(family="rectangular hollow", price=1.0)
    stuff = PriceRow(family="rectangular hollow", material="S235", price=2.0)
    size = PriceRow(section="120x80x5", price=3.0)
    again = PriceRow(section="120 × 80 × 5", price=4.0)
    for rows, price in (
        ((family, stuff), "2.00"),
        ((family, size, stuff), "3.00"),
        ((again, size), "4.00"),
        ((family, stuff, size, again), "3.00"),
    ):
        found = price_of_beam(priced(*rows), TUBE, "s235", 1.0)
        assert found is not None
        assert found.each == Decimal(price)
    assert price_of_beam(priced(stuff), TUBE, "en_aw_6060_t66", 1.0) is None
    assert price_of_beam(priced(size), RoundTube(diameter=0.08, wall=0.005), "s235", 1.0) is None


def test_a_row_that_does_not_suit_the_piece_gives_way() -> None:
    carriage = PartLine(
        "x_carriage", "Guides", "X carriage", "Carriage size 20 (ISO 12090-1)", 4, None, None, None
    )
    by_metre = PriceRow(part="x carriage", price=5.0, per="metre")
    by_spec = PriceRow(part="Carriage size 20 (ISO 12090-1)", price=31.5, per="piece")
    found = price_of_line(priced(by_metre, by_spec), carriage)
    assert found is not None
    assert found.each == Decimal("31.5")
    assert found.row == 1


def test_a_built_up_bar_costs_what_its_pieces_cost_unless_a_row_is_for_the_whole() -> None:
    pair = TwoProfiles(first=TUBE, second=TUBE)
    by_metre = PriceRow(family="rectangular hollow", price=10.0)
    found = price_of_beam(priced(by_metre), pair, "s235", 1.5)
    assert found is not None
    assert found.each == Decimal("30.00")
    whole = PriceRow(family="built-up", price=40.0)
    told = price_of_beam(priced(by_metre, whole), pair, "s235", 1.5)
    assert told is not None
    assert told.each == Decimal("60.00")
    assert price_of_beam(priced(PriceRow(family="T-slot profile", price=10.0)), pair, "s235", 1.5) is None


def test_pieces_of_two_metals_cost_by_their_own_mass() -> None:
    bar = BoltedPlate(
        profile=FlatBar(height=0.1, width=0.1), plate_width=0.1, plate_thickness=0.01, material="s235"
    )
    rows = (
        PriceRow(material="aluminium", price=10.0, per="kilogram"),
        PriceRow(material="steel", price=1.0, per="kilogram"),
    )
    found = price_of_beam(priced(*rows), bar, "en_aw_6060_t66", 1.0)
    assert found is not None
    assert found.each == Decimal("277.85")  # 0.1 x 0.1 x 2700 x 10 + 0.1 x 0.01 x 7850 x 1
    assert price_of_beam(priced(rows[0]), bar, "en_aw_6060_t66", 1.0) is None


def test_a_pack_is_shared_out_and_adds_up_again() -> None:
    screw = PartLine("s", "Fasteners", "Screw", "M5", 80, None, None, None, 8, 3, 30)
    found = price_of_line(priced(PriceRow(part="screw m5", price=10.0, per="pack")), screw)
    assert found is not None
    assert times(found.each, 90) == Decimal("300.00")
    assert len(show_amount(found.each)) < 12
    single = PartLine("s", "Fasteners", "Screw", "M5", 80, None, None, None)
    assert Pricer(priced(PriceRow(part="screw m5", price=10.0, per="pack"))).line(single) is None
    assert Pricer(priced(PriceRow(part="screw m5", price=10.0, per="pack"))).line(single, 10) is not None


def test_metals_have_a_price_by_mass_where_a_row_gives_one() -> None:
    found = prices_by_mass(
        priced(
            PriceRow(family="angle", material="steel", price=9.0, per="kilogram"),
            PriceRow(material="steel", price=1.5, per="pound"),
            PriceRow(material="S355", family="angle", price=4.0, per="metre"),
            PriceRow(part="beam", material="aluminium", price=4.0, per="kilogram"),
        )
    )
    assert found["s235"] == pytest.approx(1.5 / 0.45359237)
    assert "en_aw_6060_t66" not in found


def test_a_price_says_what_it_is_for_and_in_which_money() -> None:
    for bad in (
        lambda: PriceRow(price=1.0),
        lambda: PriceRow(family="angle", price=-1.0),
        lambda: Prices(currency=""),
        lambda: Prices(currency="12"),
    ):
        with pytest.raises(BadEntry):
            bad()


@given(st.lists(st.integers(-(10**11), 10**11), max_size=40))
def test_sums_of_typed_amounts_are_exact(cents: list[int]) -> None:
    typed = [
        float(f"{c // 100}.{c % 100:02d}") if c >= 0 else -float(f"{-c // 100}.{-c % 100:02d}") for c in cents
    ]
    assert total(exact(amount) for amount in typed) == Decimal(sum(cents)) / 100


@given(st.decimals(0, 10**6, places=4), st.integers(0, 10**5))
def test_lines_are_rounded_once_half_away_from_zero(price: Decimal, count: int) -> None:
    true = Fraction(price) * count
    assert abs(Fraction(times(price, count)) - true) <= Fraction(1, 200)
    assert times(price, count) == rounded(price * count)


def test_amounts_read_well() -> None:
    assert show_amount(Decimal("1234567.5")) == "1\u202f234\u202f567.50"
    assert show_amount(Decimal("0.043")) == "0.043"
    assert show_amount(Decimal("1") / Decimal(3)) == "0.33333"
    assert show_amount(Decimal("-0.5")) == "-0.50"
