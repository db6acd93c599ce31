"""Sag of the gantry beam and path error of the tool tip under weight, with the best line that a shim can remove."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.model.condensed import Gantry
from core.model.moving import Head, beam_line, condense_head, ride, tip_path
from core.model.setting import Setting

Floats = npt.NDArray[np.float64]
PLACES = 41
NOTHING = 1.0e-12  # heights below this (m) are rounding


@dataclass(frozen=True, slots=True)
class SagAnswer:
    """Figures in m and rad along the X travel at one y.

    Attributes:
        x (n,): tool places. beam (n,): the beam's own line below the straight line between its joints (negative), under
            its own weight with rails, without saddle and head. beam_worst: its largest size.
        path (n, 3): movement of the tool tip under all weights, less its height at the middle (where it is zeroed).
        tilt (n,): turn of the spindle about X.
        slope, offset: best straight line through the path's height; a shim or a tilted rail removes it.
        residual (n,): what is left of the height after that line. worst_residual, worst_residual_x: its largest size.
        removable: largest height that the line takes away over the travel.
    """

    x: Floats
    beam: Floats
    beam_worst: float
    path: Floats
    tilt: Floats
    slope: float
    offset: float
    residual: Floats
    worst_residual: float
    worst_residual_x: float
    removable: float

    @property
    def line(self) -> tuple[float, float]:
        """Slope and offset of the best line, together."""
        return self.slope, self.offset


def find_sag(setting: Setting, gantry: Gantry, head: Head | None = None) -> SagAnswer:
    """Sag and path error with the tool at the last of the condensed gantry's places; `head` as condensed before."""
    half = setting.machine.work.travel_x / 2.0
    x = np.linspace(-half, half, PLACES)
    gantry = gantry.at(-1)
    joint = setting.layout.joint_x
    line_x = np.concatenate([x, [-joint, joint]])
    height = beam_line(setting, gantry, line_x)[0]
    chord = height[-2] + (height[-1] - height[-2]) * (x + joint) / (2.0 * joint)
    beam = height[:-2] - chord
    full = tip_path(gantry, ride(setting, gantry, x), head or condense_head(setting))[0]
    path = full[:, :3] - full[PLACES // 2, :3]
    slope, offset = np.polyfit(x, path[:, 2], 1)
    slope = 0.0 if abs(slope) * half < NOTHING else slope  # a symmetric machine tilts by rounding alone
    residual = path[:, 2] - (slope * x + offset)
    worst = int(np.argmax(np.abs(residual)))
    return SagAnswer(
        x=x, beam=beam, beam_worst=float(np.max(np.abs(beam))), path=path, tilt=full[:, 3],
        slope=float(slope), offset=float(offset), residual=residual,
        worst_residual=float(abs(residual[worst])), worst_residual_x=float(x[worst]),
        removable=float(abs(slope) * 2.0 * half),
    )  # fmt: skip
