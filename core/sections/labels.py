"""One line of words for a section, sizes in mm."""

from __future__ import annotations

from core.sections.shapes import Angle, Channel, Datasheet, FlatBar, RectangularHollow, RoundSolid, RoundTube

Closed = RectangularHollow | FlatBar | RoundSolid | RoundTube | Channel | Angle | Datasheet
"""Every section whose properties follow from closed formulas or were typed in."""


def closed_label(section: Closed) -> str:
    """The section in words: "120 x 80 x 5 hollow, cold formed"."""
    match section:
        case RectangularHollow():
            return f"{sizes(section.height, section.width, section.wall)} hollow, {section.finish}"
        case FlatBar():
            return f"{sizes(section.height, section.width)} solid"
        case RoundSolid():
            return f"{sizes(section.diameter)} round"
        case RoundTube():
            return f"{sizes(section.diameter, section.wall)} round tube"
        case Channel():
            return f"{sizes(section.height, section.width, section.web, section.flange)} channel"
        case Angle():
            return f"{sizes(section.height, section.width, section.thickness)} angle"
        case Datasheet():
            return section.name


def sizes(*lengths: float) -> str:
    """Lengths in m as "120 x 80 x 5" in mm."""
    return " x ".join(f"{length * 1e3:.6g}" for length in lengths)
