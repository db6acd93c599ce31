"""Where the screws of a joint stand: rows about its middle, from entries, from a standard or from the room there is."""

from __future__ import annotations

from dataclasses import dataclass

from core.fasteners.screws import Screw
from core.machine.joints import Joint

EDGE = 1.5  # diameters from a screw's middle to the face's edge, common practice
APART = 3.0  # diameters between screws, common practice


@dataclass(frozen=True, slots=True)
class Pattern:
    """Screws of one joint.

    Attributes:
        along, across: how many in a row, how many rows. pitch_along, pitch_across: m, 0 with a single one.
        places: (u, v) of every screw from the middle of the joint, m; u runs in the rows.
        face: length along and across of the face that they stand on, m. fits: whether they keep off its edges.
    """

    along: int
    across: int
    pitch_along: float
    pitch_across: float
    places: tuple[tuple[float, float], ...]
    face: tuple[float, float]
    fits: bool

    @property
    def count(self) -> int:
        """Screws of one joint."""
        return len(self.places)


@dataclass(frozen=True, slots=True)
class Wish:
    """What a kind of joint begins with: counts, and pitches where a standard sets them (None: as the room allows)."""

    along: int
    across: int
    pitch_along: float | None = None
    pitch_across: float | None = None


def find_pattern(
    joint: Joint, wish: Wish, face: tuple[float, float], size: Screw, lines: tuple[float, ...] = ()
) -> Pattern:
    """Place the screws: entries first, then the wish, then the room.

    Args:
        lines: middles of the slots that rows must stand on, m across from the middle of the face; empty without slots.
    """
    along = joint.along or _fitting(wish.along, face[0], size, wish.pitch_along)
    across = joint.across or _fitting(wish.across, face[1], size, wish.pitch_across)
    pitch_u = joint.pitch_along or wish.pitch_along or _pitch(along, face[0], size)
    pitch_v = joint.pitch_across or wish.pitch_across
    if pitch_v is None and lines:
        pitch_v, across = _on_lines(lines, face[1], across)
    elif pitch_v is None:
        pitch_v = _pitch(across, face[1], size)
    pitch_u, pitch_v = pitch_u * (along > 1), pitch_v * (across > 1)
    places = tuple((u, v) for v in _row(across, pitch_v) for u in _row(along, pitch_u))
    reach = ((along - 1) * pitch_u, (across - 1) * pitch_v)
    # Patterns of a standard are taken as they are; what is entered or found keeps a diameter to the edges.
    given = wish.pitch_along is not None and joint.pitch_along is None and joint.pitch_across is None
    fits = given or all(r + 2.0 * size.diameter <= f + 1e-9 for r, f in zip(reach, face, strict=True))
    return Pattern(along, across, pitch_u, pitch_v, places, face, fits)


def _fitting(count: int, room: float, size: Screw, pitch: float | None) -> int:
    if pitch is not None:
        return count
    most = 1 + int(max(room - 2.0 * EDGE * size.diameter, 0.0) / (APART * size.diameter) + 1e-9)
    return min(count, most)


def _pitch(count: int, room: float, size: Screw) -> float:
    """Pitch that spreads so many over the room, down to half a millimetre."""
    if count == 1:
        return 0.0
    free = max(room - 2.0 * EDGE * size.diameter, APART * size.diameter * (count - 1))
    return int(free / (count - 1) * 2000.0 + 1e-6) / 2000.0


def _on_lines(lines: tuple[float, ...], room: float, across: int) -> tuple[float, int]:
    """Pitch and count of rows on the widest pair of slots that lies evenly about the middle and within the room."""
    pairs = [2.0 * s for s in lines if s > 1e-3 and any(abs(s + t) < 1e-3 for t in lines) and 2.0 * s < room]
    return (max(pairs), 2) if pairs and across > 1 else (0.0, 1)


def _row(count: int, pitch: float) -> list[float]:
    return [(k - (count - 1) / 2.0) * pitch for k in range(count)]
