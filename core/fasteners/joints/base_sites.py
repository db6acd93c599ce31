"""Joints of the base: legs to side beams, feet or floor supports, cross members, lower rails, diagonals."""

from __future__ import annotations

from collections.abc import Iterator

from core.fasteners.joints.bores import on_bores
from core.fasteners.joints.pattern import Wish
from core.fasteners.joints.sites import JointSite, bar_partner, clamp, end_partner, steel
from core.machine.base import Legs
from core.machine.diagonals import diagonals, knee_height
from core.machine.layout import Layout
from core.machine.project import Machine
from core.sections import SectionProperties

HEAD_PLATE = 0.01  # m, on a leg's upper end
END_PLATE = 0.01  # m, on the end of a cross member, rail or diagonal
FOOT_PLATE = 0.008  # m, under a leg
EARS = 0.04  # m, how far an end plate stands out beside its bar at each end


def base_sites(machine: Machine, lay: Layout) -> Iterator[JointSite]:
    """Supports first, then what ties them."""
    base, stand = machine.base, machine.base.stand
    names = [f"{side} {n + 1}" for side in ("left", "right") for n in range(base.supports)]
    below, slots = bar_partner(
        "side beam", base.section, base.turned, lay.sections.side_beam, base.material, "bottom"
    )
    wide, joint = lay.sections.side_beam.width, machine.joints.feet
    leg, cross = lay.sections.leg, lay.sections.cross
    if not isinstance(stand, Legs) or leg is None or cross is None:
        yield JointSite(
            "feet", "Floor supports to side beams", "machine.joints.feet", joint, tuple(names),
            clamp(joint, "support", 0.012, "s235"), below, (0.12, wide), ("Y", "X"), "M8", Wish(2, 2), slots,
            box=(0.12, wide), stock=True,
        )  # fmt: skip
        return
    joint = machine.joints.legs
    welds = steel(stand.material, base.material)
    yield JointSite(
        "legs", "Legs to side beams", "machine.joints.legs", joint, tuple(names),
        clamp(joint, "head plate", HEAD_PLATE, stand.material), below, (leg.height + 2.0 * EARS, wide), ("Y", "X"),
        "M8", Wish(2, 2), slots, welds=welds, box=(leg.height, min(leg.width, wide)), stock=True, bar=leg.height,
    )  # fmt: skip
    joint = machine.joints.feet
    made = JointSite(
        "feet", "Feet to legs", "machine.joints.feet", joint, tuple(names), clamp(joint, "foot", FOOT_PLATE, "s235"),
        end_partner("leg", stand.section, stand.material), (leg.height, leg.width), ("Y", "X"), "M8", Wish(2, 2),
        box=(leg.height, leg.width), stock=True,
    )  # fmt: skip
    yield on_bores(made, stand.section)
    yield from _ties(machine, lay, stand, cross)
    yield from _diagonals(machine, lay, stand)


def _ties(machine: Machine, lay: Layout, stand: Legs, cross: SectionProperties) -> Iterator[JointSite]:
    base, joint = machine.base, machine.joints.cross
    face, slots = bar_partner(
        "side beam", base.section, base.turned, lay.sections.side_beam, base.material, "left"
    )
    numbers = range(base.supports)
    sides = ("left", "right")
    tall = lay.sections.side_beam.height
    yield JointSite(
        "cross", "Cross members to side beams", "machine.joints.cross", joint,
        tuple(f"cross member {n + 1}, {side}" for n in numbers for side in sides),
        clamp(joint, "end plate", END_PLATE, stand.cross_material), face, (cross.width + 2.0 * EARS, tall), ("Y", "Z"),
        "M8", Wish(2, 2), slots, welds=steel(stand.cross_material, base.material), box=(cross.width, cross.height), stock=True,
        bar=cross.width,
    )  # fmt: skip
    leg = lay.sections.leg
    if knee_height(stand) == 0.0 or leg is None:
        return
    leg_face, leg_slots = bar_partner("leg", stand.section, False, leg, stand.material, "left")
    welds, tall = steel(stand.cross_material, stand.material), cross.height + 2.0 * EARS
    yield JointSite(
        "low_cross", "Lower cross members to legs", "machine.joints.cross", joint,
        tuple(f"lower cross member {n + 1}, {side}" for n in numbers for side in sides),
        clamp(joint, "end plate", END_PLATE, stand.cross_material), leg_face, (tall, leg.height), ("Z", "Y"),
        "M8", Wish(2, 2), leg_slots, welds=welds, box=(cross.height, cross.width), stock=True, bar=cross.height,
    )  # fmt: skip
    if not stand.low_rails:
        return
    side_face, side_slots = bar_partner("leg", stand.section, False, leg, stand.material, "bottom")
    joint = machine.joints.low_rails
    yield JointSite(
        "low_rails", "Lower rails to legs", "machine.joints.low_rails", joint,
        tuple(f"{side} rail {n + 1}, {end}" for side in sides for n in numbers[:-1] for end in ("front", "back")),
        clamp(joint, "end plate", END_PLATE, stand.cross_material), side_face, (tall, leg.width), ("Z", "X"),
        "M8", Wish(2, 2), side_slots, welds=welds, box=(cross.height, cross.width), stock=True, bar=cross.height,
    )  # fmt: skip


def _diagonals(machine: Machine, lay: Layout, stand: Legs) -> Iterator[JointSite]:
    section, leg, wanted = lay.sections.diagonal, lay.sections.leg, stand.diagonals
    every = diagonals(machine, lay)
    if section is None or leg is None or wanted is None or not every:
        return
    joint = machine.joints.diagonals
    face, slots = bar_partner("leg", stand.section, False, leg, stand.material, "left")
    yield JointSite(
        "diagonals", "Diagonals to legs", "machine.joints.diagonals", joint,
        tuple(f"{d.name}, {end}" for d in every for end in ("lower end", "upper end")),
        clamp(joint, "end plate", END_PLATE, wanted.material), face, (section.height + 2.0 * EARS, leg.height),
        ("Z", "Y"), "M6", Wish(2, 2), slots, welds=steel(wanted.material, stand.material),
        box=(section.height, section.width), stock=True, bar=section.height,
    )  # fmt: skip
