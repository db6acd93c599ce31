"""Which screws and nuts are here, and how they are shared out among the rails that want them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from core.fasteners.interim.order import end_holes, fitting_order
from core.fasteners.rails import RailAnswer
from core.fasteners.site import held
from core.fasteners.totals import nut_words
from core.machine.project import Project
from core.parts.keys import fastener_key

SCREW = "Socket head cap screw"
AXES = ("y", "x", "z")
"""The order in which a machine grows: what carries the rest comes first."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of screw or nut.

    Attributes:
        key: of its line in the bill. what, spec: in words. needed: by all rails. here: on hand or arrived, fitted ones among
            them. used: by this plan. missing: still to come before every hole is filled.
    """

    key: str
    what: str
    spec: str
    needed: int
    here: int
    used: int

    @property
    def missing(self) -> int:
        return max(0, self.needed - self.here)


@dataclass(frozen=True, slots=True)
class Wants:
    """What each hole of a rail takes: keys of its screw and of its nut ("" when there is none), with their words."""

    screw: str
    nut: str
    words: Mapping[str, tuple[str, str]]


def wants(project: Project, rail: RailAnswer) -> Wants:
    """Keys and words of a rail's screws and nuts."""
    screw = fastener_key(SCREW, rail.screw_text)
    words = {screw: (SCREW, rail.screw_text)}
    if not rail.nuts:
        return Wants(screw, "", words)
    what = nut_words(rail, held(project)[rail.axis][1])
    nut = fastener_key(*what)
    return Wants(screw, nut, {**words, nut: what})


def here(project: Project, key: str) -> int | None:
    """Pieces on hand or arrived of a kind, whatever packs they came in; None when nothing is recorded of it."""
    rows = [row for row in project.stock if row.part == key or row.part.startswith(f"{key}_pack_of_")]
    return sum(row.on_hand + row.arrived for row in rows) if rows else None


@dataclass(frozen=True, slots=True)
class Claim:
    """A wish to fill one hole of a rail; sorted by `rank`."""

    rank: tuple[int, float, int, int]
    rail: str
    hole: int


def claims(
    rails: Sequence[RailAnswer], rests: Mapping[str, Sequence[float]]
) -> tuple[dict[str, tuple[int, ...]], list[Claim]]:
    """The order of holes of every rail, and all wishes one after the other: ends axis by axis, then the widest gap of all."""
    orders, wishes = {}, []
    for number, rail in enumerate(rails):
        order = fitting_order(rail.holes, rail.pieces, rests.get(rail.key, ()))
        orders[rail.key] = order
        ends = len(end_holes(rail.pieces))
        filled: list[int] = []
        for k, hole in enumerate(order):
            if k < ends:
                rank = (AXES.index(rail.axis), 0.0, k, number)
            else:
                low = max(n for n in filled if n < hole)
                high = min(n for n in filled if n > hole)
                gap = rail.holes[high - 1] - rail.holes[low - 1]
                rank = (len(AXES), -round(gap, 9), AXES.index(rail.axis) * 1000 + k, number)
            filled.append(hole)
            wishes.append(Claim(rank, rail.key, hole))
    return orders, sorted(wishes, key=lambda claim: claim.rank)


def share_out(
    wishes: Sequence[Claim], wanted: Mapping[str, Wants], store: Mapping[str, int]
) -> tuple[dict[str, tuple[int, ...]], dict[str, int]]:
    """Holes to fill now by rail, in order, and what is used of each kind; a rail that gets no screw gets no later one either.

    Args:
        wanted: by rail. store: pieces here by kind.
    """
    left = dict(store)
    used = dict.fromkeys(store, 0)
    filled: dict[str, list[int]] = {rail: [] for rail in wanted}
    ended: set[str] = set()
    for claim in wishes:
        needs = [key for key in (wanted[claim.rail].screw, wanted[claim.rail].nut) if key]
        if claim.rail in ended or any(left.get(key, 0) < 1 for key in needs):
            ended.add(claim.rail)
            continue
        for key in needs:
            left[key] -= 1
            used[key] += 1
        filled[claim.rail].append(claim.hole)
    return {rail: tuple(numbers) for rail, numbers in filled.items()}, used
