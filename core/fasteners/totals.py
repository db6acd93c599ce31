"""What to buy for all rails: screws and nuts of one kind together, with spares, in whole packs."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.fasteners.rails import RailAnswer
from core.fasteners.site import held
from core.machine.fastening import RailFastening
from core.machine.project import Project
from core.sections import Section, TSlot


@dataclass(frozen=True, slots=True)
class FastenerTotal:
    """One kind of fastener: needed, spares on top, and whole packs that cover both."""

    what: str
    spec: str
    needed: int
    spare: int
    pack_size: int
    packs: int
    bought: int


def packs_for(needed: int, spare_share: float, pack_size: int) -> tuple[int, int]:
    """(spares, packs) for a count; spares are rounded up to whole pieces, and the sum to whole packs."""
    spare = math.ceil(needed * spare_share - 1e-9)
    return spare, math.ceil((needed + spare) / pack_size)


def totals(rails: tuple[RailAnswer, ...], project: Project) -> tuple[FastenerTotal, ...]:
    """Totals over all rails; equal screws or nuts in equal packs stand in one row."""
    sides = held(project)
    counts: dict[tuple[str, str, int], dict[str, int]] = {}
    for rail in rails:
        fastening, section = sides[rail.axis]
        for row, count in (
            (("Socket head cap screw", rail.screw_text, fastening.pack_size), rail.screws),
            ((*nut_words(rail, section), fastening.nut_pack_size), rail.nuts + rail.parked),
        ):
            if count:
                per_axis = counts.setdefault(row, {})
                per_axis[rail.axis] = per_axis.get(rail.axis, 0) + count
    return tuple(_total(row, per_axis, sides) for row, per_axis in counts.items())


def nut_words(rail: RailAnswer, section: Section) -> tuple[str, str]:
    """Name and specification of a rail's nuts, as they stand in the bill."""
    if rail.hold == "T-nut":
        slot = f"slot {section.slot_opening * 1000:.3g}, " if isinstance(section, TSlot) else ""
        return "T-nut", f"{slot}{rail.screw}"
    if rail.hold == "rivet nut":
        return "Rivet nut", rail.screw
    return "Hexagon nut", f"ISO 4032 {rail.screw}"


def _total(
    row: tuple[str, str, int],
    per_axis: dict[str, int],
    sides: dict[str, tuple[RailFastening, Section]],
) -> FastenerTotal:
    what, spec, pack_size = row
    needed = sum(per_axis.values())
    spare = sum(packs_for(n, sides[axis][0].spare_share, pack_size)[0] for axis, n in per_axis.items())
    packs = math.ceil((needed + spare) / pack_size)
    return FastenerTotal(what, spec, needed, spare, pack_size, packs, packs * pack_size)
