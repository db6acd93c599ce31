"""The drawn outline of a section and the wall behind each of its faces.

Points are (y, z) in m from the middle of the outer box; outer rings run anticlockwise, holes clockwise.
"""

from __future__ import annotations

import math
from typing import Literal

from core.sections.labels import Closed
from core.sections.shapes import Angle, Channel, Datasheet, FlatBar, RectangularHollow, RoundSolid, RoundTube

Point = tuple[float, float]
Ring = tuple[Point, ...]
Face = Literal["top", "bottom", "left", "right"]

_BEFORE_TURNING: dict[Face, Face] = {"top": "right", "left": "top", "bottom": "left", "right": "bottom"}
"""Which face of the unturned section looks that way once it is turned a quarter turn anticlockwise."""

CORNER_STEPS = 12
ROUND_STEPS = 64


def closed_outline(section: Closed) -> tuple[Ring, ...]:
    """Outer ring first, then the hole if there is one. A data sheet gives its outer box only."""
    match section:
        case RectangularHollow():
            outer, inner = section.radii()
            t = section.wall
            hole = rounded(section.width - 2 * t, section.height - 2 * t, inner)
            return rounded(section.width, section.height, outer), hole[::-1]
        case FlatBar() | Datasheet():
            return (rounded(section.width, section.height, 0.0),)
        case RoundSolid():
            return (circle(section.diameter / 2),)
        case RoundTube():
            return circle(section.diameter / 2), circle(section.diameter / 2 - section.wall)[::-1]
        case Channel():
            return (_channel(section),)
        case Angle():
            y, z, t = section.width / 2, section.height / 2, section.thickness
            return (((-y, -z), (y, -z), (y, t - z), (t - y, t - z), (t - y, z), (-y, z)),)


def _channel(section: Channel) -> Ring:
    y, z, tw, tf = section.width / 2, section.height / 2, section.web, section.flange
    inside = tw - y
    return (-y, -z), (y, -z), (y, tf - z), (inside, tf - z), (inside, z - tf), (y, z - tf), (y, z), (-y, z)


def rounded(width: float, height: float, radius: float) -> Ring:
    """A rectangle about the origin with round corners as chords, anticlockwise."""
    if radius <= 0.0:
        y, z = width / 2, height / 2
        return (-y, -z), (y, -z), (y, z), (-y, z)
    points = []
    for quarter, (sy, sz) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        cy, cz = sy * (width / 2 - radius), sz * (height / 2 - radius)
        for step in range(CORNER_STEPS + 1):
            angle = (quarter + step / CORNER_STEPS) * math.pi / 2
            points.append((cy + radius * math.cos(angle), cz + radius * math.sin(angle)))
    return tuple(points)


def circle(radius: float) -> Ring:
    """A circle about the origin as chords, anticlockwise."""
    angles = [2 * math.pi * i / ROUND_STEPS for i in range(ROUND_STEPS)]
    return tuple((radius * math.cos(a), radius * math.sin(a)) for a in angles)


def turn(rings: tuple[Ring, ...]) -> tuple[Ring, ...]:
    """The rings after a quarter turn anticlockwise, as `SectionProperties.turned` has it."""
    return tuple(tuple((-z, y) for y, z in ring) for ring in rings)


def face_before(face: Face, turned: bool) -> Face:
    """The face of the unturned section that now looks towards `face`."""
    return _BEFORE_TURNING[face] if turned else face


def closed_screw_wall(section: Closed, face: Face) -> float:
    """Thickness of metal behind a face of the unturned section, m; 0 where it is open or not known."""
    upright = face in ("top", "bottom")
    match section:
        case RectangularHollow() | RoundTube() | Datasheet():
            return section.wall
        case FlatBar():
            return section.height if upright else section.width
        case RoundSolid():
            return section.diameter
        case Channel():
            if upright:
                return section.flange
            return section.web if face == "left" else 0.0
        case Angle():
            return section.thickness if face in ("bottom", "left") else 0.0
