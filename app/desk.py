"""Joins session, results and pages once the engine is loaded; the window itself only frames it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from app.answers import Answer
from app.buying import PAGES, Buying
from app.look.theme import Theme
from app.pages.machine_page import MachinePage
from app.pages.page import Page
from app.remarks import Remarks
from app.results import Results
from app.session import Session
from app.shell import VerdictBand
from app.widgets.entry import Entry, show_in_view
from app.widgets.plot_engine import PlotEngine
from core.commands import AddRow, RemoveRow, SetEntries, SetEntry
from core.commands.stock import RemoveOwnPart, SetStock, new_own_part
from core.findings import Finding

if TYPE_CHECKING:
    from app.ranking import Ranking


class Desk(QObject):
    """The working part of the window.

    Signals:
        export_parts(kind): the parts page asks for its list as a file.
        found(findings): the findings of the newest answer.
        finding_wanted(finding): the user wants to go to where this one is mended.
    """

    export_parts = Signal(str)
    found = Signal(object)
    finding_wanted = Signal(object)

    def __init__(self, theme: Theme, band: VerdictBand, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._band = band
        self._remarks = Remarks()
        self._awaited: Callable[[Answer], None] | None = None
        self._current = "machine"
        self._behind: set[str] = set()  # pages that have not been shown the project as it stands
        self._stale: set[str] = set()  # pages that have not been shown the newest answer
        self.engine = PlotEngine(self)
        self.session = Session(self)
        self.results = Results(parent=self)
        self.buying = Buying(self.results, self)
        self.ranking: Ranking | None = None
        self.pages: dict[str, Page] = {}

    def make_first(self) -> None:
        """Make the page that is seen first, and join it with the project and its answers."""
        self.machine = MachinePage(self._theme, self.engine)
        self._take("machine", self.machine)
        self._join()

    def make_others(self) -> Iterator[None]:
        """Make the other pages one by one, with a moment for the window between them; it has to be run to its end."""
        from app.pages import others

        self.deflection = others.DeflectionPage(self._theme, self.engine)
        yield self._take("bend", self.deflection)
        self.stiffen = others.StiffenPage(self._theme, self.engine)
        yield self._take("stiffen", self.stiffen)
        self.base = others.BasePage(self._theme, self.engine)
        yield self._take("base", self.base)
        self.cutting = others.CuttingPage(self._theme, self.engine)
        yield self._take("cutting", self.cutting)
        self.vibration = others.VibrationPage(self._theme, self.engine)
        yield self._take("vibration", self.vibration)
        self.guides = others.GuidesPage(self._theme)
        yield self._take("guides", self.guides)
        self.drives = others.DrivesPage(self._theme, self.engine)
        yield self._take("drives", self.drives)
        self.heat = others.HeatPage(self._theme, self.engine)
        yield self._take("heat", self.heat)
        self.form = others.FormPage(self._theme, self.engine)
        yield self._take("form", self.form)
        self.rails = others.RailsPage(self._theme)
        yield self._take("rails", self.rails)
        self.joints = others.JointsPage(self._theme)
        yield self._take("joints", self.joints)
        self.parts = others.PartsPage(self._theme)
        yield self._take("parts", self.parts)
        self.cuts = others.CutsPage(self._theme, self.buying.search)
        yield self._take("cuts", self.cuts)
        self.money = others.MoneyPage(self._theme, self.engine)
        yield self._take("money", self.money)
        self.rank = others.RankPage(self._theme)
        yield self._take("rank", self.rank)
        self.section = others.SectionPage(self._theme)
        yield self._take("section", self.section)
        self.compare = others.ComparePage(self._theme, self.engine)
        yield self._take("compare", self.compare)
        self.guide = others.GuidePage(self._theme)
        yield self._take("guide", self.guide)
        self._join_others()

    def _take(self, key: str, page: Page) -> None:
        self.pages[key] = page
        if key != self._current:
            self._behind.add(key)
            self._stale.add(key)
        page.edited.connect(self.edit)
        page.left.connect(lambda _path: self.session.seal())

    def _join(self) -> None:
        drawing = self.machine.drawing
        drawing.placed.connect(lambda x: self.results.look(x=x))
        drawing.case_chosen.connect(lambda row: self.results.look(case=row))
        drawing.bent_chosen.connect(lambda shown: self.results.look(bent=shown))
        self.session.changed.connect(self._show_project)
        self.session.refused.connect(self._refuse)
        self.session.accepted.connect(self._forgive)
        self.results.answered.connect(self._show_answer)
        self.results.studied.connect(self._show_study)
        self.results.counted.connect(self._show_counted)
        self.results.refused.connect(self._unworkable_entry)
        self.results.troubled.connect(self._troubled)
        self.results.note.connect(self._band.note)
        self.results.stoppable.connect(self._band.show_stop)
        self._band.stop_wanted.connect(self.results.stop_analysis)

    def _join_others(self) -> None:
        from app.comparing import Comparing
        from app.ranking import Ranking

        self.deflection.finding_chosen.connect(self.finding_wanted)
        self.deflection.case_chosen.connect(lambda row: self.results.look(case=row))
        self._join_buying()
        self.stiffen.change_wanted.connect(self.put_in)
        self.comparing = Comparing(self.session, self.results, self.compare, self._band, self)
        self.ranking = Ranking(self.session, self.results, self.rank, self._band, self)

    def _join_buying(self) -> None:
        parts, money, do = self.parts, self.money, self.session.do
        parts.share_wanted.connect(self.export_parts)
        parts.recorded.connect(lambda key, field, value, words: do(SetStock(key, field, value, words)))
        parts.part_wanted.connect(self.add_part)
        parts.part_removed.connect(lambda row: do(RemoveOwnPart(row)))
        parts.import_taken.connect(lambda path, value, words: self.put_in(((path, value),), words))
        parts.troubled.connect(lambda sentence: self._band.say("problem", sentence))
        self.rails.recorded.connect(lambda key, field, value, words: do(SetStock(key, field, value, words)))
        self.rails.troubled.connect(lambda sentence: self._band.say("problem", sentence))
        self.cuts.troubled.connect(lambda sentence: self._band.say("problem", sentence))
        for page in (money, self.cuts):
            page.row_added.connect(lambda path, row: do(AddRow(path, row)))
            page.row_removed.connect(lambda path, row: do(RemoveRow(path, row)))

    def add_part(self) -> None:
        """A part of the user's own, to be described at once."""
        part = new_own_part(self.session.project)
        if self.session.do(AddRow("own_parts", part)):
            self.parts.pick(part.key)

    def edit(self, path: str, value: object) -> None:
        """Set an entry of the project; keystrokes in one entry are one step."""
        self.session.do(SetEntry(path, value))

    def set_units(self, length: str | None = None, force: str | None = None) -> None:
        """Show other units; a step that can be undone."""
        for name, value in (("length", length), ("force", force)):
            if value is not None:
                self.session.seal()
                self.session.do(SetEntry(f"display.{name}", value))
                self.session.seal()

    def put_in(self, edits: tuple[tuple[str, object], ...], words: str) -> None:
        """Put a change of the stiffen page into the machine, as one step."""
        self.session.seal()
        self.session.do(SetEntries(edits, words))
        self.session.seal()

    def show_page(self, key: str) -> None:
        """The page now in view, brought up to date."""
        self._current = key
        self._show_missed_project(key)
        self.results.look(compare=key == "compare" and self.compare.wants(), advise=key == "stiffen")
        self.buying.look(key)
        self._show_missed_answer(key)
        if self.ranking is not None:
            self.ranking.look(key == "rank")

    def prepare(self) -> Iterator[None]:
        """Make and fill the pages that nobody has opened yet, in pieces for idle moments, so that opening one is quick."""
        for key, page in self.pages.items():
            while page.prepare():
                yield
            self._show_missed_project(key)
            yield
            self._show_missed_answer(key)
            yield

    def _show_missed_project(self, key: str) -> None:
        if key in self._behind:
            self._behind.discard(key)
            self.pages[key].show_project(self.session.project, self.session.project.units)
            self.pages[key].show_problems(self._problems())

    def _show_missed_answer(self, key: str) -> None:
        if key in self._stale and self.results.answer is not None:
            self._stale.discard(key)
            self._bring_up_to_date(self.pages[key], self.results.answer)
            self.pages[key].show_problems(self._problems())

    def point_at(self, finding: Finding) -> None:
        """Go to the entry of the page in view that a finding stands at, if there is one."""
        page = self.pages[self._current]
        if page is self.machine:
            with suppress(KeyError):
                self.machine.entries.form_of(finding.where)  # opens the group
                page.show_problems(self._problems())
        beside = [e for e in page.findChildren(Entry) if finding.message in (e.problem() or "")]
        entry = next((e for e in beside if e.isVisibleTo(page)), None)
        if entry is not None:
            entry.setFocus()
            show_in_view(entry)

    def with_everything(self, deed: Callable[[Answer], None]) -> None:
        """Do something with an answer that holds variants, advice and bars too, as soon as there is one."""
        answer = self.results.answer
        if (
            answer is not None
            and answer.wish.compare
            and answer.wish.advise
            and answer.study
            and not self.results.waiting
        ):
            self.buying.with_bars(answer, deed)
            return

        self._awaited = deed
        self.results.look(compare=True, advise=True)

    def _do_awaited(self, answer: Answer) -> None:
        """What `with_everything` was asked for, if this answer holds everything."""
        deed = self._awaited
        if deed is not None and answer.wish.compare and answer.wish.advise:
            self._awaited = None
            wants = self._current == "compare" and self.compare.wants()
            self.results.look(compare=wants, advise=self._current == "stiffen")
            self.buying.with_bars(answer, deed)

    def refresh_all(self) -> None:
        """Bring every page up to date at once (before exporting)."""
        current = self._current
        for key in self._stale | self._behind:
            self.show_page(key)
        self.show_page(current)

    def begin(self) -> None:
        """Show the new project that the session holds at first."""
        self._show_project()
        self.session.state_changed.emit()

    def close(self) -> None:
        """End all work in the background."""
        self.results.close()
        if self.ranking is not None:
            self.ranking.close()
        for page in self.pages.values():
            page.close_work()
        self.engine.close()

    def _show_project(self) -> None:
        project = self.session.project
        units = project.units
        self._remarks.works()
        self._behind = set(self.pages) - {self._current}  # an edit must not pay for pages out of view
        self.pages[self._current].show_project(project, units)
        self._show_problems()
        self.results.show(project)

    def _show_answer(self, answer: Answer) -> None:
        self._remarks.works()
        self._stale = set(self.pages) - {self._current}
        self.pages[self._current].show_answer(answer)
        self._show_problems()

    def _show_study(self, answer: Answer) -> None:
        if self._current not in self._stale and answer.study is not None:
            self.pages[self._current].show_study(answer, answer.study)
        self._show_problems()
        self._do_awaited(answer)

    def _show_counted(self, answer: Answer) -> None:
        self._stale |= PAGES - {self._current}
        if self._current in PAGES:
            self._bring_up_to_date(self.pages[self._current], answer)
        self._show_problems()

    @staticmethod
    def _bring_up_to_date(page: Page, answer: Answer) -> None:
        page.show_answer(answer)
        if answer.study is not None:
            page.show_study(answer, answer.study)

    def _refuse(self, path: str, sentence: str) -> None:
        self._remarks.refuse(path, sentence)
        self._show_problems()

    def _forgive(self) -> None:
        if self._remarks.forgive():
            self._show_problems()

    def _troubled(self, sentence: str) -> None:
        self._awaited = None  # it must not be done with a later answer
        self._band.say("problem", sentence)

    def _unworkable_entry(self, path: str, sentence: str) -> None:
        self._awaited = None
        self._remarks.cannot_work(path, sentence)
        self._show_problems()

    def _show_problems(self) -> None:
        self.pages[self._current].show_problems(self._problems())
        answer = self.results.answer
        if self._remarks.say(self._band, self.session.project, answer) and answer is not None:
            self.found.emit(answer.findings)

    def _problems(self) -> dict[str, str]:
        return self._remarks.by_path(self.results.answer)
