"""What every page of the window has in common, so that the desk treats all alike."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QLabel, QSplitter, QVBoxLayout, QWidget

from app.look.theme import Theme

if TYPE_CHECKING:
    from app.answers import Answer
    from core.machine.project import Project
    from core.study import Study
    from core.units import UnitSet


class Page(QWidget):
    """A page; it shows what it is handed and keeps nothing else.

    Signals:
        edited(path, value): the user changed an entry of the project.
        left(path): the user is done with that entry.
    """

    edited = Signal(str, object)
    left = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._making: Iterator[None] | None = None

    def make_entries(self) -> Iterator[None]:
        """Make what only a page in view needs, in pieces that each take less than 40 ms."""
        yield from ()

    def prepare(self) -> bool:
        """Make the next of these pieces; False when nothing is left to make."""
        if self._making is None:
            self._making = self.make_entries()
        return next(self._making, self) is not self

    def showEvent(self, event: QShowEvent) -> None:
        """What the window has not prepared in its idle moments is made at once."""
        while self.prepare():
            pass
        super().showEvent(event)

    def show_project(self, project: Project, units: UnitSet) -> None:
        """The description as it stands; called at every edit, so it must be quick."""

    def show_answer(self, answer: Answer) -> None:
        """The newest answers with likely figures; they may lag behind the description by a moment."""

    def show_study(self, answer: Answer, study: Study) -> None:
        """What comes a moment after the same answer: bands, variants, and the study."""

    def show_problems(self, problems: dict[str, str]) -> None:
        """Sentences by dotted path."""

    def close_work(self) -> None:
        """End what the page does in the background; the window is about to go."""


def heading(words: str) -> QLabel:
    """A heading within a page."""
    label = QLabel(words)
    label.setProperty("heading", "true")
    return label


def quiet(words: str = "") -> QLabel:
    """A line of less weight, wrapping."""
    label = QLabel(words)
    label.setProperty("tone", "quiet")
    label.setWordWrap(True)
    return label


def two_columns(
    page: QWidget, left: QWidget, right: QWidget, widths: tuple[int, int], grow: tuple[int, int] = (0, 1)
) -> None:
    """Fill a page with two columns and a handle between them.

    Args:
        widths: in pixels at first. grow: how the columns share what a larger window gives.
    """
    across = QSplitter(page)
    for column, share in zip((left, right), grow, strict=True):
        across.addWidget(column)
        across.setStretchFactor(across.count() - 1, share)
    across.setSizes(list(widths))
    across.setChildrenCollapsible(False)
    whole = QVBoxLayout(page)
    whole.setContentsMargins(0, 0, 0, 0)
    whole.addWidget(across)
