"""A project's plan in two stages: begun with likely figures, finished with the bands and the beams to compare."""

from __future__ import annotations

from dataclasses import replace

from core.findings import ordered
from core.machine.project import Project
from core.model.setting import Setting
from core.plan.begin import begin_plan
from core.plan.compare import compare_beams
from core.plan.results import Place, Plan
from core.plan.verdict import band_findings, judge
from core.sections import PropertyBook
from core.stiffness import add_band


def make_plan(
    project: Project, book: PropertyBook, place: Place | None = None, *, alternatives: bool = True
) -> Plan:
    """Both stages at once.

    Args:
        book: section properties that were analysed before. place: tool place and load case for lines and shape.
        alternatives: whether the beams to compare are answered too.

    Errors: NeedsAnalysis when a section is not in the book; BadEntry for an entry that cannot be used. A machine that
        moves freely or cannot stand is a finding, not an error.
    """
    return finish_plan(begin_plan(project, book, place), book, alternatives=alternatives)


def finish_plan(plan: Plan, book: PropertyBook, *, alternatives: bool = True) -> Plan:
    """The same plan with its bands, what follows from them, and the beams to compare."""
    if plan.stiffness is not None:
        setting = Setting(plan.project.machine, plan.layout, "likely", book)
        stiffness = add_band(setting, plan.project.cases, plan.stiffness)
        told = ordered([*plan.findings, *band_findings(plan.project, stiffness)])
        plan = replace(plan, stiffness=stiffness, findings=told, verdict=judge(plan.project, stiffness, told))
    compared = compare_beams(plan, book) if alternatives else ()
    return replace(plan, alternatives=compared, finished=True)
