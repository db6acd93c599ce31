"""Hole places: most that fit, even ends, and what a set first hole does."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.fasteners import place_holes

lengths = st.floats(0.05, 12.0)
pitches = st.sampled_from([0.06, 0.08, 0.105])
ends = st.floats(0.004, 0.04)


@given(lengths, pitches, ends)
def test_ends_are_even_and_no_further_hole_fits(length: float, pitch: float, end: float) -> None:
    holes = place_holes(length, pitch, end)
    if length < 2.0 * end - 1e-6:
        assert holes.count == 0
        return
    if holes.count == 0:
        return  # within rounding of no hole at all
    assert holes.first == pytest.approx(holes.last, abs=1e-9)
    assert end - 1e-9 <= holes.first < end + pitch / 2.0 + 1e-9
    assert all(0.0 < place < length for place in holes.places)
    steps = [b - a for a, b in zip(holes.places, holes.places[1:], strict=False)]
    assert steps == pytest.approx([pitch] * (holes.count - 1), abs=1e-9)


@given(lengths, st.floats(0.0, 1.0), pitches, ends)
def test_a_longer_rail_never_has_fewer_holes(length: float, more: float, pitch: float, end: float) -> None:
    assert place_holes(length + more, pitch, end).count >= place_holes(length, pitch, end).count


@given(lengths, pitches, ends, st.floats(0.004, 0.2))
def test_a_set_first_hole_is_kept_and_the_ends_add_up(
    length: float, pitch: float, end: float, first: float
) -> None:
    holes = place_holes(length, pitch, end, first)
    assume(abs(length - first) > 1e-9)  # rounding decides about a hole right at the end
    if length < first:
        assert holes.count == 0
        return
    assert holes.first == first
    assert holes.places[0] == pytest.approx(first)
    assert -1e-9 <= holes.last < pitch
    assert holes.places[-1] + holes.last == pytest.approx(length, abs=2e-9)


def test_whole_pitches_are_not_lost_to_rounding() -> None:
    for count in range(1, 200):
        assert place_holes((count - 1) * 0.06 + 0.04, 0.06, 0.02).count == count
