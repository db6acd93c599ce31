"""T-nuts slot by slot: how many go in from which end, in which order, what closes the slot when, what stays parked.

Slide-in nuts go in from a slot's end, the one that goes farthest first; whoever closes an end too early takes parts off
again. Roll-in and swivel nuts go in through the opening, but not where a rail covers it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.fasteners.drilling import ENDS
from core.fasteners.joints.fitted import FittedJoint
from core.fasteners.rails import RailAnswer
from core.fasteners.site import held
from core.findings import Finding
from core.machine.fastening import NutKind, RailFastening
from core.machine.layout import Layout
from core.machine.project import Project

NEEDS: dict[str, str] = {
    "slide-in": "goes in from an open end of the slot and never turns; every one must be in before that end is closed",
    "roll-in": "rolls in through the slot's opening at its place; the rail covers the opening, so it goes in before the rail "
    "lies there",
    "swivel": "goes through the opening and turns across as it is tightened; it bears on less of the lips: see that each has "
    "turned fully",
}
"""What each kind of T-nut wants (common practice)."""


@dataclass(frozen=True, slots=True)
class SlotNut:
    """One nut of a slot.

    Attributes:
        order: in which it goes in at its end, from 1. from_end: "start" or "end" of the beam.
        place: where it comes to stand, m from the beam's start. hole: number of the rail's hole; 0 when it is parked.
    """

    order: int
    from_end: str
    place: float
    hole: int


@dataclass(frozen=True, slots=True)
class SlotPlan:
    """One slot of one beam with all that goes into it.

    Attributes:
        key: of the rail over it. beam: in words. length: of the beam, m. slot: number from 0 at the lower or front edge;
            None when the rail lies on no slot. nuts: in the order they go in, end by end.
        kind: of nut. thread: of its screw. closed: what closes each end, by "start" and "end"; empty for open.
        ends: words for start and end. steps: what to do, one sentence each.
    """

    key: str
    label: str
    beam: str
    length: float
    slot: int | None
    kind: NutKind
    thread: str
    closed: dict[str, str]
    ends: tuple[str, str]
    nuts: tuple[SlotNut, ...]
    steps: tuple[str, ...]

    def count(self, end: str) -> int:
        """Nuts that go in at one end."""
        return sum(nut.from_end == end for nut in self.nuts)

    @property
    def parked(self) -> int:
        return sum(nut.hole == 0 for nut in self.nuts)


@dataclass(frozen=True, slots=True)
class JointNuts:
    """T-nuts of one kind of joint other than a rail.

    Attributes:
        label: of the joint. places: how many such joints. each: nuts of one. thread: of the screws. where: in words.
    """

    key: str
    label: str
    places: int
    each: int
    thread: str
    where: str

    @property
    def nuts(self) -> int:
        return self.places * self.each


@dataclass(frozen=True, slots=True)
class SlotsAnswer:
    """All slots that hold rails, and the nuts of other joints; `findings` about nuts that could not be got in."""

    slots: tuple[SlotPlan, ...]
    findings: tuple[Finding, ...]
    joints: tuple[JointNuts, ...] = ()


def find_slots(
    project: Project, lay: Layout, rails: Sequence[RailAnswer], joints: Sequence[FittedJoint] = ()
) -> SlotsAnswer:
    """The plan of every slot under a rail that is held by T-nuts, and the count of nuts of every other joint."""
    plans, findings = [], []
    others = tuple(_nuts_of(joint) for joint in joints if joint.hold == "T-nut")
    for rail in rails:
        if rail.hold != "T-nut":
            continue
        fastening = held(project)[rail.axis][0]
        closed = closed_ends(project, rail.axis, fastening)
        plans.append(_plan(lay, rail, fastening, closed, others))
    for axis, path in (("x", "machine.gantry.beam"), ("y", "machine.base"), ("z", "machine.head")):
        own = [plan for plan in plans if plan.key.startswith(f"{axis}_")]
        if own and own[0].kind == "slide-in" and all(own[0].closed.values()):
            text = (
                f"Both ends of the slots under the {axis.upper()} rails are closed once the {own[0].beam} stands in its place: "
                "slide in every nut and every spare before. Roll-in nuts could still be added where no rail lies."
            )
            findings.append(
                Finding(
                    "slot-ends-closed",
                    "note",
                    f"{path}.rail_fastening.closed_ends",
                    text,
                    float(len(own[0].nuts)),
                    quantity="count",
                    place=f"{axis.upper()} rails",
                )
            )
    return SlotsAnswer(tuple(plans), tuple(findings), others)


def _nuts_of(joint: FittedJoint) -> JointNuts:
    each = joint.nuts // joint.count if joint.count else 0
    return JointNuts(joint.key, joint.label, joint.count, each, joint.size.thread, joint.site.partner.what)


def closed_ends(project: Project, axis: str, fastening: RailFastening) -> dict[str, str]:
    """What closes each end of the slots under an axis' rails."""
    chosen = fastening.closed_ends
    if chosen == "automatic":
        between = axis == "x" and project.machine.gantry.upright.seat == "between"
        return (
            {"start": "the left upright", "end": "the right upright"} if between else {"start": "", "end": ""}
        )
    words = {"start": f"the part at the {ENDS[axis][0]} end", "end": f"the part at the {ENDS[axis][1]} end"}
    return {end: words[end] if chosen in (end, "both") else "" for end in ("start", "end")}


def _plan(
    lay: Layout,
    rail: RailAnswer,
    fastening: RailFastening,
    closed: dict[str, str],
    others: Sequence[JointNuts],
) -> SlotPlan:
    beam, length = {"x": ("gantry beam", lay.beam_length), "y": ("side beam", lay.side_beam_length)}.get(
        rail.axis, ("head plate", lay.z_rail_length)
    )
    margin = (length - rail.length) / 2.0
    holes = [(margin + place, number) for number, place in enumerate(rail.holes, start=1)]
    nuts = loading(holes, fastening.parked_nuts, length, rail.pitch, only_end(fastening.closed_ends))
    ends = ENDS[rail.axis]
    also = [joint.label for joint in others if joint.where == beam.removeprefix("gantry ")]
    steps = _steps(rail, nuts, fastening, closed, ends, beam, also)
    return SlotPlan(
        rail.key, rail.label, beam, length, rail.slot, fastening.nut_kind, rail.screw, closed, ends, nuts, steps
    )  # fmt: skip


def only_end(closed: str) -> str:
    """The one end that nuts can go in at because the user says that the other is closed; empty when both serve.

    Ends that are closed both are open until the beam is put in its place, so both serve until then.
    """
    return {"start": "end", "end": "start"}.get(closed, "")


def loading(
    holes: Sequence[tuple[float, int]], parked: int, length: float, pitch: float, only: str = ""
) -> tuple[SlotNut, ...]:
    """Nuts in the order they go in: from each end the farthest first, spares last, so that they stay outermost.

    Args:
        holes: place along the beam and number of each, rising. parked: spares. length: of the beam, m. pitch: of holes, m.
        only: the one end in use; empty shares them: each nut comes from the nearer end.
    """
    middle = length / 2.0
    made = []
    for end in ("start", "end"):
        if only and end != only:
            continue
        own = [h for h in holes if only or (h[0] <= middle) == (end == "start")]
        own = own[::-1] if end == "start" else own
        spare = parked if only else (parked + 1) // 2 if end == "start" else parked // 2
        outermost = own[-1][0] if own else middle
        room = outermost if end == "start" else length - outermost
        places = [(n + 1) * min(room, pitch) / (spare + 1) for n in range(spare)]
        out = [outermost - p if end == "start" else outermost + p for p in places]
        every = [*own, *((place, 0) for place in out)]
        made += [SlotNut(order, end, place, hole) for order, (place, hole) in enumerate(every, start=1)]
    return tuple(made)


def _steps(
    rail: RailAnswer,
    nuts: Sequence[SlotNut],
    fastening: RailFastening,
    closed: dict[str, str],
    ends: tuple[str, str],
    beam: str,
    also: Sequence[str],
) -> tuple[str, ...]:
    words = dict(zip(("start", "end"), ends, strict=True))
    kind, only = fastening.nut_kind, only_end(fastening.closed_ends)
    steps = [f"Deburr the slot's ends and blow out chips; try one {rail.screw} nut along its whole length."]
    if only and kind == "slide-in":
        other = words["end" if only == "start" else "start"]
        steps.append(f"The {other} end is closed by a part, so every nut goes in at the {words[only]} end.")
    if also:
        steps.append(
            f"Other joints of the {beam} take T-nuts too ({'; '.join(also)}): those in this slot go in with these, in the order "
            "of their places."
        )
    for end in ("start", "end"):
        own = [nut for nut in nuts if nut.from_end == end]
        numbers = [nut.hole for nut in own if nut.hole]
        spare = len(own) - len(numbers)
        if not own:
            continue
        if numbers:
            run = f"holes {numbers[0]} to {numbers[-1]}" if len(numbers) > 1 else f"hole {numbers[0]}"
            way = (
                f"Slide {len(numbers)} nuts in at the {words[end]} end, for {run} in this order"
                if kind == "slide-in"
                else f"Put {len(numbers)} nuts in through the opening, for {run}"
            )
            steps.append(f"{way}.")
        if spare:
            way = "Then slide" if kind == "slide-in" else "Then put"
            steps.append(
                f"{way} {spare} spare{'s' if spare > 1 else ''} in at the {words[end]} end; "
                f"{'they stay' if spare > 1 else 'it stays'} parked beyond the rail's outermost hole."
            )
    shut = [] if only else [what for what in closed.values() if what]
    steps.append(f"Count: {len(nuts)} nuts in this slot, {rail.count} for holes.")
    if shut:
        steps.append(f"Only now fit {' and '.join(shut)}: afterwards no slide-in nut goes in there.")
    steps.append(
        f"Lay the rail on the {beam}, turn every screw in by hand first, from the middle outwards, then align and tighten."
    )
    return tuple(steps)
