"""Lengths and places that follow from a machine description: what the builder never has to type.

Places are relative to the gantry's own datum (middle of the Y carriages, x = 0, table surface) unless said otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.machine.base import Legs
from core.machine.project import Machine
from core.machine.sheet import sheet_of, with_sheet
from core.materials import material
from core.sections import PropertyBook, Section, SectionProperties, properties


@dataclass(frozen=True, slots=True)
class Sections:
    """Section properties of every structural part, turned as it stands in the machine."""

    beam: SectionProperties
    upright: SectionProperties
    side_beam: SectionProperties
    leg: SectionProperties | None
    cross: SectionProperties | None
    diagonal: SectionProperties | None = None


@dataclass(frozen=True, slots=True)
class Layout:
    """Derived lengths and places, all m.

    Attributes:
        upright_spacing: between the uprights' middles.
        beam_length, x_rail_length, y_rail_length, z_rail_length, side_beam_length, upright_length, foot_length: as used
            (override or automatic). The head plate is as long as its rails (estimate, until it is drawn).
        *_automatic: what they would be without an override.
        beam_y, beam_z: the beam's middle line. upright_y: the uprights' middle line.
        joint_x, joint_y, joint_z: right-hand joint of beam and upright (the left one mirrors x).
        foot_z: middle of the foot plate; upright_bottom, upright_top: ends of the upright's middle line.
        x_carriages: (y, z) of each X rail's carriage contact; x_normal: "y" or "z".
        y_carriage: (x from the upright's middle towards the outside, z) of the right-hand Y carriages.
        saddle_y, saddle_front, saddle_z: saddle plate's middle, front face, middle height.
        head_y: middle of the head plate. z_carriage_y, z_carriage_z: contact of the Z carriages, their middle height.
        spindle_y: the spindle's axis (negative: in front of the datum). mount_z: spindle mount. tip_z: tool tip.
        side_x, side_z: right-hand side beam's middle line. side_y: middle of its length (in table coordinates).
        floor_z: the floor (legs) or the side beams' underside.
    """

    sections: Sections
    upright_spacing: float
    beam_length: float
    beam_length_automatic: float
    x_rail_length: float
    x_rail_automatic: float
    y_rail_length: float
    y_rail_automatic: float
    z_rail_length: float
    z_rail_automatic: float
    side_beam_length: float
    side_beam_automatic: float
    upright_length: float
    upright_automatic: float
    foot_length: float
    beam_y: float
    beam_z: float
    upright_y: float
    joint_x: float
    joint_y: float
    joint_z: float
    foot_z: float
    upright_bottom: float
    upright_top: float
    x_carriages: tuple[tuple[float, float], ...]
    y_carriage: tuple[float, float]
    saddle_y: float
    saddle_front: float
    saddle_z: float
    head_y: float
    z_carriage_y: float
    z_carriage_z: float
    spindle_y: float
    mount_z: float
    tip_z: float
    side_x: float
    side_z: float
    side_y: float
    floor_z: float

    def gantry_y(self, tool_y: float) -> float:
        """Where the gantry's datum stands (table coordinates) when the tool is at `tool_y`."""
        return tool_y - self.spindle_y


def support_places(machine: Machine, lay: Layout) -> list[float]:
    """Y of the supports under each side beam, table coordinates, m; model and drawings share them."""
    base = machine.base
    half = lay.side_beam_length / 2.0 - min(base.support_inset, 0.45 * lay.side_beam_length)
    step = 2.0 * half / (base.supports - 1)
    return [lay.side_y - half + k * step for k in range(base.supports)]


def figures_of(
    machine: Machine, book: PropertyBook, section: Section, metal: str, turned: bool = False
) -> SectionProperties:
    """Properties of one section as it stands in this machine, typed data sheets included; raises NeedsAnalysis."""
    computed = properties(section, book, metal)
    sheet = sheet_of(machine.datasheet, section)
    used = computed if sheet is None else with_sheet(computed, sheet, material(metal).density)
    return used.turned() if turned else used


def find_sections(machine: Machine, book: PropertyBook) -> Sections:
    """Section properties of all parts; raises NeedsAnalysis when one is not in the book yet."""

    def found(section: Section, metal: str, turned: bool = False) -> SectionProperties:
        return figures_of(machine, book, section, metal, turned)

    gantry, base = machine.gantry, machine.base
    beam, upright, stand = gantry.beam, gantry.upright, base.stand
    leg = cross = diagonal = None
    if isinstance(stand, Legs):
        leg = found(stand.section, stand.material)
        cross = found(stand.cross_section, stand.cross_material)
        if stand.diagonals is not None:
            diagonal = found(stand.diagonals.section, stand.diagonals.material)
    return Sections(
        beam=found(beam.section, beam.material, beam.turned),
        upright=found(upright.section, upright.material, upright.turned),
        side_beam=found(base.section, base.material, base.turned),
        leg=leg,
        cross=cross,
        diagonal=diagonal,
    )


def layout(machine: Machine, book: PropertyBook) -> Layout:
    """Derive every length and place of a machine."""
    return lay_out(machine, find_sections(machine, book), machine.x_guides.rail_spacing)


def lay_out(machine: Machine, sections: Sections, rail_spacing: float) -> Layout:
    """Lengths and places with these sections and this spacing of the X rails.

    The beam's figures and the spacing may be arrays (d,) of d designs (`core.rank`); what follows from them then is too.
    """
    work, gantry, base, head = machine.work, machine.gantry, machine.base, machine.head
    beam, upright = sections.beam, sections.upright
    # The upright's section height lies along Y and its width along X.
    upright_x, upright_dy = upright.width, upright.height
    spacing = work.travel_x + machine.saddle.width + 2.0 * work.margin_x + upright_x
    seat = gantry.upright.seat
    between = seat == "between"
    automatic_beam = spacing - upright_x if between else spacing + 2.0 * gantry.beam.overhang

    upright_y = gantry.foot_plate.upright_place
    beam_y = upright_y - (upright_dy + beam.width) / 2.0 if seat == "in front" else upright_y
    beam_z = work.clearance + beam.height / 2.0
    joint_x = (spacing - upright_x) / 2.0 if between else spacing / 2.0
    joint_y = beam_y + beam.width / 2.0 if seat == "in front" else beam_y
    joint_z = work.clearance if seat == "on top" else beam_z

    y_data, foot = machine.y_guides.data, gantry.foot_plate
    side = sections.side_beam
    side_z = base.top - side.height / 2.0
    if base.rail_face == "top":
        foot_z = base.top + base.rail_fastening.under_rail + y_data.assembly_height + foot.thickness / 2.0
        upright_bottom = foot_z + foot.thickness / 2.0
        y_carriage = (0.0, foot_z - foot.thickness / 2.0 - y_data.assembly_height / 2.0)
        side_x = spacing / 2.0
    else:
        foot_z = side_z
        upright_bottom = foot_z + foot.width / 2.0
        y_carriage = (-foot.thickness / 2.0 - y_data.assembly_height / 2.0, foot_z)
        side_x = spacing / 2.0 - foot.thickness / 2.0 - y_data.assembly_height - side.width / 2.0
    upright_top = joint_z
    automatic_upright = upright_top - upright_bottom + (beam.height / 2.0 if seat != "on top" else 0.0)

    x_data = machine.x_guides.data
    gap = gantry.beam.rail_fastening.under_rail + x_data.assembly_height
    half = rail_spacing / 2.0
    front_face = beam_y - beam.width / 2.0
    if gantry.beam.rail_face == "front":
        contact = front_face - gap + x_data.assembly_height / 2.0
        carriages = ((contact, beam_z - half), (contact, beam_z + half))
        saddle_back = front_face - gap
    else:
        level = beam_z + beam.height / 2.0 + gap - x_data.assembly_height / 2.0
        carriages = ((beam_y - half, level), (beam_y + half, level))
        saddle_back = front_face - 0.01  # the plate hangs 10 mm clear of the beam's face
    saddle_front = saddle_back - machine.saddle.thickness
    z_data = head.guides.data
    z_contact = saddle_front - z_data.assembly_height / 2.0
    head_back = saddle_front - z_data.assembly_height - head.rail_fastening.under_rail
    spindle_y = head_back - head.plate_thickness - head.reach

    x_auto = work.travel_x + machine.x_guides.spread + x_data.carriage_length + 0.02
    y_auto = work.travel_y + machine.y_guides.spread + y_data.carriage_length + 2.0 * work.margin_y
    # The Z rails lie on the head plate and pass the saddle's carriages over the whole travel.
    z_auto = head.travel + head.guides.spread + z_data.carriage_length + 0.02
    y_rail = machine.y_guides.rail_length or y_auto
    stand = base.stand
    leg_height = getattr(stand, "height", 0.0)
    return Layout(
        sections=sections,
        upright_spacing=spacing,
        beam_length=gantry.beam.length or automatic_beam,
        beam_length_automatic=automatic_beam,
        x_rail_length=machine.x_guides.rail_length or x_auto,
        x_rail_automatic=x_auto,
        y_rail_length=y_rail,
        y_rail_automatic=y_auto,
        z_rail_length=head.guides.rail_length or z_auto,
        z_rail_automatic=z_auto,
        side_beam_length=base.length or y_rail,
        side_beam_automatic=y_rail,
        upright_length=gantry.upright.height or automatic_upright,
        upright_automatic=automatic_upright,
        foot_length=foot.length or machine.y_guides.spread + y_data.carriage_length,
        beam_y=beam_y,
        beam_z=beam_z,
        upright_y=upright_y,
        joint_x=joint_x,
        joint_y=joint_y,
        joint_z=joint_z,
        foot_z=foot_z,
        upright_bottom=upright_bottom,
        upright_top=upright_top,
        x_carriages=carriages,
        y_carriage=y_carriage,
        saddle_y=saddle_front + machine.saddle.thickness / 2.0,
        saddle_front=saddle_front,
        saddle_z=sum(z for _, z in carriages) / 2.0,
        head_y=head_back - head.plate_thickness / 2.0,
        z_carriage_y=z_contact,
        z_carriage_z=head.carriages_above_table,
        spindle_y=spindle_y,
        mount_z=machine.tip_height + head.mount_above_tip,
        tip_z=machine.tip_height,
        side_x=side_x,
        side_z=side_z,
        side_y=-spindle_y,
        floor_z=base.top - side.height - leg_height,
    )
