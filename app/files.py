"""Opening and saving with their questions to the user: which file, and whether changes may be lost."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from app import paths
from app.recent import Memory
from app.session import Session
from core.machine.project import Project
from core.storage import BadFile, load_project

KINDS = "Gantrywright projects (*.json);;All files (*)"


def message(parent: QWidget, words: str, more: str = "") -> QMessageBox:
    """A plain box of our own look, the same on every system."""
    box = QMessageBox(parent)
    box.setOption(QMessageBox.Option.DontUseNativeDialog)
    box.setWindowTitle("Gantrywright")
    box.setText(words)
    box.setInformativeText(more)
    return box


class Files(QObject):
    """What the file menu does.

    Signals:
        told(sentence): something for the status line.
    """

    told = Signal(str)

    def __init__(self, window: QWidget, session: Session, memory: Memory) -> None:
        super().__init__(window)
        self._window = window
        self._session = session
        self._memory = memory

    def may_lose_changes(self) -> bool:
        """True when there is nothing to lose, it was saved now, or the user gives it up."""
        if not self._session.modified:
            return True
        box = message(self._window, f"{self._session.name} has changes that are not saved.", "Save them?")
        box.setIcon(QMessageBox.Icon.Question)
        buttons = QMessageBox.StandardButton
        box.setStandardButtons(buttons.Save | buttons.Discard | buttons.Cancel)
        box.setDefaultButton(buttons.Save)
        answer = buttons(box.exec())
        box.deleteLater()
        if answer == buttons.Save:
            return self.save()
        return answer == buttons.Discard

    def new(self) -> None:
        if self.may_lose_changes():
            self._session.begin(Project())

    def ask_open(self) -> None:
        name, _ = QFileDialog.getOpenFileName(self._window, "Open a project", self._folder(), KINDS)
        if name:
            self.open(Path(name))

    def open(self, path: Path) -> bool:
        """Open a file after asking about changes; False when it could not be."""
        if not self.may_lose_changes():
            return False
        return self._carefully(lambda: self._opened(path))

    def open_demo(self, path: Path) -> bool:
        """Open a demo as a project without a file, so that saving never writes over it."""
        if not self.may_lose_changes():
            return False
        return self._carefully(lambda: self._session.begin(load_project(path)))

    def save(self) -> bool:
        """Save into the project's file, asking for one when it has none; False when not saved."""
        path = self._session.path
        return self.save_as() if path is None else self._carefully(lambda: self._saved(path))

    def save_as(self) -> bool:
        suggestion = Path(self._folder()) / (self._session.name.removesuffix(".json") + ".json")
        name, _ = QFileDialog.getSaveFileName(self._window, "Save the project", str(suggestion), KINDS)
        if not name:
            return False
        path = Path(name)
        path = path if path.suffix else path.with_suffix(".json")
        return self._carefully(lambda: self._saved(path))

    @staticmethod
    def demos() -> list[Path]:
        """The demo projects that come with the program."""
        try:
            return paths.demo_projects()
        except FileNotFoundError:
            return []

    def _opened(self, path: Path) -> None:
        self._session.open(path)
        self._memory.remember(path)

    def _saved(self, path: Path) -> None:
        self._session.save(path)
        self._memory.remember(path)
        self.told.emit(f"Saved {path.name}.")

    def _folder(self) -> str:
        path = self._session.path
        return str(path.parent if path is not None else Path.home())

    def _carefully(self, deed: Callable[[], None]) -> bool:
        try:
            deed()
        except BadFile as error:
            box = message(self._window, "That did not work.", str(error))
            box.setIcon(QMessageBox.Icon.Warning)
            box.exec()
            box.deleteLater()
            return False
        return True
