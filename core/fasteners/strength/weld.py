"""A fillet weld all round a bar's end as lines on the outline, and what it bears.

Source: lines as in Blodgett, Design of Welded Structures; strength EN 1993-1-8 4.5.3.3 and EN 1999-1-1 8.6.3; from memory.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from core.fasteners.strength.partners import RM
from core.materials import material

Floats = npt.NDArray[np.float64]
SAFETY = 1.25  # gamma M2, gamma Mw
CORRELATION = {"s235": 0.8, "s355": 0.9}
ALUMINIUM = 160e6  # Pa, fw of welds in the 6000 alloys, a low row; memory medium


def weld_strength(metal: str) -> float:
    """Shear strength of a fillet weld in this metal, Pa."""
    if material(metal).family == "aluminium":
        return ALUMINIUM / math.sqrt(3.0) / SAFETY
    return RM.get(metal, 360e6) / (math.sqrt(3.0) * CORRELATION.get(metal, 0.9) * SAFETY)


def line_load(box: tuple[float, float], length: float, wrench: Floats) -> Floats:
    """Largest force on a length of weld, N/m (...), under wrenches (6, ...) as of `group.spread`.

    Args:
        box: sides along u and v, m. length: welded in all; less than all round scales evenly.
    """
    a, b = box
    part = length / (2.0 * (a + b))
    about_u = part * (a * b**2 / 2.0 + b**3 / 6.0)
    about_v = part * (b * a**2 / 2.0 + a**3 / 6.0)
    polar = about_u + about_v
    fu, fv, pull, mu, mv, mn = np.abs(wrench)
    away = pull / length + mu * b / (2.0 * about_u) + mv * a / (2.0 * about_v)
    along_u = fu / length + mn * b / (2.0 * polar)
    along_v = fv / length + mn * a / (2.0 * polar)
    return np.asarray(np.sqrt(away**2 + along_u**2 + along_v**2))
