"""Solves a project from the terminal: analyses the sections that need it, keeps them for the next run."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, TypeVar

from app.cache import section_cache
from core.errors import NeedsAnalysis

if TYPE_CHECKING:
    from core.machine.project import Project
    from core.plan import Plan
    from core.sections import PropertyBook
    from core.study import Study

Answer = TypeVar("Answer")
MOST_SECTIONS = 50
"""A project holds far fewer sections than this; the bound ends a loop that an error would make endless."""


def solve(project: Project) -> Plan:
    """The project's plan, with every section analysed that has to be."""
    from core.plan import make_plan

    return with_sections(lambda book: make_plan(project, book))


def study(project: Project, *, bars: bool = False) -> Study:
    """The project's plan and all that is answered after it; with `bars` its cut list too, which takes up to 1.5 s."""
    from core.plan import make_plan
    from core.study import make_study

    def work(book: PropertyBook) -> Study | None:
        plan = make_plan(project, book)
        return make_study(with_bars(plan) if bars else plan, book)

    made = with_sections(work)
    assert made is not None  # only a study that may be overtaken can stop
    return made


def with_bars(plan: Plan) -> Plan:
    """A plan with its cut list searched and the bars counted in its bill."""
    from core.plan import count_bars

    counted = count_bars(plan)
    assert counted is not None  # only a search that may be overtaken can stop
    return counted


def with_sections(work: Callable[[PropertyBook], Answer]) -> Answer:
    """What `work` gives with a book that holds every section it asks for."""
    from core.sections import TSlot
    from core.sections.book import load_cache, save_cache, stock_book
    from core.sections.shape import Shape

    file = section_cache()
    book = load_cache(file, stock_book())
    for _ in range(MOST_SECTIONS):
        try:
            return work(book)
        except NeedsAnalysis as need:
            from core.sections.analysis import analyse_any

            print(f"Analysing a section: {need}", file=sys.stderr)
            if not isinstance(need.section, TSlot | Shape):
                raise
            book = book.with_entry(need.section, analyse_any(need.section))
            try:
                save_cache(file, book)
            except OSError as error:  # the analysis is made again next time, which costs only time
                print(f"The analysed section could not be kept for next time: {error}.", file=sys.stderr)
    raise RuntimeError("A section is asked for again after its analysis.")
