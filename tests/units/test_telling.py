"""Few digits beside wide bands, and enough to tell a figure from its limit."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from core.units import UnitSet, digits_beside, from_si, show_beside


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
