"""Prices by foot and pound against the exact definitions, and lines of a bill against exact fractions."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.prices import exact, times, total
from core.prices.find import FOOT, POUND


@pytest.mark.outside(
    what="foot and pound behind prices by the foot and by the pound",
    source="NIST Special Publication 811 (2008), appendix B.8: 0.3048 m and 0.45359237 kg, both exact",
    status="memory high",
    tolerance="none",
)
def test_foot_and_pound() -> None:
    assert Fraction(FOOT) == Fraction(3048, 10000)
    assert Fraction(POUND) == Fraction(45359237, 10**8)


@pytest.mark.outside(
    what="foot and pound behind prices by the foot and by the pound",
    source="pint, a general-purpose library of units",
    status="reference library",
    tolerance="1e-15 relative",
)
def test_foot_and_pound_by_a_library() -> None:
    units = pint.UnitRegistry()
    assert float(FOOT) == pytest.approx(units.Quantity(1, "foot").to("m").magnitude, rel=1e-15)
    assert float(POUND) == pytest.approx(units.Quantity(1, "pound").to("kg").magnitude, rel=1e-15)


@pytest.mark.outside(
    what="lines of a bill and their sum, as typed with up to four decimals",
    source="exact rational arithmetic of Python's fractions",
    status="computed",
    tolerance="half a hundredth a line; sums exact",
)
@given(st.lists(st.tuples(st.integers(0, 10**9), st.integers(0, 10**4)), max_size=20))
def test_lines_and_sums_by_fractions(rows: list[tuple[int, int]]) -> None:
    lines = [times(exact(price / 10**4), count) for price, count in rows]
    for line, (price, count) in zip(lines, rows, strict=True):
        hundredths = Fraction(price, 10**4) * count * 100
        assert Fraction(line) * 100 == (2 * hundredths + 1) // 2
    assert Fraction(total(lines)) == sum((Fraction(line) for line in lines), Fraction(0))
