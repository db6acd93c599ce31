"""At what force an engaged thread shears off: the internal one at the screw's outer diameter, the screw's own at the bore.

Source: Alexander, SAE 770420 (1977), as taken over by VDI 2230-1 and ISO/TR 16224; from memory. Engagement counts without
0.8 of a pitch, for chamfer and run-out.
"""

from __future__ import annotations

import math

from core.fasteners.joints.tables import hardware
from core.fasteners.screws import screw

TAN_30 = math.tan(math.radians(30.0))
LOST = 0.8  # pitches of the engagement that carry nothing, VDI 2230-1, from memory
SHEAR = {
    "steel": 0.6,
    "aluminium": 0.65,
    "other": 0.5,
}  # shear over tensile strength, VDI 2230-1, memory medium
WEAKER_NUT = 0.897  # C3: bending of threads when the internal one is the weaker, memory high


def internal_area(thread: str, engagement: float) -> float:
    """Shear area of the internal thread, m2: pi d (m/P) (P/2 + (d - D2) tan 30 deg)."""
    size, ware = screw(thread), hardware()[thread]
    turns = engagement / size.pitch
    return math.pi * size.diameter * turns * (size.pitch / 2.0 + (size.diameter - ware.d2) * TAN_30)


def external_area(thread: str, engagement: float) -> float:
    """Shear area of the screw's thread, m2: pi D1 (m/P) (P/2 + (d2 - D1) tan 30 deg)."""
    size, ware = screw(thread), hardware()[thread]
    turns = engagement / size.pitch
    return math.pi * ware.bore * turns * (size.pitch / 2.0 + (ware.d2 - ware.bore) * TAN_30)


def carrying(thread: str, engagement: float) -> float:
    """Engagement that carries, m."""
    return max(engagement - LOST * screw(thread).pitch, 0.0)


def stripping_force(
    thread: str, engagement: float, metal: str, tensile: float, screw_tensile: float
) -> float:
    """Force at which the weaker of both threads strips, N.

    Args:
        engagement: length of thread in each other, m. metal: family of the internal thread's part. tensile: its tensile
            strength, Pa. screw_tensile: of the screw, Pa.
    """
    m = carrying(thread, engagement)
    inside = SHEAR[metal] * tensile * internal_area(thread, m)
    own = SHEAR["steel"] * screw_tensile * external_area(thread, m)
    return min(inside * (WEAKER_NUT if inside < own else 1.0), own)
