"""The machine with other beams: every figure that decides between them, side by side."""

from __future__ import annotations

import msgspec

from core.fasteners import rails as find_rails
from core.machine.gantry import BeamChoice
from core.machine.project import Project
from core.materials import material
from core.parts import moving_mass
from core.plan.begin import begin_plan
from core.plan.results import BeamAnswer, Plan
from core.sections import PropertyBook, label


def compare_beams(plan: Plan, book: PropertyBook) -> tuple[BeamAnswer, ...]:
    """The machine's own beam first, then each of the project's alternatives; those without an answer are left out.

    Errors: NeedsAnalysis, BadEntry, as for `make_plan`.
    """
    project = plan.project
    own = BeamChoice(name="This machine's beam", beam=project.machine.gantry.beam)
    answers = [_beam_answer(own, plan)]
    for choice in project.alternatives:
        changed = with_beam(project, choice)
        answers.append(_beam_answer(choice, begin_plan(changed, book, under=plan.under)))
    return tuple(answer for answer in answers if answer is not None)


def with_beam(project: Project, choice: BeamChoice) -> Project:
    """The project with another beam and nothing to compare."""
    gantry = msgspec.structs.replace(project.machine.gantry, beam=choice.beam)
    machine = msgspec.structs.replace(project.machine, gantry=gantry)
    return msgspec.structs.replace(project, machine=machine, alternatives=())


def _beam_answer(choice: BeamChoice, plan: Plan) -> BeamAnswer | None:
    stiffness, sag, lay = plan.stiffness, plan.sag, plan.layout
    if stiffness is None or sag is None:
        return None
    stuff = material(choice.beam.material)
    middle = stiffness.compliance[stiffness.y.size // 2, stiffness.x.size // 2]
    x_rails = [r for r in find_rails(plan.project, lay)[0] if r.axis == "x"]
    return BeamAnswer(
        name=choice.name,
        beam=choice.beam,
        section_label=label(choice.beam.section),
        material_name=stuff.name,
        beam_mass=stuff.density * lay.sections.beam.area * lay.beam_length,
        moving_mass=moving_mass(plan.project, lay),
        height=lay.sections.beam.height,
        worst=tuple(c.worst for c in stiffness.cases),
        stiffness=(1.0 / float(middle[0, 0]), 1.0 / float(middle[1, 1]), 1.0 / float(middle[2, 2])),
        sag=sag.beam_worst,
        path_error=sag.worst_residual,
        shares=dict(plan.budgets[0].shares),
        screws=sum(r.screws for r in x_rails),
        nuts=sum(r.nuts for r in x_rails),
        findings=plan.findings,
    )
