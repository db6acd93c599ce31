"""Rails longer than what is bought: where they are cut into pieces, so that the hole pitch runs on over every joint.

Joints lie half-way between two holes, so both end distances there add up to one pitch, and the joints of the two rails of
an axis keep apart. Lengths in m; holes are numbered from 1 along the whole rail.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from core.fasteners.holes import TINY

FEWEST_HOLES = 2
"""With a single screw a piece could turn about it."""
WISHED_HOLES = (6, 4, FEWEST_HOLES)
"""Holes that each piece gets if that costs no piece more: short ends are hard to align."""


@dataclass(frozen=True, slots=True)
class RailPiece:
    """One piece of a rail, m from the rail's start.

    Attributes:
        number: from 1. start, end: of the piece. holes: numbers of its first and last hole; (0, 0) without any.
        first, last: end distances of these holes within the piece; half its length without any.
    """

    number: int
    start: float
    end: float
    holes: tuple[int, int]
    first: float
    last: float

    @property
    def length(self) -> float:
        return self.end - self.start

    @property
    def count(self) -> int:
        """Number of its holes."""
        return self.holes[1] - self.holes[0] + 1 if self.holes[0] else 0


@dataclass(frozen=True, slots=True)
class Cut:
    """Where the two rails of an axis are jointed: places of the joints from each rail's start, m.

    `complete` is False when no cut was found that leaves every piece short enough; `apart` is the least distance of two
    joints of different rails (None with fewer than two rails jointed), `wanted` the one asked for.
    """

    joints: tuple[tuple[float, ...], tuple[float, ...]]
    complete: bool
    apart: float | None
    wanted: float


def cut_pair(
    length: float,
    holes: Sequence[float],
    longest: float | None,
    stagger: float,
    first: tuple[float | None, float | None] = (None, None),
) -> Cut:
    """Cut both rails of an axis into the fewest pieces whose joints keep apart.

    Args:
        length: of each rail. holes: their places, the same on both. longest: piece that is bought; None for any.
        stagger: least distance of joints of different rails. first: length of each rail's first piece; None to choose.

    Joints that are chosen lie half-way between holes and leave each piece two holes or more. When the joints cannot keep
    apart, both rails still get the fewest pieces.
    """
    most = max(length, 1.0) if longest is None else longest
    middles = tuple((a + b) / 2.0 for a, b in itertools.pairwise(holes))
    best: tuple[int, tuple[float, ...], tuple[float, ...]] | None = None
    for fewest in WISHED_HOLES:
        found = _fewest(_Line(length, middles, most, fewest), stagger, first)
        if found is not None and (best is None or found[0] < best[0]):
            best = found
    if best is not None:
        return Cut(best[1:], True, apart(best[1], best[2]), stagger)
    line = _Line(length, middles, most, FEWEST_HOLES)
    pair = tuple(line.filled(begin) for begin in first)
    one, other = (joints if joints is not None else () for joints in pair)
    return Cut((one, other), None not in pair, apart(one, other), stagger)


def _fewest(
    line: _Line, stagger: float, first: tuple[float | None, float | None]
) -> tuple[int, tuple[float, ...], tuple[float, ...]] | None:
    """(number of joints, those of both rails) with the fewest joints that keep apart; None when there are none."""
    best: tuple[int, tuple[float, ...], tuple[float, ...]] | None = None
    for one in line.beginnings(first[0]):
        other = line.mirrored(one, first[1], stagger)
        if other is None:
            other = line.filled(first[1], one, stagger)
        if other is not None and (best is None or len(one) + len(other) < best[0]):
            best = (len(one) + len(other), one, other)
    return best


@dataclass(frozen=True, slots=True)
class _Line:
    """One rail to be cut: its length, the places where it may be, the longest piece and the fewest holes of one."""

    length: float
    middles: tuple[float, ...]
    most: float
    fewest: int

    def beginnings(self, first: float | None) -> list[tuple[float, ...]]:
        """Cuts of the first rail to choose from, that with the longest first piece in front."""
        if first is not None:
            starts: list[float | None] = [first]
        elif self.length <= self.most + TINY:
            starts = [None]
        else:
            usable = self.middles[self.fewest - 1 : len(self.middles) - self.fewest + 1]
            starts = [m for m in reversed(usable) if m <= self.most + TINY]
        cuts = (self.filled(start) for start in starts)
        return [cut for cut in cuts if cut is not None]

    def filled(
        self, first: float | None, others: Sequence[float] = (), stagger: float = 0.0
    ) -> tuple[float, ...] | None:
        """The fewest joints, each as far on as it may be and `stagger` away from the others; None when there is no way."""
        joints: list[float] = []
        at, last = 0.0, -1
        if first is not None and first < self.length - TINY:
            if any(abs(first - other) < stagger - TINY for other in others):
                return None
            joints.append(first)
            at = first
            last = sum(m < first + TINY for m in self.middles) - 1
        while self.length - at > self.most + TINY:
            usable = [
                k
                for k in range(last + self.fewest, len(self.middles) - self.fewest + 1)
                if at + TINY < self.middles[k] <= at + self.most + TINY
                and all(abs(self.middles[k] - other) >= stagger - TINY for other in others)
            ]
            if not usable:
                return None
            last = usable[-1]
            at = self.middles[last]
            joints.append(at)
        return tuple(joints)

    def mirrored(
        self, one: tuple[float, ...], first: float | None, stagger: float
    ) -> tuple[float, ...] | None:
        """The same pieces from the other end, so that only one set is cut; None where it does not keep apart or fit."""
        turned = tuple(sorted(self.length - joint for joint in one))
        if first is not None and (not turned or abs(turned[0] - first) > TINY):
            return None
        if not all(any(abs(joint - m) <= TINY for m in self.middles) for joint in turned):
            return None
        found = apart(one, turned)
        return turned if found is None or found >= stagger - TINY else None


def apart(one: Sequence[float], other: Sequence[float]) -> float | None:
    """Least distance between a joint of one rail and a joint of the other, m; None when one has no joints."""
    return min((abs(a - b) for a in one for b in other), default=None)


def pieces(length: float, holes: Sequence[float], joints: Sequence[float]) -> tuple[RailPiece, ...]:
    """The pieces between the joints, each with its holes; a hole on a joint belongs to the piece before it."""
    made = []
    bounds = [0.0, *joints, length]
    for number, (start, end) in enumerate(itertools.pairwise(bounds), start=1):
        low = start - TINY if number == 1 else start + TINY
        own = [k for k, place in enumerate(holes, start=1) if low < place <= end + TINY]
        span = (own[0], own[-1]) if own else (0, 0)
        half = (end - start) / 2.0
        first = holes[own[0] - 1] - start if own else half
        last = end - holes[own[-1] - 1] if own else half
        made.append(RailPiece(number, start, end, span, first, last))
    return tuple(made)
