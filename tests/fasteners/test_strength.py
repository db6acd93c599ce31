"""Strength of joints: spread over screws, torque, margins and what is found wrong."""

from __future__ import annotations

from typing import Any

import msgspec
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.fasteners import joints, rails
from core.fasteners.strength import JointsAnswer, find_joints, find_torque, partner_limits
from core.fasteners.strength.alternating import fatigue_limit, fatigue_margin, load_factor
from core.fasteners.strength.group import group_of, spread
from core.fasteners.strength.margins import Loads
from core.fasteners.strength.partners import Limit
from core.fasteners.strength.preload import allowed_preload, torque_factor
from core.fasteners.strength.prying import t_stub
from core.fasteners.strength.rail_joints import rail_joints
from core.fasteners.strength.states import States
from core.fasteners.strength.thread import stripping_force
from core.fasteners.strength.weld import line_load
from core.fields import Band
from core.machine.base import Floor
from core.machine.drives import ToothedBelt
from core.machine.joints import Joint
from core.machine.layout import layout
from core.machine.loads import DirectForce, LoadCase
from core.machine.project import Project
from core.model.setting import Setting
from tests.fasteners.machines import BOOK, changed, laid, slotted

FORCES = st.floats(-1e4, 1e4).map(lambda v: round(v, 3))


def answer(project: Project, stands: bool = True) -> JointsAnswer:
    lay = layout(project.machine, BOOK)
    setting = Setting(project.machine, lay, "likely", BOOK)
    return find_joints(setting, project, joints(project, lay)[0], rails(project, lay)[0], stands=stands)


def one(found: JointsAnswer, key: str) -> Any:
    return next(s for s in found.joints if s.joint.key == key)


@settings(max_examples=80, deadline=None)
@given(
    along=st.integers(1, 5),
    across=st.integers(1, 3),
    pitch=st.floats(0.01, 0.2),
    radius=st.floats(0.003, 0.03),
    wrench=st.tuples(*[FORCES] * 6),
)
def test_zones_carry_what_acts_on_the_joint(
    along: int, across: int, pitch: float, radius: float, wrench: tuple[float, ...]
) -> None:
    """Pull and bending of all zones, with the bending that each takes about itself, balance the load."""
    places = [
        ((i - (along - 1) / 2) * pitch, (j - (across - 1) / 2) * pitch)
        for i in range(along)
        for j in range(across)
    ]
    group = group_of(places, radius)
    fu, fv, pull, mu, mv, _ = wrench
    n, at = len(places), np.array(places)
    middle = pull / n + mv * at[:, 0] / group.about_v - mu * at[:, 1] / group.about_u
    own = n * radius**2 / 4
    assert middle.sum() == pytest.approx(pull, abs=1e-6)
    assert (middle * at[:, 0]).sum() + mv / group.about_v * own == pytest.approx(mv, abs=1e-6)
    assert -(middle * at[:, 1]).sum() + mu / group.about_u * own == pytest.approx(mu, abs=1e-6)
    found = spread(group, np.array(wrench))
    assert found.pull.max() == pytest.approx(middle.max(), abs=1e-6)
    assert found.edge.max() >= found.pull.max()
    assert found.shear.max() >= np.hypot(fu, fv) / n - 1e-9
    assert (spread(group, 2.0 * np.array(wrench)).shear / 2.0) == pytest.approx(found.shear)


def test_a_line_of_screws_takes_bending_across_by_its_zones_alone() -> None:
    row = group_of([(-0.05, 0.0), (0.05, 0.0)], 0.01)
    assert len(row.corners) == 2
    across = spread(row, np.array([0.0, 0.0, 0.0, 10.0, 0.0, 0.0]))
    assert across.pull.max() == 0.0
    assert across.edge.max() == pytest.approx(10.0 * 0.01 / (2 * 0.01**2 / 4))


def test_one_screw_holds_a_twist_by_its_zone() -> None:
    """A round face twisted about its middle: friction at two thirds of its radius bears M / (2 r / 3) (uniform pressure)."""
    found = spread(group_of([(0.0, 0.0)], 0.012), np.array([0.0, 0.0, 0.0, 0.0, 0.0, 5.0]))
    assert found.shear.max() == pytest.approx(5.0 * (2 / 3 * 0.012) / (0.012**2 / 2))


def test_pull_and_shear_of_one_zone_belong_together() -> None:
    """A force along +v on a twisted group adds up at +u, where bending about v pulls too."""
    group = group_of([(-0.1, 0.0), (0.1, 0.0)], 1e-6)
    found = spread(group, np.array([0.0, 200.0, 0.0, 0.0, 30.0, 10.0]))
    worst = int(np.argmax(found.shear))
    assert found.shear[worst] == pytest.approx(100.0 + 10.0 / 0.2, rel=1e-4)
    assert found.pull[worst] == pytest.approx(30.0 / 0.2, rel=1e-6)


def test_the_weakest_partner_sets_the_torque() -> None:
    made = next(j for j in joints(Project(), layout(Project().machine, BOOK))[0] if j.key == "x_ends")
    assert made.hold == "rivet nut"
    with_ = Project().machine.joints
    torque, own, governs = find_torque(made, with_, partner_limits(made))
    assert torque < own
    assert governs == "rivet nut"
    strong = (Limit("rock", 1e6, 1e6, 1e6, ""),)
    assert find_torque(made, with_, strong) == (own, own, "screw")
    assert own == pytest.approx(allowed_preload("M6", "8.8", 0.12) * torque_factor("M6", 0.12))


@given(friction=st.floats(0.02, 0.5), more=st.floats(0.01, 0.3))
def test_friction_takes_preload_and_wants_torque(friction: float, more: float) -> None:
    assert allowed_preload("M8", "8.8", friction + more) < allowed_preload("M8", "8.8", friction)
    assert torque_factor("M8", friction + more) > torque_factor("M8", friction)


def test_longer_engagement_and_harder_metal_hold_more() -> None:
    soft = stripping_force("M6", 0.009, "aluminium", 195e6, 800e6)
    assert stripping_force("M6", 0.012, "aluminium", 195e6, 800e6) > soft
    assert stripping_force("M6", 0.009, "aluminium", 290e6, 800e6) > soft
    assert stripping_force("M6", 0.0005, "steel", 360e6, 800e6) == 0.0


def test_slot_lips_and_walls_are_limits_where_they_are_used() -> None:
    found = answer(slotted())
    limits = [limit.what for limit in one(found, "x_rails").limits]
    assert "lips of the slot" in limits
    through = answer(changed(joints__seat=Joint(hold="through bolt")))
    assert "wall of the tube" in [limit.what for limit in one(through, "seat").limits]


def test_limits_have_bands_and_reasons() -> None:
    for strength in answer(slotted()).joints:
        lows = [limit.low for limit in strength.limits]
        assert lows == sorted(lows)
        for limit in strength.limits:
            assert 0.0 < limit.low <= limit.likely <= limit.high
            assert limit.because


def test_every_joint_has_margins_and_the_tightest_is_named() -> None:
    found = answer(Project())
    assert found.balance < 1e-6
    assert found.tightest is not None
    least = found.joints[found.tightest].least
    assert least is not None
    for strength in found.joints:
        mine = strength.least
        assert mine is not None
        assert mine.likely >= least.likely
        assert mine.low <= mine.likely <= mine.high
        assert mine.name in strength.joint.site.names
    assert found.findings == ()


def test_a_machine_on_the_floor_has_margins_too() -> None:
    found = answer(changed(base__stand=Floor()))
    assert all(strength.least is not None for strength in found.joints)


def test_belts_and_angles_have_margins_too() -> None:
    project = changed(x_drive=ToothedBelt(), y_drive=ToothedBelt(), base__rail_face="outside")
    found = answer(project)
    assert {"x_ends", "y_ends", "angle"} <= {strength.joint.key for strength in found.joints}
    assert all(strength.least is not None for strength in found.joints)
    tight = answer(changed(x_drive=ToothedBelt(pretension=1200.0)))
    loose = answer(changed(x_drive=ToothedBelt(pretension=100.0)))
    assert one(tight, "x_ends").slip.likely < one(loose, "x_ends").slip.likely


def test_twice_the_friction_is_twice_the_slip_of_a_joint_that_is_only_pushed() -> None:
    """The motor's flange carries torque and its weight; pull is next to nothing there."""
    low = one(answer(changed(joints__friction__likely=0.1)), "x_motor").slip.likely
    high = one(answer(changed(joints__friction__likely=0.2)), "x_motor").slip.likely
    assert high == pytest.approx(2.0 * low, rel=0.02)


def test_more_force_less_margin() -> None:
    heavy = replace_case(Project(), 2000.0)
    before, after = (one(answer(p), "seat").slip.likely for p in (Project(), heavy))
    assert after < before


def replace_case(project: Project, force: float) -> Project:
    case = LoadCase(name="Hard pass", load=DirectForce(x=force, z=50.0), limit=0.01)
    return msgspec.structs.replace(project, cases=(case,))


def test_fatigue_asks_for_the_swing_and_not_for_the_rest() -> None:
    """A pull that never changes tires no screw; one that comes and goes tires it the more, the softer its parts."""
    joint = next(j for j in joints(Project(), layout(Project().machine, BOOK))[0] if j.key == "mount")
    assert joint.pattern is not None
    group = group_of(joint.pattern.places, 0.01)
    states = States(("rest", "work"), np.zeros((2, 7)))
    margins = []
    for low, high in ((500.0, 500.0), (0.0, 500.0), (-500.0, 500.0)):
        wrench = np.zeros((6, 1, 1, 2))
        wrench[2, 0, 0] = low, high
        loads = Loads(wrench, ("mount",), states, np.zeros(1), np.zeros(1))
        margins.append(fatigue_margin(loads, spread(group, loads.wrench), joint, 0.01))
    assert np.isinf(margins[0].likely)
    assert margins[1].likely == pytest.approx(2.0 * margins[2].likely)
    assert margins[1].state == "work"
    assert margins[1].low < margins[1].likely < margins[1].high
    swing = 0.7 * load_factor(joint, 0.01) * 500.0 / joint.pattern.count / 2.0
    assert margins[1].likely == pytest.approx(
        fatigue_limit(joint.size.diameter) * joint.size.stress_area / swing
    )


@given(thickness=st.floats(0.002, 0.03), more=st.floats(0.0005, 0.01), lever=st.floats(0.008, 0.05))
def test_a_thicker_plate_levers_less(thickness: float, more: float, lever: float) -> None:
    thin, thick = (t_stub(lever, 0.015, 0.05, t, 235e6, 20e3) for t in (thickness, thickness + more))
    assert thin.bears <= thick.bears <= 20e3
    assert thin.mode <= thick.mode
    assert thin.levered >= 0.0
    assert (thin.mode == 3) == (thin.bears == 20e3)
    assert thin.bears + thin.levered <= 20e3 * (1 + 1e-9)


def test_only_plates_with_a_bar_between_their_screws_are_pried() -> None:
    found = {s.joint.key: s for s in answer(changed(joints__legs=Joint(made="bolted"))).joints}
    assert found["legs"].stub is not None
    assert found["legs"].plate is not None
    assert found["x_blocks"].stub is None
    thin = {s.joint.key: s for s in answer(changed(joints__legs=Joint(made="bolted", plate=0.003))).joints}
    assert thin["legs"].plate.likely < found["legs"].plate.likely
    assert thin["legs"].stub.mode < 3


def test_joints_that_slip_or_open_are_found() -> None:
    found = answer(replace_case(Project(), 30000.0))
    said = {finding.code: finding.severity for finding in found.findings}
    assert said["joint-slips"] == "limit"
    assert said["joint-gaps"] == "limit"
    found = answer(replace_case(changed(joints__seat=Joint(plate=0.003)), 95000.0))
    assert {"screw-fatigue", "plate-pries"} <= {finding.code for finding in found.findings}
    weak = changed(joints__legs=Joint(made="welded", weld_length=0.005, weld_throat=0.001))
    assert "weld-weak" in {f.code for f in answer(replace_case(weak, 3000.0)).findings}


def test_an_entered_torque_is_judged() -> None:
    found = answer(changed(joints__x__ends=Joint(torque=25.0)))
    said = {finding.code for finding in found.findings}
    assert {"thread-strips", "screw-yields"} <= said
    strength = one(found, "x_ends")
    assert strength.entered
    assert strength.torque == 25.0
    gentle = answer(changed(joints__x__ends=Joint(torque=1.0)))
    assert {f.code for f in gentle.findings} <= {"joint-slips", "joint-gaps"}
    assert one(gentle, "x_ends").slip.likely < one(answer(Project()), "x_ends").slip.likely


def test_no_torque_leaves_more_preload_than_screw_and_partners_bear() -> None:
    """Between 100 N m and 400 N m nothing is gained: the thread has long given way."""
    much, more = (one(answer(changed(joints__x__ends=Joint(torque=t))), "x_ends") for t in (100.0, 400.0))
    usual = one(answer(Project()), "x_ends")
    assert more.slip.likely == pytest.approx(much.slip.likely)
    assert more.slip.likely / usual.slip.likely <= usual.limits[0].likely / usual.preload.likely * (1 + 1e-9)
    assert more.slip.low / usual.slip.low <= usual.limits[0].low / usual.preload.low * (1 + 1e-9)


def test_by_feel_holds_less_surely() -> None:
    wrench, feel = (answer(changed(joints__tightened=how)) for how in ("torque wrench", "by feel"))
    assert one(feel, "mount").preload.low < one(wrench, "mount").preload.low
    assert one(feel, "mount").preload.high > one(wrench, "mount").preload.high


def test_without_an_answer_there_are_torques_all_the_same() -> None:
    found = answer(Project(), stands=False)
    assert found.tightest is None
    assert all(s.least is None for s in found.joints)
    assert one(found, "mount").torque > 0.0


@settings(max_examples=40, deadline=None)
@given(box=st.tuples(st.floats(0.02, 0.2), st.floats(0.02, 0.2)), wrench=st.tuples(*[FORCES] * 6))
def test_half_the_weld_bears_half(box: tuple[float, float], wrench: tuple[float, ...]) -> None:
    whole = 2.0 * sum(box)
    full, half = (float(line_load(box, length, np.array(wrench))) for length in (whole, whole / 2.0))
    assert half == pytest.approx(2.0 * full, abs=1e-9)


def test_a_joint_that_holds_only_with_likely_figures_is_told() -> None:
    usual = answer(Project())
    assert not [f for f in usual.findings if f.code == "joint-slips"]
    wide = Band(low=0.005, likely=0.15, high=0.2)
    found = answer(changed(joints__friction=wide))
    said = [f for f in found.findings if f.code == "joint-slips"]
    assert said
    assert {f.severity for f in said} == {"warning"}
    low = [s.slip for s in found.joints if s.slip and s.slip.low < 1.0 and s.slip.likely >= found.wanted]
    assert len(low) == len(said)


def test_nuts_of_rails_are_steel_whatever_their_beam() -> None:
    project = slotted()
    found = rail_joints(project, laid(project), rails(project, laid(project))[0])
    threads = {joint.key: joint.stack.layers[-1] for joint in found}
    assert (threads["x_rails"].what, threads["x_rails"].metal) == ("T-nut", "steel")
    assert threads["z_rails"].metal == project.machine.head.material
