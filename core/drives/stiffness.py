"""Stiffness of a drive along its travel as whole curves, and what each part of it contributes.

The same springs as `core.machine.drives` gives place by place; the tests hold both together.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from core.fields import Band
from core.machine.drives import BallScrew, Drive, KnownStiffness, RackPinion, ToothedBelt

Floats = npt.NDArray[np.float64]


def three(b: Band) -> Floats:
    """(3, 1): low, likely and high."""
    return np.array([[b.low], [b.likely], [b.high]])


def parts_along(drive: Drive, distance: Floats, length: float) -> dict[str, Floats]:
    """Stiffness (3, n) of each part in series, low, likely and high, N/m, by its words.

    Args:
        distance: (n,) of the moving part from the fixed bearing or the motor's pulley, m. length: between the ends, m.
    """
    ones = np.ones((3, distance.size))
    reach = np.clip(distance, 0.05 * length, 0.95 * length)
    if isinstance(drive, KnownStiffness):
        return {"drive as entered": three(drive.stiffness) * ones}
    if isinstance(drive, BallScrew):
        rigid = 210e9 * math.pi * drive.diameter**2 / 4.0
        both = drive.ends == "fixed-fixed"
        shaft = rigid * length / (reach * (length - reach)) if both else rigid / reach
        return {
            "screw shaft": shaft * ones,
            "nut": three(drive.nut_stiffness) * ones,
            "bearings" if both else "bearing": three(drive.bearing_stiffness) * (2.0 if both else 1.0) * ones,
        }
    if isinstance(drive, RackPinion):
        radius = drive.module * drive.teeth / 2.0
        return {
            "tooth contact": three(drive.mesh_stiffness) * ones,
            "gearbox": three(drive.gearbox_stiffness) / radius**2 * ones,
        }
    return {"belt strands": three(drive.specific_stiffness) * (1.0 / reach + 1.0 / (length - reach))}


def in_series(parts: dict[str, Floats]) -> Floats:
    """(3, n) stiffness of all parts in series, N/m."""
    return np.asarray(1.0 / np.sum([1.0 / k for k in parts.values()], axis=0))


def slack_share(drive: ToothedBelt, distance: Floats, length: float) -> Floats:
    """(n,) share of a pull that the strand which slackens gives up, at its larger.

    Both strands hold the carriage as springs side by side; the shorter one is the stiffer and takes more.
    """
    a = np.clip(distance, 0.05 * length, 0.95 * length)
    return np.asarray(np.maximum(a, length - a) / length)
