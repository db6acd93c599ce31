"""Forces on the carriages: the chain of bodies against the whole frame solved place by place, and their balance."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.frame import NotTrustworthy, solve
from core.frame.assemble import self_weight
from core.frame.energy import spring_stretch
from core.guides import carriages, forces
from core.guides.forces import carriage_forces
from core.machine.gantry import GantryBeam
from core.machine.guides import Guides
from core.machine.layout import layout
from core.machine.project import Machine, replace_at
from core.model.setting import Setting
from core.model.whole import whole_frame
from core.sections import PropertyBook

BOOK = PropertyBook()


def setting_of(machine):
    return Setting(machine, layout(machine, BOOK), "likely", BOOK)


MACHINES = {
    "on front and top": Machine(),
    "on top and outside": replace_at(
        replace_at(Machine(), "gantry.beam", GantryBeam(rail_face="top")), "base.rail_face", "outside"
    ),
    "three and four carriages": replace_at(
        replace_at(Machine(), "x_guides", Guides(size=20, carriages=3, spread=0.2, rail_spacing=0.08)),
        "y_guides", Guides(size=20, carriages=4, spread=0.4),
    ),
}  # fmt: skip


STILL = ("side_beams", "stand")


def by_whole_frame(setting, x, y):
    """Force (7,) of every spring of the whole frame under the unit loads, by the spring's name."""
    whole = whole_frame(setting, x, y)
    frame = whole.frame
    tip = frame.node(whole.tip)
    loads = np.zeros((frame.dofs, 7))
    loads[6 * tip : 6 * tip + 3, :3] = np.eye(3)
    loads[:, 3] = self_weight(frame)
    moving = np.array([c not in STILL for c in frame.members.component])
    head = np.arange(len(frame.node_names)) >= frame.node("saddle")
    above_y = np.array([head[n] or "foot plate" in name for n, name in enumerate(frame.node_names)])
    without_saddle = head & (np.arange(head.size) != frame.node("saddle"))
    for axis, members, nodes in ((0, 0.0, head), (1, moving, above_y), (2, 0.0, without_saddle)):
        light = replace(frame.members, linear_weight=frame.members.linear_weight * members)
        part = replace(frame, members=light, node_mass=frame.node_mass * nodes)
        loads[:, 4 + axis] = self_weight(part, -np.eye(3)[axis])
    moved = solve(frame, loads, columns=True).displacements
    forces = frame.springs.stiffness[:, None] * spring_stretch(frame, moved, columns=True)
    return dict(zip(frame.springs.names, forces, strict=True))


def names_in_order(setting):
    m = setting.machine
    x = [f"X carriage {rail} {k}" for rail in (0, 1) for k in range(m.x_guides.carriages)]
    y = [f"{side} Y carriage {k}" for side in ("left", "right") for k in range(m.y_guides.carriages)]
    z = [f"Z carriage {side} {k}" for side in ("left", "right") for k in range(m.head.guides.carriages)]
    return x + y + z


@pytest.mark.parametrize("machine", MACHINES.values(), ids=MACHINES)
def test_same_as_the_whole_frame(machine):
    setting = setting_of(machine)
    x, y = np.array([-0.5, 0.21]), np.array([-1.1, 0.3])
    found = carriage_forces(setting, x, y)
    presses = np.array([c.presses for c in found.carriages])[:, None]
    for p, (px, py) in enumerate(zip(found.x, found.y, strict=True)):
        whole = by_whole_frame(setting, float(px), float(py))
        names = names_in_order(setting)
        normal = np.array([whole[f"{n} normal"] for n in names])
        lateral = np.array([whole[f"{n} lateral"] for n in names])
        scale = np.abs(normal).max(axis=0) + np.abs(lateral).max(axis=0)
        assert np.abs((found.pressing[p] - presses * normal) / scale).max() < 1e-9
        assert np.abs((found.lateral[p] - lateral) / scale).max() < 1e-9
    assert found.balance < 1e-9


def test_names_are_all_different_and_stand_where_they_say():
    for machine in MACHINES.values():
        setting = setting_of(machine)
        known = carriages(machine, setting.layout)
        assert len({c.name for c in known}) == len(known)
        for c in known:
            if "left" in c.name.split(", ")[-1] and "next" not in c.name:
                assert c.point[0] < 0
            if c.name.endswith("lower"):
                assert c.point[2] < setting.layout.z_carriage_z
        front, back = (next(c for c in known if c.name == f"Y, left, {w}") for w in ("front", "back"))
        assert front.point[1] < back.point[1]


@given(mass=st.floats(0.01, 200.0), travel=st.floats(0.3, 3.0), reach=st.floats(0.0, 0.3))
@settings(max_examples=15)
def test_vertical_forces_carry_the_weight(mass, travel, reach):
    machine = replace_at(replace_at(Machine(), "head.mass", mass), "work.travel_x", travel)
    machine = replace_at(machine, "head.reach", reach)
    setting = setting_of(machine)
    found = carriage_forces(setting, np.array([0.1 * travel]), np.array([0.0]))
    axes = np.array([c.axis for c in found.carriages])
    # On this machine Y presses down and X carries sideways; lifting forces by 1 N relieves both by 1 N in all.
    on_y = found.pressing[0, axes == "Y"].sum(axis=0)
    on_x = -found.lateral[0, axes == "X"].sum(axis=0)
    assert on_y[2] == pytest.approx(-1.0, abs=1e-6)
    assert on_x[2] == pytest.approx(-1.0, abs=1e-6)
    head = found.pressing[0, axes == "Y"].sum(axis=0)[6]
    assert head == pytest.approx(mass, abs=1e-6)  # speeding up by 1 m/s2 weighs like mass x 1
    assert on_y[3] > on_x[3] > mass * 9.8


def test_guides_held_rigid_still_have_an_answer():
    machine = replace_at(Machine(), "rigid", ("x_guides", "y_guides", "z_guides", "beam"))
    free = replace_at(Machine(), "rigid", ("beam",))
    both = [carriage_forces(setting_of(m), np.zeros(1), np.zeros(1)).pressing for m in (machine, free)]
    assert np.allclose(*both)


def test_a_saddle_on_one_carriage_a_rail_is_told_not_guessed():
    one = Guides(size=20, carriages=1, spread=0.0, rail_spacing=0.08)
    with pytest.raises(NotTrustworthy):
        carriage_forces(setting_of(replace_at(Machine(), "x_guides", one)), np.zeros(1), np.zeros(1))


@pytest.mark.parametrize("wrong", ["_x_forces", "_y_forces"])
def test_forces_that_do_not_balance_are_never_shown(monkeypatch, wrong):
    right = getattr(forces, wrong)
    monkeypatch.setattr(forces, wrong, lambda *given: 1.00001 * right(*given))
    with pytest.raises(NotTrustworthy):
        carriage_forces(setting_of(Machine()), np.zeros(1), np.zeros(1))
