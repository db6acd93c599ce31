"""Drives of a whole machine: curves agree with the place by place figures, findings come and go, racking keeps its laws."""

from __future__ import annotations

import json
import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.drives import AxisDrive, DrivesAnswer, find_drives
from core.drives.stiffness import in_series, parts_along, slack_share
from core.drives.turning import torque_at
from core.errors import BadEntry
from core.fields import band
from core.machine.drives import BallScrew, Drive, KnownStiffness, RackPinion, ToothedBelt
from core.machine.layout import layout
from core.machine.motion import ServoMotor, StepMotor
from core.machine.project import Machine, Project, replace_at
from core.model.setting import Setting
from core.report.study.drives import (
    all_stiffness_table,
    all_torque_table,
    drives_json,
    drives_table,
)
from core.sections import PropertyBook
from core.units import METRIC, UnitSet

DRIVES: list[Drive] = [
    KnownStiffness(),
    BallScrew(),
    BallScrew(ends="fixed-fixed"),
    RackPinion(),
    ToothedBelt(),
]
EXACT = band(25.0, 25.0, 25.0)


def answer(stands: bool = True, **entries: Any) -> DrivesAnswer:
    """The drives of the machine to begin with, entries replaced by path ("motion__x__rapid")."""
    project: Any = Project()
    for path, value in entries.items():
        project = replace_at(project, f"machine.{path.replace('__', '.')}", value)
    lay = layout(project.machine, PropertyBook())
    return find_drives(Setting(project.machine, lay), project, 0.0, stands)


def codes(found: DrivesAnswer) -> set[tuple[str, str]]:
    return {(f.code, f.severity) for f in found.findings}


def value(axis: AxisDrive, key: str) -> float:
    return next(row.value for row in axis.rows if row.key == key)


@pytest.mark.parametrize("drive", DRIVES, ids=lambda d: type(d).__name__)
@settings(max_examples=25)
@given(share=st.floats(0.0, 1.0), length=st.floats(0.2, 4.0))
def test_curves_are_the_stiffness_of_the_model(drive: Drive, share: float, length: float) -> None:
    place = share * length
    ours = in_series(parts_along(drive, np.array([place]), length))[:, 0]
    theirs = drive.stiffness_at(place, length)
    assert ours == pytest.approx([theirs.low, theirs.likely, theirs.high], rel=1e-12)


def test_the_machine_to_begin_with_breaks_no_limit() -> None:
    assert all(severity == "note" for _, severity in codes(answer()))


@pytest.mark.parametrize(
    ("entries", "code", "severity"),
    [
        ({"motion__x__rapid": 0.2}, "screw-whirl", "limit"),
        ({"x_drive": BallScrew(diameter=0.006, lead=0.01)}, "screw-buckling", "limit"),
        ({"motion__x__acceleration": 20.0}, "motor-torque", "limit"),
        ({"motion__x__acceleration": 5.5}, "motor-torque", "warning"),
        ({"motion__y__gear_ratio": 1.0}, "coarse-steps", "warning"),
        ({"motion__y__gear_ratio": 1.0}, "inertia-ratio", "note"),
        ({"x_drive": ToothedBelt(pretension=20.0)}, "belt-slack", "warning"),
        ({"motion__x__deceleration": 0.05}, "stop-room", "warning"),
        ({"motion__x__friction": band(1.0, 2.0, 3.0)}, "runs-on", "note"),
        ({"motion__x__rapid": 0.12}, "motor-speed", "note"),
        ({}, "z-falls", "note"),
        ({"motion__lag": 0.01}, "racking", "note"),
    ],
)
def test_each_finding_comes(entries: dict[str, Any], code: str, severity: str) -> None:
    assert (code, severity) in codes(answer(**entries))


@pytest.mark.parametrize(
    ("entries", "code"),
    [
        ({"motion__z__brake": True}, "z-falls"),
        ({"motion__z__balance": 85.0}, "z-falls"),
        ({"head__drive": KnownStiffness(efficiency=band(0.2, 0.3, 0.4))}, "z-falls"),
        ({"motion__x__rapid": 0.2, "x_drive": BallScrew(turns="nut")}, "screw-whirl"),
        ({"motion__lag": 0.00001}, "racking"),
        ({"motion__x__brake": True}, "runs-on"),
    ],
)
def test_each_finding_goes(entries: dict[str, Any], code: str) -> None:
    assert code not in {c for c, _ in codes(answer(**entries))}


def test_findings_name_entries_that_exist() -> None:
    found = answer(
        motion__x__rapid=0.3, motion__x__acceleration=20.0, motion__lag=0.01, motion__x__deceleration=0.05
    )
    project: Any = Project()
    for finding in found.findings:
        node: Any = project
        for name in finding.where.split("."):
            assert name in node.__struct_fields__
            node = getattr(node, name)


def test_torque_of_the_motor_passes_its_two_points_and_keeps_its_power_beyond() -> None:
    motor = StepMotor()
    have = torque_at(motor, np.array([0.0, motor.fast_speed, 2.0 * motor.fast_speed]))
    assert have[1] == pytest.approx([3.0, 1.5, 0.75])
    assert np.all(have[0] <= have[1])
    assert np.all(have[1] <= have[2])


def test_a_servo_cuts_with_its_rated_torque() -> None:
    motor = ServoMotor(rated_torque=band(0.01, 0.01, 0.01))
    assert ("motor-torque", "limit") in codes(answer(motion__x__motor=motor))


@settings(max_examples=15)
@given(a=st.floats(0.1, 4.0), factor=st.floats(1.1, 3.0))
def test_more_acceleration_asks_for_more_torque(a: float, factor: float) -> None:
    slow, fast = (answer(False, motion__x__acceleration=v).axes[0] for v in (a, a * factor))
    assert value(fast, "torque_rapid") > value(slow, "torque_rapid")
    assert value(fast, "acceleration_possible") == pytest.approx(value(slow, "acceleration_possible"))


def test_the_torque_there_is_gives_the_acceleration_said_possible() -> None:
    axis = answer(False).axes[0]
    again = answer(False, motion__x__acceleration=value(axis, "acceleration_possible")).axes[0]
    row = next(row for row in again.rows if row.key == "torque_rapid")
    assert row.value == pytest.approx(row.limit, rel=1e-9)


def test_gears_and_bands_close_when_everything_is_exact() -> None:
    exact = band(0.9, 0.9, 0.9)
    axis = answer(
        False, motion__x__friction=EXACT, x_drive=BallScrew(efficiency=exact), motion__x__gear_efficiency=exact
    ).axes[0]  # fmt: skip
    assert axis.accelerating == pytest.approx(np.full(3, axis.accelerating[1]), rel=1e-12)


def test_the_unfavourable_end_meets_the_low_efficiency() -> None:
    axis = answer(False, motion__x__friction=EXACT).axes[0]
    assert axis.accelerating[0] < axis.accelerating[1] < axis.accelerating[2]
    push = 25.0 + axis.mass * 1.0
    loss = push * 0.01 / (2.0 * math.pi) * (1.0 / 0.85 - 1.0 / 0.95)  # of the screw to begin with
    assert axis.accelerating[2] - axis.accelerating[0] == pytest.approx(loss, rel=1e-9)


def test_stopping_by_friction_uses_up_the_energy() -> None:
    axis = answer(False).axes[0]
    felt = value(axis, "moved_mass") + (2.0 * math.pi / 0.01) ** 2 * (
        0.8e-4 + 0.1e-4 + math.pi * 7850.0 * axis.length * 0.02**4 / 32.0
    )
    assert value(axis, "stop_unpowered") * 10.0 == pytest.approx(0.5 * felt * 0.1**2, rel=1e-9)
    assert value(axis, "stop_planned") == pytest.approx(0.1**2 / 2.0)


def test_the_longer_strand_gives_up_more() -> None:
    share = slack_share(ToothedBelt(), np.array([0.5, 1.0, 1.5]), 2.0)
    assert share == pytest.approx([0.75, 0.5, 0.75])


@pytest.fixture(scope="module")
def begun() -> DrivesAnswer:
    return answer()


def test_racking_is_linear_in_the_lag(begun: DrivesAnswer) -> None:
    one, two = begun.racking, answer(motion__lag=0.001).racking
    assert one is not None
    assert two is not None
    assert two.offset_elastic == pytest.approx(2.0 * one.offset_elastic, rel=1e-6)
    assert two.strain == pytest.approx(2.0 * one.strain, rel=1e-6)


def test_a_stiff_machine_on_soft_carriages_follows_the_geometry() -> None:
    rigid = ("beam", "uprights", "foot_plates", "beam_joint", "side_beams", "stand", "y_drive", "saddle", "x_guides",
             "head_plate", "z_guides", "spindle_mount", "cutter", "z_drive", "x_drive")  # fmt: skip
    soft = band(1e3, 1e3, 1e3)
    racking = answer(rigid=rigid, y_guides__lateral_stiffness=soft).racking
    assert racking is not None
    assert racking.offset_elastic == pytest.approx(racking.offset, rel=2e-3)
    assert racking.turn_equal == pytest.approx(
        racking.turn_unequal, rel=1e-6
    )  # held rigid, so without a band


def test_equal_bands_make_equal_sides() -> None:
    drive = RackPinion(mesh_stiffness=band(4e7, 4e7, 4e7), gearbox_stiffness=band(6e3, 6e3, 6e3))
    racking = answer(y_drive=drive).racking
    assert racking is not None
    assert racking.difference_unequal == pytest.approx(racking.difference_equal, rel=1e-9)
    assert 0.5 < racking.share_near < 1.0


def test_exchanged_springs_equal_a_frame_built_with_them() -> None:
    """Woodbury's identity against the whole frame built anew with both drives half as stiff."""
    from core.drives.racking import _exchanged, _pull

    lay = layout(Machine(), PropertyBook())
    base, soft = (_pull(Setting(_with_y(k), lay), 0.65, 0.0) for k in (2e7, 1e7))
    moved = _exchanged(base, base.by[:, 2], soft.stiffness - base.stiffness)
    assert np.abs(moved - soft.by[:, 2]).max() <= 1e-8 * np.abs(soft.by[:, 2]).max()


def _with_y(stiffness: float) -> Machine:
    return Machine(y_drive=KnownStiffness(stiffness=band(stiffness, stiffness, stiffness)))


def test_without_a_frame_the_axes_are_still_answered() -> None:
    found = answer(False)
    assert found.racking is None
    assert len(found.axes) == 3


def test_json_and_tables_hold_every_figure(begun: DrivesAnswer) -> None:
    text = json.dumps(drives_json(begun), allow_nan=False)
    data = json.loads(text)
    assert [axis["axis"] for axis in data["axes"]] == ["x", "y", "z"]
    assert data["racking"]["lag_m"] == 0.0005
    for units in (METRIC, UnitSet("in", "lbf")):
        for make in (drives_table, all_stiffness_table, all_torque_table):
            table = make(begun, units)
            assert table.rows
            assert all(len(row) == len(table.columns) for row in table.rows)


@pytest.mark.parametrize(
    "make",
    [
        lambda: BallScrew(efficiency=band(0.9, 1.0, 1.1)),
        lambda: BallScrew(diameter=0.02, nominal_diameter=0.016),
        lambda: replace_at(Project(), "machine.motion.x.rapid", 0.0),
        lambda: replace_at(Project(), "machine.motion.x.gear_efficiency", band(1.0, 1.0, 1.2)),
        lambda: replace_at(Project(), "machine.motion.z.motor.microsteps", 0),
    ],
)
def test_impossible_entries_are_refused(make: Any) -> None:
    with pytest.raises(BadEntry):
        make()
