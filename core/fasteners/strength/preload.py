"""Tightening torque and preload of a socket head cap screw, and which torque it bears.

Source: VDI 2230-1, as used in machine-element handbooks: the screw is tightened to 90 % of its yield strength under pull and
torsion together.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.fasteners.joints.tables import hardware
from core.fasteners.screws import screw

YIELD = {"8.8": 640e6, "10.9": 940e6, "12.9": 1100e6}  # Rp0.2, Pa; ISO 898-1 up to M16, memory high
TENSILE = {"8.8": 800e6, "10.9": 1040e6, "12.9": 1220e6}  # Rm, Pa; ISO 898-1, memory high
USED = 0.9


@dataclass(frozen=True, slots=True)
class Preload:
    """Preload of one screw once it stands, N: with all that lowers it, as is likely, with all that raises it."""

    low: float
    likely: float
    high: float


def torque_factor(thread: str, friction: float, bearing: float | None = None) -> float:
    """Torque over preload, m: F times this is the tightening torque.

    M = F (0.16 P + 0.58 d2 mu + mu DKm / 2), DKm = (dw + dh) / 2.

    Args:
        bearing: outer diameter dw of the bearing face, m; None for the head of ISO 4762.

    Source: VDI 2230-1 (5.4.3).
    """
    size, ware = screw(thread), hardware()[thread]
    mean = ((bearing or ware.bearing) + size.hole) / 2.0
    return 0.16 * size.pitch + 0.58 * ware.d2 * friction + 0.5 * mean * friction


def allowed_preload(thread: str, property_class: str, friction: float) -> float:
    """Preload at 90 % of the yield strength, N.

    sigma = 0.9 Rp / sqrt(1 + 3 [1.5 (d2/d0) (P / (pi d2) + 1.155 mu)]^2), F = sigma A_s, d0 = (d2 + d3) / 2.

    Source: VDI 2230-1 (5.4.2).
    """
    size, ware = screw(thread), hardware()[thread]
    mean = (ware.d2 + ware.d3) / 2.0
    turning = 1.5 * ware.d2 / mean * (size.pitch / (math.pi * ware.d2) + 1.155 * friction)
    area = math.pi / 4.0 * mean**2
    return USED * YIELD[property_class] / math.sqrt(1.0 + 3.0 * turning**2) * area
