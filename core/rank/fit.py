"""Whether the rails find hold on a candidate, and what may arrive crooked: one candidate at a time, in plain words.

A candidate that cannot be used is not dropped: it is listed with the reason.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import msgspec

from core.errors import NeedsAnalysis
from core.fasteners import advice
from core.fasteners.holes import Holes, place_holes
from core.fasteners.screws import choose_length, screw
from core.fasteners.site import x_site
from core.fasteners.stack import clamp_stack
from core.form import beam_deviations
from core.machine.layout import Layout, Sections, figures_of, find_sections, lay_out
from core.machine.project import Project
from core.parts import moving_mass
from core.parts.masses import beam_mass
from core.plan.fit import cannot_stand
from core.prices import Pricer
from core.rank.candidates import HERE, Candidate
from core.sections import BoltedPlate, PropertyBook, SectionProperties, TwoProfiles
from core.units import show

JOINED = (
    "It counts as fully joined, as by one weld or glue along the whole length; held by screws it is softer. The page Section "
    "says how far down it could be."
)
ANALYSE = "Its figures wait for a section analysis; choose it once as the beam, then rank again."


@dataclass(frozen=True, slots=True)
class Tried:
    """What is known of a candidate before anything is solved.

    Attributes:
        shape: its figures as it stands; None when it cannot be modelled. problem: why it cannot be used; empty when it can.
        remark: what else to watch. beam_mass, moving_mass: kg. bow, twist: m, as delivered; None when no figure is held.
        straight_by: whose figure the bow is. price: by the user's own prices, None without one.
    """

    shape: SectionProperties | None
    problem: str = ""
    remark: str = ""
    beam_mass: float = 0.0
    moving_mass: float = 0.0
    bow: float | None = None
    twist: float | None = None
    straight_by: str = ""
    price: float | None = None


class Trial:
    """Tries candidates in one machine."""

    def __init__(self, project: Project, book: PropertyBook, ask: bool = False) -> None:
        self._project, self._book, self._ask = project, book, ask
        self.others: Sections = find_sections(project.machine, book)
        self._pricer = Pricer(project)
        self._holes: dict[float, Holes] = {}

    def all(self, candidates: Sequence[Candidate]) -> tuple[Tried, ...]:
        """Each of them."""
        return tuple(self.one(candidate) for candidate in candidates)

    def one(self, candidate: Candidate) -> Tried:
        """One candidate; nothing is raised for what does not fit.

        Errors: NeedsAnalysis for a section of the project itself, where that was asked for.
        """
        beam, machine = candidate.beam, self._project.machine
        if candidate.problem:
            return Tried(None, candidate.problem)
        try:
            shape = figures_of(machine, self._book, beam.section, beam.material, beam.turned)
        except NeedsAnalysis:
            if self._ask and candidate.family == HERE:
                raise
            return Tried(None, ANALYSE)
        changed = msgspec.structs.replace(
            machine,
            gantry=msgspec.structs.replace(machine.gantry, beam=beam),
            x_guides=msgspec.structs.replace(machine.x_guides, rail_spacing=candidate.rail_spacing),
        )
        lay = lay_out(changed, replace(self.others, beam=shape), candidate.rail_spacing)
        stands = cannot_stand(lay)
        project = msgspec.structs.replace(self._project, machine=changed)
        problem, remark = self._rails(project, lay)
        mass = beam_mass(changed, lay)
        price = self._pricer.beam(beam.section, beam.material, lay.beam_length, mass)
        bow, twist = self._form(project, lay)
        return Tried(
            shape=None if stands else shape, problem=stands or problem, remark=remark, beam_mass=mass,
            moving_mass=moving_mass(project, lay), bow=bow[0], twist=twist, straight_by=bow[1],
            price=None if price is None else float(price.each),
        )  # fmt: skip

    def _rails(self, project: Project, lay: Layout) -> tuple[str, str]:
        """Why the X rails find no hold, and what else to watch; empty texts when all is well."""

        def words(value: float) -> str:
            return show(value, "length", project.units)

        site = x_site(project, lay)
        data, guides = site.guides.data, site.guides
        holes = self._holes.get(site.length)
        if holes is None:
            holes = place_holes(
                site.length, data.hole_pitch, guides.minimum_end_distance, guides.end_distance
            )
            self._holes[site.length] = holes
        size = screw(data.screw)
        stack = clamp_stack(data, size, site.fastening, site.ground)
        length = choose_length(data.screw, stack.shortest, stack.longest)
        found = [
            *advice.about_length(site, holes, words),
            *advice.about_screws(site, size, stack, length, words),
            *advice.about_place(site, words),
        ]
        hard = [f.message for f in found if f.severity == "limit"]
        soft = [f.message for f in found if f.severity == "warning"]
        section = project.machine.gantry.beam.section
        if not soft and isinstance(section, TwoProfiles | BoltedPlate) and section.joint == "fully joined":
            soft = [JOINED]
        return (hard[0] if hard else ""), (soft[0] if soft else "")

    def _form(self, project: Project, lay: Layout) -> tuple[tuple[float | None, str], float | None]:
        found = beam_deviations(project, lay)
        bow = next(one for one in found if one.what == "bow")
        twist = next((one.allowed for one in found if one.what.startswith("twist")), None)
        return (bow.allowed, bow.standard), twist
