"""Joins the page of variants with the project's history and its answers: what its buttons and entries do."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from app.pages.compare_page import ComparePage
from app.results import Results
from app.session import Session
from app.shell import VerdictBand
from core.commands import (
    AddBeam,
    AddRow,
    Command,
    CopyVariant,
    DropChange,
    MoveRow,
    RemoveRow,
    SetEntries,
    SetInVariant,
    TakeWhatDiffers,
    UseVariant,
)
from core.comparison import By, fair_pair
from core.errors import GantrywrightError
from core.machine.project import Project
from core.machine.variants import Variant, free_name


class Comparing(QObject):
    """Every deed is a command of its own, so that each can be undone.

    Signals:
        export_wanted(): the figures as a CSV file. file_wanted(): another project file; see `take_what_differs`.
    """

    export_wanted = Signal()
    file_wanted = Signal()

    def __init__(
        self, session: Session, results: Results, page: ComparePage, band: VerdictBand, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._session, self._results, self._page, self._band = session, results, page, band
        do = session.do
        page.beam_added.connect(lambda entry: self._add(AddBeam(entry.section, entry.label)))
        page.added.connect(self.add_variant)
        page.builds_wanted.connect(self.add_builds)
        page.file_wanted.connect(self.file_wanted)
        page.saved_wanted.connect(self.add_as_saved)
        page.copied.connect(lambda row: do(CopyVariant(row)) and page.pick(row + 1))
        page.used.connect(lambda row: do(UseVariant(row)))
        page.removed.connect(lambda row: do(RemoveRow("variants", row)))
        page.moved.connect(lambda row, to: do(MoveRow("variants", row, to)) and page.pick(to))
        page.changed.connect(lambda row, path, value: do(SetInVariant(row, path, value)))
        page.dropped.connect(lambda row, path: do(DropChange(row, path)))
        page.compare_wanted.connect(lambda yes: results.look(compare=yes))
        page.export_wanted.connect(self.export_wanted)
        results.progressed.connect(page.waiting.show_progress)

    def add_variant(self) -> None:
        """Compare with a variant that lists nothing yet."""
        name = free_name("Variant", self._session.project.variants)
        self._add(AddRow("variants", Variant(name=name)))

    def add_builds(self, by: By) -> None:
        """Compare an extruded with a welded beam, with this held equal."""
        answer, project = self._results.answer, self._session.project
        if answer is None or answer.project.machine != project.machine:
            self._band.say("wait", "The machine is still being worked out; try again in a moment.")
            return
        try:
            pair = fair_pair(project, answer.plan.layout, by)
        except GantrywrightError as error:
            self._band.say("problem", str(error))
            return
        words = f"Compare extruded with welded, near equal {by}"
        if self._add(SetEntries((("variants", (*project.variants, *pair)),), words)):
            self._page.compare_with(
                len(project.variants)
            )  # the one with the other, not each with the machine

    def add_as_saved(self) -> None:
        """Compare with the project as it was last saved."""
        saved = self._session.history.saved
        if saved is None:
            self._band.say("problem", "This project was never saved, so there is nothing to compare with.")
            return
        self.take_what_differs(saved, "As saved")

    def take_what_differs(self, other: Project, name: str) -> None:
        """Compare with another project: a variant that lists what it has otherwise."""
        self._add(TakeWhatDiffers(other, name))

    def _add(self, command: Command) -> bool:
        done = self._session.do(command)
        if done:
            self._page.pick(len(self._session.project.variants) - 1)
        return done
