"""What lies under a rail: the wall of a beam, or a T-slot, and whether the rail's line falls on it."""

from __future__ import annotations

from core.fasteners.stack import Ground
from core.materials import material
from core.sections import (
    FlatBar,
    RoundSolid,
    Section,
    SectionProperties,
    TSlot,
    piece_at,
    screw_wall,
    slot_lines,
)
from core.sections.outlines import Face

ON_LINE = 0.001
"""A rail this close (m) to a slot's middle line is on it; the nuts' side play takes up the rest."""


def find_ground(section: Section, turned: bool, shape: SectionProperties, key: str, face: Face) -> Ground:
    """The ground under a rail on this face of a beam of material `key`.

    `shape` is the section's properties as it stands in the machine.
    """
    wall = screw_wall(section, turned, face)
    depth = shape.height if face in ("top", "bottom") else shape.width
    solid = isinstance(section, FlatBar | RoundSolid)
    lip = slot_depth = 0.0
    piece = piece_at(section, turned, face)
    if isinstance(piece, TSlot):
        lip, slot_depth = piece.lip, piece.slot_depth
    return Ground(
        family=material(key).family,
        wall=wall,
        behind=depth if solid else max(depth - wall, wall),
        depth=depth,
        lip=lip,
        slot_depth=slot_depth,
    )


def lines(section: Section, turned: bool, face: Face) -> tuple[float, ...]:
    """Middle lines of the slots in a face, m from the face's middle; empty without slots."""
    return tuple(sorted(slot_lines(section, turned, face)))


def nearest_line(slots: tuple[float, ...], offset: float) -> tuple[int, float] | None:
    """Number and place of the slot nearest to a rail's line; None without slots."""
    if not slots:
        return None
    index = min(range(len(slots)), key=lambda k: abs(slots[k] - offset))
    return index, slots[index]


def fitting_spacing(slots: tuple[float, ...], spacing: float) -> float | None:
    """The spacing nearest to `spacing` that puts both rails on slots, m; None when no pair of slots fits."""
    pairs = [2.0 * s for s in slots if s > ON_LINE and any(abs(s + other) <= ON_LINE for other in slots)]
    return min(pairs, key=lambda pair: abs(pair - spacing)) if pairs else None
