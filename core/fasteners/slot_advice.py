"""What is wrong with T-nuts in their slots: two in one place, a part where a rail lies, a screw beside the slots."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from core.fasteners.nut_places import JointNut
from core.fasteners.slot_plan import SlotNut, SlotPlan
from core.fasteners.strength.partners import NUT_LENGTH
from core.findings import Finding
from core.machine.base import Legs
from core.machine.project import Project
from core.units import show

CLEAR = 1e-6
SHARED = {"low_cross": "cross", "angle": "foot"}
"""Kinds of joints that share the entries of another."""
FASTENING = {"x": "machine.gantry.beam.rail_fastening", "y": "machine.base.rail_fastening"}


def about_slot(project: Project, plan: SlotPlan) -> Iterator[Finding]:
    """Findings about one slot."""
    yield from _clashes(project, plan)
    yield from _off_end(project, plan)
    yield from _on_rail(project, plan)
    yield from _for_good(project, plan)


def _path(plan: SlotPlan, nut: SlotNut) -> str:
    if nut.joint:
        return f"{joint_path(nut.joint)}.pitch_along"
    at = FASTENING.get(plan.key[0], "machine.head.rail_fastening")
    return f"{at}.parked_nuts" if nut.parked else f"{at}.hold"


def joint_path(key: str) -> str:
    """Entries of a kind of joint, by its key."""
    letter, _, rest = key.partition("_")
    if letter in ("x", "y", "z") and rest:
        return f"machine.joints.{letter}.{rest}"
    return f"machine.joints.{SHARED.get(key, key)}"


def _clashes(project: Project, plan: SlotPlan) -> Iterator[Finding]:
    """Two nuts that want the same room in a slot; of equal pairs the closest is told."""
    order = sorted(plan.nuts, key=lambda nut: nut.place)
    worst: dict[tuple[str, str], tuple[float, SlotNut, SlotNut]] = {}
    for one, two in pairwise(order):
        short = (NUT_LENGTH[one.thread] + NUT_LENGTH[two.thread]) / 2.0 - (two.place - one.place)
        if short > CLEAR and (one.joint or two.joint or one.parked or two.parked):
            key = (one.joint or one.what, two.joint or two.what)
            if key not in worst or short > worst[key][0]:
                worst[key] = (short, one, two)
    spared = False
    for _, one, two in worst.values():
        parked = one.parked or two.parked
        if parked and spared:
            continue
        spared = spared or parked
        named = one if one.parked or (one.joint and not two.parked) else two
        apart = two.place - one.place
        wanted = (NUT_LENGTH[one.thread] + NUT_LENGTH[two.thread]) / 2.0

        def words(value: float) -> str:
            return show(value, "length", project.units)

        if parked:
            text = (
                f"{plan.label}: the spares parked in this slot do not fit beside the other nuts; {words(apart)} are left from "
                f"one to the next, and a nut is about {words(wanted)} long. Fewer spares or a longer bar would help."
            )
        else:
            text = (
                f"{plan.label}: the T-nuts for {one.what} and {two.what} want the same room, {words(apart)} apart at "
                f"{words(one.place)} from the {plan.ends[0]} end; a nut is about {words(wanted)} long. Another slot, another "
                "pitch or another hold for one of them would help."
            )
        yield Finding(
            "nuts-clash", "warning" if parked else "limit", _path(plan, named), text, apart, wanted,
            place=plan.label,
        )  # fmt: skip


def _off_end(project: Project, plan: SlotPlan) -> Iterator[Finding]:
    """Nuts of joints that would stick out of the slot's end, one finding for each kind of joint."""
    told = set()
    for nut in plan.nuts:
        half = NUT_LENGTH[nut.thread] / 2.0
        room = min(nut.place, plan.length - nut.place)
        if nut.joint and room < half - CLEAR and nut.joint not in told:
            told.add(nut.joint)
            text = (
                f"{plan.label}: the T-nut for {nut.what} stands {show(room, 'length', project.units)} from the bar's end and "
                f"wants {show(half, 'length', project.units)}. A smaller pitch or a longer bar would help."
            )
            yield Finding(
                "nut-off-bar",
                "limit",
                f"{joint_path(nut.joint)}.pitch_along",
                text,
                room,
                half,
                place=plan.label,
            )


def _on_rail(project: Project, plan: SlotPlan) -> Iterator[Finding]:
    """Parts of joints that would stand where the rail lies."""
    if plan.covered is None:
        return
    start, end = plan.covered
    for part in plan.parts:
        low, high = part.kept or (part.middle - part.reach, part.middle + part.reach)
        over = min(high, end) - max(low, start)
        if over > CLEAR:
            # Two joints may have one name: the part's own nuts are those that stand nearest to it.
            own = [n for n in plan.nuts if n.joint and n.what.endswith(part.name)]
            nut = min(own, key=lambda n: abs(n.place - part.middle))
            text = (
                f"{plan.label}: {nut.what} would stand on the same slot as the rail, over "
                f"{show(over, 'length', project.units)} of it. A shorter rail, a longer beam, or a profile with a slot beside "
                "the rail would help."
            )
            where = f"{joint_path(nut.joint)}.hold"
            yield Finding("part-on-rail", "limit", where, text, over, 0.0, place=nut.what.partition(",")[0])


def _for_good(project: Project, plan: SlotPlan) -> Iterator[Finding]:
    """Slide-in nuts behind two ends of which one is welded shut."""
    if plan.kind != "slide-in" or not all(plan.closed.values()):
        return
    machine, joints = project.machine, project.machine.joints
    welded = {
        "gantry beam": joints.seat if machine.gantry.upright.seat == "between" else None,
        "leg": joints.legs if isinstance(machine.base.stand, Legs) else None,
    }.get(plan.beam)
    if welded is None or welded.made != "welded":
        return
    text = (
        f"{plan.label}: the weld at its end shuts the slot for good. Slide every nut and some spares in before welding, well "
        "away from the heat, or use roll-in nuts."
    )
    path = "machine.joints.seat.made" if plan.beam == "gantry beam" else "machine.joints.legs.made"
    yield Finding(
        "slot-shut",
        "warning",
        path,
        text,
        float(len(plan.nuts)),
        quantity="count",
        place=plan.beam.capitalize(),
    )


def about_stray(project: Project, nuts: Sequence[JointNut]) -> Iterator[Finding]:
    """Screws of joints that go into T-nuts but stand beside the slots, one finding for each kind of joint."""
    for key in dict.fromkeys(nut.joint for nut in nuts if nut.slot is None):
        nut = next(n for n in nuts if n.joint == key and n.slot is None)
        text = (
            f"{nut.label}: T-nuts are chosen, but screws of {nut.spot.name} stand beside the slots of the {nut.spot.kind}'s "
            f"{nut.spot.face} face. Another pitch of the rows, fewer rows or another hold would help."
        )
        yield Finding("joint-off-slot", "limit", f"{joint_path(key)}.pitch_across", text, place=nut.label)
