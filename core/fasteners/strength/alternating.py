"""Alternating load on a screw against its fatigue limit: how much of a joint's changing pull the screw itself feels.

Source: VDI 2230-1: resiliences (5.1), load factor (5.3), sigma_a = Phi (F_max - F_min) / (2 A_s), sigma_ASV = 0.85 (150/d + 45)
for threads rolled before heat treatment and endless life (5.5.3); formulas found in public programs that cite it.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from core.fasteners.joints import FittedJoint
from core.fasteners.joints.tables import hardware
from core.fasteners.strength.group import Spread
from core.fasteners.strength.margins import Loads, Margin, margin_of, worst_of
from core.materials import material

Floats = npt.NDArray[np.float64]
STEEL = 205e9  # Pa, of screws
INTRODUCED = (1.0, 0.7, 0.4)
"""Share of the clamped parts that a load relieves (n): all is the worst; usual are 0.4 to 0.7 (VDI 2230-1, memory medium)."""
HEAD, ENGAGED, IN_NUT, IN_HOLE = 0.4, 0.5, 0.4, 0.33
"""Lengths in diameters that count as stretched in head, engaged thread, nut and tapped hole (VDI 2230-1, memory high)."""


def fatigue_limit(diameter: float) -> float:
    """Stress amplitude that a screw bears without end, Pa; diameter in m."""
    return 0.85 * (0.15 / diameter + 45.0) * 1e6


def screw_resilience(joint: FittedJoint) -> float:
    """Stretch of the screw for each newton, m/N: head, shank, free thread, engaged thread, nut or hole."""
    assert joint.stack is not None
    size, ware, stack = joint.size, hardware()[joint.size.thread], joint.stack
    full, root = math.pi / 4.0 * size.diameter**2, math.pi / 4.0 * ware.d3**2
    length = stack.shortest if stack.length is None else stack.length
    grip = stack.clamped + stack.passed
    shank = min(max(length - size.thread_length, 0.0), grip)
    held = (IN_HOLE if joint.hold == "tapped hole" else IN_NUT) * size.diameter / full
    parts = HEAD * size.diameter / full + shank / full + (grip - shank) / root
    return (parts + ENGAGED * size.diameter / root + held) / STEEL


def parts_resilience(joint: FittedJoint, radius: float) -> float:
    """Squeeze of the clamped parts for each newton, m/N: a sleeve between the head's and the pressed zone's radius."""
    assert joint.stack is not None
    ware, layers = hardware()[joint.size.thread], joint.stack.layers
    head = (ware.washer_outer if layers[0].kind == "washer" else ware.bearing) / 2.0
    mean = (head + max(radius, head)) / 2.0
    area = math.pi * (mean**2 - (joint.size.hole / 2.0) ** 2)
    found = 0.0
    for layer in layers:
        if layer.kind in ("washer", "clamped", "passed"):
            young = material("s235" if layer.metal == "steel" else layer.metal).young
            found += layer.thickness / (young * area)
    return found


def load_factor(joint: FittedJoint, radius: float) -> float:
    """Share of a joint's pull that its screw feels when all clamped parts are relieved (Phi at n = 1)."""
    parts = parts_resilience(joint, radius)
    return parts / (parts + screw_resilience(joint))


def fatigue_margin(loads: Loads, found: Spread, joint: FittedJoint, radius: float) -> Margin:
    """How many times all loads could grow until the screw's stress amplitude between any two states is at its limit."""
    pull = found.pull  # (c, k, p, s)
    swing = (pull.max(axis=-1) - pull.min(axis=-1)).max(axis=0)  # (k, p)
    bears = fatigue_limit(joint.size.diameter) * joint.size.stress_area
    share = load_factor(joint, radius)
    # The states between which it swings are many; the one named pulls hardest.
    hardest = pull.max(axis=0)
    asked = np.where(hardest == hardest.max(axis=-1, keepdims=True), swing[..., None], 0.0)
    return worst_of(loads, [margin_of(bears, n * share * asked / 2.0) for n in INTRODUCED])
