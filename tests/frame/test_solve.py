"""What the solver refuses: free motions, named; loads that do not fit; and what it must not refuse."""

from __future__ import annotations

import sys
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import BadEntry, GantrywrightError
from core.frame import FrameBuilder, Mechanism, NotTrustworthy, flexibility, solve
from tests.frame.frames import STEEL, TUBE, random_frame

UP = (0.0, 0.0, 1.0)


def beam(hold_left=(), hold_right=()):
    b = FrameBuilder()
    b.add_node("left", (0, 0, 0))
    b.add_node("right", (2, 0, 0))
    b.add_member("beam", "left", "right", up=UP, **STEEL, **TUBE)
    b.hold("left", hold_left)
    b.hold("right", hold_right)
    return b


def motions(builder):
    frame = builder.build()
    with pytest.raises(Mechanism) as caught:
        solve(frame, np.zeros(frame.dofs))
    assert isinstance(caught.value, GantrywrightError)
    return caught.value.free_motions


def test_a_floating_beam_has_six_free_motions():
    found = motions(beam())
    assert len(found) == 6
    assert {text[-1] for text in found if "slides" in text} == {"X", "Y", "Z"}
    assert {text[-1] for text in found if "turns" in text} == {"X", "Y", "Z"}


def test_a_pinned_beam_spins_about_itself():
    found = motions(beam((0, 1, 2), (1, 2)))
    assert len(found) == 1
    assert "turn" in found[0]
    assert found[0].endswith("about X")


def test_a_beam_on_one_hinge_turns():
    found = motions(beam((0, 1, 2, 3, 5)))
    assert len(found) == 1
    assert found[0].endswith("about Y")


def test_a_sliding_beam_slides():
    found = motions(beam((1, 2, 3, 4, 5), (1, 2)))
    assert len(found) == 1
    assert "slides" in found[0]
    assert found[0].endswith("along X")


def test_a_missing_turning_spring_names_its_node():
    b = beam((0, 1, 2, 3, 4, 5))
    b.add_node("plate", (2, 0, 0))
    for axis in range(3):
        b.add_spring(f"push {axis}", "right", "plate", np.eye(3)[axis], 1e8)
        if axis != 1:
            b.add_spring(f"turn {axis}", "right", "plate", np.eye(3)[axis], 1e5, turning=True)
    found = motions(b)
    assert found == ["node plate turns freely about Y"]


def test_two_loose_plates_are_told_apart():
    b = beam((0, 1, 2, 3, 4, 5))
    for name in ("plate", "knob"):
        b.add_node(name, (2, 0, 0))
        for axis in range(3):
            b.add_spring(f"{name} push {axis}", "right", name, np.eye(3)[axis], 1e8)
            stiff = 0.0 if (name, axis) in (("plate", 1), ("knob", 2)) else 1e5
            b.add_spring(f"{name} turn {axis}", "right", name, np.eye(3)[axis], stiff, turning=True)
    assert sorted(motions(b)) == ["node knob turns freely about Z", "node plate turns freely about Y"]


def test_a_portal_without_its_brace_sways():
    """Two posts on hinges under a hinged beam: a four-bar linkage, until a brace is set."""

    def portal(brace):
        b = FrameBuilder()
        names = ("foot left", "top left", "top right", "foot right")
        for name, place in zip(names, ((0, 0, 0), (0, 0, 1), (2, 0, 1), (2, 0, 0)), strict=True):
            b.add_node(name, place)
        for end in ("left", "right"):
            b.add_node(f"hinge {end}", (0 if end == "left" else 2, 0, 1))
            b.add_member(f"post {end}", f"foot {end}", f"top {end}", up=(1, 0, 0), **STEEL, **TUBE)
            b.hold(f"foot {end}", (0, 1, 2, 3, 5))
            for axis in range(3):
                b.add_spring(f"{end} {axis}", f"top {end}", f"hinge {end}", np.eye(3)[axis], 1e9)
                if axis != 1:
                    b.add_spring(
                        f"{end} t{axis}", f"top {end}", f"hinge {end}", np.eye(3)[axis], 1e6, turning=True
                    )
        b.add_member("beam", "hinge left", "hinge right", up=UP, **STEEL, **TUBE)
        if brace:
            b.add_spring("brace", "foot left", "top right", np.array([2, 0, 1]) / np.sqrt(5), 1e7)
        return b

    found = motions(portal(False))
    assert len(found) == 1
    assert "move freely along X" in found[0]
    assert "top left" in found[0]
    frame = portal(True).build()
    assert np.all(np.isfinite(solve(frame, np.ones(frame.dofs)).displacements))


def test_the_bad_design_of_a_batch_is_named():
    b = FrameBuilder()
    b.add_node("block", np.zeros(3))
    for axis in range(3):
        b.add_spring(f"push {axis}", "block", -1, np.eye(3)[axis], 1e6)
        stiffness = np.array([[300.0, 400.0], [0.0, 0.0]]) if axis == 2 else 500.0
        b.add_spring(f"turn {axis}", "block", -1, np.eye(3)[axis], stiffness, turning=True)
    with pytest.raises(Mechanism) as caught:
        solve(b.build(), np.ones(6))
    assert caught.value.index == (1, 0)
    assert caught.value.free_motions == ["node block turns freely about Z"]


@settings(max_examples=25)
@given(soft=st.floats(1e-7, 1.0), seed=st.integers(0, 999))
def test_a_soft_spring_beside_stiff_members_is_no_mechanism(soft, seed):
    """A frame on springs 1e7 softer than its members' axial stiffness is soft, not free."""
    frame = random_frame(seed, springs=False)
    b = FrameBuilder()
    for name, place in zip(frame.node_names, frame.nodes, strict=True):
        b.add_node(name, place)
    stiff = 210e9 * 1.8e-3 / 0.8
    for axis in range(3):
        b.add_spring(f"push {axis}", 2, -1, np.eye(3)[axis], soft * stiff)
        b.add_spring(f"turn {axis}", 2, -1, np.eye(3)[axis], soft * stiff, turning=True)
    whole = replace(b.build(), members=frame.members, held=np.zeros_like(frame.held))
    loads = np.zeros(whole.dofs)
    loads[12:15] = (100.0, -50.0, 20.0)
    u = solve(whole, loads).displacements
    assert np.allclose(u[12:15], loads[12:15] / (soft * stiff), rtol=1e-5)


def test_parts_differing_1e7_in_a_row_are_no_mechanism():
    b = beam((0, 1, 2, 3, 4, 5))
    b.add_node("stub", (2.01, 0, 0))
    b.add_member("stub", "right", "stub", up=UP, **STEEL, **TUBE)
    b.add_node("head", (2.01, 0, 0))
    for axis in range(3):
        b.add_spring(f"push {axis}", "stub", "head", np.eye(3)[axis], 1e3)
        b.add_spring(f"turn {axis}", "stub", "head", np.eye(3)[axis], 10.0, turning=True)
    frame = b.build()
    c = flexibility(frame, 18 + np.arange(3))
    assert np.isclose(c[0, 0], 1e-3 + 2.01 / (210e9 * 1.8e-3), rtol=1e-6)


def test_a_frame_that_is_held_everywhere_gives_reactions():
    frame = beam(range(6), range(6)).build()
    found = solve(frame, np.arange(12.0))
    assert np.array_equal(found.displacements, np.zeros(12))
    assert np.array_equal(found.reactions, -np.arange(12.0))


def test_no_load_gives_no_movement():
    frame = random_frame(1)
    found = solve(frame, np.zeros(frame.dofs))
    assert not found.displacements.any()
    assert found.residual == found.equilibrium == 0.0


@pytest.mark.parametrize("loads", [np.ones(5), np.full(36, np.nan), np.full(36, np.inf), np.ones((3, 7))])
def test_loads_that_do_not_fit_are_refused(loads):
    with pytest.raises(BadEntry):
        solve(random_frame(1), loads)


def test_loads_that_can_be_read_in_two_ways_are_asked_about():
    frame = random_frame(1, batch=(36,))
    loads = np.random.default_rng(0).normal(size=(36, 36))
    with pytest.raises(BadEntry):
        solve(frame, loads)
    rows = solve(frame, loads, columns=False).displacements
    cases = solve(frame, loads, columns=True).displacements
    assert rows.shape == (36, 36)
    assert cases.shape == (36, 36, 36)
    assert np.allclose(rows[7], solve(frame, loads[7]).displacements[7], rtol=1e-9, atol=1e-15)


def test_flexibility_refuses_unknown_degrees_of_freedom():
    with pytest.raises(BadEntry):
        flexibility(random_frame(1), np.array([0, 36]))


@pytest.mark.parametrize("error", [1e-6, np.nan, np.inf])
def test_a_wrong_solution_is_refused(monkeypatch, error):
    """Were the library underneath to fail, the checks after it must see it."""
    frame = random_frame(1)
    right = np.linalg.solve

    def wrong(a, b):
        y = right(a, b)
        y[7] += error * np.abs(y).max()
        return y

    monkeypatch.setattr(np.linalg, "solve", wrong)
    with pytest.raises(NotTrustworthy):
        solve(frame, np.ones(frame.dofs))


def test_loads_and_reactions_out_of_balance_are_refused(monkeypatch):
    """A stiffness that is wrong between two nodes solves well, but creates force from nothing."""
    module = sys.modules[solve.__module__]
    whole = module.stiffness

    def wrong(frame):
        k = whole(frame)
        k[8, 8] *= 1.001
        return k

    monkeypatch.setattr(module, "stiffness", wrong)
    frame = random_frame(1)
    with pytest.raises(NotTrustworthy) as caught:
        solve(frame, np.ones(frame.dofs))
    assert "balance" in caught.value.problem


def test_numbers_beyond_all_measure_are_refused_without_a_warning():
    frame = beam((0, 1, 2, 3, 4, 5)).build()
    members = replace(frame.members, young=np.array([1e300]), area=np.array([1e300]))
    with pytest.raises(NotTrustworthy):
        solve(replace(frame, members=members), np.ones(12))
    with pytest.raises(NotTrustworthy):
        solve(frame, np.full(12, 1e308))
    with pytest.raises(BadEntry):
        replace(frame, nodes=frame.nodes * 1e300)
    with pytest.raises(BadEntry):
        solve(replace(frame, nodes=frame.nodes * 0.0), np.zeros(12))


def test_a_body_on_a_hinge_is_said_to_turn_as_one():
    b = FrameBuilder()
    places = ((0, 0, 0), (1, 0, 0), (1, 0.5, 0), (2, 0.2, 0.3), (2, 0.2, 0.9))
    for name, place in zip("abcde", places, strict=True):
        b.add_node(name, place)
    for start, end, up in (
        ("a", "b", (0, 0, 1)),
        ("b", "c", (0, 0, 1)),
        ("c", "d", (0, 0, 1)),
        ("d", "e", (0, 1, 0)),
    ):
        b.add_member(start + end, start, end, up=up, **STEEL, **TUBE)
    b.hold("a", (0, 1, 2, 3, 5))  # a hinge about Y
    b.add_node("post foot", (0, 3, 0))
    b.add_node("post top", (0, 3, 1))
    b.add_member("post", "post foot", "post top", up=(0, 1, 0), **STEEL, **TUBE)
    b.hold("post foot")
    frame = b.build()
    with pytest.raises(Mechanism) as caught:
        solve(frame, np.zeros(frame.dofs))
    assert caught.value.free_motions == ["nodes a, b, c and 2 more turn freely together about Y"]
