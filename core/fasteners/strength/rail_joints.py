"""The rails' own screws as joints: those that a carriage's force reaches. They are counted with the rails, not here."""

from __future__ import annotations

from collections.abc import Iterator

from core.fasteners.joints import FittedJoint, JointStack, Layer, Partner, Pattern
from core.fasteners.joints.pattern import Wish
from core.fasteners.joints.sites import JointSite
from core.fasteners.rails import RailAnswer
from core.fasteners.screws import screw
from core.fasteners.site import Site, x_site, y_site, z_site
from core.fasteners.stack import clamp_stack
from core.machine.joints import Joint
from core.machine.layout import Layout
from core.machine.project import Project
from core.sections import TSlot, piece_at
from core.sections.outlines import Face

REACHED = 2
"""Screws that a carriage's force reaches: the nearest two, as rails are stiff between them (common practice)."""
HOLDS = {"tapped wall": "tapped hole"}


def rail_joints(project: Project, layout: Layout, rails: tuple[RailAnswer, ...]) -> Iterator[FittedJoint]:
    """A joint for the rails of each axis, as far as a screw of standard length was found."""
    machine = project.machine
    metals = {"x": machine.gantry.beam.material, "y": machine.base.material, "z": machine.head.material}
    for site in (x_site(project, layout), y_site(project, layout), z_site(project, layout)):
        rail = next((r for r in rails if r.axis == site.axis), None)
        if rail is not None and rail.screw_length is not None and rail.count:
            yield _joint(site, rail, metals[site.axis])


def _joint(site: Site, rail: RailAnswer, metal: str) -> FittedJoint:
    data, size = site.guides.data, screw(rail.screw)
    stack = clamp_stack(data, size, site.fastening, site.ground)
    under = data.rail_height - data.counterbore_depth
    hold = HOLDS.get(rail.hold, rail.hold)
    layers = [Layer("rail", under, "bearing_steel", "clamped")]
    if site.fastening.under_rail:
        layers.append(Layer("packing", site.fastening.under_rail, "s235", "clamped"))
    if stack.passed:
        layers.append(Layer(site.beam, stack.passed, metal, "passed"))
    own = hold == "tapped hole"
    layers.append(Layer(site.beam if own else hold, stack.thread, metal if own else "steel", "thread"))
    count = min(REACHED, rail.count)
    places = tuple(((k - (count - 1) / 2.0) * rail.pitch, 0.0) for k in range(count))
    face = (count * rail.pitch, data.rail_width)
    pattern = Pattern(count, 1, rail.pitch * (count > 1), 0.0, places, face, True)
    slot = site.section.slot_opening if isinstance(site.section, TSlot) else 0.0
    upper = site.axis.upper()
    names = tuple(f"{r[1]}, carriage {n + 1}" for r in site.rails for n in range(site.guides.carriages))
    made = JointSite(
        f"{site.axis}_rails", f"{upper} rails, under a carriage", site.fastening_at,
        Joint(property_class=site.fastening.property_class), names, tuple(layers[:1]),
        Partner(site.beam, metal, site.ground, slot=slot, hollow=rail.hold != "tapped wall"), face, (upper, "-"),
        rail.screw, Wish(count, 1),
    )  # fmt: skip
    built = JointStack(
        tuple(layers), stack.clamped, stack.passed, stack.thread, stack.needed, stack.shortest, stack.longest,
        rail.screw_length, rail.engagement, None, stack.thin, 0,
    )  # fmt: skip
    return FittedJoint(made, len(names), False, size, hold, pattern, built, 0.0, 0.0, 0, 0, 0)


def slot_of(project: Project, layout: Layout, joint: FittedJoint) -> TSlot | None:
    """The T-slot profile that a joint's nuts go into, None when they go elsewhere."""
    if joint.hold != "T-nut":
        return None
    machine = project.machine
    beam, base, stand = machine.gantry.beam, machine.base, machine.base.stand
    face: Face = "left" if beam.rail_face == "front" else "top"
    where = {"beam": (beam.section, beam.turned), "gantry beam": (beam.section, beam.turned),
             "side beam": (base.section, base.turned), "leg": (getattr(stand, "section", base.section), False)}  # fmt: skip
    section, turned = where.get(joint.site.partner.what, (beam.section, beam.turned))
    piece = piece_at(section, turned, face)
    return piece if isinstance(piece, TSlot) else None
