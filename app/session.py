"""The open project with its history, file and saved state. It decides nothing and computes nothing.

Every change goes through a command of `core.commands`; a refused one leaves the last good project
and tells which entry is at fault.
"""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, Signal

from core.commands import Command, History
from core.errors import BadEntry
from core.machine.project import Project
from core.storage import load_project, save_project


def sentence_of(error: BadEntry) -> str:
    """What an error says, without the entry's path, for showing beside the entry itself."""
    return f"{error.value[:1].upper()}{error.value[1:]} {error.problem}. Accepted: {error.accepted}."


class Session(QObject):
    """One open project.

    Signals:
        begun(): the work is on another project altogether; `changed` follows.
        changed(): the project is another one.
        state_changed(): undo, redo, file name or saved state may differ.
        refused(path, sentence): a change was not accepted.
        accepted(): a change was; what was refused before no longer stands.
    """

    begun = Signal()
    changed = Signal()
    state_changed = Signal()
    refused = Signal(str, str)
    accepted = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._history = History(Project(), saved=Project())
        self._path: Path | None = None

    @property
    def project(self) -> Project:
        return self._history.project

    @property
    def history(self) -> History:
        return self._history

    @property
    def path(self) -> Path | None:
        """The project's file; None before the first save."""
        return self._path

    @property
    def modified(self) -> bool:
        return self._history.changed

    @property
    def name(self) -> str:
        """What the title calls it: the file's name, else the project's."""
        return self._path.name if self._path is not None else self.project.name

    def do(self, command: Command) -> bool:
        """Carry out a command; False when it is refused."""
        try:
            history = self._history.do(command)
        except BadEntry as error:
            self.refused.emit(error.where, sentence_of(error))
            return False
        self.accepted.emit()
        self._take(history)
        return True

    def seal(self) -> None:
        """The next keystroke begins a new step."""
        self._history = self._history.seal()

    def undo(self) -> None:
        self.accepted.emit()
        self._take(self._history.undo())

    def redo(self) -> None:
        self.accepted.emit()
        self._take(self._history.redo())

    def begin(self, project: Project, path: Path | None = None) -> None:
        """Work on another project; without a path it belongs to no file yet."""
        self._path = path
        self.accepted.emit()
        self._history = History(project, saved=project)
        self.begun.emit()
        self.changed.emit()
        self.state_changed.emit()

    def resume(self, project: Project, path: Path | None) -> None:
        """Go on with work that was never saved; it counts as unsaved until it is."""
        self._path = path
        self.accepted.emit()
        self._history = History(project, saved=None)
        self.begun.emit()
        self.changed.emit()
        self.state_changed.emit()

    def open(self, path: Path) -> None:
        """Read a project file. Raises BadFile and leaves all as it is."""
        self.begin(load_project(path), path)

    def save(self, path: Path) -> None:
        """Write the project file. Raises BadFile; the project then still counts as unsaved."""
        save_project(path, self.project)
        self._path = path
        self._history = self._history.mark_saved()
        self.state_changed.emit()

    def _take(self, history: History) -> None:
        other = history.project is not self._history.project
        self._history = history
        if other:
            self.changed.emit()
        self.state_changed.emit()
