"""Where rails lie: which beam or plate carries a pair of them, how they are held, and what is under their lines."""

from __future__ import annotations

from dataclasses import dataclass

from core.fasteners.ground import find_ground, lines
from core.fasteners.stack import Ground
from core.machine.fastening import RailFastening
from core.machine.guides import Guides
from core.machine.layout import Layout
from core.machine.project import Project
from core.sections import FlatBar, PropertyBook, Section, SectionProperties, piece_at, properties
from core.sections.outlines import Face


@dataclass(frozen=True, slots=True)
class Site:
    """A pair of rails that lie on equal faces: where their entries are, and what they lie on."""

    axis: str
    rails: tuple[tuple[str, str, float], ...]  # key, label, offset from the face's middle
    guides: Guides
    guides_at: str
    fastening: RailFastening
    fastening_at: str
    section: Section  # the piece under the rails, where the beam is built up
    section_at: str
    shape: SectionProperties
    ground: Ground
    slots: tuple[float, ...]
    face_width: float
    length: float
    beam_length: float
    beam_at: str
    beam: str


def x_site(project: Project, layout: Layout) -> Site:
    """The X rails on the gantry beam."""
    machine = project.machine
    beam, shape = machine.gantry.beam, layout.sections.beam
    half = machine.x_guides.rail_spacing / 2.0
    # The section lies in (y, z) with y along the machine's Y, so the front, towards -Y, is its left face.
    face: Face = "left" if beam.rail_face == "front" else "top"
    low_high = (("x_low", "Lower X rail", -half), ("x_high", "Upper X rail", half))
    front_back = (("x_front", "Front X rail", -half), ("x_back", "Rear X rail", half))
    return Site(
        axis="x",
        rails=low_high if face == "left" else front_back,
        guides=machine.x_guides,
        guides_at="machine.x_guides",
        fastening=beam.rail_fastening,
        fastening_at="machine.gantry.beam.rail_fastening",
        section=piece_at(beam.section, beam.turned, face),
        section_at="machine.gantry.beam.section",
        shape=shape,
        ground=find_ground(beam.section, beam.turned, shape, beam.material, face),
        slots=lines(beam.section, beam.turned, face),
        face_width=shape.height if face == "left" else shape.width,
        length=layout.x_rail_length,
        beam_length=layout.beam_length,
        beam_at="machine.gantry.beam.length",
        beam="gantry beam",
    )


def y_site(project: Project, layout: Layout) -> Site:
    """The Y rails on the side beams."""
    base, shape = project.machine.base, layout.sections.side_beam
    face: Face = "top" if base.rail_face == "top" else "left"
    return Site(
        axis="y",
        rails=(("y_left", "Left Y rail", 0.0), ("y_right", "Right Y rail", 0.0)),
        guides=project.machine.y_guides,
        guides_at="machine.y_guides",
        fastening=base.rail_fastening,
        fastening_at="machine.base.rail_fastening",
        section=piece_at(base.section, base.turned, face),
        section_at="machine.base.section",
        shape=shape,
        ground=find_ground(base.section, base.turned, shape, base.material, face),
        slots=lines(base.section, base.turned, face),
        face_width=shape.width if face == "top" else shape.height,
        length=layout.y_rail_length,
        beam_length=layout.side_beam_length,
        beam_at="machine.base.length",
        beam="side beam",
    )


def z_site(project: Project, layout: Layout) -> Site:
    """The Z rails on the head plate, whose length follows from them."""
    head = project.machine.head
    plate = FlatBar(height=head.plate_thickness, width=head.plate_width)
    shape = properties(plate, PropertyBook())
    half = head.guides.rail_spacing / 2.0
    return Site(
        axis="z",
        rails=(("z_left", "Left Z rail", -half), ("z_right", "Right Z rail", half)),
        guides=head.guides,
        guides_at="machine.head.guides",
        fastening=head.rail_fastening,
        fastening_at="machine.head.rail_fastening",
        section=plate,
        section_at="machine.head.plate_width",
        shape=shape,
        ground=find_ground(plate, False, shape, head.material, "top"),
        slots=(),
        face_width=head.plate_width,
        length=layout.z_rail_length,
        beam_length=layout.z_rail_length,
        beam_at="machine.head.guides.rail_length",
        beam="head plate",
    )


def held(project: Project) -> dict[str, tuple[RailFastening, Section]]:
    """By axis, how its rails are held and in what section (the piece under the rails, where it is built up)."""
    machine, head = project.machine, project.machine.head
    beam, base = machine.gantry.beam, machine.base
    x_face: Face = "left" if beam.rail_face == "front" else "top"
    y_face: Face = "top" if base.rail_face == "top" else "left"
    return {
        "x": (beam.rail_fastening, piece_at(beam.section, beam.turned, x_face)),
        "y": (base.rail_fastening, piece_at(base.section, base.turned, y_face)),
        "z": (head.rail_fastening, FlatBar(height=head.plate_thickness, width=head.plate_width)),
    }
