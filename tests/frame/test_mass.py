"""Mass of frames: laws that any mass matrix obeys, lumps on arms, and members cut into pieces."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.errors import BadEntry
from core.frame import FrameBuilder, solve, stiffness
from core.frame.mass import Lumps, box_inertia, lump_mass, mass, rigid_motions, rod_inertia
from core.frame.sparse import stiffness_and_mass
from core.frame.subdivide import subdivide
from tests.frame.frames import STEEL, TUBE, random_frame

SEEDS = range(4)


def lump(frame, arm=(0.1, -0.2, 0.3), kilograms=3.0):
    inertia = np.array([[0.3, 0.02, 0.01], [0.02, 0.2, 0.03], [0.01, 0.03, 0.25]])
    node = np.array([frame.node("n2")])
    return Lumps(node, np.array([arm]), np.array([kilograms]), inertia[None], ("body",))


@pytest.mark.parametrize("seed", SEEDS)
def test_rigid_shifts_feel_all_kilograms(seed):
    frame = random_frame(seed)
    body = lump(frame)
    start, end = frame.member_ends()
    length = np.linalg.norm(end - start, axis=-1)
    total = frame.node_mass.sum() + (frame.members.linear_weight * length).sum() + 3.0
    shift = rigid_motions(frame)[:, :3]
    assert shift.T @ mass(frame, body) @ shift == pytest.approx(total * np.eye(3))


@pytest.mark.parametrize("seed", SEEDS)
def test_mass_is_symmetric_and_not_negative(seed):
    frame = random_frame(seed)
    m = mass(frame, lump(frame))
    assert np.array_equal(m, m.T)
    assert np.linalg.eigvalsh(m).min() > -1e-12 * np.abs(m).max()


@pytest.mark.parametrize("seed", SEEDS)
def test_sparse_and_dense_are_the_same(seed):
    frame = random_frame(seed)
    body = lump(frame)
    k, m = stiffness_and_mass(frame, body)
    assert k.toarray() == pytest.approx(stiffness(frame), rel=1e-12, abs=1e-3)
    assert m.toarray() == pytest.approx(mass(frame, body), rel=1e-12, abs=1e-12)


def test_a_batch_is_as_its_designs():
    frame = random_frame(3, batch=(2,))
    both = mass(frame)
    assert both.shape == (2, frame.dofs, frame.dofs)
    assert not np.allclose(both[0], both[1])


def test_a_lump_on_an_arm_follows_the_parallel_axes():
    frame = random_frame(1)
    body = lump(frame, arm=(0.0, 0.0, 0.5), kilograms=4.0)
    block = lump_mass(body)[0]
    assert block[3, 3] == pytest.approx(0.3 + 4.0 * 0.25)
    assert block[5, 5] == pytest.approx(0.25)
    # Turning about Y moves the body, 0.5 m up, along X.
    assert block[0, 4] == pytest.approx(4.0 * 0.5)


def test_bodies():
    assert np.diag(box_inertia(12.0, (1.0, 2.0, 3.0))) == pytest.approx([13.0, 10.0, 5.0])
    assert np.diag(rod_inertia(12.0, 0.2, 1.0)) == pytest.approx([1.03, 1.03, 0.06])


def test_a_bad_lump_is_refused():
    frame = random_frame(1)
    with pytest.raises(BadEntry):
        lump(frame, kilograms=-1.0)
    with pytest.raises(BadEntry):
        lump(frame, arm=(np.nan, 0.0, 0.0))
    with pytest.raises(BadEntry):
        mass(frame, replace(lump(frame), node=np.array([99])))


@pytest.mark.parametrize("seed", SEEDS)
def test_cut_members_give_the_same_statics_and_weight(seed):
    frame = random_frame(seed)
    counts = np.random.default_rng(seed).integers(1, 5, len(frame.members.names))
    fine = subdivide(frame, counts)
    assert len(fine.members.names) == counts.sum()
    assert fine.node_names[: len(frame.node_names)] == frame.node_names
    loads = np.random.default_rng(seed).normal(size=frame.dofs) * 100.0
    more = np.concatenate([loads, np.zeros(fine.dofs - frame.dofs)])
    before, after = solve(frame, loads).displacements, solve(fine, more).displacements[: frame.dofs]
    assert after == pytest.approx(before, rel=1e-7, abs=1e-9 * np.abs(before).max())
    shift = rigid_motions(fine)[:, 0]
    whole = rigid_motions(frame)[:, 0]
    assert shift @ mass(fine) @ shift == pytest.approx(whole @ mass(frame) @ whole)


def test_counts_that_do_not_fit_are_refused():
    frame = random_frame(1)
    for counts in (np.ones(3, int), np.zeros(len(frame.members.names), int)):
        with pytest.raises(BadEntry):
            subdivide(frame, counts)


def test_members_without_mass_may_stand_beside_others():
    b = FrameBuilder()
    b.add_node("a", (0, 0, 0))
    b.add_node("b", (1, 0, 0), mass=2.0)
    b.add_member("bar", "a", "b", up=(0, 0, 1), **STEEL, **TUBE)
    m = mass(b.build())
    assert m.sum() == pytest.approx(6.0)
