"""Extruded against welded as two fair variants: each in its usual metal, with its own proper fastening, form and welds.

Which pair is fair depends on what is held equal, so that is said: near equal outer size, or near equal mass.
"""

from __future__ import annotations

import math
from typing import Literal

import msgspec

from core.catalogue import entries
from core.errors import BadEntry
from core.fasteners import beam_of, screw, with_beam
from core.fasteners.ground import fitting_spacing, lines
from core.machine.form import Weld
from core.machine.gantry import GantryBeam
from core.machine.layout import Layout, figures_of
from core.machine.project import Machine, Project
from core.machine.variants import Variant, free_name, with_project
from core.materials import material
from core.sections import (
    PropertyBook,
    RectangularHollow,
    Section,
    SectionProperties,
    TSlot,
    label,
    stock_book,
)
from core.sections.outlines import Face
from core.units import show

By = Literal["outer size", "mass"]
BRACKETS = "Brackets, assumed"
_SECTION = "machine.gantry.beam.section"
_UNFIT = 10.0
"""Added to the distance of a section whose face or slots do not take the rails."""
BESIDE = 0.002
"""Room between the carriages of both rails, m."""
_TASTE = 0.3
"""Weight of the outer size when the mass is held equal: a beam of equal mass should still look like the machine's."""


def fair_pair(
    project: Project, lay: Layout, by: By = "outer size", book: PropertyBook | None = None
) -> tuple[Variant, Variant]:
    """(extruded, welded) variants of a project. The machine's own beam is one of them when it is of that build already.

    Args:
        book: analysed figures; those of stock sizes by default. Typed data sheets count, as everywhere.

    Errors: BadEntry when the catalogue holds no partner.
    """
    beam, shape = project.machine.gantry.beam, lay.sections.beam
    mass = shape.linear_mass(material(beam.material).density)
    book = stock_book() if book is None else book
    own_slot = isinstance(beam.section, TSlot) and material(beam.material).family == "aluminium"
    own_tube = isinstance(beam.section, RectangularHollow) and material(beam.material).family == "steel"
    extruded = beam if own_slot else _partner(project, TSlot, shape, mass, by, book)
    welded = beam if own_tube else _partner(project, RectangularHollow, shape, mass, by, book)
    welded = welded if own_tube else _held(project, welded)
    held = f"held equal: {by}, as near as the catalogue comes"
    first = _variant(
        project,
        f"Extruded {_short(extruded.section)}",
        held,
        extruded,
        _unwelded(project),
        not own_slot,
        book,
    )
    names = (*project.variants, first)
    welds = _welded(project, welded, book)
    second = _variant(
        msgspec.structs.replace(project, variants=names),
        f"Welded {_short(welded.section)}",
        held,
        welded,
        welds,
        not own_tube,
        book,
    )
    return first, second


def _short(section: Section) -> str:
    """Its sizes alone."""
    return label(section).split(" T-slot")[0].split(" hollow")[0]


def _variant(
    project: Project, name: str, held: str, beam: GantryBeam, welds: tuple[Weld, ...], other: bool, book: PropertyBook
) -> Variant:  # fmt: skip
    machine = _on_face(project.machine, beam, book) if other else with_beam(project.machine, beam)
    form = msgspec.structs.replace(project.straightness, welds=welds)
    if other:  # measured on, or promised for, another beam
        form = msgspec.structs.replace(form, beam_straightness=None, beam_twist=None)
    changed = msgspec.structs.replace(project, machine=machine, straightness=form, variants=())
    note = f"{held}. The joints to the uprights are as in the machine; list your own where they differ."
    if any(weld.name == BRACKETS for weld in welds):
        size = show(welds[-1].leg, "length", project.units)
        note += (
            f" Assumed: brackets welded to the front face, fillets of {size}, broken; list your own welds."
        )
    empty = Variant(name=free_name(name, project.variants), note=note[:1].upper() + note[1:])
    return with_project(project, empty, changed, (_SECTION,))


def _partner(
    project: Project,
    kind: type[TSlot] | type[RectangularHollow],
    shape: SectionProperties,
    mass: float,
    by: By,
    book: PropertyBook,
) -> GantryBeam:
    """The beam of the catalogue's section nearest to the machine's own."""
    beam = project.machine.gantry.beam
    found: list[tuple[tuple[float, float], GantryBeam]] = []
    for entry in entries():
        if not isinstance(entry.section, kind):
            continue
        for turned in (False, True):
            tried = beam_of(beam, entry.section, turned=turned)
            stands = _stands(project.machine, tried, book)
            found.append((_distance(project, tried, stands, shape, mass, by), tried))
    if not found:
        raise BadEntry(_SECTION, kind.__name__, "is not in the catalogue", "a catalogue with such a section")
    return min(found, key=lambda pair: pair[0])[1]


def _distance(
    project: Project,
    beam: GantryBeam,
    stands: SectionProperties,
    shape: SectionProperties,
    mass: float,
    by: By,
) -> tuple[float, float]:
    """How far a beam is from the machine's in what is held equal, then in the other."""
    # The side that differs more: a partner of the same width but little more than half the height is no equal size.
    size = max(abs(math.log(stands.height / shape.height)), abs(math.log(stands.width / shape.width)))
    heavy = abs(math.log(stands.linear_mass(material(beam.material).density) / mass))
    unfit = 0.0 if _takes_rails(project, beam, stands) else _UNFIT
    if by == "outer size":
        return unfit + size, heavy
    return unfit + heavy + _TASTE * size, size


def _takes_rails(project: Project, beam: GantryBeam, stands: SectionProperties) -> bool:
    guides = project.machine.x_guides
    section: Section = beam.section
    if isinstance(section, TSlot):
        face: Face = "left" if beam.rail_face == "front" else "top"
        spacing = fitting_spacing(lines(section, beam.turned, face), guides.rail_spacing)
        return spacing is not None and spacing + guides.data.rail_width <= _face(beam, stands)
    room = _flat(beam, stands) - guides.data.rail_width
    return room >= min(
        guides.rail_spacing, max(guides.data.carriage_width + BESIDE, 0.5 * guides.rail_spacing)
    )


def _face(beam: GantryBeam, stands: SectionProperties) -> float:
    """Height of the face that carries the rails, m."""
    return stands.height if beam.rail_face == "front" else stands.width


def _flat(beam: GantryBeam, stands: SectionProperties) -> float:
    """The part of a tube's face between its round corners, m."""
    radius = beam.section.radii()[0] if isinstance(beam.section, RectangularHollow) else 0.0
    return _face(beam, stands) - 2.0 * radius


def _stands(machine: Machine, beam: GantryBeam, book: PropertyBook) -> SectionProperties:
    """The beam's section as it stands, data sheets included."""
    return figures_of(machine, book, beam.section, beam.material, beam.turned)


def _on_face(machine: Machine, beam: GantryBeam, book: PropertyBook) -> Machine:
    """The machine with this beam, its X rails on slots, or nearer to each other where a lower tube asks for it."""
    fitted = with_beam(machine, beam)
    if isinstance(beam.section, TSlot):
        return fitted
    stands = _stands(machine, beam, book)
    guides = fitted.x_guides
    room = math.floor(1e3 * (_flat(beam, stands) - guides.data.rail_width) + 1e-6) / 1e3
    if guides.rail_spacing <= room or room < guides.data.carriage_width:
        return fitted
    return msgspec.structs.replace(fitted, x_guides=msgspec.structs.replace(guides, rail_spacing=room))


def _held(project: Project, beam: GantryBeam) -> GantryBeam:
    """Tapped where the wall gives the screw a thread as long as it is thick, else rivet nuts. Source: common practice."""
    size = screw(project.machine.x_guides.data.screw).diameter
    wall = getattr(beam.section, "wall", 0.0)
    hold: Literal["tapped wall", "rivet nut"] = "tapped wall" if wall >= size else "rivet nut"
    thread = (
        max(beam.rail_fastening.nut_thread, 1.2 * size)
        if hold == "rivet nut"
        else beam.rail_fastening.nut_thread
    )
    fastening = msgspec.structs.replace(beam.rail_fastening, hold=hold, nut_thread=thread)
    return msgspec.structs.replace(beam, rail_fastening=fastening)


def _unwelded(project: Project) -> tuple[Weld, ...]:
    """A slotted profile is bolted: no welds on the beam."""
    return tuple(weld for weld in project.straightness.welds if weld.part != "gantry beam")


def _welded(project: Project, beam: GantryBeam, book: PropertyBook) -> tuple[Weld, ...]:
    """The planned welds on the beam; without any, those of brackets on the front face (an assumption, common practice)."""
    planned = project.straightness.welds
    if any(weld.part == "gantry beam" for weld in planned):
        return planned
    width = _stands(project.machine, beam, book).width
    brackets = Weld(
        name=BRACKETS,
        part="gantry beam",
        leg=0.004,
        count=2,
        filled=0.15,
        direction="front and back",
        offset=-width / 2.0,
    )
    return (*planned, brackets)
