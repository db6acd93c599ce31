"""A project's plan for whoever has no earlier one to build on."""

from __future__ import annotations

from core.machine.project import Project
from core.plan.begin import begin_plan
from core.plan.results import Place, Plan
from core.sections import PropertyBook


def make_plan(project: Project, book: PropertyBook, place: Place | None = None) -> Plan:
    """Answer a project with likely figures.

    Args:
        book: section properties that were analysed before. place: tool place and load case for lines and shape.

    Errors: NeedsAnalysis when a section is not in the book; BadEntry for an entry that cannot be used. A machine that
        moves freely or cannot stand is a finding, not an error.
    """
    return begin_plan(project, book, place)
