"""Which beams stand for election: the machine's own, those of its variants, and every section of the catalogue both ways up.

A section of the catalogue comes in the metal and with the fastening that go with it, as when it is put into the machine.
"""

from __future__ import annotations

from dataclasses import dataclass

import msgspec

from core.catalogue import built_ups, entries
from core.errors import BadEntry
from core.fasteners import beam_of, with_beam
from core.machine.gantry import GantryBeam
from core.machine.project import Project
from core.machine.variants import apply_variant
from core.sections import RoundSolid, RoundTube, Section, label

OWN = "own"
HERE = "This project"
"""Heading of what stands in the project itself: its own beam and those of its variants."""
OWN_NAME = "This machine's beam"
ROUND = "A round has no flat face for the rails."


@dataclass(frozen=True, slots=True)
class Candidate:
    """One beam to be tried in the machine.

    Attributes:
        key: a word of its own ("hollow_120x80x5_cold", with "_turned" behind it when it is turned).
        name: words for a table. family: heading ("T-slot profile"). beam: as it goes into the machine.
        rail_spacing: of the X rails with it, m. problem: why it cannot be used at all; empty when it can be tried.
    """

    key: str
    name: str
    family: str
    beam: GantryBeam
    rail_spacing: float
    problem: str = ""


def candidate(
    project: Project, section: Section, key: str, family: str, *, turned: bool = False, name: str = ""
) -> Candidate:
    """A section in the place of the machine's beam, as `core.commands.UseBeam` would put it there."""
    beam = beam_of(project.machine.gantry.beam, section, turned=turned)
    spacing = with_beam(project.machine, beam).x_guides.rail_spacing
    words = name or (f"{label(section)}, turned" if turned else label(section))
    return Candidate(f"{key}_turned" if turned else key, words, family, beam, spacing, _problem(section))


def candidates(project: Project) -> tuple[Candidate, ...]:
    """The machine's own beam first, then beams of variants that differ in nothing else, then the catalogue."""
    machine = project.machine
    own = Candidate(OWN, OWN_NAME, HERE, machine.gantry.beam, machine.x_guides.rail_spacing)
    found = [own, *_of_variants(project)]
    for entry in (*entries(), *built_ups()):
        for turned in (False, True) if _has_two_ways(entry.section) else (False,):
            found.append(candidate(project, entry.section, entry.key, entry.family, turned=turned))
    return tuple(found)


def _of_variants(project: Project) -> list[Candidate]:
    found = []
    for row, variant in enumerate(project.variants):
        try:
            applied = apply_variant(project, variant)
        except BadEntry:
            continue
        machine = applied.project.machine
        if applied.faults or not _only_beam_differs(project, applied.project):
            continue
        name, spacing = f"Variant: {variant.name}", machine.x_guides.rail_spacing
        found.append(Candidate(f"variant_{row}", name, HERE, machine.gantry.beam, spacing))
    return found


def _only_beam_differs(base: Project, other: Project) -> bool:
    beam, spacing = other.machine.gantry.beam, other.machine.x_guides.rail_spacing
    gantry = msgspec.structs.replace(base.machine.gantry, beam=beam)
    guides = msgspec.structs.replace(base.machine.x_guides, rail_spacing=spacing)
    machine = msgspec.structs.replace(base.machine, gantry=gantry, x_guides=guides)
    return msgspec.structs.replace(base, machine=machine, variants=()) == msgspec.structs.replace(
        other, variants=()
    )


def _has_two_ways(section: Section) -> bool:
    """Whether a quarter turn makes another beam of it."""
    if isinstance(section, RoundSolid | RoundTube):
        return False
    sides = getattr(section, "width", None), getattr(section, "height", None)
    same = sides[0] is not None and sides[1] is not None and abs(sides[0] - sides[1]) < 1e-9
    return not (same and type(section).__name__ in ("RectangularHollow", "FlatBar", "TSlot"))


def _problem(section: Section) -> str:
    return ROUND if isinstance(section, RoundSolid | RoundTube) else ""
