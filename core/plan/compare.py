"""The machine with other beams: every figure that decides between them, side by side."""

from __future__ import annotations

from dataclasses import replace

from core.fasteners import rails as find_rails
from core.findings import Finding
from core.machine.project import Project
from core.machine.variants import apply_variant
from core.materials import material
from core.parts import moving_mass
from core.plan.begin import begin_plan
from core.plan.results import BeamAnswer, Plan
from core.sections import PropertyBook, label
from core.units import show


def compare_beams(plan: Plan, book: PropertyBook) -> tuple[BeamAnswer, ...]:
    """The machine's own beam first, then each of the project's alternatives; those without an answer are left out.

    Errors: NeedsAnalysis, BadEntry, as for `make_plan`.
    """
    project = plan.project
    answers = [_beam_answer("This machine's beam", plan)]
    for variant in project.variants:
        applied = apply_variant(project, variant)
        if applied.faults:
            continue
        answer = _beam_answer(variant.name, begin_plan(applied.project, book, under=plan.under))
        if answer is not None:
            moved = _moved(project, answer.rail_spacing)
            answer = replace(answer, findings=(*answer.findings, *moved))
        answers.append(answer)
    return tuple(answer for answer in answers if answer is not None)


def _moved(project: Project, spacing: float) -> tuple[Finding, ...]:
    own = project.machine.x_guides.rail_spacing
    if spacing == own:
        return ()
    text = (
        f"With this beam the X rails stand {show(spacing, 'length', project.units)} apart, on its slots, instead of "
        f"{show(own, 'length', project.units)}."
    )
    return (Finding("rails-moved", "note", "machine.x_guides.rail_spacing", text, spacing, own, "length"),)


def _beam_answer(name: str, plan: Plan) -> BeamAnswer | None:
    stiffness, sag, lay = plan.stiffness, plan.sag, plan.layout
    if stiffness is None or sag is None:
        return None
    beam = plan.project.machine.gantry.beam
    stuff = material(beam.material)
    middle = stiffness.compliance[stiffness.y.size // 2, stiffness.x.size // 2]
    x_rails = [r for r in find_rails(plan.project, lay)[0] if r.axis == "x"]
    return BeamAnswer(
        name=name,
        beam=beam,
        section_label=label(beam.section),
        material_name=stuff.name,
        beam_mass=lay.sections.beam.linear_mass(stuff.density) * lay.beam_length,
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
        rail_spacing=plan.project.machine.x_guides.rail_spacing,
    )
