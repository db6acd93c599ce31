"""In which order holes are filled while screws are short: both ends of every piece, then always the widest gap.

The order does not depend on how many screws there are, so that more screws only carry on: none has to come out again.
"""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from core.fasteners.holes import TINY
from core.fasteners.pieces import RailPiece


@dataclass(frozen=True, slots=True)
class Stretch:
    """A length of rail without a screw, from start to end, m from the rail's start."""

    start: float
    end: float

    @property
    def length(self) -> float:
        return self.end - self.start


def end_holes(pieces: Sequence[RailPiece]) -> list[int]:
    """Numbers of the holes that come first: the outermost of each piece, the rail's own two in front."""
    ends = [number for piece in pieces if piece.holes[0] for number in piece.holes]
    own = dict.fromkeys([ends[0], ends[-1], *ends] if ends else [])
    return list(own)


def fitting_order(
    holes: Sequence[float], pieces: Sequence[RailPiece], rests: Sequence[float] = ()
) -> tuple[int, ...]:
    """Numbers of all holes in the order in which they are filled.

    Args:
        holes: places, m. pieces: of the rail. rests: where carriages stand meanwhile, m: of gaps as wide as each other that
            with a carriage in it comes first, and in a gap of two middle holes the one nearer to a carriage.
    """
    order = end_holes(pieces)
    filled = sorted(number - 1 for number in order)
    gaps = [_ranked(holes, gap, rests) for gap in itertools.pairwise(filled) if gap[1] - gap[0] > 1]
    heapq.heapify(gaps)
    while gaps:
        left, right = heapq.heappop(gaps)[-1]
        pick = _middle(holes, left, right, rests)
        order.append(pick + 1)
        for gap in ((left, pick), (pick, right)):
            if gap[1] - gap[0] > 1:
                heapq.heappush(gaps, _ranked(holes, gap, rests))
    return tuple(order)


def _ranked(
    holes: Sequence[float], gap: tuple[int, int], rests: Sequence[float]
) -> tuple[float, bool, float, tuple[int, int]]:
    """A gap behind what orders it: the widest first, of these one with a carriage in it, then the first along the rail."""
    start, end = holes[gap[0]], holes[gap[1]]
    return -round(end - start, 9), not any(start < place < end for place in rests), start, gap


def _middle(holes: Sequence[float], left: int, right: int, rests: Sequence[float]) -> int:
    middle = (holes[left] + holes[right]) / 2.0

    def far(k: int) -> tuple[float, float, int]:
        return round(abs(holes[k] - middle), 9), min((abs(holes[k] - r) for r in rests), default=0.0), k

    return min(range(left + 1, right), key=far)


def longest_stretch(
    holes: Sequence[float], pieces: Sequence[RailPiece], filled: Sequence[int]
) -> Stretch | None:
    """The longest length without a screw when the holes of these numbers are filled; a piece's loose ends count too.

    None for a rail without a length.
    """
    worst: Stretch | None = None
    for piece in pieces:
        first, last = piece.holes
        own = sorted(holes[n - 1] for n in filled if first and first <= n <= last)
        bounds = [piece.start, *own, piece.end]
        for start, end in itertools.pairwise(bounds):
            if worst is None or end - start > worst.length + TINY:
                worst = Stretch(start, end)
    return worst
