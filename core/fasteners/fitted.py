"""Another beam in a machine: where its slots ask for it, the X rails move to the nearest pair of them."""

from __future__ import annotations

import msgspec

from core.fasteners.ground import ON_LINE, fitting_spacing, lines, nearest_line
from core.machine.gantry import GantryBeam
from core.machine.project import Machine
from core.materials import material
from core.sections import (
    BUILT_UP,
    Channel,
    RectangularHollow,
    RoundTube,
    Section,
    TSlot,
    WeldedBox,
    parts_of,
    slot_lines,
)
from core.sections.outlines import Face


def with_beam(machine: Machine, beam: GantryBeam) -> Machine:
    """The machine with this beam; with T-nuts and rails beside the slots, the rail spacing is that of the nearest slots.

    Nothing else changes: a beam without a fitting pair of slots keeps the spacing, and the findings tell.
    """
    gantry = msgspec.structs.replace(machine.gantry, beam=beam)
    guides = msgspec.structs.replace(machine.x_guides, rail_spacing=_spacing(machine, beam))
    return msgspec.structs.replace(machine, gantry=gantry, x_guides=guides)


def _spacing(machine: Machine, beam: GantryBeam) -> float:
    spacing = machine.x_guides.rail_spacing
    if beam.rail_fastening.hold != "T-nut":
        return spacing
    face = _face(beam)
    slots = lines(beam.section, beam.turned, face)
    nearest = nearest_line(slots, spacing / 2.0)
    if nearest is None or abs(nearest[1] - spacing / 2.0) <= ON_LINE:
        return spacing
    return fitting_spacing(slots, spacing) or spacing


def _face(beam: GantryBeam) -> Face:
    """The face under the rails; a section lies with its left face towards the machine's front."""
    return "left" if beam.rail_face == "front" else "top"


def beam_of(beam: GantryBeam, section: Section, *, turned: bool | None = None) -> GantryBeam:
    """The same beam of another section, in the metal and with the fastening that go with it.

    A T-slot profile is of EN AW-6060 T66 and holds rails by T-nuts; tubes, channels and boxes of plate are of S235, with tapped
    walls unless another hold was chosen for a wall before. Other sections keep what the beam had, but for T-nuts, which need
    slots in the rails' face. A built-up section goes by its first piece.
    """
    metal, hold = beam.material, beam.rail_fastening.hold
    turned = beam.turned if turned is None else turned
    piece = parts_of(section)[0].piece if isinstance(section, BUILT_UP) else section
    if isinstance(piece, TSlot):
        metal = metal if material(metal).family == "aluminium" else "en_aw_6060_t66"
    elif isinstance(piece, RectangularHollow | RoundTube | Channel) or isinstance(section, WeldedBox):
        metal = metal if material(metal).family == "steel" else "s235"
    if slot_lines(section, turned, _face(beam)):
        hold = "T-nut"
    else:
        hold = "tapped wall" if hold == "T-nut" else hold
    fastening = msgspec.structs.replace(beam.rail_fastening, hold=hold)
    return msgspec.structs.replace(
        beam, section=section, material=metal, rail_fastening=fastening, turned=turned
    )
