"""Gantry racking: one side lags, one drive is softer than the other, or the force stands at one end of the beam.

One verified solve of the whole frame with the head at the right end, under a pull at each Y drive and a force at the tip;
unequal drives then follow by exchanging the two springs exactly (Woodbury's identity). The head at the left end mirrors it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.cutting import tip_force
from core.drives.axis import drive_spacing
from core.drives.results import Racking
from core.frame import Frame, solve
from core.frame.assemble import spring_dofs, spring_gradients
from core.machine.project import Project
from core.model.setting import Setting
from core.model.whole import whole_frame

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class _Pulled:
    """Answers to unit loads: g (dofs, 2) stretch of left and right drive; by (dofs, 3) moved by a unit pull at each and by
    a unit force at the tip; stiffness (2,) of the drives, tip_y the tip's degree of freedom along Y."""

    g: Floats
    by: Floats
    stiffness: Floats
    tip_y: int


def find_racking(setting: Setting, project: Project, y: float) -> Racking:
    """Answer with the tool at y (m). Raises Mechanism, NotTrustworthy."""
    lay, machine = setting.layout, setting.machine
    spacing, span, lag = drive_spacing(lay), machine.work.travel_x, machine.motion.lag
    pulled = _pull(setting, span / 2.0, y)
    k, g = pulled.stiffness, pulled.g
    # A lag d of the left motor is a pull -k d at the left drive's spring.
    moved = pulled.by[:, :2] * (-k * lag)
    left_end, right_end = float(moved[pulled.tip_y, 1]), float(moved[pulled.tip_y, 0])
    # The right motor's lag at the right end is the left motor's lag at the left end.
    slope = (right_end - left_end) / span
    stretch = g.T @ moved[:, 0]
    # Force in the left spring: stiffness times what is missing to the motor's own place.
    strain = float(abs(k[0] * (stretch[0] + lag)))
    name, force = max(((c.name, _along_y(c)) for c in project.cases), key=lambda pair: pair[1])
    low, high = _soft_stiff(setting, y, k)
    under = pulled.by[:, 2] * force
    unequal = _exchanged(pulled, under, np.array([high, low]) - k)
    equal_feet, unequal_feet = g.T @ under, g.T @ unequal
    share = float(k[1] * equal_feet[1] / np.sum(k * equal_feet)) if force > 0.0 else 0.5
    difference = [float(f[1] - f[0]) for f in (equal_feet, unequal_feet)]
    return Racking(
        lag=lag, spacing=spacing, angle=math.atan2(lag, spacing), offset=span * lag / spacing,
        angle_elastic=math.atan(slope), offset_elastic=slope * span, strain=strain, force=force, case=name,
        turn_equal=difference[0] / spacing, turn_unequal=difference[1] / spacing,
        difference_equal=difference[0], difference_unequal=difference[1], share_near=share,
    )  # fmt: skip


def _along_y(case: object) -> float:
    force = tip_force(case)  # type: ignore[arg-type]
    if case.any_direction:  # type: ignore[attr-defined]
        return float(math.hypot(force[0], force[1]))
    return float(abs(force[1]))


def _pull(setting: Setting, x: float, y: float) -> _Pulled:
    whole = whole_frame(setting, x, y)
    frame = whole.frame
    g = np.stack([_gradient(frame, f"{side} Y drive") for side in ("left", "right")], axis=1)
    tip_y = 6 * frame.node(whole.tip) + 1
    loads = np.zeros((frame.dofs, 3))
    loads[:, :2] = g
    loads[tip_y, 2] = 1.0
    numbers = [frame.spring(f"{side} Y drive") for side in ("left", "right")]
    return _Pulled(
        g, solve(frame, loads, columns=True).displacements, frame.springs.stiffness[numbers], tip_y
    )


def _gradient(frame: Frame, name: str) -> Floats:
    """(dofs,) stretch of a spring by every movement."""
    number = frame.spring(name)
    row = np.zeros(frame.dofs)
    np.add.at(row, spring_dofs(frame)[number], spring_gradients(frame)[number])
    return row


def _exchanged(pulled: _Pulled, moved: Floats, change: Floats) -> Floats:
    """Movement (dofs,) after the two drives' stiffness changed by `change` (2,). Source: Woodbury's identity."""
    reach = pulled.g.T @ pulled.by[:, :2]
    force = np.linalg.solve(np.eye(2) + change[:, None] * reach, change * (pulled.g.T @ moved))
    return np.asarray(moved - pulled.by[:, :2] @ force)


def _soft_stiff(setting: Setting, y: float, k: Floats) -> tuple[float, float]:
    """Low and high stiffness of a Y drive here, N/m; a drive held rigid has no band."""
    if setting.is_rigid("y_drive"):
        return float(k[0]), float(k[0])
    lay = setting.layout
    start = lay.side_y - lay.side_beam_length / 2.0
    found = setting.machine.y_drive.stiffness_at(lay.gantry_y(y) - start, lay.side_beam_length)
    return found.low, found.high
