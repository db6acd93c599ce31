"""Drives answered in one call: three axes, racking, findings."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from core.drives.advice import axis_findings, racking_finding, racking_rows
from core.drives.axis import Setup, setups
from core.drives.racking import find_racking
from core.drives.results import AxisDrive, DrivesAnswer, Racking, Row
from core.drives.rows import (
    belt_rows,
    cutting_torque,
    rack_rows,
    screw_rows,
    step_rows,
    stopping_rows,
    torque_rows,
    wanted_torque,
)
from core.drives.stiffness import in_series, parts_along
from core.drives.turning import Train, ratio_of, torque_at, train
from core.findings import Finding
from core.frame import Mechanism, NotTrustworthy
from core.machine.drives import BallScrew, RackPinion, ToothedBelt
from core.machine.project import Project
from core.model.setting import Setting
from core.units import UnitSet

KINDS = {
    "KnownStiffness": "drive",
    "BallScrew": "ball screw",
    "RackPinion": "rack and pinion",
    "ToothedBelt": "toothed belt",
}


def find_drives(setting: Setting, project: Project, y: float = 0.0, stands: bool = True) -> DrivesAnswer:
    """Answer the drives of a project.

    Args:
        setting: the likely machine. y: tool place along Y for racking, m. stands: whether the frame can be solved.
    """
    units = UnitSet(project.display.length, project.display.force)
    tightest = min(case.limit for case in project.cases)
    axes: list[AxisDrive] = []
    found: list[Finding] = []
    for s in setups(project, setting.layout):
        t = train(s.motion, s.drive, s.length, s.mass)
        axis = _axis(s, t, tightest)
        axes.append(axis)
        found += axis_findings(s, t, axis, units)
    racking: Racking | None = None
    if stands:
        try:
            racking = find_racking(setting, project, y)
        except (Mechanism, NotTrustworthy):  # at the end of the travel; the plan tells of it where it matters
            racking = None
    if racking is not None:
        racking = replace(racking, rows=racking_rows(racking))
        found += racking_finding(racking, tightest, units)
    ordered = sorted(found, key=lambda f: ("limit", "warning", "note").index(f.severity))
    return DrivesAnswer(tuple(axes), racking, tuple(ordered))


def _axis(s: Setup, t: Train, tightest: float) -> AxisDrive:
    parts = parts_along(s.drive, s.distance, s.length)
    stiffness = in_series(parts)
    _, cut, feed = s.cutting
    push = float(max(s.accelerating[2], cut[2]))
    speed = np.linspace(0.0, 1.25 * max(s.motion.rapid, feed), 41)
    return AxisDrive(
        axis=s.axis, label=f"{s.axis.upper()}: {KINDS[type(s.drive).__name__]}", drives=s.drives,
        ratio=ratio_of(s.motion, s.drive), mass=s.mass, length=s.length, force_accelerating=s.accelerating,
        force_cutting=cut, rows=tuple(_rows(s, t, tightest, push, stiffness)), place=s.place, stiffness=stiffness,
        parts={name: k[1] for name, k in parts.items()}, speed=speed,
        available=torque_at(s.motion.motor, speed / t.travel), accelerating=wanted_torque(s, t),
        cutting=cutting_torque(s, t), rapid=s.motion.rapid, feed=feed,
    )  # fmt: skip


def _rows(s: Setup, t: Train, tightest: float, push: float, stiffness: np.ndarray) -> list[Row]:
    own: list[Row] = []
    if isinstance(s.drive, BallScrew):
        own = screw_rows(s, s.drive, push)
    elif isinstance(s.drive, RackPinion):
        own = rack_rows(s, s.drive)
    elif isinstance(s.drive, ToothedBelt):
        own = belt_rows(s, s.drive, push)
    softest = Row(
        "stiffness_least", "Least stiffness along the travel", float(stiffness[1].min()), "stiffness", None, None, "",
        "likely figures", "Parts of the drive in series along the travel: A E / x, c (1/a + 1/b), teeth and gearbox.",
    )  # fmt: skip
    turn = Row(
        "travel_per_turn",
        "Travel in one turn of the motor",
        t.travel,
        "length",
        source="Lead, pitch times teeth, gear.",
    )
    return [*own, *torque_rows(s, t), turn, *step_rows(s, t, tightest), *stopping_rows(s, t), softest]
