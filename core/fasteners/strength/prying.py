"""A plate that a bar pulls at from between its screws: it bends, and its edge levers the screws (prying).

Source: equivalent T-stub in tension, EN 1993-1-8 6.2.4 and table 6.2, for one screw: half of what two screws bear; lengths of
yield lines of a lone row, table 6.4; from memory, high. Partial factors 1.0 and 1.25.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from core.fasteners.joints import FittedJoint
from core.fasteners.strength.group import Spread
from core.fasteners.strength.margins import Loads, Margin, margin_of, worst_of
from core.fasteners.strength.partners import Limit
from core.fasteners.strength.preload import TENSILE
from core.materials import material

GAMMA = 1.25  # gamma M2
BAND = (0.75, 1.0, 1.25)  # of what the plate bears, common practice
MODES = {
    1: "the plate gives way at the bar and at the screws",
    2: "the plate gives way at the bar and its edge levers the screws",
    3: "the screws give way before the plate",
}


@dataclass(frozen=True, slots=True)
class Stub:
    """Pull of one screw that its plate bears, N.

    Attributes:
        mode: 1 to 3 as in `MODES`. bears: in that mode. lever: from the bar's face to the screw; edge: on to the plate's edge
            (counted up to 1.25 levers), m. levered: pull that prying adds to the screw's own at that load, N.
    """

    mode: int
    bears: float
    lever: float
    edge: float
    levered: float


def t_stub(
    lever: float, edge: float, width: float, thickness: float, yield_strength: float, screw: float
) -> Stub:
    """The weakest mode.

    Args:
        width: of plate for one row of two screws, one on each side of the bar, m. thickness: of the plate.
        yield_strength: of the plate, Pa. screw: pull that it bears, N.
    """
    n = min(edge, 1.25 * lever)
    straight = min(4.0 * lever + 1.25 * edge, width)
    round_ = min(2.0 * math.pi * lever, straight)
    one, two = (0.25 * length * thickness**2 * yield_strength for length in (round_, straight))
    # Table 6.2 is about a row of two screws: 4 M / m, (2 M + 2 n F) / (m + n), 2 F. Here stands half of it.
    modes = {1: 2.0 * one / lever, 2: (two + n * screw) / (lever + n), 3: screw}
    mode = min(modes, key=lambda k: modes[k])
    levered = 0.0 if mode == 3 else one / n if mode == 1 else max(screw - modes[2], 0.0)
    return Stub(mode, modes[mode], lever, n, levered)


def stub_of(joint: FittedJoint, limits: Sequence[Limit] = ()) -> Stub | None:
    """The stub of a joint whose plate carries a bar between its screws; None for all others.

    Args:
        limits: of what holds the screw (nut, slot, thread): where the weakest bears less than the screw, it counts.
    """
    site, pattern, stack = joint.site, joint.pattern, joint.stack
    if pattern is None or stack is None or not site.bar or pattern.along < 2:
        return None
    reach = (pattern.along - 1) * pattern.pitch_along / 2.0
    lever = reach - site.bar / 2.0
    edge = pattern.face[0] / 2.0 - reach
    if lever <= 0.0 or edge <= 0.0:
        return None
    plate = next(layer for layer in stack.layers if layer.kind == "clamped")
    stuff = material("s235" if plate.metal == "steel" else plate.metal)
    screw = 0.9 * TENSILE[site.joint.property_class] * joint.size.stress_area / GAMMA
    bears = min([screw, *(limit.likely for limit in limits)])
    return t_stub(lever, edge, pattern.face[1] / pattern.across, plate.thickness, stuff.yield_strength, bears)


def plate_margin(loads: Loads, found: Spread, stub: Stub) -> Margin:
    """How many times all loads could grow until the plate, or its levered screw, is at its limit."""
    pull = found.pull.max(axis=0)
    return worst_of(loads, [margin_of(part * stub.bears, pull) for part in BAND])
