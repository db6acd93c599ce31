"""Bars for the pages about buying: searched while one of them is in view, as the search takes longer than all other answers."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject

from app.answers import Answer, with_plan
from app.cut_search import CutSearch
from app.results import Results
from core.cuts import CutAnswer
from core.machine.project import Project
from core.plan import with_cuts

PAGES = frozenset({"parts", "cuts", "money"})


class Buying(QObject):
    """Keeps the bill's bars up with the answers, as long as somebody looks."""

    def __init__(self, results: Results, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._results = results
        self._in_view = False
        self._asked: Project | None = None
        self.search = CutSearch(parent=self)
        self.search.found.connect(results.take_cuts)
        results.answered.connect(lambda _answer: self._look())

    def look(self, page: str) -> None:
        """The page now in view, by its key."""
        self._in_view = page in PAGES
        self._look()

    def _look(self) -> None:
        answer = self._results.answer
        if not self._in_view or answer is None or _counted(answer):
            return
        project = answer.plan.project
        if self.search.waiting and self._asked is project:
            return
        self._asked = project
        self.search.search(answer.plan)

    def with_bars(self, answer: Answer, deed: Callable[[Answer], None]) -> None:
        """Do something with an answer whose bars are counted, as soon as they are; without them if they cannot be."""
        if _counted(answer):
            deed(answer)
            return

        def end() -> None:
            self.search.found.disconnect(take)
            self.search.failed.disconnect(give_up)
            self.search.busy.disconnect(without)

        def take(cuts: CutAnswer) -> None:
            plan = with_cuts(answer.plan, cuts)
            end()
            deed(answer if plan is None else with_plan(answer, plan))

        def give_up(_sentence: str) -> None:
            end()
            deed(answer)

        def without(busy: bool) -> None:
            if not busy:  # stopped before it found any
                give_up("")

        self.search.found.connect(take)
        self.search.failed.connect(give_up)
        self.search.busy.connect(without)
        self._asked = answer.plan.project
        self.search.search(answer.plan)


def _counted(answer: Answer) -> bool:
    bill = answer.plan.bill
    return bill is None or bill.cuts is not None
