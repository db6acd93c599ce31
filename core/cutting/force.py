"""The force on the tool tip of a load case: as given, or the mean force of a cut.

Mean tangential force = cutting power / cutting speed, cutting power = specific pressure x chip volume in unit time.
Source: Kienzle's relation as used in metal-cutting handbooks; the worked example of `tests/validation` checks it.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from core.cutting.chip import find_chip
from core.cutting.pressure import Side, pressure_at
from core.machine.loads import CutForce, LoadCase


def mean_power(cut: CutForce, side: Side = "likely") -> float:
    """Cutting power in W: depth x width x feed x specific pressure at the mean chip."""
    pressure = pressure_at(cut, find_chip(cut).mean, side)
    return cut.depth * cut.width * cut.feed * pressure


def mean_tangential(cut: CutForce, side: Side = "likely") -> float:
    """Mean tangential force in N: power over the speed of the cutting edge."""
    return mean_power(cut, side) / (math.pi * cut.diameter * cut.speed)


def tip_force(case: LoadCase, side: Side = "likely") -> npt.NDArray[np.float64]:
    """Force (3,) on the tip in N. A cut's radial part stands across its tangential part, the axial part along Z."""
    load = case.load
    if isinstance(load, CutForce):
        tangential = mean_tangential(load, side)
        return np.array([tangential, load.radial_share * tangential, load.axial_share * tangential])
    return np.array([load.x, load.y, load.z])
