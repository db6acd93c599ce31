"""Cross-sections of beams, legs and plates: what they look like and how stiff they are.

Most follow from closed formulas at once; T-slot profiles, built-up sections and drawn outlines take a section analysis,
kept in a `PropertyBook`.
"""

from __future__ import annotations

from core.sections.assembly import Part, WeldLine, parts_of, weld_lines
from core.sections.book import PropertyBook, stock_book
from core.sections.built_up import BoltedPlate, BuiltUp, PlatedTube, TwoProfiles, WeldedBox
from core.sections.built_up_faces import face_at, face_slots, face_wall
from core.sections.built_up_properties import built_up_properties, outline_properties
from core.sections.built_up_words import built_up_label
from core.sections.closed import closed_properties
from core.sections.labels import closed_label
from core.sections.outline_section import Outline
from core.sections.outlines import Face, Ring, closed_outline, closed_screw_wall, face_before, turn
from core.sections.properties import SectionProperties
from core.sections.shapes import Angle, Channel, Datasheet, FlatBar, RectangularHollow, RoundSolid, RoundTube
from core.sections.t_slot import TSlot
from core.sections.t_slot import label as t_slot_label
from core.sections.t_slot import outline as t_slot_outline
from core.sections.t_slot import slot_lines as t_slot_lines

Section = (
    RectangularHollow
    | FlatBar
    | RoundSolid
    | RoundTube
    | Channel
    | Angle
    | TSlot
    | TwoProfiles
    | PlatedTube
    | BoltedPlate
    | WeldedBox
    | Outline
    | Datasheet
)
"""Any section; in files the field `kind` tells which."""

BUILT_UP = (TwoProfiles, PlatedTube, BoltedPlate, WeldedBox)

__all__ = [
    "BUILT_UP",
    "Angle",
    "BoltedPlate",
    "BuiltUp",
    "Channel",
    "Datasheet",
    "Face",
    "FlatBar",
    "Outline",
    "Part",
    "PlatedTube",
    "PropertyBook",
    "RectangularHollow",
    "Ring",
    "RoundSolid",
    "RoundTube",
    "Section",
    "SectionProperties",
    "TSlot",
    "TwoProfiles",
    "WeldLine",
    "WeldedBox",
    "label",
    "outline",
    "parts_of",
    "piece_at",
    "properties",
    "screw_wall",
    "slot_lines",
    "solids",
    "stock_book",
    "weld_lines",
]


def properties(section: Section, book: PropertyBook, metal: str | None = None) -> SectionProperties:
    """The properties of a section.

    Args:
        metal: key of the material it is made of; only a plate of another material asks for it.

    Raises:
        NeedsAnalysis: a T-slot profile, a built-up section or an outline that the book has no figures for yet.
        BadEntry: a plate of another material without `metal`.
    """
    if isinstance(section, TSlot):
        return book.properties(section)
    if isinstance(section, Outline):
        return outline_properties(section, book.shape)
    if isinstance(section, BUILT_UP):
        return built_up_properties(section, lambda piece: properties(piece, book), book.shape, metal)
    return closed_properties(section)


def label(section: Section) -> str:
    """The section in words: "120 x 80 x 5 hollow, cold formed"."""
    if isinstance(section, BUILT_UP):
        return built_up_label(section)
    if isinstance(section, Outline):
        return section.name
    return t_slot_label(section) if isinstance(section, TSlot) else closed_label(section)


def solids(section: Section, turned: bool = False) -> tuple[tuple[Ring, ...], ...]:
    """The rings of every piece: (y, z) points, m, from the middle of the outer box; outer ring first, then its holes."""
    if isinstance(section, BUILT_UP):
        found = tuple(part.rings() for part in parts_of(section))
    elif isinstance(section, Outline):
        found = (section.rings,)
    else:
        found = (t_slot_outline(section) if isinstance(section, TSlot) else closed_outline(section),)
    return tuple(turn(rings) for rings in found) if turned else found


def outline(section: Section, turned: bool = False) -> tuple[Ring, ...]:
    """Rings of (y, z) points, m, from the middle of the outer box: outer rings first, then holes."""
    found = solids(section, turned)
    return tuple(rings[0] for rings in found) + tuple(hole for rings in found for hole in rings[1:])


def screw_wall(section: Section, turned: bool, face: Face) -> float:
    """Thickness of metal that a screw into this face meets, m; 0 where there is no wall or none is known."""
    if isinstance(section, TSlot):
        return section.lip
    before = face_before(face, turned)
    if isinstance(section, Outline):
        return section.wall
    if isinstance(section, BUILT_UP):
        return face_wall(section, before)
    return closed_screw_wall(section, before)


def piece_at(section: Section, turned: bool, face: Face) -> Section:
    """The piece that forms the middle of a face as it looks once turned: the section itself unless it is built up.

    It is described as it stood before turning, like the section it belongs to.
    """
    if isinstance(section, BUILT_UP):
        return face_at(section, face_before(face, turned)).piece
    return section


def slot_lines(section: Section, turned: bool, face: Face) -> tuple[float, ...]:
    """Middles of the slots of one face, m from the middle of the face, rising; empty where there are none."""
    if isinstance(section, TSlot):
        return t_slot_lines(section, turned, face)
    if not isinstance(section, BUILT_UP):
        return ()
    lines = face_slots(section, face_before(face, turned))
    # Turning carries z to -y: what rose along the right face falls along the top one.
    flips = turned and face in ("top", "bottom")
    return tuple(sorted(-at for at in lines)) if flips else lines
