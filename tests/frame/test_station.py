"""Places along members: exact against nodes put at the same places, and quick for many of them."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import BadEntry
from core.frame import (
    Station,
    flexibility,
    interior_energy,
    member_energy,
    self_weight,
    shares,
    solve,
    spring_energy,
    station_interior,
    station_matrix,
    station_uniform,
    weight_per_length,
)
from core.frame.station import station_dofs
from tests.frame.frames import design, random_frame, split

seeds = st.integers(0, 10_000)
few = settings(max_examples=20)


def station_flexibility(frame, stations):
    phi = station_matrix(frame, stations)
    c = flexibility(frame, np.arange(frame.dofs))
    return phi @ c @ np.swapaxes(phi, -1, -2) + station_interior(frame, stations)


@few
@given(seed=seeds, xi=st.lists(st.floats(0.05, 0.95), min_size=2, max_size=2), member=st.integers(0, 5))
def test_stations_equal_split_nodes(seed, xi, member):
    """Two places on one member and one on the next, against a frame with nodes there."""
    first, second = min(xi), max(xi)
    second = max(second, first + 0.02)
    frame = random_frame(seed)
    stations = Station(np.array([member, member, member + 1]), np.array([first, second, 0.4]))
    ours = station_flexibility(frame, stations)
    pieces = split(split(frame, member, second), member, first / second)
    pieces = split(pieces, member + 1, 0.4)
    n = len(frame.node_names)
    nodes = np.array([n + 1, n, n + 2])
    theirs = flexibility(pieces, (6 * nodes[:, None] + np.arange(6)).ravel())
    size = np.sqrt(np.diag(theirs))
    assert np.all(np.abs(ours - theirs) <= 1e-9 * np.outer(size, size))


@few
@given(seed=seeds, xi=st.floats(0.05, 0.95), member=st.integers(0, 6))
def test_sag_equals_a_split_node(seed, xi, member):
    frame = random_frame(seed)
    stations = Station(np.array([member]), np.array([xi]))
    u = solve(frame, self_weight(frame)).displacements
    ours = station_matrix(frame, stations) @ u + station_uniform(frame, stations, weight_per_length(frame))
    pieces = split(frame, member, xi)
    theirs = solve(pieces, self_weight(pieces)).displacements[-6:]
    assert np.abs(ours - theirs).max() < 1e-9 * np.abs(u).max()


@few
@given(seed=seeds, xi=st.floats(0.05, 0.95))
def test_energy_is_half_the_work_and_shares_add_to_one(seed, xi):
    frame = random_frame(seed)
    rng = np.random.default_rng(seed)
    stations = Station(np.array([2, 4]), np.array([xi, 0.5]))
    forces, on_nodes = rng.normal(size=12) * 100, rng.normal(size=frame.dofs) * 100
    phi = station_matrix(frame, stations)
    u = solve(frame, on_nodes + phi.T @ forces).displacements
    moved = phi @ u + station_interior(frame, stations) @ forces
    held = frame.held.ravel()
    work = 0.5 * (on_nodes[~held] @ u[~held] + forces @ moved)
    members = member_energy(frame, u) + interior_energy(frame, stations, forces)
    whole = shares(frame, members, spring_energy(frame, u))
    assert np.isclose(whole.energy.sum(), work, rtol=1e-9)
    assert np.isclose(whole.fraction.sum(), 1.0, rtol=1e-12)
    assert np.all(whole.energy >= 0.0)
    assert set(whole.components) == {"part 0", "part 1", "part 2", "ground", "turning", "meeting"}
    piece = split(frame, 2, xi)
    again = member_energy(
        piece, solve(piece, np.append(on_nodes + _at(phi, 1) @ forces[6:], forces[:6])).displacements
    )
    joined = again[2] + again[-1]
    assert np.isclose(joined, members[2], rtol=1e-8)


def _at(phi, station):
    return phi[6 * station : 6 * station + 6].T


def test_stations_at_the_ends_follow_the_nodes():
    frame = random_frame(5, offsets=False)
    ends = station_matrix(frame, Station(np.array([1, 1]), np.array([0.0, 1.0])))
    expected = np.zeros_like(ends)
    expected[:6, 6:12] = expected[6:, 12:18] = np.eye(6)
    assert np.allclose(ends, expected, atol=1e-13)
    assert np.abs(station_interior(frame, Station(np.array([1, 1]), np.array([0.0, 1.0])))).max() < 1e-18


def test_many_places_on_one_frame_equal_a_loop():
    frame = random_frame(8)
    xi = np.random.default_rng(1).uniform(0, 1, (200, 3))
    members = np.array([1, 1, 3])
    stations = Station(members, xi)
    dofs = np.unique(station_dofs(frame, stations))
    phi, inside = station_matrix(frame, stations, dofs), station_interior(frame, stations)
    assert phi.shape == (200, 18, dofs.size)
    for place in (0, 77, 199):
        alone = Station(members, xi[place])
        assert np.allclose(phi[place], station_matrix(frame, alone)[:, dofs], rtol=1e-12, atol=1e-13)
        assert np.allclose(inside[place], station_interior(frame, alone), rtol=1e-12, atol=1e-20)


def test_places_on_a_batch_of_frames_equal_a_loop():
    frame = random_frame(9, batch=(4, 1))
    xi = np.random.default_rng(1).uniform(0, 1, (5, 2))
    stations = Station(np.array([2, 2]), xi)
    phi, inside = station_matrix(frame, stations), station_interior(frame, stations)
    sag = station_uniform(frame, stations, weight_per_length(frame))
    assert phi.shape == (4, 5, 12, frame.dofs)
    assert inside.shape == (4, 5, 12, 12)
    for d, p in np.ndindex(4, 5):
        one, alone = design(frame, (d, 0)), Station(np.array([2, 2]), xi[p])
        assert np.allclose(phi[d, p], station_matrix(one, alone), rtol=1e-11, atol=1e-12)
        assert np.allclose(inside[d, p], station_interior(one, alone), rtol=1e-11, atol=1e-19)
        assert np.allclose(
            sag[d, p], station_uniform(one, alone, weight_per_length(one)), rtol=1e-11, atol=1e-16
        )


@pytest.mark.parametrize("xi", [-0.1, 1.1, np.nan])
def test_a_place_off_the_member_is_refused(xi):
    with pytest.raises(BadEntry) as caught:
        Station(np.array([0]), np.array([xi]))
    assert "station 0" in caught.value.where


def test_unknown_members_and_missing_columns_are_refused():
    frame = random_frame(1)
    with pytest.raises(BadEntry):
        station_matrix(frame, Station(np.array([99]), np.array([0.5])))
    with pytest.raises(BadEntry):
        station_matrix(frame, Station(np.array([0]), np.array([0.5])), dofs=np.arange(3))
