"""The condensed answer and the whole frame are two ways to one figure; and laws that any machine must obey."""

from __future__ import annotations

import msgspec
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.frame import Mechanism, self_weight, solve
from core.machine.base import Base, Floor
from core.machine.drives import BallScrew, KnownStiffness, RackPinion, ToothedBelt
from core.machine.gantry import GantryBeam, Upright
from core.machine.guides import Guides
from core.machine.layout import layout
from core.machine.project import COMPONENTS, Machine, Project, replace_at
from core.model.condensed import condense_gantry
from core.model.moving import condense_head, ride, tip_compliance, tip_path
from core.model.place import solve_place
from core.model.setting import Setting
from core.model.whole import whole_frame
from core.sections import PropertyBook
from core.stiffness import find_budget, find_stiffness

DRIVES = (BallScrew(), BallScrew(ends="fixed-fixed"), RackPinion(), ToothedBelt(), KnownStiffness())


def setting_of(machine, side="likely"):
    book = PropertyBook()
    return Setting(machine, layout(machine, book), side, book)


def both(setting, x, y):
    """Tip compliance and path under weight at a place: (condensed, whole)."""
    gantry = condense_gantry(setting, np.array([y]))
    riding, head = ride(setting, gantry, np.array([x])), condense_head(setting)
    quick = tip_compliance(gantry, riding, head)[0, 0], tip_path(gantry, riding, head)[0, 0]
    whole = whole_frame(setting, x, y)
    node = whole.frame.node(whole.tip)
    loads = np.zeros((whole.frame.dofs, 4))
    loads[6 * node : 6 * node + 3, :3] = np.eye(3)
    loads[:, 3] = self_weight(whole.frame)
    moved = solve(whole.frame, loads, columns=True).displacements[6 * node : 6 * node + 6]
    return quick, (moved[:3, :3], moved[:, 3])


def machines():
    return st.builds(
        lambda seat, face, outside, x_drive, y_drive, carriages, floor, rigid, overhang: _machine(
            seat, face, outside, x_drive, y_drive, carriages, floor, rigid, overhang
        ),
        st.sampled_from(["on top", "in front", "between"]),
        st.sampled_from(["front", "top"]),
        st.booleans(),
        st.sampled_from(DRIVES),
        st.sampled_from(DRIVES),
        st.integers(2, 3),
        st.booleans(),
        st.sets(st.sampled_from(sorted(COMPONENTS)), max_size=2),
        st.floats(0.0, 0.2),
    )


def _machine(seat, face, outside, x_drive, y_drive, carriages, floor, rigid, overhang):
    machine = Machine(x_drive=x_drive, y_drive=y_drive, rigid=tuple(sorted(rigid)))
    gantry = msgspec.structs.replace(
        machine.gantry, beam=GantryBeam(rail_face=face, overhang=overhang), upright=Upright(seat=seat)
    )
    base = Base(rail_face="outside" if outside else "top", top=0.05)
    if floor:
        base = msgspec.structs.replace(base, stand=Floor())
    guides = Guides(size=20, carriages=carriages, spread=0.2, rail_spacing=0.08)
    return msgspec.structs.replace(machine, gantry=gantry, base=base, x_guides=guides)


@given(machines(), st.floats(-1.0, 1.0), st.floats(-1.0, 1.0))
@settings(max_examples=40)
def test_condensed_equals_whole(machine, u, v):
    setting = setting_of(machine)
    x, y = 0.5 * machine.work.travel_x * u, 0.5 * machine.work.travel_y * v
    (quick, path), (slow, weight) = both(setting, x, y)
    # Nodes nearer than a tenth of a millimetre are merged in the whole frame, so it may differ a little; elsewhere both
    # agree to 1e-9.
    assert np.abs(quick - slow).max() <= 1e-5 * np.abs(slow).max()
    assert np.abs(path - weight).max() <= 3e-4 * np.abs(weight).max()


def test_condensed_equals_whole_where_nothing_is_merged():
    for drive in DRIVES:
        machine = msgspec.structs.replace(Machine(), x_drive=drive, y_drive=drive)
        (quick, path), (slow, weight) = both(setting_of(machine), 0.2, 0.31)
        assert np.abs(quick - slow).max() <= 1e-9 * np.abs(slow).max()
        assert np.abs(path - weight).max() <= 1e-8 * np.abs(weight).max()


@given(machines())
@settings(max_examples=15)
def test_compliance_is_symmetric_and_positive(machine):
    setting = setting_of(machine)
    gantry = condense_gantry(setting, np.linspace(-1.0, 1.0, 3))
    found = tip_compliance(gantry, ride(setting, gantry, np.linspace(-0.5, 0.5, 5)), condense_head(setting))
    assert np.allclose(found, np.swapaxes(found, -1, -2), rtol=1e-9, atol=1e-15)
    assert np.linalg.eigvalsh(found).min() > 0.0


@given(machines())
@settings(max_examples=10)
def test_budget_adds_up_and_equals_the_deflection(machine):
    setting = setting_of(machine)
    force = np.array([40.0, 30.0, 10.0])
    budget = find_budget(solve_place(setting, 0.123, 0.271), "case", force)
    assert sum(share for _, share in budget.shares) == pytest.approx(1.0, abs=1e-9)
    assert all(share >= 0.0 for _, share in budget.shares)
    shares = dict(budget.shares)
    for component in machine.rigid:
        assert shares[component] < 2e-3
    gantry = condense_gantry(setting, np.array([0.271]))
    c = tip_compliance(gantry, ride(setting, gantry, np.array([0.123])), condense_head(setting))[0, 0]
    along = float(force @ c @ force) / float(np.linalg.norm(force))
    assert budget.deflection == pytest.approx(along, rel=2e-3)


@pytest.mark.parametrize("component", sorted(set(COMPONENTS) - {"saddle"}))
def test_holding_a_component_rigid_takes_away_its_share(component):
    force = np.array([60.0, 50.0, 20.0])
    loose = find_budget(solve_place(setting_of(Machine()), 0.1, 0.2), "case", force)
    held = find_budget(solve_place(setting_of(Machine(rigid=(component,))), 0.1, 0.2), "case", force)
    share = dict(loose.shares)[component]
    assert dict(held.shares)[component] < 1e-3
    # Loads find other ways once a part is rigid, so the gain is at least the share that energy gave it.
    assert held.deflection <= loose.deflection * (1.0 - share) * 1.001


def test_worst_is_the_largest_on_the_table():
    project = Project()
    answer, _ = find_stiffness(setting_of(project.machine), project.cases, (0.1, -0.2))
    for case in answer.cases:
        assert case.worst >= case.along_x.max() - 1e-15
        assert case.worst >= case.along_y.max() - 1e-15


def test_a_symmetric_machine_answers_symmetrically():
    machine = replace_at(Machine(), "x_drive", RackPinion())
    setting = setting_of(machine)
    gantry = condense_gantry(setting, np.array([0.4]))
    found = tip_compliance(gantry, ride(setting, gantry, np.array([-0.3, 0.3])), condense_head(setting))[0]
    mirror = np.diag([-1.0, 1.0, 1.0])
    assert np.allclose(found[0], mirror @ found[1] @ mirror, rtol=1e-9, atol=1e-18)


def test_a_lone_carriage_on_each_side_rail_leaves_the_gantry_free_to_tip():
    machine = replace_at(Machine(), "y_guides", Guides(size=20, carriages=1, spread=0.0))
    whole = whole_frame(setting_of(machine), 0.0, 0.0)
    with pytest.raises(Mechanism) as caught:
        solve(whole.frame, np.zeros(whole.frame.dofs))
    assert caught.value.free_motions


@pytest.mark.parametrize("shift", [-0.0021, -0.0019, -1e-5, 0.0, 1e-5, 0.0019, 0.0021])
def test_near_heights_of_saddle_and_z_carriages_are_no_trouble(shift):
    lay = setting_of(Machine()).layout
    heights = {
        "head.carriages_above_table": lay.saddle_z + shift,
        "head.mount_above_tip": lay.saddle_z + 2 * shift,
    }
    machine = Machine()
    for path, value in heights.items():
        machine = replace_at(machine, path, value)
    (quick, _), (slow, _) = both(setting_of(machine), 0.2, 0.31)
    near = [machine := replace_at(machine, path, lay.saddle_z) for path in heights][-1]
    (level, _), _ = both(setting_of(near), 0.2, 0.31)
    assert np.abs(quick - slow).max() <= 1e-9 * np.abs(slow).max()
    assert np.abs(quick - level).max() <= 0.1 * np.abs(level).max()
