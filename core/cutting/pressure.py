"""Specific cutting pressure: Kienzle's relation for metals, the entered range for everything else."""

from __future__ import annotations

from typing import Literal

import numpy as np
import numpy.typing as npt

from core.machine.loads import CutForce
from core.materials.workpieces import metal

Floats = npt.NDArray[np.float64]
Side = Literal["low", "likely", "high"]
SIDES: tuple[Side, ...] = ("low", "likely", "high")
MILLIMETRE = 1.0e-3


def law(cut: CutForce, side: Side = "likely") -> tuple[float, float]:
    """(k, m): pressure in Pa of a chip 1 mm thick, and the power by which it falls with the thickness."""
    if not cut.workpiece:
        return float(getattr(cut.pressure, side)), 0.0
    stuff, number = metal(cut.workpiece), SIDES.index(side)
    return stuff.pressure[number], stuff.exponent[number]


def pressures_at(cut: CutForce, thickness: Floats, side: Side = "likely") -> Floats:
    """Pressure in Pa for chips (...) m thick, all thicker than nothing.

    k_c = k_c1.1 h^(-m_c), h in mm. Source: Kienzle's relation as in metal-cutting handbooks (DIN 6584 names the
    quantities).
    """
    k, m = law(cut, side)
    return np.asarray(k * (thickness / MILLIMETRE) ** -m, dtype=np.float64)


def pressure_at(cut: CutForce, thickness: float, side: Side = "likely") -> float:
    """`pressures_at` for one thickness."""
    k, m = law(cut, side)
    return float(k * (thickness / MILLIMETRE) ** -m)


def edge_force(cut: CutForce, thickness: Floats, depth: float, side: Side = "likely") -> Floats:
    """Tangential force in N of an edge `depth` m long on chips (...) m thick; zero where there is no chip."""
    k, m = law(cut, side)
    h = np.maximum(thickness, 0.0) / MILLIMETRE
    return np.asarray(k * MILLIMETRE * depth * h ** (1.0 - m), dtype=np.float64)
