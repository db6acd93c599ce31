"""Cross-sections of beams, legs and plates: what they look like and how stiff they are.

Most follow from closed formulas at once; a T-slot profile takes a section analysis, kept in a `PropertyBook`.
"""

from __future__ import annotations

from core.sections.book import PropertyBook, stock_book
from core.sections.closed import closed_properties
from core.sections.labels import closed_label
from core.sections.outlines import Face, Ring, closed_outline, closed_screw_wall, face_before, turn
from core.sections.properties import SectionProperties
from core.sections.shapes import Angle, Channel, Datasheet, FlatBar, RectangularHollow, RoundSolid, RoundTube
from core.sections.t_slot import TSlot
from core.sections.t_slot import label as t_slot_label
from core.sections.t_slot import outline as t_slot_outline
from core.sections.t_slot import slot_lines as t_slot_lines

Section = RectangularHollow | FlatBar | RoundSolid | RoundTube | Channel | Angle | TSlot | Datasheet
"""Any section; in files the field `kind` tells which."""

__all__ = [
    "Angle",
    "Channel",
    "Datasheet",
    "Face",
    "FlatBar",
    "PropertyBook",
    "RectangularHollow",
    "Ring",
    "RoundSolid",
    "RoundTube",
    "Section",
    "SectionProperties",
    "TSlot",
    "label",
    "outline",
    "properties",
    "screw_wall",
    "slot_lines",
    "stock_book",
]


def properties(section: Section, book: PropertyBook) -> SectionProperties:
    """The properties of a section.

    Raises:
        NeedsAnalysis: a T-slot profile that the book has no figures for yet.
    """
    if isinstance(section, TSlot):
        return book.properties(section)
    return closed_properties(section)


def label(section: Section) -> str:
    """The section in words: "120 x 80 x 5 hollow, cold formed"."""
    return t_slot_label(section) if isinstance(section, TSlot) else closed_label(section)


def outline(section: Section, turned: bool = False) -> tuple[Ring, ...]:
    """Rings of (y, z) points, m, from the middle of the outer box: outer rings first, then holes."""
    rings = t_slot_outline(section) if isinstance(section, TSlot) else closed_outline(section)
    return turn(rings) if turned else rings


def screw_wall(section: Section, turned: bool, face: Face) -> float:
    """Thickness of metal that a screw into this face meets, m; 0 where there is no wall or none is known."""
    if isinstance(section, TSlot):
        return section.lip
    return closed_screw_wall(section, face_before(face, turned))


def slot_lines(section: Section, turned: bool, face: Face) -> tuple[float, ...]:
    """Middles of the slots of one face, m from the middle of the face, rising; empty where there are none."""
    return t_slot_lines(section, turned, face) if isinstance(section, TSlot) else ()
