"""The frontier against its own definition, and the search for the worst place against a look at all places."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.rank import frontier
from core.rank.worst import climb, deflection_squared, first_places
from core.stiffness.deflection import deflection

few = st.integers(0, 6).map(float)


@settings(max_examples=80, deadline=None)
@given(st.lists(st.tuples(st.one_of(few, st.just(np.nan)), few, st.booleans()), max_size=14))
def test_nobody_on_the_frontier_is_beaten_and_everybody_off_it_is(
    rows: list[tuple[float, float, bool]],
) -> None:
    cost, given_, part = (np.array([row[k] for row in rows], dtype=float) for k in range(3))
    among = part.astype(np.bool_) & np.isfinite(cost)
    found = frontier(cost, given_, part.astype(np.bool_))
    for k in range(len(rows)):
        beaten = any(
            among[j]
            and cost[j] <= cost[k]
            and given_[j] <= given_[k]
            and (cost[j] < cost[k] or given_[j] < given_[k])
            for j in range(len(rows))
        )
        assert found[k] == (among[k] and not beaten)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.floats(-1.0, 1.0), min_size=9, max_size=9),
    st.tuples(*[st.floats(-200.0, 200.0)] * 3),
    st.booleans(),
    st.booleans(),
)
def test_the_largest_deflection_is_that_of_all_directions(
    numbers: list[float], force: tuple[float, float, float], turns: bool, level: bool
) -> None:
    root = np.array(numbers).reshape(3, 3)
    soft = (root @ root.T + 0.1 * np.eye(3)) * 1e-7
    load = np.array([force[0], force[1], 0.0 if level else force[2]])
    moved, _ = deflection(soft, load, turns)
    assert deflection_squared(soft, load, turns) == pytest.approx(float(moved @ moved), rel=1e-9, abs=1e-30)


def test_the_climb_finds_the_top_between_the_first_columns() -> None:
    shape = (17, 33)
    y, x = np.meshgrid(np.linspace(-1, 1, 17), np.linspace(-1, 1, 33), indexing="ij")
    tops = [(0.3, -0.6), (-0.9, 0.1), (1.0, 1.0), (0.0, 0.4)]
    size = np.stack([20.0 - (x - b) ** 2 - (y - a) ** 2 for a, b in tops])
    soft = size[..., None, None] * np.eye(3)
    number = np.arange(len(tops))[:, None]
    lines, columns = first_places(shape)
    row, column = climb(
        lambda rows, at: soft[number, rows, at],
        soft[:, lines[:, None], columns],
        lines,
        columns,
        shape,
        np.array([1.0, 0.0, 0.0]),
        False,
    )
    wanted = size.reshape(len(tops), -1).argmax(axis=-1)
    assert row.tolist() == (wanted // 33).tolist()
    assert column.tolist() == (wanted % 33).tolist()
