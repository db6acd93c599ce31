"""What is shown: the user's unit, sensible digits, and reading it back gives the figure within those digits."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.units import METRIC, QUANTITIES, UnitSet, from_si, parse, show, show_number, to_si, unit_label

INCH = UnitSet("in", "lbf")
SETS = [METRIC, INCH, UnitSet("mm", "lbf"), UnitSet("in", "N")]


@pytest.mark.parametrize(
    ("value", "quantity", "metric", "inch"),
    [
        (1.2192, "length", "1219.2 mm", "48 in"),
        (1.5, "length", "1500 mm", "59.055 in"),
        (0.00635, "length", "6.35 mm", "0.25 in"),
        (1 / 3, "length", "333.33 mm", "13.123 in"),
        (0.0, "length", "0 mm", "0 in"),
        (-0.012, "length", "-12 mm", "-0.472 in"),
        (0.000123456, "deflection", "0.1235 mm", "4.86 thou"),
        (0.0002, "deflection", "0.2 mm", "7.874 thou"),
        (1e-7, "deflection", "0.0001 mm", "0.003937 thou"),
        (50.0, "force", "50 N", "11.24 lbf"),
        (12345.67, "force", "12345.7 N", "2775.4 lbf"),
        (9.0, "mass", "9 kg", "19.84 lb"),
        (20e6, "stiffness", "20 N/µm", "114203 lbf/in"),
        (150e3, "rotational_stiffness", "150 kN m/rad", "110634 lbf ft/rad"),
        (3e-8, "compliance", "3 µm per 100 N", "0.05254 thou per 10 lbf"),
        (0.6e6, "specific_stiffness", "600000 N", "134885 lbf"),
        (210e9, "stress", "210000 MPa", "30457925 psi"),
        (30e6, "cutting_pressure", "30 N/mm2", "4351 psi"),
        (3.531411730e-6, "second_moment", "353.1 cm4", "8.484 in4"),
        (1.8356e-3, "area", "1836 mm2", "2.845 in2"),
        (20.0, "temperature", "20 °C", "68 °F"),
        (10.0, "temperature_difference", "10 K", "18 °F"),
        (23e-6, "expansion", "23 µm/(m K)", "12.78 µin/(in °F)"),
        (0.05, "speed", "3 m/min", "118.1 in/min"),
        (300.0, "rotation_speed", "18000 rpm", "18000 rpm"),
        (math.pi / 2, "angle", "90°", "90°"),
        (750.0, "power", "750 W", "1.006 hp"),
        (2.5, "linear_density", "2.5 kg/m", "1.68 lb/ft"),
        (0.25, "ratio", "0.25", "0.25"),
        (12.5, "money", "12.50", "12.50"),
        (12, "count", "12", "12"),
    ],
)
def test_shown_figures(value: float, quantity: str, metric: str, inch: str) -> None:
    assert show(value, quantity) == metric
    assert show(value, quantity, INCH) == inch
    assert show(value, quantity).startswith(show_number(value, quantity))
    assert show(value, quantity).endswith(unit_label(quantity))


def test_lengths_and_forces_are_chosen_apart() -> None:
    assert unit_label("stiffness", UnitSet("mm", "lbf")) == "lbf/mm"
    assert unit_label("length", UnitSet("mm", "lbf")) == "mm"
    assert unit_label("force", UnitSet("in", "N")) == "N"
    assert unit_label("compliance", UnitSet("in", "N")) == "thou per 100 N"
    assert unit_label("temperature", UnitSet("in", "N")) == "°C"


def test_digits_may_be_asked_for_and_none_before_the_point_is_lost() -> None:
    assert show(1.23456789, "length", digits=8) == "1234.5679 mm"
    assert show(1.23456789, "length", digits=2) == "1235 mm"
    assert show_number(0.00012345, "deflection", digits=2) == "0.12"


def test_a_comma_may_be_written_and_is_read_back() -> None:
    text = show(1.234e-3, "length", digits=4, decimal=",")
    assert text == "1,234 mm"
    assert parse(text, "length", METRIC, ",") == 1.234e-3


def test_figures_that_are_not_finite_are_said_in_words() -> None:
    for value in (math.nan, math.inf, -math.inf):
        text = show(value, "length")
        assert not any(character.isdigit() for character in text)
        assert math.isnan(from_si(value, "length")) or math.isinf(from_si(value, "length"))
        with pytest.raises(ValueError):
            parse(text, "length")


def test_far_out_figures_get_an_exponent() -> None:
    assert show(1e30, "length") == "1e33 mm"
    assert show(-1e-20, "length") == "-1e-17 mm"
    assert show(9.99999e20, "length") == "1e24 mm"
    assert show_number(1.5e30, "money") == "1.5e30"
    assert show_number(1e-20, "money") == "0.00"
    assert show(-1e-20, "temperature") == "0 °C"


@pytest.mark.parametrize("units", SETS)
@pytest.mark.parametrize("quantity", QUANTITIES)
@given(number=st.floats(-1e9, 1e9).filter(lambda x: x == 0.0 or abs(x) > 1e-60))
def test_what_is_shown_reads_back_within_half_of_its_last_digit(
    quantity: str, units: UnitSet, number: float
) -> None:
    value = to_si(number, quantity, units)
    assume(quantity != "temperature" or value > -273.0)
    if QUANTITIES[quantity].whole:
        value = float(round(value))
    text = show(value, quantity, units)
    figure = show_number(value, quantity, units)
    mantissa, _, power = figure.partition("e")
    decimals = max(len(mantissa.partition(".")[2]), _decimals_kept(quantity, units, value))
    step = to_si(10.0 ** (int(power or 0) - decimals), quantity, units) - to_si(0.0, quantity, units)
    back = parse(text, quantity, units)
    assert abs(back - value) <= 0.5 * abs(step) + 1e-12 * abs(value) + 1e-13 * (quantity == "temperature")
    # Shown and read again, nothing moves any more.
    assert parse(show(back, quantity, units), quantity, units) == pytest.approx(back, rel=1e-14, abs=0.0)


def _decimals_kept(quantity: str, units: UnitSet, value: float) -> int:
    """Decimals that were there before zeros at the end were taken off."""
    rule = QUANTITIES[quantity].digits[units.length == "in"]
    shown = abs(from_si(value, quantity, units))
    if shown == 0.0:
        return 0
    power = math.floor(math.log10(shown))
    if power < -9:
        return max(rule.significant, 2) - 1
    return max(rule.decimals, rule.significant - 1 - power - 1, 0)


@pytest.mark.parametrize("units", SETS)
@pytest.mark.parametrize("quantity", QUANTITIES)
def test_arrays_and_single_numbers_agree(quantity: str, units: UnitSet) -> None:
    values = np.array([[0.0, 1.0, 0.0254], [-3.7, 1e6, np.nan]])
    shown = from_si(values, quantity, units)
    assert shown.shape == values.shape
    single = [from_si(float(value), quantity, units) for value in values.ravel()]
    np.testing.assert_allclose(shown.ravel(), single, rtol=4e-16, atol=1e-13, equal_nan=True)
    np.testing.assert_allclose(to_si(shown, quantity, units), values, rtol=1e-15, atol=1e-13)
    again = [to_si(value, quantity, units) for value in single]
    np.testing.assert_allclose(again, values.ravel(), rtol=1e-15, atol=1e-13)


@given(st.integers(-(10**7), 10**7))
def test_hundredths_of_a_millimetre_pass_through_unchanged(hundredths: int) -> None:
    value = float(Fraction(hundredths, 100_000))
    assert parse(show(value, "length"), "length") == value


@pytest.mark.parametrize("quantity", QUANTITIES)
def test_numbers_of_other_kinds_are_shown(quantity: str) -> None:
    assert show(np.float64(2.0), quantity) == show(2, quantity) == show(2.0, quantity)
    assert show(np.float32(2.0), quantity) == show(np.int64(2), quantity) == show(2.0, quantity)
