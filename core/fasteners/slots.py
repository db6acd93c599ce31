"""T-nuts slot by slot, those of rails and of joints together: place of each, and in which order they go in from which end.

Slide-in nuts go in from a slot's end, the one that goes farthest first; whoever closes an end too early takes parts off
again. Roll-in and swivel nuts go in through the opening, but not where a rail covers it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from core.fasteners.drilling import ENDS
from core.fasteners.joints.fitted import FittedJoint
from core.fasteners.nut_places import BAR_ENDS, JointNut, joint_nuts
from core.fasteners.rails import RailAnswer
from core.fasteners.site import held
from core.fasteners.slot_advice import about_slot, about_stray
from core.fasteners.slot_plan import NEEDS, JointNuts, SlotNut, SlotPlan, SlotsAnswer, Wanted
from core.fasteners.slot_steps import steps_of
from core.fasteners.strength.partners import NUT_LENGTH
from core.findings import Finding
from core.machine.fastening import RailFastening
from core.machine.layout import Layout
from core.machine.project import Project

__all__ = ["NEEDS", "JointNuts", "SlotNut", "SlotPlan", "SlotsAnswer", "Wanted", "find_slots", "loading"]
AXES = {"gantry beam": "x", "side beam": "y"}


def find_slots(
    project: Project, lay: Layout, rails: Sequence[RailAnswer], joints: Sequence[FittedJoint] = ()
) -> SlotsAnswer:
    """The plan of every slot that holds T-nuts, and the count of nuts of every joint."""
    nuts = joint_nuts(project, lay, tuple(joints))
    counts = tuple(_counted(joint) for joint in joints if joint.hold == "T-nut" and joint.stack is not None)
    plans: list[SlotPlan] = []
    for rail in rails:
        if rail.hold == "T-nut":
            at = (_bar_of(rail), _face(project, rail.axis), rail.slot)
            shared = [] if rail.slot is None else [n for n in nuts if _at(n) == at]
            if shared:
                nuts = [n for n in nuts if _at(n) != at]
            plans.append(_rail_plan(project, lay, rail, shared))
    plans += _joint_plans(project, nuts)
    findings = [*_about_ends(plans), *about_stray(project, nuts)]
    for plan in plans:
        findings += about_slot(project, plan)
    return SlotsAnswer(tuple(plans), tuple(_told_once(findings)), counts)


def _at(nut: JointNut) -> tuple[str, str, int | None]:
    return nut.spot.bar, nut.spot.face, nut.slot


def _told_once(findings: Sequence[Finding]) -> list[Finding]:
    """One finding of a kind for each entry and place: equal slots say the same."""
    return list({(f.code, f.where, f.place): f for f in reversed(findings)}.values())[::-1]


def _counted(joint: FittedJoint) -> JointNuts:
    each = joint.pattern.count if joint.pattern is not None else 0
    return JointNuts(
        joint.key, joint.label, joint.count, each, joint.size.thread, joint.site.partner.what, joint.nuts
    )


def _bar_of(rail: RailAnswer) -> str:
    return {"x": "gantry beam", "y": f"{rail.key.rpartition('_')[2]} side beam"}.get(rail.axis, "head plate")


def _face(project: Project, axis: str) -> str:
    if axis == "x":
        return project.machine.gantry.beam.rail_face
    return "top" if axis == "z" or project.machine.base.rail_face == "top" else "outer"


def closed_ends(project: Project, axis: str, fastening: RailFastening) -> dict[str, str]:
    """What closes each end of the slots of the bar under an axis' rails."""
    chosen = fastening.closed_ends
    if chosen == "automatic":
        between = axis == "x" and project.machine.gantry.upright.seat == "between"
        return (
            {"start": "the left upright", "end": "the right upright"} if between else {"start": "", "end": ""}
        )
    words = {"start": f"the part at the {ENDS[axis][0]} end", "end": f"the part at the {ENDS[axis][1]} end"}
    return {end: words[end] if chosen in (end, "both") else "" for end in ("start", "end")}


def _closing(project: Project, kind: str) -> tuple[dict[str, str], str]:
    """What closes each end of a bar's slots, and the one end in use where the user says that the other is closed."""
    if kind in AXES:
        fastening = held(project)[AXES[kind]][0]
        return closed_ends(project, AXES[kind], fastening), only_end(fastening.closed_ends)
    if kind == "leg":
        return {"start": "the foot", "end": "the side beam"}, ""
    return {"start": "the foot plate", "end": ""}, ""


def _rail_plan(project: Project, lay: Layout, rail: RailAnswer, others: Sequence[JointNut]) -> SlotPlan:
    beam, length = {"x": ("gantry beam", lay.beam_length), "y": ("side beam", lay.side_beam_length)}.get(
        rail.axis, ("head plate", lay.z_rail_length)
    )
    fastening = held(project)[rail.axis][0]
    margin = (length - rail.length) / 2.0
    kind = fastening.nut_kind
    holes = [
        Wanted(margin + place, rail.screw, kind, f"hole {number}", hole=number)
        for number, place in enumerate(rail.holes, start=1)
    ]
    added = [_wanted(project, nut) for nut in others]
    only = only_end(fastening.closed_ends)
    nuts = loading(
        [*holes, *added, *spares(holes, added, fastening.parked_nuts, length, rail.pitch, only)], length, only
    )
    closed = closed_ends(project, rail.axis, fastening)
    made = SlotPlan(
        rail.key, rail.label, beam, length, rail.slot, kind, rail.screw, closed, ENDS[rail.axis], nuts, (),
        face=_face(project, rail.axis), bars=(_bar_of(rail),), covered=(margin, margin + rail.length),
        parts=tuple(dict.fromkeys(nut.spot for nut in others)),
    )  # fmt: skip
    return replace(made, steps=steps_of(made, only, rail.count))


def _joint_plans(project: Project, nuts: Sequence[JointNut]) -> list[SlotPlan]:
    """Slots that no rail lies on; bars with the very same nuts in the same slot share one plan."""
    slots: dict[tuple[str, str, int], list[JointNut]] = {}
    for nut in nuts:
        if nut.slot is not None:
            slots.setdefault((nut.spot.bar, nut.spot.face, nut.slot), []).append(nut)
    alike: dict[object, list[tuple[str, str, int]]] = {}
    for key, own in slots.items():
        what = frozenset((round(n.place, 6), n.joint, n.thread) for n in own)
        alike.setdefault((own[0].spot.kind, key[1], key[2], what), []).append(key)
    return [_joint_plan(project, slots[keys[0]], tuple(key[0] for key in keys)) for keys in alike.values()]


def _joint_plan(project: Project, nuts: Sequence[JointNut], bars: tuple[str, ...]) -> SlotPlan:
    first = nuts[0]
    kind, face = first.spot.kind, first.spot.face
    closed, only = _closing(project, kind)
    made = loading([_wanted(project, nut, named=len(bars) == 1) for nut in nuts], first.spot.length, only)
    number = 0 if first.slot is None else first.slot
    threads = ", ".join(dict.fromkeys(nut.thread for nut in nuts))
    at = bars[0].replace(" ", "_")
    label = f"{bars[0] if len(bars) == 1 else kind}, {face} face, slot {number + 1}"
    plan = SlotPlan(
        f"{at}_{face}_{number + 1}", label[:1].upper() + label[1:], kind, first.spot.length, number,
        project.machine.joints.nut_kind, threads, closed, BAR_ENDS[kind], made, (), face=face, bars=bars,
        parts=tuple(dict.fromkeys(nut.spot for nut in nuts)),
    )  # fmt: skip
    return replace(plan, steps=steps_of(plan, only, 0))


def _wanted(project: Project, nut: JointNut, *, named: bool = True) -> Wanted:
    what = f"{nut.label}, {nut.spot.name}" if named else nut.label
    return Wanted(nut.place, nut.thread, project.machine.joints.nut_kind, what, joint=nut.joint)


def only_end(closed: str) -> str:
    """The one end that nuts can go in at because the user says that the other is closed; empty when both serve.

    Ends that are closed both are open until the beam is put in its place, so both serve until then.
    """
    return {"start": "end", "end": "start"}.get(closed, "")


def loading(wanted: Sequence[Wanted], length: float, only: str = "") -> tuple[SlotNut, ...]:
    """Nuts in the order they go in: from each end the farthest first.

    Args:
        wanted: every nut of the slot. length: of the bar, m. only: the one end in use; empty shares them: each nut comes
            from the nearer end.
    """
    made = []
    for end in ("start", "end"):
        own = [w for w in wanted if (end == only if only else (w.place <= length / 2.0) == (end == "start"))]
        own.sort(key=lambda w: w.place, reverse=end == "start")
        made += [
            SlotNut(order, end, w.place, w.hole, w.thread, w.kind, w.what, w.joint)
            for order, w in enumerate(own, start=1)
        ]
    return tuple(made)


def spares(
    holes: Sequence[Wanted],
    others: Sequence[Wanted],
    parked: int,
    length: float,
    pitch: float,
    only: str = "",
) -> list[Wanted]:
    """Places of parked spares: outside the rail's outermost hole, in the widest gap that joints leave there.

    Half go to each end, or all to the one in use; no farther out than a hole's pitch a spare, so that they are found again.
    """
    made: list[Wanted] = []
    for end in ("start", "end"):
        if only and end != only:
            continue
        count = parked if only else (parked + 1) // 2 if end == "start" else parked // 2
        if not count or not (holes or others):
            continue

        def out(place: float, end: str = end) -> float:
            return length - place if end == "start" else place

        edge = max((out(w.place) for w in holes), default=length / 2.0)
        model = holes[0] if holes else others[0]
        size = NUT_LENGTH[model.thread]
        stops = sorted((out(w.place), NUT_LENGTH[w.thread]) for w in others if out(w.place) > edge)
        bounds = [(edge, size), *stops]
        gaps = [
            (bounds[k][0] + bounds[k][1] / 2.0, bounds[k + 1][0] - bounds[k + 1][1] / 2.0)
            for k in range(len(bounds) - 1)
        ]
        gaps.append((bounds[-1][0] + bounds[-1][1] / 2.0, length))
        near, far = max(gaps, key=lambda gap: round(gap[1] - gap[0], 9))
        step = min(max(far - near, 0.0) / count, pitch)
        for k in range(count):
            at = near + (k + 0.5) * step
            made.append(Wanted(out(at), model.thread, model.kind, "parked spare", parked=True))
    return made


def _about_ends(plans: Sequence[SlotPlan]) -> list[Finding]:
    """Slots of which both ends are closed once their bar stands; one finding for each kind of bar."""
    found = []
    for beam in dict.fromkeys(plan.beam for plan in plans):
        own = [p for p in plans if p.beam == beam and p.kind == "slide-in" and all(p.closed.values())]
        if not own:
            continue
        rails = (
            " under the X rails"
            if beam == "gantry beam"
            else " under the Y rails"
            if beam == "side beam"
            else ""
        )
        path = {
            "gantry beam": "machine.gantry.beam.rail_fastening.closed_ends",
            "side beam": "machine.base.rail_fastening.closed_ends",
        }.get(beam, "machine.joints.nut_kind")
        what = " and ".join(own[0].closed.values())
        text = (
            f"Both ends of the {beam}'s slots{rails} are closed once it stands in its place ({what}): slide in every nut and "
            "every spare before. Roll-in nuts could still be added where no part lies."
        )
        count = float(sum(len(plan.nuts) * len(plan.bars) for plan in own))
        found.append(
            Finding("slot-ends-closed", "note", path, text, count, quantity="count", place=beam.capitalize())
        )
    return found
