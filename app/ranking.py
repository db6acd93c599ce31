"""Ranks beams off the window's thread when the page asks for it, and joins the page with the project's history.

The ranking begins by itself when the page is first opened, and follows changes made while it is in view; after changes made
elsewhere it says that it is older than the description and waits to be asked.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from app.pages.rank_page import RankPage
from app.pages.rank_waiting import NONE, OLDER, STOPPED, STOPPED_OLD
from app.results import Results
from app.session import Session, sentence_of
from app.shell import VerdictBand
from app.worker import LatestRunner
from core.commands import Command
from core.commands.ranked import keep_candidate, use_candidate
from core.errors import BadEntry, GantrywrightError, NeedsAnalysis
from core.machine.project import Project
from core.rank import Candidate, RankAnswer, find_rank, reworded, same_question
from core.report.rank_screen import Screen, make_screen

Ranked = tuple[RankAnswer, Screen]
WAITS = "A section is still being analysed; try again when its answers are there."


class Ranking(QObject):
    """The newest ranking, and what can be done with its beams.

    Signals:
        ranked(answer): a newer ranking is there.
    """

    ranked = Signal(object)
    _progressed = Signal(int, int)

    def __init__(
        self, session: Session, results: Results, page: RankPage, band: VerdictBand, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._session, self._results, self._page, self._band = session, results, page, band
        self._answer: RankAnswer | None = None
        self._asked: Project | None = None  # what the run under way answers
        self._in_view = False
        self._stopped = False
        self._number = 0
        self._runner = LatestRunner(self)
        self._runner.delivered.connect(self._delivered)
        self._runner.failed.connect(self._failed)
        self._progressed.connect(page.waiting.show_progress)  # from the worker's thread; Qt queues it
        session.begun.connect(self._forget)
        session.changed.connect(self._project_changed)
        page.rank_wanted.connect(lambda yes: self.run() if yes else self.stop())
        page.used.connect(self._use)
        page.kept.connect(self._keep)
        page.troubled.connect(lambda sentence: band.say("problem", sentence))
        page.saved.connect(lambda: band.note("Saved."))

    @property
    def answer(self) -> RankAnswer | None:
        """The newest ranking; None before the first."""
        return self._answer

    @property
    def waiting(self) -> bool:
        """True while beams are being tried."""
        return self._runner.is_busy

    def look(self, in_view: bool) -> None:
        """The page has come into view, or gone out of it."""
        self._in_view = in_view
        if in_view and self._answer is None and not self.waiting and not self._stopped:
            self.run()

    def run(self) -> None:
        """Try every beam in the project as it stands, overtaking a run under way."""
        project, book = self._session.project, self._results.book()
        answer = self._results.answer
        under = (
            answer.plan.under if answer is not None and answer.project.machine == project.machine else None
        )
        tell, case = self._progressed.emit, self._page.case_wanted()

        def find(stale: Callable[[], bool]) -> Ranked | None:
            found = find_rank(project, book, stale=stale, tell=tell, under=under)
            return None if found is None else (found, make_screen(found, project.units, case))

        self._asked, self._stopped = project, False
        self._number += 1
        self._page.waiting.show_running()
        self._runner.submit(self._number, find, watches=True)

    def stop(self) -> None:
        """Give up the run under way; the ranking before it stays."""
        self._runner.cancel()
        self._stopped = True
        self._page.waiting.show_state(
            *((STOPPED, "quiet") if self._answer is None else (STOPPED_OLD, "warn"))
        )

    def close(self) -> None:
        """End all work; nothing is told afterwards."""
        self._runner.close()

    def _forget(self) -> None:
        """Another project altogether: its ranking begins by itself too."""
        self._runner.cancel()
        self._answer, self._asked, self._stopped = None, None, False
        self._page.show_rank(None)
        self._page.waiting.show_state(NONE)

    def _delivered(self, _number: int, ranked: Ranked | None) -> None:
        if ranked is None:
            return
        self._answer, screen = ranked
        self._page.show_rank(self._answer, screen)
        self._say_state()
        self.ranked.emit(self._answer)
        self._follow_units()

    def _failed(self, _number: int, error: Exception) -> None:
        if isinstance(error, NeedsAnalysis):
            words = WAITS
        elif isinstance(error, BadEntry):
            words = sentence_of(error)
        elif isinstance(error, GantrywrightError):
            words = str(error)
        else:
            words = f"The beams could not be tried: {type(error).__name__}: {error}"
        self._page.waiting.show_state(words, "problem")

    def _project_changed(self) -> None:
        known = self._asked if self.waiting else self._answer.project if self._answer else None
        if known is None:
            self.look(self._in_view)
            return
        project = self._session.project
        outdated = not same_question(known, project)
        if self._in_view and (outdated or known.display != project.display):
            self.run()
            return
        if outdated:
            self._runner.cancel()
        if not self.waiting:
            self._say_state()
            self._follow_units()

    def _follow_units(self) -> None:
        """Where figures stay as they are, their sentences follow the units."""
        answer, display = self._answer, self._session.project.display
        if answer is None or answer.project.display == display:
            return
        book, case = self._results.book(), self._page.case_wanted()

        def write() -> Ranked:
            told = reworded(answer, display, book)
            return told, make_screen(told, told.project.units, case)

        self._asked = answer.project
        self._number += 1
        self._runner.submit(self._number, write)

    def _say_state(self) -> None:
        answer = self._answer
        if answer is None:
            self._page.waiting.show_state(NONE)
        elif same_question(answer.project, self._session.project):
            self._page.waiting.show_state("", fresh=True)
        else:
            self._page.waiting.show_state(OLDER, "warn")

    def _use(self, candidate: Candidate) -> None:
        self._do(use_candidate(candidate))

    def _keep(self, candidate: Candidate) -> None:
        if self._do(keep_candidate(candidate)):
            self._band.note("Added to the page Compare.")

    def _do(self, command: Command | None) -> bool:
        if command is None:
            return False
        self._session.seal()
        done = self._session.do(command)
        self._session.seal()
        return done
