"""Every rail of the machine: holes, screws, nuts, and what does not fit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from core.fasteners import advice
from core.fasteners.ground import ON_LINE, find_ground, lines, nearest_line
from core.fasteners.holes import Holes, place_holes
from core.fasteners.screws import choose_length, screw
from core.fasteners.stack import Ground, Stack, clamp_stack
from core.findings import Finding
from core.machine.fastening import RailFastening
from core.machine.guides import Guides
from core.machine.layout import Layout
from core.machine.project import Project
from core.sections import Section, SectionProperties, TSlot
from core.sections.outlines import Face
from core.units import show

NUTTED = ("T-nut", "rivet nut", "through bolt")


@dataclass(frozen=True, slots=True)
class RailAnswer:
    """One rail with its holes and screws; lengths in m.

    Attributes:
        key: "x_low", "x_high" (or "x_front", "x_back" on top of the beam), "y_left", "y_right".
        axis: "x" or "y".
        first, last: end distances. holes: places from the rail's start.
        nuts: T-nuts, rivet nuts or nuts, 0 when the screws go into tapped metal.
        screw: thread ("M5"). screw_length: None when no standard length works.
        shortest, longest: workable lengths.
        engagement: of thread, with the chosen screw (with the shortest workable one when there is none).
        on_slot: whether the rail's line falls on a T-slot, None on a beam without slots. slot: that slot's
            number, counted from 0 at the lower or front edge.
        offset: the rail's line from the middle of the face.
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


@dataclass(frozen=True, slots=True)
class Site:
    """A pair of rails that lie on equal faces: where their entries are, and what they lie on."""

    axis: str
    rails: tuple[tuple[str, str, float], ...]  # key, label, offset from the face's middle
    guides: Guides
    guides_at: str
    fastening: RailFastening
    fastening_at: str
    section: Section
    section_at: str
    shape: SectionProperties
    ground: Ground
    slots: tuple[float, ...]
    face_width: float
    length: float
    beam_length: float
    beam_at: str
    beam: str


def rails(project: Project, layout: Layout) -> tuple[tuple[RailAnswer, ...], tuple[Finding, ...]]:
    """Answer for the two X rails and the two Y rails, with findings about what does not fit."""

    def words(value: float) -> str:
        return show(value, "length", project.units)

    answers: list[RailAnswer] = []
    findings: list[Finding] = []
    for site in (_x_site(project, layout), _y_site(project, layout)):
        found, said = _answer(site, words)
        answers += found
        findings += said
    return tuple(answers), tuple(findings)


def _x_site(project: Project, layout: Layout) -> Site:
    machine = project.machine
    beam, shape = machine.gantry.beam, layout.sections.beam
    half = machine.x_guides.rail_spacing / 2.0
    # The section lies in (y, z) with y along the machine's Y, so the front, towards -Y, is its left face.
    face: Face = "left" if beam.rail_face == "front" else "top"
    low_high = (("x_low", "Lower X rail", -half), ("x_high", "Upper X rail", half))
    front_back = (("x_front", "Front X rail", -half), ("x_back", "Rear X rail", half))
    return Site(
        axis="x",
        rails=low_high if face == "left" else front_back,
        guides=machine.x_guides,
        guides_at="machine.x_guides",
        fastening=beam.rail_fastening,
        fastening_at="machine.gantry.beam.rail_fastening",
        section=beam.section,
        section_at="machine.gantry.beam.section",
        shape=shape,
        ground=find_ground(beam.section, beam.turned, shape, beam.material, face),
        slots=lines(beam.section, beam.turned, face),
        face_width=shape.height if face == "left" else shape.width,
        length=layout.x_rail_length,
        beam_length=layout.beam_length,
        beam_at="machine.gantry.beam.length",
        beam="gantry beam",
    )


def _y_site(project: Project, layout: Layout) -> Site:
    base, shape = project.machine.base, layout.sections.side_beam
    face: Face = "top" if base.rail_face == "top" else "left"
    return Site(
        axis="y",
        rails=(("y_left", "Left Y rail", 0.0), ("y_right", "Right Y rail", 0.0)),
        guides=project.machine.y_guides,
        guides_at="machine.y_guides",
        fastening=base.rail_fastening,
        fastening_at="machine.base.rail_fastening",
        section=base.section,
        section_at="machine.base.section",
        shape=shape,
        ground=find_ground(base.section, base.turned, shape, base.material, face),
        slots=lines(base.section, base.turned, face),
        face_width=shape.width if face == "top" else shape.height,
        length=layout.y_rail_length,
        beam_length=layout.side_beam_length,
        beam_at="machine.base.length",
        beam="side beam",
    )


def _answer(site: Site, words: Callable[[float], str]) -> tuple[list[RailAnswer], list[Finding]]:
    data = site.guides.data
    size = screw(data.screw)
    holes = place_holes(
        site.length, data.hole_pitch, site.guides.minimum_end_distance, site.guides.end_distance
    )
    stack = clamp_stack(data, size, site.fastening, site.ground)
    length = choose_length(data.screw, stack.shortest, stack.longest)
    findings = [
        *advice.about_length(site, holes, words),
        *advice.about_screws(site, size, stack, length, words),
        *advice.about_place(site, words),
    ]
    answers = [_rail(site, holes, stack, length, *rail, words) for rail in site.rails]
    return answers, findings


def _rail(
    site: Site,
    holes: Holes,
    stack: Stack,
    length: float | None,
    key: str,
    label: str,
    offset: float,
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
