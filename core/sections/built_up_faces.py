"""The faces of a built-up section: which piece forms them, what metal a screw meets there, where slots run."""

from __future__ import annotations

from core.sections.assembly import Part, box_of, parts_of, plated_faces
from core.sections.built_up import BoltedPlate, BuiltUp, PlatedTube, WeldedBox
from core.sections.outlines import Face, closed_screw_wall
from core.sections.shapes import Channel
from core.sections.t_slot import TSlot, slot_lines

TINY = 1e-7


def face_parts(section: BuiltUp, face: Face) -> tuple[Part, ...]:
    """The pieces whose own face lies in this face of the whole, the widest first."""
    parts = parts_of(section)
    whole = box_of(parts)
    number = {"left": 0, "bottom": 1, "right": 2, "top": 3}[face]
    found = [part for part in parts if abs(part.box()[number] - whole[number]) < TINY]

    def breadth(part: Part) -> float:
        return part.piece.width if face in ("top", "bottom") else part.piece.height

    return tuple(sorted(found, key=breadth, reverse=True))


def face_at(section: BuiltUp, face: Face) -> Part:
    """The piece that counts for a face: the plate where there is one, else the largest piece on it."""
    return face_parts(section, face)[0]


def face_wall(section: BuiltUp, face: Face) -> float:
    """Metal that a screw into this face of the unturned section meets, m: plate and wall under it, or the thinnest wall."""
    found = face_parts(section, face)
    if isinstance(section, WeldedBox) and face in ("left", "right"):
        return section.web if section.inset == 0.0 else 0.0  # behind an inset nothing lies in the face
    if isinstance(section, PlatedTube | BoltedPlate) and face in plated_faces(section):
        body = section.tube if isinstance(section, PlatedTube) else section.profile
        below = body.lip if isinstance(body, TSlot) else closed_screw_wall(body, face)
        # Plate and wall lie on each other in the middle of the face, where plates of one material are tapped through.
        alike = isinstance(section, PlatedTube)
        return section.plate_thickness + (below if alike else 0.0)
    walls = [
        part.piece.lip
        if isinstance(part.piece, TSlot)
        else closed_screw_wall(part.piece, _own_face(part, face))
        for part in found
    ]
    return min(walls)


def _own_face(part: Part, face: Face) -> Face:
    """The face of the piece itself: a mirrored one has left and right changed over."""
    if part.mirrored and isinstance(part.piece, Channel):
        swap: dict[Face, Face] = {"left": "right", "right": "left", "top": "top", "bottom": "bottom"}
        return swap[face]
    return face


def face_slots(section: BuiltUp, face: Face) -> tuple[float, ...]:
    """Middles of the slots of one face of the unturned section, m from the face's middle, rising."""
    lines = []
    for part in face_parts(section, face):
        if isinstance(part.piece, TSlot):
            shift = part.y if face in ("top", "bottom") else part.z
            lines += [shift + at for at in slot_lines(part.piece, False, face)]
    return tuple(sorted(lines))
