"""Laws of any frame: symmetry, rigid motion, superposition, turning the whole, splitting, batch."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from core.frame import FrameBuilder, flexibility, self_weight, solve, stiffness
from core.frame.assemble import GRAVITY
from tests.frame.frames import (
    STEEL,
    TUBE,
    design,
    no_springs,
    random_frame,
    random_rotation,
    rigid_motion,
    split,
    turned,
)

seeds = st.integers(0, 10_000)
few = settings(max_examples=25)


def relative(a, b):
    return np.abs(a - b).max() / np.abs(b).max()


@few
@given(seed=seeds)
def test_stiffness_is_symmetric_and_positive(seed):
    k = stiffness(random_frame(seed))
    assert np.array_equal(k, k.T)
    scale = 1 / np.sqrt(np.diag(k))
    assert np.linalg.eigvalsh(k * scale[:, None] * scale)[0] > -1e-12


@few
@given(seed=seeds)
def test_rigid_motion_needs_no_force(seed):
    rng = np.random.default_rng(seed)
    frame = random_frame(seed)
    grounded = np.flatnonzero(frame.springs.j < 0)
    frame.springs.stiffness[grounded] = 0.0
    k = stiffness(frame)
    u = rigid_motion(frame, rng.normal(size=3), rng.normal(size=3))
    assert np.all(np.abs(k @ u) <= 1e-12 * (np.abs(k) @ np.abs(u)))


@few
@given(seed=seeds)
def test_effects_add_up(seed):
    rng = np.random.default_rng(seed)
    frame = random_frame(seed)
    a, b = rng.normal(size=(2, frame.dofs)) * 500
    both = solve(frame, 2.0 * a - 3.0 * b).displacements
    each = solve(frame, np.stack([a, b], axis=-1)).displacements
    assert relative(both, each @ [2.0, -3.0]) < 1e-10


@few
@given(seed=seeds)
def test_turning_the_whole_turns_the_answer(seed):
    rng = np.random.default_rng(seed)
    b = random_frame(seed)
    b.held[-1] = True
    rotation = random_rotation(rng)
    loads = rng.normal(size=(len(b.node_names) * 2, 3)) * 300
    here = solve(b, loads.reshape(-1))
    there = solve(turned(b, rotation, (3.0, -2.0, 1.0)), (loads @ rotation.T).reshape(-1))
    assert relative(there.displacements, (here.displacements.reshape(-1, 3) @ rotation.T).reshape(-1)) < 1e-9
    assert relative(there.reactions, (here.reactions.reshape(-1, 3) @ rotation.T).reshape(-1)) < 1e-8


@few
@given(seed=seeds)
def test_reciprocity(seed):
    frame = random_frame(seed)
    rng = np.random.default_rng(seed)
    i, j = rng.choice(np.flatnonzero(~frame.held.ravel()), 2, replace=False)
    unit = np.eye(frame.dofs)
    forth, back = solve(frame, unit[i]).displacements[j], solve(frame, unit[j]).displacements[i]
    both = flexibility(frame, np.array([i, j]))
    size = np.sqrt(both[0, 0] * both[1, 1])
    assert abs(forth - back) < 1e-10 * size
    assert abs(forth - both[1, 0]) < 1e-10 * size


@few
@given(seed=seeds, xi=st.floats(0.05, 0.95), member=st.integers(0, 6))
def test_splitting_a_member_changes_nothing(seed, xi, member):
    frame = random_frame(seed)
    pieces = split(frame, member, xi)
    loads = np.random.default_rng(seed).normal(size=frame.dofs) * 400
    whole = solve(frame, loads).displacements
    parted = solve(pieces, np.append(loads, np.zeros(6))).displacements
    assert relative(parted[:-6], whole) < 1e-9
    weight = solve(frame, self_weight(frame)).displacements
    assert relative(solve(pieces, self_weight(pieces)).displacements[:-6], weight) < 1e-9


@few
@given(seed=seeds)
def test_batch_equals_loop(seed):
    frame = random_frame(seed, batch=(2, 3))
    assert frame.batch == (2, 3)
    weight = self_weight(frame)
    together = solve(frame, weight)
    for index in np.ndindex(2, 3):
        one = design(frame, index)
        assert one.batch == ()
        alone = solve(one, self_weight(one))
        assert np.allclose(weight[index], self_weight(one), rtol=1e-13, atol=1e-9)
        assert relative(together.displacements[index], alone.displacements) < 1e-9
        assert relative(together.reactions[index], alone.reactions) < 1e-9
    assert together.residual.shape == together.equilibrium.shape == (2, 3)


def test_many_loads_on_one_frame_equal_a_loop():
    frame = random_frame(3)
    loads = np.random.default_rng(0).normal(size=(4, 5, frame.dofs, 2))
    together = solve(frame, loads)
    assert together.displacements.shape == loads.shape
    assert together.residual.shape == together.equilibrium.shape == (4, 5)
    for index in np.ndindex(4, 5):
        assert relative(together.displacements[index], solve(frame, loads[index]).displacements) < 1e-9
        assert relative(together.reactions[index], solve(frame, loads[index]).reactions) < 1e-9


@few
@given(seed=seeds)
def test_reactions_carry_the_weight(seed):
    frame = no_springs(random_frame(seed))
    start, end = frame.member_ends()
    length = np.linalg.norm(end - start, axis=-1)
    mass = frame.node_mass.sum() + (frame.members.linear_weight * length).sum()
    found = solve(frame, self_weight(frame))
    up = found.reactions.reshape(-1, 6)[:, :3].sum(axis=0)
    assert np.allclose(up, -mass * np.array(GRAVITY), atol=1e-8 * mass)
    assert found.equilibrium < 1e-10


def test_weight_of_a_member_on_an_arm_turns_its_node():
    b = FrameBuilder()
    b.add_node("post", (0, 0, 0))
    b.add_node("end", (2, 0, 0))
    arms = {"offset_i": (0, 0.3, 0), "offset_j": (0, 0.3, 0)}
    b.add_member("bar", "post", "end", up=(0, 0, 1), linear_weight=10.0, **STEEL, **TUBE, **arms)
    weight = self_weight(b.build(), gravity=(0, 0, -10.0)).reshape(2, 6)
    assert np.allclose(weight[:, 2], -100.0)
    assert np.allclose(weight[:, 3], -30.0)  # 100 N down, 0.3 m towards +Y: turns about X by -30 N m
    assert np.allclose(weight[:, 4], [100 * 2 / 6, -100 * 2 / 6])


def test_springs_to_the_ground_alone_can_hold_a_frame():
    b = FrameBuilder()
    b.add_node("block", (0, 0, 0))
    for axis in range(3):
        b.add_spring(f"push {axis}", "block", -1, np.eye(3)[axis], 2e6)
        b.add_spring(f"turn {axis}", "block", -1, np.eye(3)[axis], 500.0, turning=True)
    u = solve(b.build(), [10, 20, 30, 1, 2, 3]).displacements
    assert np.allclose(u, [5e-6, 1e-5, 1.5e-5, 2e-3, 4e-3, 6e-3], rtol=1e-12)


def test_a_spring_on_an_arm_pulls_and_turns():
    # One vertical spring 0.2 m to the side of a post that may only turn about Y: k r^2 against the moment.
    b = FrameBuilder()
    b.add_node("post", (0, 0, 0))
    b.hold("post", (0, 1, 2, 3, 5))
    b.add_spring("strut", "post", -1, (0, 0, 1), 1e6, arm_i=(0.2, 0, 0))
    found = solve(b.build(), [0, 0, 0, 0, 40.0, 0])
    assert np.isclose(found.displacements[4], 40.0 / (1e6 * 0.04))
    assert np.isclose(
        found.reactions[2], -40.0 / 0.2
    )  # pushed down at the arm's end, so held down at the post
    assert found.equilibrium < 1e-14
