"""One line of words for a built-up section, sizes in mm."""

from __future__ import annotations

from core.materials import material
from core.sections.built_up import BoltedPlate, BuiltUp, Piece, PlatedTube, TwoProfiles, WeldedBox
from core.sections.labels import closed_label, sizes
from core.sections.t_slot import TSlot
from core.sections.t_slot import label as t_slot_label


def piece_label(piece: Piece) -> str:
    """A piece in words."""
    return t_slot_label(piece) if isinstance(piece, TSlot) else closed_label(piece)


def built_up_label(section: BuiltUp) -> str:
    """The section in words: "2 x (120 x 80 x 5 hollow, cold formed) stacked, fully joined"."""
    match section:
        case TwoProfiles():
            first, second = piece_label(section.first), piece_label(section.second)
            both = f"2 x ({first})" if first == second else f"({first}) and ({second})"
            flip = "" if section.mirrored == "neither" else f", mirrored: {section.mirrored}"
            return f"{both} {section.way}{flip}, {_joint(section)}"
        case PlatedTube():
            plate = sizes(section.plate_width, section.plate_thickness)
            return f"{piece_label(section.tube)}, with plate {plate} welded on {section.faces}"
        case BoltedPlate():
            plate = sizes(section.plate_width, section.plate_thickness)
            metal = material(section.material).name
            return f"{piece_label(section.profile)}, with plate {plate} ({metal}) on {section.face}, {_joint(section)}"
        case WeldedBox():
            size = sizes(section.height, section.width, section.flange, section.web)
            inset = f", webs {sizes(section.inset)} in" if section.inset else ""
            return f"{size} welded box{inset}"


def _joint(section: TwoProfiles | BoltedPlate) -> str:
    return f"joined to {section.share:.0%}" if section.joint == "partly joined" else section.joint
