"""Every rail of the machine: holes, screws, nuts, and what does not fit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from core.fasteners import advice
from core.fasteners.ground import ON_LINE, nearest_line
from core.fasteners.holes import Holes, place_holes
from core.fasteners.joint_advice import about_joints
from core.fasteners.pieces import Cut, RailPiece, cut_pair, pieces
from core.fasteners.screws import choose_length, screw
from core.fasteners.site import Site, x_site, y_site, z_site
from core.fasteners.stack import Stack, clamp_stack
from core.findings import Finding
from core.machine.layout import Layout
from core.machine.project import Project
from core.sections import TSlot
from core.units import show

NUTTED = ("T-nut", "rivet nut", "through bolt")


@dataclass(frozen=True, slots=True)
class RailAnswer:
    """One rail with its holes and screws; lengths in m.

    Attributes:
        key: "x_low", "x_high" (or "x_front", "x_back" on top of the beam), "y_left", "y_right", "z_left",
            "z_right".
        axis: "x", "y" or "z".
        first, last: end distances. holes: places from the rail's start.
        nuts: T-nuts, rivet nuts or nuts, 0 when the screws go into tapped metal.
        screw: thread ("M5"). screw_length: None when no standard length works.
        shortest, longest: workable lengths.
        engagement: of thread, with the chosen screw (with the shortest workable one when there is none).
        on_slot: whether the rail's line falls on a T-slot, None on a beam without slots. slot: that slot's
            number, counted from 0 at the lower or front edge.
        offset: the rail's line from the middle of the face.
        pieces: the rail's pieces in order; one without joints. parked: spare nuts kept in its slot besides.
    """

    key: str
    label: str
    axis: str
    size: int
    length: float
    pitch: float
    first: float
    last: float
    holes: tuple[float, ...]
    count: int
    screws: int
    nuts: int
    screw: str
    screw_length: float | None
    shortest: float
    longest: float
    screw_text: str
    hold: str
    engagement: float
    on_slot: bool | None
    slot: int | None
    note: str
    offset: float = 0.0
    pieces: tuple[RailPiece, ...] = ()
    parked: int = 0


def rails(project: Project, layout: Layout) -> tuple[tuple[RailAnswer, ...], tuple[Finding, ...]]:
    """Answer for the two X rails, the two Y rails and the two Z rails, with findings about what does not fit."""

    def words(value: float) -> str:
        return show(value, "length", project.units)

    answers: list[RailAnswer] = []
    findings: list[Finding] = []
    for site in (x_site(project, layout), y_site(project, layout), z_site(project, layout)):
        found, said = _answer(site, words)
        answers += found
        findings += said
    return tuple(answers), tuple(findings)


def _answer(site: Site, words: Callable[[float], str]) -> tuple[list[RailAnswer], list[Finding]]:
    data = site.guides.data
    size = screw(data.screw)
    holes = place_holes(
        site.length, data.hole_pitch, site.guides.minimum_end_distance, site.guides.end_distance
    )
    stack = clamp_stack(data, size, site.fastening, site.ground)
    length = choose_length(data.screw, stack.shortest, stack.longest)
    cut = _cut(site, holes)
    both = [pieces(site.length, holes.places, joints) for joints in cut.joints]
    findings = [
        *advice.about_length(site, holes, words),
        *advice.about_screws(site, size, stack, length, words),
        *advice.about_place(site, words),
        *about_joints(site, holes.places, cut, both, words),
    ]
    answers = [
        _rail(site, holes, stack, length, *rail, own, words)
        for rail, own in zip(site.rails, both, strict=True)
    ]
    return answers, findings


def _cut(site: Site, holes: Holes) -> Cut:
    """Joints of both rails; without a wish of the user's they keep a carriage's length apart (common practice)."""
    own = site.guides.pieces
    stagger = site.guides.data.carriage_length if own.stagger is None else own.stagger
    return cut_pair(site.length, holes.places, own.longest, stagger, (own.first, own.second))


def _rail(
    site: Site,
    holes: Holes,
    stack: Stack,
    length: float | None,
    key: str,
    label: str,
    offset: float,
    own: tuple[RailPiece, ...],
    words: Callable[[float], str],
) -> RailAnswer:
    data, fastening = site.guides.data, site.fastening
    nearest = nearest_line(site.slots, offset)
    on_slot = None if nearest is None else abs(nearest[1] - offset) <= ON_LINE
    size_text = data.screw if length is None else f"{data.screw} x {length * 1000:g}"
    return RailAnswer(
        key=key,
        label=label,
        axis=site.axis,
        size=site.guides.size,
        length=site.length,
        pitch=data.hole_pitch,
        first=holes.first,
        last=holes.last,
        holes=holes.places,
        count=holes.count,
        screws=holes.count,
        nuts=holes.count if fastening.hold in NUTTED else 0,
        screw=data.screw,
        screw_length=length,
        shortest=stack.shortest,
        longest=stack.longest,
        screw_text=f"ISO 4762 {size_text}, {fastening.property_class}",
        hold=fastening.hold,
        engagement=stack.engagement(stack.shortest if length is None else length),
        on_slot=on_slot,
        slot=nearest[0] if nearest is not None and on_slot else None,
        note=_note(site, stack, offset, on_slot, words),
        offset=offset,
        pieces=own,
        parked=fastening.parked_nuts if fastening.hold == "T-nut" and on_slot else 0,
    )


def _note(
    site: Site, stack: Stack, offset: float, on_slot: bool | None, words: Callable[[float], str]
) -> str:
    if on_slot:
        return f"On a slot, {words(abs(offset))} from the middle of the face."
    hold = site.fastening.hold
    if hold == "T-nut":
        return "No slot under this rail."
    if hold == "through bolt":
        return f"Through the whole {site.beam}, {words(site.ground.depth)}."
    if isinstance(site.section, TSlot):
        return f"Between the slots; metal there {words(site.ground.wall)}."
    return f"On a wall of {words(site.ground.wall)}; practice wants {words(stack.needed)} of thread."
