"""Assembly preload of a screw by VDI 2230, and what less is left of it in a slot, a thin wall or a rivet nut."""

from __future__ import annotations

import math

from core.fasteners.screws import Screw

# Yield strength Rp0.2 of the property classes, Pa: ISO 898-1 (8.8 up to M16), memory high.
YIELD = {"8.8": 640e6, "10.9": 940e6, "12.9": 1100e6}
THREAD_FRICTION = 0.12
USED = 0.9
"""Share of the yield strength that tightening uses; both as the tables of VDI 2230."""
HOLD_SHARE = {"T-nut": 0.5, "rivet nut": 0.4, "tapped wall": 1.0, "tapped bar": 1.0, "through bolt": 1.0}
"""Share of the screw's preload that may be counted on with each hold: slot lips of aluminium and rivet nuts give first (an
assumption on the safe side; the nut's data sheet wins). Tapped walls are cut down by their thread engagement besides."""


def assembly_preload(size: Screw, property_class: str, friction: float = THREAD_FRICTION) -> float:
    """FM Tab, N: preload at which pull and twist together reach 0.9 of the yield strength.

    Source: VDI 2230 part 1, equation for FM Tab: As nu Rp0.2 / sqrt(1 + 3 (1.5 d2/d0 (P/(pi d2) + 1.155 mu))^2), with d2 and
    d3 of ISO 724 and d0 of the stress area.
    """
    d2 = size.diameter - 0.649519 * size.pitch
    d3 = size.diameter - 1.226869 * size.pitch
    d0 = (d2 + d3) / 2.0
    twist = 1.5 * d2 / d0 * (size.pitch / (math.pi * d2) + 1.155 * friction)
    return size.stress_area * USED * YIELD[property_class] / math.sqrt(1.0 + 3.0 * twist**2)


def preload_band(
    size: Screw, property_class: str, hold: str, engaged: float, needed: float, factor: float
) -> tuple[float, float, float]:
    """(low, likely, high) preload of one fitted screw, N.

    Args:
        engaged, needed: thread engagement there is, and that practice asks for, m; less thread carries less.
        factor: tightening factor, highest over lowest preload (VDI 2230's alpha A).
    """
    share = HOLD_SHARE[hold]
    if hold in ("tapped wall", "tapped bar") and needed > 0.0:
        share *= min(1.0, engaged / needed)
    most = assembly_preload(size, property_class) * share
    return most / factor, most * (1.0 + 1.0 / factor) / 2.0, most
