"""Few digits beside wide bands, and enough to tell a figure from its limit."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.units import METRIC, UnitSet, digits_beside, from_si, parse, show_beside, tell


def test_two_digits_are_enough_far_from_the_limit():
    assert show_beside(37.54e-6, 100e-6, "deflection") == "0.038 mm"


def test_more_digits_where_the_figure_nears_its_limit():
    assert show_beside(100.4e-6, 100e-6, "deflection") == "0.1004 mm"
    assert show_beside(99.8e-6, 100e-6, "deflection") == "0.0998 mm"


def test_a_figure_on_its_limit_needs_no_more():
    assert digits_beside([(0.5e-3, 0.5e-3)], "deflection") == 2


def test_one_count_of_digits_serves_all_pairs():
    assert digits_beside([(37.54e-6, 100e-6), (100.4e-6, 100e-6)], "deflection", UnitSet("mm")) == 4


@given(st.floats(1e-7, 1e-2), st.floats(1e-7, 1e-2), st.sampled_from(["mm", "in"]))
def test_the_figure_shown_lies_on_its_own_side(value, limit, length):
    units = UnitSet(length)
    shown = float(show_beside(value, limit, "deflection", units).split()[0])
    if abs(value - limit) > 1e-5 * limit:
        assert (shown > from_si(limit, "deflection", units)) == (value > limit)


@pytest.mark.parametrize(
    ("value", "quantity", "units", "told"),
    [
        (4068.8, "force", METRIC, "4070 N"),
        (0.00016128, "deflection", METRIC, "0.161 mm"),
        (7.9e-9, "deflection", METRIC, "0 mm"),
        (7.921e-7, "deflection", METRIC, "0.0008 mm"),
        (6.384e-8, "compliance", METRIC, "6.38 µm per 100 N"),
        (4.4667e9, "distance_run", METRIC, "4470000 km"),
        (0.0001, "deflection", UnitSet("in", "lbf"), "3.94 thou"),
        (-2.0e-4, "deflection", METRIC, "-0.2 mm"),
        (math.inf, "force", METRIC, "infinite"),
    ],
)
def test_computed_figures_are_told_with_three_digits(
    value: float, quantity: str, units: UnitSet, told: str
) -> None:
    assert tell(value, quantity, units) == told


@given(st.floats(1e-3, 1e9), st.sampled_from(["force", "length", "stress", "frequency"]))
def test_what_is_told_lies_within_half_a_percent(value: float, quantity: str) -> None:
    assert parse(tell(value, quantity), quantity) == pytest.approx(value, rel=5.01e-3)


def test_a_figure_is_rounded_once() -> None:
    assert tell(0.00094999e-3, "deflection", METRIC) == "0.0009 mm"
    assert tell(3.7546e-5, "deflection", METRIC, 2) == "0.038 mm"
