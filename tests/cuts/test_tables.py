"""The tables of one bar against a list of every pattern; what a bar has room for and what is kept of it."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.cuts.problem import Problem, Stock
from core.cuts.tables import make_tables
from core.errors import BadEntry

KINDS = st.tuples(st.integers(1, 9), st.integers(1, 3), st.floats(-2.0, 5.0))
"""Size, most of it, worth."""


@given(
    st.lists(KINDS, min_size=1, max_size=4, unique_by=lambda kind: kind[0]),
    st.integers(1, 25),
    st.sampled_from((1, 2, 5)),
    st.floats(-3.0, 10.0),
)
def test_every_pattern_worth_enough_is_found_and_the_best_among_them(
    pieces: list[tuple[int, int, float]], room: int, step: int, least: float
) -> None:
    sizes = tuple(size * step for size, _, _ in pieces)
    demand = tuple(count for _, count, _ in pieces)
    values = np.array([value for _, _, value in pieces])
    tables = make_tables(sizes, demand, values, room * step)
    ends = -0.1 * np.arange(room * step // tables.step + 1)
    worth: dict[tuple[int, ...], float] = {}
    for counts in itertools.product(*(range(n + 1) for n in demand)):
        total = sum(n * size for n, size in zip(counts, sizes, strict=True))
        if any(counts) and total <= room * step:
            worth[counts] = float(np.dot(counts, values)) - 0.1 * (total // tables.step)
    enough = {counts for counts, value in worth.items() if value >= least + 1e-9}
    found = list(tables.all(ends, least))
    assert len(set(found)) == len(found)
    assert enough <= set(found) <= {counts for counts, value in worth.items() if value >= least - 1e-9}
    best = tables.best(ends, least, 2)
    assert bool(best) == bool(enough) or not enough
    if enough:
        highest = max(worth.values())
        assert max(worth[counts] for counts in best) == pytest.approx(highest, abs=1e-9)


def test_what_is_kept_and_what_is_used_up() -> None:
    case = Problem((300,), (2,), (Stock(1000, 10), Stock(1000, 0, 1)), 5, 300)
    assert case.room(0) == 985  # the last piece needs no cut
    assert case.kept(0, 690) == 300
    assert case.kept(0, 691) == 0
    assert case.used_up(0, 690) == 710  # the rest counts without its untrimmed end
    assert case.used_up(0, 691) == 1000
    assert case.spent(0, 690) == 1420
    assert case.spent(1, 690) == 690  # metal on hand counts half


@pytest.mark.parametrize(
    ("sizes", "demand"), [((5, 5), (1, 1)), ((3, 5), (1, 1)), ((5,), (0,)), ((5,), ()), ((0,), (1,))]
)
def test_bad_problems_are_refused(sizes: tuple[int, ...], demand: tuple[int, ...]) -> None:
    with pytest.raises(BadEntry):
        Problem(sizes, demand, (Stock(10),))
