"""Built-up sections as they are built: every piece in its place, where they touch, and where welds run.

Places are (y, z) in m from the middle of the built-up section's outer box.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from core.errors import BadEntry
from core.sections.built_up import BoltedPlate, BuiltUp, Piece, PlatedTube, TwoProfiles, WeldedBox
from core.sections.outlines import Face, Point, Ring, closed_outline
from core.sections.shapes import FlatBar
from core.sections.t_slot import TSlot
from core.sections.t_slot import outline as t_slot_outline

SNAP = 1e-9
"""Grid on which pieces are laid, m, so that faces in contact have the same coordinate."""

LEAST_CONTACT = 1e-4
"""Shorter contact (m) does not count as touching."""


@dataclass(frozen=True, slots=True)
class Part:
    """One piece in its place.

    Attributes:
        what: what it is called in the parts list ("tube", "plate on top").
        piece: its section.
        y, z: middle of its outer box, m.
        mirrored: whether left and right are changed over.
        metal: key of its material where it is another than the main one.
    """

    what: str
    piece: Piece
    y: float = 0.0
    z: float = 0.0
    mirrored: bool = False
    metal: str | None = None

    def rings(self) -> tuple[Ring, ...]:
        """The outline in its place: outer ring anticlockwise, then the holes."""
        rings = t_slot_outline(self.piece) if isinstance(self.piece, TSlot) else closed_outline(self.piece)
        if self.mirrored:
            rings = tuple(tuple((-y, z) for y, z in reversed(ring)) for ring in rings)
        return tuple(tuple(_snapped(y + self.y, z + self.z) for y, z in ring) for ring in rings)

    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top, m."""
        half_y, half_z = self.piece.width / 2, self.piece.height / 2
        return self.y - half_y, self.z - half_z, self.y + half_y, self.z + half_z


def _snapped(y: float, z: float) -> Point:
    return round(y / SNAP) * SNAP, round(z / SNAP) * SNAP


def parts_of(section: BuiltUp) -> tuple[Part, ...]:
    """Every piece in its place; the first one carries the main material."""
    match section:
        case TwoProfiles():
            found = _two(section)
        case PlatedTube():
            found = (Part("tube", section.tube), *_plates(section))
        case BoltedPlate():
            found = (Part("profile", section.profile), _bolted(section))
        case WeldedBox():
            found = _box(section)
    return _centred(found)


def box_of(parts: Sequence[Part]) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of all pieces together, m."""
    boxes = [part.box() for part in parts]
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )


def _centred(parts: Sequence[Part]) -> tuple[Part, ...]:
    left, bottom, right, top = box_of(parts)
    dy, dz = (left + right) / 2, (bottom + top) / 2
    return tuple(replace(part, y=part.y - dy, z=part.z - dz) for part in parts)


def _two(section: TwoProfiles) -> tuple[Part, ...]:
    first, second = section.first, section.second
    flip = (section.mirrored in ("first", "both"), section.mirrored in ("second", "both"))
    if section.way == "stacked":
        return (
            Part("lower profile", first, mirrored=flip[0]),
            Part("upper profile", second, z=(first.height + second.height) / 2, mirrored=flip[1]),
        )
    return (
        Part("left profile", first, mirrored=flip[0]),
        Part("right profile", second, y=(first.width + second.width) / 2, mirrored=flip[1]),
    )


def _plate_on(face: Face, piece: Piece, width: float, thickness: float) -> tuple[FlatBar, float, float]:
    """A plate on the middle of a face, and the middle of its box."""
    if face in ("top", "bottom"):
        sign = 1.0 if face == "top" else -1.0
        return FlatBar(height=thickness, width=width), 0.0, sign * (piece.height + thickness) / 2
    sign = 1.0 if face == "right" else -1.0
    return FlatBar(height=width, width=thickness), sign * (piece.width + thickness) / 2, 0.0


def plated_faces(section: PlatedTube | BoltedPlate) -> tuple[Face, ...]:
    """The faces that carry a plate."""
    if isinstance(section, BoltedPlate):
        return (section.face,)
    both: dict[str, tuple[Face, ...]] = {
        "top and bottom": ("top", "bottom"),
        "left and right": ("left", "right"),
        "top": ("top",),
        "bottom": ("bottom",),
        "left": ("left",),
        "right": ("right",),
    }
    return both[section.faces]


def _plates(section: PlatedTube) -> tuple[Part, ...]:
    found = []
    for face in plated_faces(section):
        plate, y, z = _plate_on(face, section.tube, section.plate_width, section.plate_thickness)
        found.append(Part(f"plate, {face}", plate, y, z))
    return tuple(found)


def _bolted(section: BoltedPlate) -> Part:
    plate, y, z = _plate_on(section.face, section.profile, section.plate_width, section.plate_thickness)
    return Part(f"plate, {section.face}", plate, y, z, metal=section.material)


def _box(section: WeldedBox) -> tuple[Part, ...]:
    flange = FlatBar(height=section.flange, width=section.width)
    web = FlatBar(height=section.height - 2 * section.flange, width=section.web)
    z = (section.height - section.flange) / 2
    y = section.width / 2 - section.inset - section.web / 2
    return (
        Part("flange, bottom", flange, z=-z),
        Part("flange, top", flange, z=z),
        Part("web, left", web, y=-y),
        Part("web, right", web, y=y),
    )


def solid(part: Part) -> Any:
    """The piece as a polygon of the geometry library, m."""
    from shapely import Polygon

    outer, *holes = part.rings()
    return Polygon(outer, holes)


@lru_cache(maxsize=128)
def contacts(section: BuiltUp) -> tuple[float, ...]:
    """Length over which each further piece touches those before it, m."""
    shapes = [solid(part) for part in parts_of(section)]
    found = []
    for number in range(1, len(shapes)):
        lengths = [shapes[number].boundary.intersection(shapes[k].boundary).length for k in range(number)]
        found.append(float(sum(lengths)))
    if isinstance(section, WeldedBox):  # the second flange is held by the webs only
        found = [found[1], found[2]]
    return tuple(found)


def check_contact(section: BuiltUp) -> None:
    """Raise BadEntry when pieces do not touch."""
    if min(contacts(section)) < LEAST_CONTACT:
        raise BadEntry(
            "joint" if hasattr(section, "joint") else "plate_width",
            "the pieces",
            "do not touch each other where they are laid",
            "a plate wider than the slot or gap under it, or profiles whose walls meet",
        )


@dataclass(frozen=True, slots=True)
class WeldLine:
    """A weld that runs along the whole length, seen as a point of the section (m), with what it joins."""

    y: float
    z: float
    joins: str


def weld_lines(section: BuiltUp) -> tuple[WeldLine, ...]:
    """Where welds run when the section is welded: the ends of every line of contact that can be reached from outside."""
    if isinstance(section, BoltedPlate):
        return ()
    if isinstance(section, TwoProfiles) and (section.joint == "unjoined" or _slotted(section)):
        return ()
    parts = parts_of(section)
    found = []
    if isinstance(section, WeldedBox):
        for web in parts[2:]:
            outside = -1.0 if web.y < 0 else 1.0
            for flange in parts[:2]:
                z = flange.z + (section.flange / 2 if flange.z < 0 else -section.flange / 2)
                found.append(WeldLine(web.y + outside * section.web / 2, z, f"{web.what} to {flange.what}"))
        return tuple(found)
    for other in parts[1:]:
        for y, z in _contact_ends(parts[0], other):
            found.append(WeldLine(y, z, f"{other.what} to {parts[0].what}"))
    return tuple(found)


def _slotted(section: TwoProfiles) -> bool:
    return isinstance(section.first, TSlot) or isinstance(section.second, TSlot)


def _contact_ends(one: Part, other: Part) -> list[Point]:
    """Both outer ends of the line along which two pieces touch."""
    shared = solid(one).boundary.intersection(solid(other).boundary)
    if shared.is_empty:
        return []
    left, low, right, high = shared.bounds
    return [(left, low), (right, high)]
