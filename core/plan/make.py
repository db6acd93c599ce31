"""A project's plan in two stages: begun with likely figures, finished with the beams to compare."""

from __future__ import annotations

from dataclasses import replace

from core.machine.project import Project
from core.plan.begin import begin_plan
from core.plan.compare import compare_beams
from core.plan.results import Place, Plan
from core.sections import PropertyBook


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
    """The same plan with the beams to compare."""
    compared = compare_beams(plan, book) if alternatives else ()
    return replace(plan, alternatives=compared, finished=True)
