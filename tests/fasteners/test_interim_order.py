"""The order of filling: ends first, then the widest gap; more screws never leave a longer gap or a smaller margin."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.fasteners.holes import place_holes
from core.fasteners.interim import fitting_order, longest_stretch
from core.fasteners.interim.loads import UnitForces, on_one_screw
from core.fasteners.interim.margin import (
    Demand,
    RailSection,
    most_acceleration,
    push_demand,
    slip_margin,
    speeding_demand,
    weight_demand,
)
from core.fasteners.interim.order import end_holes
from core.fasteners.pieces import RailPiece, cut_pair, pieces

LENGTHS = st.integers(300, 4000).map(lambda mm: mm / 1000.0)
LONGEST = st.sampled_from((None, 2.0, 1.2, 0.8))
RESTS = st.lists(st.floats(0.0, 4.0), max_size=3)


def rail(length: float, longest: float | None) -> tuple[tuple[float, ...], tuple[RailPiece, ...]]:
    holes = place_holes(length, 0.06, 0.02).places
    cut = cut_pair(length, holes, longest, 0.0)
    return holes, pieces(length, holes, cut.joints[0])


@given(LENGTHS, LONGEST, RESTS)
def test_every_hole_once_and_the_ends_of_all_pieces_first(
    length: float, longest: float | None, rests: list[float]
) -> None:
    holes, parts = rail(length, longest)
    order = fitting_order(holes, parts, rests)
    assert sorted(order) == list(range(1, len(holes) + 1))
    assert order[:2] == (1, len(holes))
    ends = {number for piece in parts for number in piece.holes}
    assert set(order[: len(ends)]) == ends == set(end_holes(parts))


@given(LENGTHS, LONGEST, RESTS)
def test_the_widest_gap_is_always_the_next_to_be_filled(
    length: float, longest: float | None, rests: list[float]
) -> None:
    holes, parts = rail(length, longest)
    order = fitting_order(holes, parts, rests)
    for k in range(len(end_holes(parts)), len(order)):
        filled = sorted(order[:k])
        gaps = [holes[b - 1] - holes[a - 1] for a, b in itertools.pairwise(filled) if b - a > 1]
        below = max(n for n in filled if n < order[k])
        above = min(n for n in filled if n > order[k])
        assert holes[above - 1] - holes[below - 1] == pytest.approx(max(gaps))
        assert abs((above - order[k]) - (order[k] - below)) <= 1


UNITS = st.integers(0, 2**32 - 1)


def forces(seed: int) -> UnitForces:
    made = np.random.default_rng(seed)
    count = int(made.integers(1, 5))
    places = np.sort(made.uniform(-0.3, 0.3, count))
    return UnitForces(made.normal(size=(4, count, 7)) * 50.0, made.normal(size=(4, count, 7)) * 50.0, places)


@given(LENGTHS, LONGEST, UNITS)
def test_more_screws_never_leave_a_longer_gap_nor_a_smaller_margin(
    length: float, longest: float | None, seed: int
) -> None:
    holes, parts = rail(length, longest)
    order = fitting_order(holes, parts)
    unit = forces(seed)
    section = RailSection.of(2.2, 0.02, 0.017)
    before: tuple[float, ...] | None = None
    for count in range(len(end_holes(parts)), len(order) + 1):
        now = order[:count]
        gap = longest_stretch(holes, parts, now)
        assert gap is not None
        least = min(sum(p.holes[0] <= n <= p.holes[1] for n in now) for p in parts)
        rest = weight_demand(unit, gap.length, 2.2, 60.0, least)
        hand = rest.plus(push_demand(unit, gap.length, 100.0))
        each = speeding_demand(unit, gap.length, 2.2, 1)
        figures = (
            -gap.length,
            slip_margin(rest, 0.1, 4000.0),
            slip_margin(hand, 0.1, 4000.0),
            most_acceleration(rest, each, 0.1, 4000.0, 2.0),
            -section.give(hand, gap.length),
        )
        if before is not None:
            assert all(new >= old - 1e-9 * abs(old) - 1e-12 for new, old in zip(figures, before, strict=True))
        before = figures


@given(UNITS, st.floats(0.0, 5.0))
def test_the_allowed_acceleration_just_keeps_the_margin(seed: int, wanted: float) -> None:
    unit = forces(seed)
    rest, each = weight_demand(unit, 0.12, 2.2, 60.0, 8), speeding_demand(unit, 0.12, 2.2, 0)
    most = most_acceleration(rest, each, 0.12, 5000.0, 1.0 + wanted)
    if most > 0.0:
        assert slip_margin(rest.plus(each.times(most)), 0.12, 5000.0) == pytest.approx(1.0 + wanted)
    else:
        assert slip_margin(rest, 0.12, 5000.0) <= 1.0 + wanted + 1e-9


@given(st.lists(st.floats(0.0, 1000.0), min_size=2, max_size=4), st.floats(0.02, 2.0), st.floats(0.0, 3.0))
def test_the_bound_covers_every_screw_of_a_row_of_simple_beams(
    sizes: list[float], gap: float, shift: float
) -> None:
    """Screws `gap` apart, carriages anywhere: no screw gets more than the bound by the law of the lever."""
    places = np.linspace(0.0, 0.35, len(sizes))
    loads = np.array([sizes])
    screws = np.arange(-5.0, 8.0, gap)
    share = np.maximum(0.0, 1.0 - np.abs(screws[:, None] - (places + shift)[None, :]) / gap)
    assert (share @ np.array(sizes)).max() <= on_one_screw(loads, places, gap)[0] * (1.0 + 1e-9) + 1e-9


def test_a_pull_over_the_preload_leaves_no_margin() -> None:
    demand = Demand(np.array([100.0]), np.array([5000.0]))
    assert slip_margin(demand, 0.2, 4000.0) == 0.0
    assert most_acceleration(demand, Demand(np.ones(1), np.ones(1)), 0.2, 4000.0, 2.0) == 0.0
