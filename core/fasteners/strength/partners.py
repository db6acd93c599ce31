"""What the parts that a screw pulls at bear: thread, slot lips, rivet nut, tube wall, the face under the head.

Each limit comes with its assumption and a band; the torque is held to the low end of the weakest.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.fasteners.joints import FittedJoint
from core.fasteners.joints.layers import Layer
from core.fasteners.joints.tables import hardware
from core.fasteners.strength.preload import TENSILE
from core.fasteners.strength.thread import stripping_force
from core.materials import material
from core.sections import TSlot

# Tensile strength Rm, Pa: EN 755-2 (thinnest rows) and EN 10025-2; memory high.
RM = {
    "en_aw_6060_t66": 195e6,
    "en_aw_6063_t66": 245e6,
    "en_aw_6082_t6": 290e6,
    "s235": 360e6,
    "s355": 470e6,
    "bearing_steel": 700e6,  # a carriage's body is soft where it is tapped (a cautious figure, memory low)
    "steel": 360e6,
}
# Pressure under a head that the face bears, over the yield strength: VDI 2230-1 table, memory low (S235 490 MPa).
PRESSURE = {"steel": 2.1, "aluminium": 1.4, "other": 1.0}
NUT_BODY = 300e6  # Pa, yield of a rivet nut's body of mild steel, memory low
NUT_OUTER = {"M3": 0.005, "M4": 0.006, "M5": 0.007, "M6": 0.009, "M8": 0.011, "M10": 0.013, "M12": 0.016}
NUT_LENGTH = {"M3": 0.010, "M4": 0.012, "M5": 0.015, "M6": 0.018, "M8": 0.022, "M10": 0.028, "M12": 0.03}
"""Outer diameter of a rivet nut's body and length of a T-nut along its slot, m: common practice, measure yours."""


@dataclass(frozen=True, slots=True)
class Limit:
    """Pull of one screw that a part bears, N; `because` says how it was found and what was assumed."""

    what: str
    low: float
    likely: float
    high: float
    because: str


def partner_limits(joint: FittedJoint, section: object = None) -> tuple[Limit, ...]:
    """Limits of everything but the screw itself, the weakest first.

    Args:
        section: the T-slot profile that the nuts go into; None otherwise.
    """
    stack, thread = joint.stack, joint.size.thread
    if stack is None:
        return ()
    partner, hold = joint.site.partner, joint.hold
    found = [_pressure(joint, stack.layers)]
    grown = TENSILE[joint.site.joint.property_class]
    if hold != "through bolt":
        metal = partner.metal if hold == "tapped hole" else "steel"
        family = material(metal).family if metal != "steel" else "steel"
        rm = RM.get(metal, 200e6)
        force = stripping_force(thread, stack.engagement, family, rm, grown)
        words = "thread in the " + (partner.what if hold == "tapped hole" else hold)
        text = f"sheared off over its engagement (Alexander, VDI 2230), Rm {rm / 1e6:.0f} MPa; holes and screws at the wide end"
        found.append(Limit(words, 0.75 * force, 0.9 * force, force, text))
    if hold == "T-nut" and isinstance(section, TSlot):
        found.append(_lips(section, thread, partner.metal))
    if hold == "rivet nut":
        found.append(_rivet_nut(thread, partner.ground.wall, partner.metal))
    if hold == "through bolt" and partner.hollow:
        found.append(_wall(partner.ground.wall, partner.metal))
    return tuple(sorted(found, key=lambda limit: limit.low))


def _pressure(joint: FittedJoint, layers: tuple[Layer, ...]) -> Limit:
    """The face under the head, or under its washer."""
    ware, washer = hardware()[joint.size.thread], layers[0].kind == "washer"
    part = layers[1] if washer else layers[0]
    stuff = material("s235" if part.metal == "steel" else part.metal)
    outer = ware.washer_outer if washer else ware.bearing
    area = math.pi / 4.0 * (outer**2 - joint.size.hole**2)
    bears = PRESSURE[stuff.family] * stuff.yield_strength
    text = f"pressure of {bears / 1e6:.0f} MPa on {area * 1e6:.0f} mm2 (VDI 2230 table, from memory)"
    return Limit(f"face of the {part.what}", 0.85 * bears * area, bears * area, 1.15 * bears * area, text)


def _lips(slot: TSlot, thread: str, metal: str) -> Limit:
    """Both lips of a slot bent by a nut: plastic hinges at their roots, 45 degrees of spread beyond the nut's ends.

    The nut presses on the middle of what of its half width lies under the lip, 0.5 mm clear of the slot's side.
    """
    length = NUT_LENGTH[thread] + 2.0 * slot.lip
    reach = (slot.inner_width - slot.slot_opening) / 2.0
    arm = max((reach + 0.0005) / 2.0, 0.25 * reach)
    hinge = material(metal).yield_strength * slot.lip**2 / 4.0 * length
    shear = material(metal).yield_strength / math.sqrt(3.0) * slot.lip * length
    force = 2.0 * min(hinge / arm, shear)
    text = (
        f"lips {slot.lip * 1e3:g} mm thick bent at their roots over {length * 1e3:.0f} mm (plastic hinges); nuts stand askew "
        "and rest on their edges, so less than half is counted on"
    )
    return Limit("lips of the slot", 0.4 * force, 0.6 * force, force, text)


def _rivet_nut(thread: str, wall: float, metal: str) -> Limit:
    outer, inner = NUT_OUTER[thread], float(thread[1:]) / 1000.0
    body = NUT_BODY * math.pi / 4.0 * (outer**2 - inner**2)
    punched = material(metal).yield_strength / math.sqrt(3.0) * math.pi * outer * wall
    force = min(body, punched)
    which = "its body" if body <= punched else "the wall round it"
    text = f"{which} yields; a rivet nut may turn in its hole before (from memory, low): try one in scrap"
    return Limit("rivet nut", 0.6 * force, 0.8 * force, force, text)


def _wall(wall: float, metal: str) -> Limit:
    """A tube's wall pressed in by a bolt through the whole tube: fan of yield lines about a point, edges held: 4 pi m."""
    force = math.pi * material(metal).yield_strength * wall**2
    text = f"wall of {wall * 1e3:g} mm pressed in (yield lines, 4 pi m); a sleeve inside takes this away"
    return Limit("wall of the tube", 0.7 * force, force, 1.5 * force, text)
