"""Properties of every section that closed formulas or typed figures give at once."""

from __future__ import annotations

from core.sections.hollow import hollow_properties
from core.sections.labels import Closed
from core.sections.open_wall import angle_properties, channel_properties
from core.sections.properties import SectionProperties
from core.sections.shapes import Angle, Channel, Datasheet, FlatBar, RectangularHollow, RoundSolid, RoundTube
from core.sections.solid import flat_properties, round_properties


def closed_properties(section: Closed) -> SectionProperties:
    """The properties of any section but a T-slot profile."""
    match section:
        case RectangularHollow():
            return hollow_properties(section)
        case FlatBar():
            return flat_properties(section)
        case RoundSolid() | RoundTube():
            return round_properties(section)
        case Channel():
            return channel_properties(section)
        case Angle():
            return angle_properties(section)
        case Datasheet():
            return datasheet_properties(section)


def datasheet_properties(section: Datasheet) -> SectionProperties:
    """Figures as typed; a shear area left empty is shared out by the sides of the outer box.

    Source: EN 1993-1-1, 6.2.6(3), the shear area of a tube, A h / (b + h).
    """
    assert section.it is not None  # the description refuses to exist without it
    whole = section.width + section.height
    estimated = section.avy is None or section.avz is None
    avy = section.area * section.width / whole if section.avy is None else section.avy
    avz = section.area * section.height / whole if section.avz is None else section.avz
    return SectionProperties(
        name=section.name,
        width=section.width,
        height=section.height,
        area=section.area,
        iyy=section.iyy,
        izz=section.izz,
        it=section.it,
        avy=avy,
        avz=avz,
        wall=section.wall,
        method="Figures typed in from a data sheet; shear centre taken in the centroid."
        + (" Shear areas left empty are estimated as for a tube, A h / (b + h)." if estimated else ""),
        source="data sheet typed in by the user"
        + ("; EN 1993-1-1, 6.2.6(3) for the estimated shear areas" if estimated else ""),
    )
