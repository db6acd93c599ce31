"""One project in, one frozen plan out: statics, sag, budget, fasteners, parts, findings and the verdict."""

from __future__ import annotations

import msgspec
import numpy as np

from core.cutting import tip_force
from core.fasteners import rails as find_rails
from core.findings import Finding
from core.frame import Mechanism, NotTrustworthy
from core.machine.gantry import BeamChoice
from core.machine.layout import layout
from core.machine.project import Project
from core.materials import material
from core.model.place import SolvedPlace, solve_place
from core.model.setting import Setting
from core.parts import moving_mass
from core.parts import parts as find_parts
from core.plan.fit import cannot_stand, check_fit
from core.plan.results import BeamAnswer, Place, Plan
from core.plan.verdict import judge, limit_findings
from core.sag import SagAnswer, find_sag
from core.sections import PropertyBook, label
from core.stiffness import Budget, DeflectedShape, StiffnessAnswer, find_budget, find_shape, find_stiffness
from core.stiffness.deflection import deflection, worst_force

# The whole frame merges nodes nearer than 2 mm, the condensed answer does not.
AGREE = 5e-3


def make_plan(
    project: Project, book: PropertyBook, place: Place | None = None, *, alternatives: bool = True
) -> Plan:
    """Answer a project.

    Args:
        book: section properties that were analysed before. place: tool place and load case for lines and shape.
        alternatives: whether the beams to compare are answered too.

    Errors: NeedsAnalysis when a section is not in the book; BadEntry for an entry that cannot be used. A machine that
        moves freely or cannot stand is a finding, not an error.
    """
    place = place or Place()
    lay = layout(project.machine, book)
    setting = Setting(project.machine, lay, "likely", book)
    fit = check_fit(project, lay)
    rails, rail_findings = find_rails(project, lay)
    case = min(max(place.case, 0), len(project.cases) - 1)
    place = Place(place.x, place.y, case)
    stiffness: StiffnessAnswer | None = None
    sag: SagAnswer | None = None
    budgets: tuple[Budget, ...] = ()
    shape: DeflectedShape | None = None
    blocked = cannot_stand(lay)
    findings = [*fit, *rail_findings]
    if blocked:
        findings.insert(0, Finding("cannot-stand", "limit", "machine.work.clearance", blocked))
    else:
        try:
            solved = solve_place(setting, place.x, place.y)  # before all else: it names what moves freely
            stiffness, sag, budgets = _statics(setting, project, solved)
            shape = _chosen_shape(project, case, solved)
            findings += limit_findings(project, stiffness, sag, budgets)
        except Mechanism as error:
            motions = "; ".join(error.free_motions)
            text = f"The machine moves freely as described: {motions}. Add or stiffen what should hold it."
            findings.insert(0, Finding("moves-freely", "limit", "machine", text))
        except NotTrustworthy as error:
            text = f"No answer can be trusted for this description: {error.problem}."
            findings.insert(0, Finding("not-trustworthy", "limit", "machine", text))
        if stiffness is None:
            sag, budgets, shape = None, (), None
    ordered = tuple(sorted(findings, key=lambda f: ("limit", "warning", "note").index(f.severity)))
    verdict = judge(project, stiffness, ordered)
    compared = _alternatives(project, book, stiffness, sag, budgets, ordered) if alternatives else ()
    parts = find_parts(project, lay, rails)
    return Plan(project, lay, place, stiffness, sag, budgets, rails, parts, ordered, verdict, shape, compared)


def _chosen_shape(project: Project, case: int, solved: SolvedPlace) -> DeflectedShape:
    """Shape under the chosen case in its worst direction there."""
    chosen = project.cases[case]
    _, direction = deflection(solved.compliance, tip_force(chosen), chosen.any_direction)
    return find_shape(solved, worst_force(tip_force(chosen), float(direction), chosen.any_direction))


def _statics(
    setting: Setting, project: Project, solved: SolvedPlace
) -> tuple[StiffnessAnswer, SagAnswer, tuple[Budget, ...]]:
    stiffness, gantry = find_stiffness(setting, project.cases, (solved.x, solved.y))
    difference = (
        np.abs(stiffness.compliance_place - solved.compliance).max() / np.abs(solved.compliance).max()
    )
    if not difference <= AGREE:
        raise NotTrustworthy("the two ways to the tip's compliance disagree")
    places = {(solved.x, solved.y): solved}
    budgets = []
    for c in stiffness.cases:
        at = (c.worst_x, c.worst_y)
        places[at] = places.get(at) or solve_place(setting, *at)  # cases often share their worst place
        budgets.append(find_budget(places[at], c.name, worst_force(c.force, c.direction, c.any_direction)))
    return stiffness, find_sag(setting, gantry), tuple(budgets)


def _alternatives(
    project: Project,
    book: PropertyBook,
    stiffness: StiffnessAnswer | None,
    sag: SagAnswer | None,
    budgets: tuple[Budget, ...],
    findings: tuple[Finding, ...],
) -> tuple[BeamAnswer, ...]:
    own = BeamChoice(name="This machine's beam", beam=project.machine.gantry.beam)
    first = _beam_answer(own, project, book, stiffness, sag, budgets, findings)
    answers = [] if first is None else [first]
    for choice in project.alternatives:
        machine = project.machine
        gantry = msgspec.structs.replace(machine.gantry, beam=choice.beam)
        changed = msgspec.structs.replace(
            project, machine=msgspec.structs.replace(machine, gantry=gantry), alternatives=()
        )
        plan = make_plan(changed, book, alternatives=False)
        answer = _beam_answer(choice, changed, book, plan.stiffness, plan.sag, plan.budgets, plan.findings)
        if answer is not None:
            answers.append(answer)
    return tuple(answers)


def _beam_answer(
    choice: BeamChoice,
    project: Project,
    book: PropertyBook,
    stiffness: StiffnessAnswer | None,
    sag: SagAnswer | None,
    budgets: tuple[Budget, ...],
    findings: tuple[Finding, ...],
) -> BeamAnswer | None:
    if stiffness is None or sag is None:
        return None
    lay = layout(project.machine, book)
    stuff = material(choice.beam.material)
    middle = stiffness.compliance[stiffness.y.size // 2, stiffness.x.size // 2]
    found = find_rails(project, lay)[0]
    x_rails = [r for r in found if r.axis == "x"]
    return BeamAnswer(
        name=choice.name,
        beam=choice.beam,
        section_label=label(choice.beam.section),
        material_name=stuff.name,
        beam_mass=stuff.density * lay.sections.beam.area * lay.beam_length,
        moving_mass=moving_mass(project, lay),
        height=lay.sections.beam.height,
        worst=tuple(c.worst for c in stiffness.cases),
        stiffness=(1.0 / float(middle[0, 0]), 1.0 / float(middle[1, 1]), 1.0 / float(middle[2, 2])),
        sag=sag.beam_worst,
        path_error=sag.worst_residual,
        shares=dict(budgets[0].shares),
        screws=sum(r.screws for r in x_rails),
        nuts=sum(r.nuts for r in x_rails),
        findings=findings,
    )
