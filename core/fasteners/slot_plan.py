"""The frozen results of the plan of slots: every nut with its place and turn, what closes an end, what is counted."""

from __future__ import annotations

from dataclasses import dataclass

from core.fasteners.nut_places import Spot
from core.findings import Finding
from core.machine.fastening import NutKind

NEEDS: dict[str, str] = {
    "slide-in": "goes in from an open end of the slot and never turns; every one must be in before that end is closed",
    "roll-in": "rolls in through the slot's opening at its place; a rail or plate covers the opening, so it goes in before",
    "swivel": "goes through the opening and turns across as it is tightened; it bears on less of the lips: see that each has "
    "turned fully",
}
"""What each kind of T-nut wants (common practice)."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A nut before its turn is known: place from the bar's start (m), thread, kind, what for; number of the rail's hole or
    key of the joint, if any."""

    place: float
    thread: str
    kind: NutKind
    what: str
    hole: int = 0
    joint: str = ""
    parked: bool = False


@dataclass(frozen=True, slots=True)
class SlotNut:
    """One nut of a slot.

    Attributes:
        order: in which it goes in at its end, from 1. from_end: "start" or "end" of the bar.
        place: where it comes to stand, m from the bar's start. hole: number of the rail's hole; 0 for none.
        thread: of its screw. kind: of nut. what: it is for, in words. joint: key of its kind of joint; empty for none.
    """

    order: int
    from_end: str
    place: float
    hole: int
    thread: str
    kind: NutKind
    what: str
    joint: str = ""

    @property
    def parked(self) -> bool:
        """Whether nothing is screwed into it for now."""
        return not self.hole and not self.joint


@dataclass(frozen=True, slots=True)
class SlotPlan:
    """One slot of one bar, or of several bars alike, with all that goes into it.

    Attributes:
        key: of the rail over it, else bar, face and slot. beam: kind of bar, in words. length: of the bar, m. slot: number
            from 0 at the lower, front or inner edge of the face; None when the rail lies on no slot.
        nuts: in the order they go in, end by end. kind: of the rail's nuts, else of the joints'. thread: of its screws.
        closed: what closes each end, by "start" and "end"; empty for open. ends: words for start and end.
        steps: what to do, one sentence each. face: of the bar, in words. bars: names of all bars with this very slot.
        covered: from where to where a rail lies on it, m; None without one. parts: of joints that stand on it.
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
    face: str = ""
    bars: tuple[str, ...] = ("",)
    covered: tuple[float, float] | None = None
    parts: tuple[Spot, ...] = ()

    def count(self, end: str) -> int:
        """Nuts that go in at one end."""
        return sum(nut.from_end == end for nut in self.nuts)

    @property
    def parked(self) -> int:
        return sum(nut.parked for nut in self.nuts)

    @property
    def of_joints(self) -> int:
        """Nuts of joints in one such slot."""
        return sum(bool(nut.joint) for nut in self.nuts)


@dataclass(frozen=True, slots=True)
class JointNuts:
    """T-nuts of one kind of joint other than a rail.

    Attributes:
        label: of the joint. places: how many such joints. each: nuts of one. thread: of the screws. where: in words.
        nuts: of all such joints; a rack's last piece, cut shorter, takes fewer.
    """

    key: str
    label: str
    places: int
    each: int
    thread: str
    where: str
    nuts: int


@dataclass(frozen=True, slots=True)
class SlotsAnswer:
    """All slots that hold T-nuts, and the nuts of joints by kind; `findings` about nuts that cannot be got in or stand wrong."""

    slots: tuple[SlotPlan, ...]
    findings: tuple[Finding, ...]
    joints: tuple[JointNuts, ...] = ()
