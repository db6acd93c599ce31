"""Vibration of a machine: bands, receptance, speed map, limiting depth and findings."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from core.errors import BadEntry
from core.fields import band
from core.frame import NotTrustworthy
from core.machine.loads import CutForce, DirectForce, LoadCase
from core.machine.project import Machine, Project, replace_at
from core.machine.spindle import Spindle
from core.model.setting import Setting
from core.plan import make_plan
from core.sections import PropertyBook
from core.vibration import find_vibration, frequencies_at
from core.vibration.chatter import directions, find_stability, limit_depth, stable_depths
from core.vibration.receptance import Receptance
from core.vibration.speeds import find_speeds

CUT = LoadCase(name="A slot", load=CutForce(), any_direction=True)
PUSH = LoadCase(name="A push", load=DirectForce(x=50.0))


def answer_of(project):
    book = PropertyBook()
    plan = make_plan(project, book)
    setting = Setting(project.machine, plan.layout, "likely", book)
    return find_vibration(setting, project, plan), plan, setting


@pytest.fixture(scope="module")
def answered():
    return answer_of(Project(cases=(PUSH, CUT)))


def test_figures_are_of_one_piece(answered):
    answer, plan, _ = answered
    assert len(answer.modes) == 6
    assert answer.frequencies.shape == (9, 6)
    found = [m.frequency for m in answer.modes]
    assert found == sorted(found)
    assert answer.frequencies[4] == pytest.approx(found)  # the chosen place is the middle of the table
    for mode in answer.modes:
        assert sum(mode.bodies.values()) == pytest.approx(1.0)
        assert sum(share for _, share in mode.gives) == pytest.approx(1.0)
        assert mode.low <= mode.frequency <= mode.high
        assert all(0.0 <= share <= 1.0 for share in (*mode.mass_shares, *mode.tip_shares))
        assert max(np.abs(line.moved).max() for line in mode.shape.lines) <= 1.0e-3 * (1 + 1e-9)
        assert mode.words.endswith(".")
    assert answer.mass > plan.project.machine.head.mass


def test_at_rest_the_tip_is_as_soft_as_statics_say(answered):
    answer, plan, _ = answered
    first = answer.receptance
    slow = first.tip[:, 0].real
    static = plan.stiffness.compliance_place
    # At a fifth of the first frequency the direct compliance has risen by about a twenty-fifth at most.
    assert np.all(np.diagonal(slow, axis1=1, axis2=2) >= np.diag(static))
    assert slow == pytest.approx(np.broadcast_to(static, slow.shape), abs=0.06 * np.abs(static).max())
    assert first.tip == pytest.approx(np.swapaxes(first.tip, -1, -2))
    # Damping takes the peaks down.
    peaks = [first.size(0, side).max() for side in range(3)]
    assert peaks == sorted(peaks, reverse=True)


def test_the_band_of_a_frequency_is_near_that_of_machines_all_soft_and_all_stiff(answered):
    answer, plan, setting = answered
    for side in ("low", "high"):
        other = Setting(setting.machine, setting.layout, side, setting.book)
        exact = frequencies_at(other, np.array([plan.place.x]), np.array([plan.place.y]))[0]
        told = [getattr(mode, side) for mode in answer.modes]
        assert told[0] == pytest.approx(exact[0], rel=0.08)


def test_exact_stiffness_closes_the_band():
    def closed(value):
        return band(value, value, value)

    machine = Machine()
    for path, likely in (
        ("head.mount_stiffness", 6e7), ("head.mount_turning", 1.5e5), ("gantry.upright.joint_stiffness", 4e8),
        ("gantry.upright.joint_turning", 4e5), ("base.stand.foot_stiffness", 6e7),
        ("x_guides.normal_stiffness", 2e8), ("y_guides.normal_stiffness", 2e8), ("head.guides.normal_stiffness", 2e8),
        ("x_drive.nut_stiffness", 1e8), ("x_drive.bearing_stiffness", 1e8),
        ("y_drive.mesh_stiffness", 4e7), ("y_drive.gearbox_stiffness", 6e3), ("head.drive.stiffness", 4e7),
    ):  # fmt: skip
        machine = replace_at(machine, path, closed(likely))
    answer, _, _ = answer_of(Project(machine=machine, cases=(CUT,)))
    for mode in answer.modes:
        assert mode.low == pytest.approx(mode.frequency)
        assert mode.high == pytest.approx(mode.frequency)


def test_a_heavier_head_is_slower_and_a_stiffer_mount_bears_more():
    base = Project(cases=(CUT,))
    heavy = replace_at(base, "machine.head.mass", 30.0)
    damped = replace_at(base, "machine.damping", band(0.05, 0.06, 0.07))
    own, _, _ = answer_of(base)
    slow, _, _ = answer_of(heavy)
    calm, _, _ = answer_of(damped)
    assert slow.modes[0].frequency < own.modes[0].frequency
    assert slow.mass == pytest.approx(own.mass + 21.0)
    assert calm.stability[0].limit[1] > own.stability[0].limit[1]
    assert calm.modes[0].frequency == pytest.approx(own.modes[0].frequency)


def test_limits_are_in_order_and_lobes_lie_above_the_limit(answered):
    answer, _, _ = answered
    found = answer.stability[0]
    assert found.case == 1
    low, likely, high = found.limit
    assert low < likely < high
    assert np.all(found.lobes >= 0.95 * likely)
    assert found.here[0] <= found.here[1]


def test_findings():
    project = Project(cases=(CUT,))
    answer, _, _ = answer_of(project)
    felt = next(a for a in answer.speeds[0].avoid if a.harmonic == 1)
    hit = replace_at(project, "cases.0.load.speed", min(max(felt.centre, 100.0), 400.0))
    found, _, _ = answer_of(hit)
    assert any(f.code == "near-tooth-passing" for f in found.findings)
    deep = replace_at(project, "cases.0.load.depth", 0.15)
    found, _, _ = answer_of(deep)
    chatter = [f for f in found.findings if f.code == "chatter-depth"]
    assert chatter
    assert chatter[0].value > chatter[0].limit
    shallow = replace_at(project, "cases.0.load.depth", 0.00005)
    found, _, _ = answer_of(shallow)
    assert not [f for f in found.findings if f.code == "chatter-depth"]
    once = next(a for a in answer.speeds[0].avoid if a.harmonic == 0)
    turning = replace_at(project, "cases.0.load.speed", once.centre)
    found, _, _ = answer_of(turning)
    assert any(f.code == "near-spindle" for f in found.findings)


def test_without_statics_there_is_no_answer():
    machine = replace_at(Machine(), "work.clearance", 0.0)
    project = Project(machine=machine)
    book = PropertyBook()
    plan = make_plan(project, book)
    assert plan.stiffness is None
    with pytest.raises(NotTrustworthy):
        find_vibration(Setting(machine, plan.layout, "likely", book), project, plan)


def test_more_damping_than_any_machine_is_refused():
    with pytest.raises(BadEntry):
        replace_at(Machine(), "damping", band(0.1, 0.2, 0.5))


def test_speed_map_and_what_is_quiet_cover_the_range_together():
    spindle = Spindle(slowest=100.0, full_power_speed=200.0, fastest=400.0)
    cut = CutForce(teeth=2, speed=250.0)
    rise = np.array([9.0, 0.1, 9.0])
    found = find_speeds(0, "cut", cut, spindle, np.array([300.0, 350.0, 5000.0]), rise)
    assert {a.mode for a in found.avoid} == {0}
    assert {(a.harmonic, round(a.centre)) for a in found.avoid} == {(1, 150), (0, 300)}
    covered = sorted([(max(a.low, 100.0), min(a.high, 400.0)) for a in found.avoid] + list(found.quiet))
    assert covered[0][0] == 100.0
    assert covered[-1][1] == 400.0
    assert all(b[0] == pytest.approx(a[1]) for a, b in itertools.pairwise(covered))
    assert not found.hits


def test_the_force_of_the_case_as_entered_stands_along_x():
    cut = CutForce(radial_share=0.3, axial_share=0.2)
    across, pull = directions(cut, np.array([-0.5 * np.pi]))
    assert pull[0] == pytest.approx([1.0, 0.3, 0.2])
    assert across[0] == pytest.approx([0.0, 1.0, 0.0])


def test_a_tip_that_never_turns_back_bears_any_depth():
    assert limit_depth(1e9, 1.0, 0.0) == np.inf
    frequency = np.linspace(10.0, 100.0, 50)
    stiff = np.full((3, 50, 3, 3), 1e-9 + 0j) * np.eye(3)
    found = find_stability(
        0,
        "cut",
        CutForce(radial_share=0.0, axial_share=0.0),
        False,
        Receptance(frequency, stiff),
        (100.0, 400.0),
    )
    assert found.limit == (np.inf, np.inf, np.inf)
    assert np.all(stable_depths(np.array([200.0]), frequency, stiff[1, :, 0, 0], 1e9) == np.inf)
