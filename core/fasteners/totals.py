"""What to buy for all rails and joints: screws, nuts and washers of one kind together, with spares, in whole packs."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from core.fasteners.joints.fitted import FittedJoint
from core.fasteners.rails import RailAnswer
from core.fasteners.site import held
from core.machine.project import Project
from core.sections import Section, TSlot

SCREW, NUT, RIVET, T_NUT, WASHER = "Socket head cap screw", "Hexagon nut", "Rivet nut", "T-nut", "Washer"
Row = tuple[str, str, int]


@dataclass(frozen=True, slots=True)
class FastenerTotal:
    """One kind of fastener: needed, spares on top, and whole packs that cover both; `where` it goes, in words."""

    what: str
    spec: str
    needed: int
    spare: int
    pack_size: int
    packs: int
    bought: int
    where: str = "rails"


@dataclass(slots=True)
class _Sum:
    """Counts of one kind while they are gathered: by rail axis, and of all joints."""

    rails: dict[str, int] = field(default_factory=dict)
    joints: int = 0
    where: dict[str, int] = field(default_factory=dict)


def packs_for(needed: int, spare_share: float, pack_size: int) -> tuple[int, int]:
    """(spares, packs) for a count; spares are rounded up to whole pieces, and the sum to whole packs."""
    spare = math.ceil(needed * spare_share - 1e-9)
    return spare, math.ceil((needed + spare) / pack_size)


def totals(
    rails: tuple[RailAnswer, ...], project: Project, joints: tuple[FittedJoint, ...] = ()
) -> tuple[FastenerTotal, ...]:
    """Totals over all rails and joints; what is equal and sold in equal packs stands in one row."""
    sides = held(project)
    sums: dict[Row, _Sum] = {}
    for rail in rails:
        fastening, section = sides[rail.axis]
        for row, count in (
            ((SCREW, rail.screw_text, fastening.pack_size), rail.screws),
            ((*nut_words(rail, section), fastening.nut_pack_size), rail.nuts + rail.parked),
        ):
            if count:
                one = sums.setdefault(row, _Sum())
                one.rails[rail.axis] = one.rails.get(rail.axis, 0) + count
                one.where["rails"] = one.where.get("rails", 0) + count
    for joint in joints:
        for row, count in joint_rows(joint, project):
            if count:
                one = sums.setdefault(row, _Sum())
                one.joints += count
                one.where[joint.label] = one.where.get(joint.label, 0) + count
    shares = {axis: fastening.spare_share for axis, (fastening, _) in sides.items()}
    return tuple(_total(row, one, shares, project.machine.joints.spare_share) for row, one in sums.items())


def joint_rows(joint: FittedJoint, project: Project) -> Iterator[tuple[Row, int]]:
    """(name, specification, pack) and count of all screws, washers and nuts of a kind of joint; counts may be 0."""
    packs = project.machine.joints
    yield (SCREW, joint.screw_text, packs.pack_size), joint.screws
    yield (WASHER, f"ISO 7089 {joint.size.thread}", packs.washer_pack_size), joint.washers
    if joint.hold == "T-nut":
        nut = (T_NUT, f"slot {joint.site.partner.slot * 1000:.3g}, {joint.size.thread}")
    elif joint.hold == "rivet nut":
        nut = (RIVET, joint.size.thread)
    else:
        nut = (NUT, f"ISO 4032 {joint.size.thread}")
    yield (*nut, packs.nut_pack_size), joint.nuts


def nut_words(rail: RailAnswer, section: Section) -> tuple[str, str]:
    """Name and specification of a rail's nuts, as they stand in the bill."""
    if rail.hold == "T-nut":
        slot = f"slot {section.slot_opening * 1000:.3g}, " if isinstance(section, TSlot) else ""
        return T_NUT, f"{slot}{rail.screw}"
    if rail.hold == "rivet nut":
        return RIVET, rail.screw
    return NUT, f"ISO 4032 {rail.screw}"


def _total(row: Row, one: _Sum, shares: dict[str, float], joint_share: float) -> FastenerTotal:
    what, spec, pack_size = row
    needed = sum(one.rails.values()) + one.joints
    spare = sum(packs_for(n, shares[axis], pack_size)[0] for axis, n in one.rails.items())
    spare += packs_for(one.joints, joint_share, pack_size)[0]
    packs = math.ceil((needed + spare) / pack_size)
    where = (
        "; ".join(one.where) if len(one.where) == 1 else "; ".join(f"{w} {n}" for w, n in one.where.items())
    )
    return FastenerTotal(what, spec, needed, spare, pack_size, packs, packs * pack_size, where)
