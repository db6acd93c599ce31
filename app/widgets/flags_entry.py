"""An entry for any number out of a list: a box to tick for each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtWidgets import QGridLayout, QWidget

from app.look.theme import Theme
from app.widgets.entry import Entry
from app.widgets.tick import Tick

_COLUMNS = 2


class FlagsEntry(Entry):
    """The ticked ones as a tuple, in the order of `choices`, which are (value, words) pairs."""

    def __init__(
        self,
        theme: Theme,
        choices: Sequence[tuple[Any, str]],
        label: str = "",
        help_text: str = "",
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(theme, label, help_text, parent)
        self._ticks: list[tuple[Any, Tick]] = []
        box = QWidget(self)
        grid = QGridLayout(box)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(2)
        for number, (value, words) in enumerate(choices):
            tick = Tick(theme, words, box)
            tick.clicked.connect(self._clicked)
            grid.addWidget(tick, number // _COLUMNS, number % _COLUMNS)
            self._ticks.append((value, tick))
        self._add_editor(box)

    def value(self) -> tuple[Any, ...]:
        return tuple(value for value, tick in self._ticks if tick.isChecked())

    def set_value(self, value: Any) -> None:
        for each, tick in self._ticks:
            tick.setChecked(each in (value or ()))

    def _clicked(self) -> None:
        self.edited.emit(self.value())
        self.left.emit()
