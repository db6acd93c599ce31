"""Modes of frames against the plain dense solve, and parts joined by springs against the whole."""

from __future__ import annotations

import numpy as np
import pytest
import scipy.linalg

from core.errors import BadEntry
from core.frame import FrameBuilder, Mechanism, NotTrustworthy, stiffness
from core.frame.mass import mass
from core.frame.sparse import stiffness_and_mass
from core.frame.subdivide import subdivide
from core.modes import Joints, find_modes, join, make_part
from core.modes.slowest import number_below
from core.modes.solve import verify
from tests.frame.frames import STEEL, TUBE, random_frame


def plain(frame):
    """Every frequency in Hz by the dense solve of stiffness and mass."""
    free = np.flatnonzero(~frame.held.ravel())
    pick = np.ix_(free, free)
    values = scipy.linalg.eigh(mass(frame)[pick], stiffness(frame)[pick], eigvals_only=True)[::-1]
    return 1.0 / np.sqrt(values[values > 1e-14 * values[0]]) / (2.0 * np.pi)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("pieces", [1, 6])
def test_as_the_plain_solve(seed, pieces):
    frame = random_frame(seed)
    frame = subdivide(frame, np.full(len(frame.members.names), pieces))
    found = find_modes(frame, 6)
    assert found.frequencies == pytest.approx(plain(frame)[:6], rel=1e-8)
    assert np.all(np.diff(found.frequencies) >= 0.0)
    free = ~frame.held.ravel()
    assert not found.shapes[~free].any()
    assert found.shapes.T @ mass(frame) @ found.shapes == pytest.approx(np.eye(6), abs=1e-8)


def test_cutting_finer_lowers_no_further():
    frame = random_frame(2)
    count = len(frame.members.names)
    once, twice = (find_modes(subdivide(frame, np.full(count, n)), 6).frequencies for n in (4, 8))
    assert np.all(twice <= once * (1.0 + 1e-9))
    assert twice == pytest.approx(once, rel=2e-3)


def test_what_moves_freely_is_named():
    b = FrameBuilder()
    b.add_node("a", (0, 0, 0))
    b.add_node("b", (1, 0, 0))
    b.add_member("bar", "a", "b", up=(0, 0, 1), linear_weight=5.0, **STEEL, **TUBE)
    b.hold("a", (0, 1, 2))
    with pytest.raises(Mechanism):
        find_modes(b.build(), 2)


def test_more_modes_than_there_are_is_refused():
    frame = random_frame(0)
    for count in (0, 10_000):
        with pytest.raises(BadEntry):
            find_modes(frame, count)
    with pytest.raises(BadEntry):
        find_modes(random_frame(0, batch=(2,)), 2)


def test_modes_below_a_value_are_counted():
    frame = random_frame(1)
    every = plain(frame)
    free = np.flatnonzero(~frame.held.ravel())
    k, m = (matrix[free][:, free] for matrix in stiffness_and_mass(frame))
    for wanted in (0, 3, 7):
        middle = np.sqrt(every[wanted] * every[wanted - 1]) if wanted else 0.5 * every[0]
        assert number_below(k, m, (2.0 * np.pi * middle) ** 2) == wanted


def test_wrong_modes_are_not_shown():
    frame = random_frame(1)
    found = find_modes(frame, 3)
    k, m = stiffness_and_mass(frame)
    free = np.flatnonzero(~frame.held.ravel())
    k, m = k[free][:, free], m[free][:, free]
    values = (2.0 * np.pi * found.frequencies) ** 2
    verify(k, m, values, found.shapes[free])
    with pytest.raises(NotTrustworthy):
        verify(k, m, values * 1.01, found.shapes[free])
    twice = found.shapes[free][:, [0, 0, 2]]
    with pytest.raises(NotTrustworthy):
        verify(k, m, values[[0, 0, 2]], twice)
    lame = k.tolil()
    lame[0, 1] += 1e9
    with pytest.raises(NotTrustworthy):
        verify(lame.tocsc(), m, values, found.shapes[free])


def two_beams(gap=1e6):
    """A cantilever and a loose beam beside it, tied by three springs; as one frame and as two parts with joints."""
    whole, left, right = FrameBuilder(), FrameBuilder(), FrameBuilder()
    for b in (whole, left):
        b.add_node("foot", (0, 0, 0))
        b.add_node("top", (0, 0, 1))
        b.add_member("post", "foot", "top", up=(0, 1, 0), linear_weight=12.0, **STEEL, **TUBE)
        for axis, d in enumerate(np.eye(3)):
            b.add_spring(f"ground {axis}", "foot", -1, d, 5e7)
            b.add_spring(f"ground about {axis}", "foot", -1, d, 5e5, turning=True)
    for b in (whole, right):
        b.add_node("a", (0, 0, 1), mass=1.0)
        b.add_node("b", (0, 1, 1), mass=4.0)
        b.add_member("arm", "a", "b", up=(0, 0, 1), linear_weight=8.0, **STEEL, **TUBE)
    arms = (
        (0.1, 0.0, 0.0),
        (-0.1, 0.05, 0.0),
        (0.0, 0.0, 0.1),
        (0.0, 0.1, 0.0),
        (0.0, 0.0, -0.2),
        (0.05, 0.2, 0.1),
    )
    springs = []
    for n, arm in enumerate(arms):
        d = np.eye(3)[n % 3]
        whole.add_spring(f"tie {n}", "top", "a", d, gap * (n + 1), arm_i=arm, arm_j=arm)
        springs.append((d, np.cross(arm, d), gap * (n + 1)))
    return whole.build(), left.build(), right.build(), springs


@pytest.mark.parametrize("kept", [8, 14, 60])
def test_joined_parts_are_as_the_whole(kept):
    whole, left, right, springs = two_beams()
    cut = [subdivide(f, np.full(len(f.members.names), 5)) for f in (whole, left, right)]
    rows = []
    for frame, node, sign in ((cut[1], "top", -1.0), (cut[2], "a", 1.0)):
        row = np.zeros((2, len(springs), frame.dofs))
        at = 6 * frame.node(node)
        for s, (d, turn, _) in enumerate(springs):
            row[:, s, at : at + 6] = sign * np.concatenate([d, turn])
        rows.append(row)
    stiff = np.array([[k for _, _, k in springs]] * 2) * np.array([[1.0], [3.0]])
    tip = np.zeros((3, cut[2].dofs))
    at = 6 * cut[2].node("b")
    tip[:, at : at + 3] = np.eye(3)
    parts = make_part(cut[1], kept), make_part(cut[2], kept)
    inner = np.zeros((2, len(springs), len(springs)))
    joined = join(parts, Joints(tuple(rows), stiff, inner, tip))
    for place, factor in enumerate((1.0, 3.0)):
        other = two_beams(1e6 * factor)[0]
        other = subdivide(other, np.full(len(other.members.names), 5))
        full = find_modes(other, 6)
        assert joined.frequencies[place, :6] == pytest.approx(
            full.frequencies, rel=5e-6
        )  # 8e-5 without the rest's mass
        node = 6 * other.node("b")
        unit = np.zeros((other.dofs, 3))
        unit[node : node + 3] = np.eye(3)
        static = np.linalg.solve(stiffness(other), unit)[node : node + 3]
        assert joined.static[place] == pytest.approx(static, rel=2e-3, abs=1e-3 * np.abs(static).max())
        shapes = joined.shapes(parts, place, 3)
        theirs = full.shapes[node : node + 3, :3]
        ours = shapes[1][at : at + 3]
        assert np.abs(ours) == pytest.approx(np.abs(theirs), rel=2e-3, abs=2e-4 * np.abs(theirs).max())


def test_a_part_without_mass_or_hold_is_refused():
    b = FrameBuilder()
    b.add_node("a", (0, 0, 0))
    b.add_node("b", (1, 0, 0))
    b.add_member("bar", "a", "b", up=(0, 0, 1), **STEEL, **TUBE)
    with pytest.raises((Mechanism, NotTrustworthy)):
        make_part(b.build(), 4)
