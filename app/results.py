"""Keeps the answers up with the project: works them out in the background and hands over only the newest."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QObject, QTimer, Signal

from app.analysis import SectionAnalysis
from app.answers import Answer, Wish, deepen, with_plan, work_out
from app.session import sentence_of
from app.worker import LatestRunner
from core.cuts import CutAnswer
from core.errors import BadEntry, GantrywrightError, NeedsAnalysis
from core.machine.project import Project
from core.plan import Place, with_cuts
from core.sections import PropertyBook

BREATH = 40
"""Milliseconds between a painted answer and its study: they share the interpreter with the painting."""

STOPPED = (
    "The analysis of the section was stopped, so there are no answers for it. Take a stock size, enter the values of a "
    "datasheet, or edit the section to have it analysed."
)

Work = Callable[..., Answer]
Deepen = Callable[..., Answer | None]


class Results(QObject):
    """The newest answer and the wish behind it.

    Signals:
        answered(answer): a newer answer is there, with likely figures.
        studied(answer): the same answer with its bands and its study.
        counted(answer): the same answer with the bars of its cut list in the bill.
        refused(path, sentence): the project cannot be worked out; the last answer stays.
        troubled(sentence): working out failed in a way that belongs to no entry.
        note(words): what is going on ("Working…"), empty when nothing is.
        progressed(done, altogether): so many variants have been worked out.
        rested(): nothing is being worked out at the moment; a study may follow.
        stoppable(yes): whether a section is being analysed, which `stop_analysis` gives up.
    """

    answered = Signal(object)
    studied = Signal(object)
    counted = Signal(object)
    refused = Signal(str, str)
    troubled = Signal(str)
    note = Signal(str)
    progressed = Signal(int, int)
    rested = Signal()
    stoppable = Signal(bool)

    def __init__(
        self, work: Work = work_out, deeper: Deepen | None = deepen, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._work = work
        self._deeper = deeper
        self._project: Project | None = None
        self._wish = Wish()
        self._number = 0
        self._answer: Answer | None = None
        self._studied: Answer | None = None
        self._runner = LatestRunner(self)
        self._runner.delivered.connect(self._delivered)
        self._runner.failed.connect(self._failed)
        self._runner.busy.connect(self._busy)
        self._analysis = SectionAnalysis(self)
        self._analysis.done.connect(self.again)
        self._analysis.failed.connect(self._not_analysed)
        self._analysis.ticked.connect(self._say)
        self._breath = QTimer(self)
        self._breath.setSingleShot(True)
        self._breath.setInterval(BREATH)
        self._breath.timeout.connect(self._deepen)
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(300)
        self._patience.timeout.connect(self._say)

    @property
    def answer(self) -> Answer | None:
        """The newest answer; None before the first."""
        return self._answer

    @property
    def wish(self) -> Wish:
        return self._wish

    def book(self) -> PropertyBook:
        """Every section known so far."""
        return self._analysis.book()

    @property
    def waiting(self) -> bool:
        """True while an answer is being worked out, or a section analysed."""
        return self._runner.is_busy or self._breath.isActive() or self._analysis.running

    def show(self, project: Project) -> None:
        """Work out this project."""
        self._project = project
        self._wish = replace(self._wish, place=_inside(self._wish.place, project))
        self.again()

    def look(
        self,
        x: float | None = None,
        case: int | None = None,
        bent: bool | None = None,
        compare: bool | None = None,
        advise: bool | None = None,
    ) -> None:
        """See the same project from another place, with another load case, with the variants, or with advice."""
        if self._project is None:
            return
        place = self._wish.place
        place = replace(place, x=place.x if x is None else x, case=place.case if case is None else case)
        old = self._wish
        wish = Wish(
            _inside(place, self._project),
            old.bent if bent is None else bent,
            old.compare if compare is None else compare,
            old.advise if advise is None else advise,
        )
        if wish != self._wish:
            self._wish = wish
            self.again()

    def again(self) -> None:
        """Work out the project as it stands."""
        project, wish, work, last = self._project, self._wish, self._work, self._answer
        if project is None:
            return
        self._breath.stop()
        self._number += 1
        book = self._analysis.book()
        self._runner.submit(self._number, lambda: work(project, book, wish, last))

    def take_cuts(self, cuts: CutAnswer) -> None:
        """A cut list that was searched for the answer in view, or an earlier one: taken if it still answers it."""
        answer = self._answer
        plan = None if answer is None else with_cuts(answer.plan, cuts)
        if answer is not None and plan is not None:
            self._answer = with_plan(answer, plan)
            self.counted.emit(self._answer)

    def stop_analysis(self) -> None:
        """Give up the section under analysis; the last answer stays until something is edited."""
        if self._analysis.running:
            self._analysis.close()
            self._not_analysed(STOPPED)

    def close(self) -> None:
        """End all work; nothing is told afterwards."""
        self._patience.stop()
        self._breath.stop()
        self._analysis.close()
        self._runner.close()

    def _delivered(self, number: int, answer: Answer | None) -> None:
        if answer is None:  # a study that stopped because it was overtaken
            return
        answer = self._answer = self._with_bars(answer)
        if answer.study is not None:
            if answer.study.comparison is not None:
                self._studied = answer
            self.studied.emit(answer)
            return
        if self._deeper is not None:
            self._breath.start()
        self.answered.emit(answer)

    def _with_bars(self, answer: Answer) -> Answer:
        """With the bars that were counted while this one was worked out, if it asks for the same."""
        bills = [None if one is None else one.plan.bill for one in (self._answer, answer)]
        if bills[0] is None or bills[1] is None or bills[0].cuts is None or bills[1].cuts is not None:
            return answer
        plan = with_cuts(answer.plan, bills[0].cuts)
        return answer if plan is None else with_plan(answer, plan)

    def _deepen(self) -> None:
        answer, deeper, book = self._answer, self._deeper, self._analysis.book()
        last, tell = self._studied, self.progressed.emit  # from the worker's thread; Qt queues it
        if answer is not None and deeper is not None:
            self._runner.submit(
                self._number, lambda stale: deeper(answer, book, stale, last, tell), watches=True
            )

    def _failed(self, _number: int, error: Exception) -> None:
        if isinstance(error, NeedsAnalysis):
            self._analysis.start(error.section)
            self._say()
        elif isinstance(error, BadEntry):
            self.refused.emit(error.where, sentence_of(error))
        elif isinstance(error, GantrywrightError):
            self.troubled.emit(str(error))
        else:
            self.troubled.emit(f"The answers could not be worked out: {type(error).__name__}: {error}")

    def _busy(self, busy: bool) -> None:
        if busy:
            self._patience.start()
        else:
            self._patience.stop()
            self._say()
            self.rested.emit()

    def _not_analysed(self, sentence: str) -> None:
        self._say()
        self.troubled.emit(sentence)

    def _say(self) -> None:
        self.stoppable.emit(self._analysis.running)
        if self._analysis.running:
            seconds = self._analysis.seconds
            self.note.emit("Analysing the section…" + (f" {seconds} s" if seconds else ""))
        else:
            self.note.emit("Working…" if self._runner.is_busy else "")


def _inside(place: Place, project: Project) -> Place:
    """The place within the travels, and a load case that exists."""
    work = project.machine.work
    x = min(max(place.x, -work.travel_x / 2.0), work.travel_x / 2.0)
    y = min(max(place.y, -work.travel_y / 2.0), work.travel_y / 2.0)
    return replace(place, x=x, y=y, case=min(max(place.case, 0), len(project.cases) - 1))
