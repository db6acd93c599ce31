"""Entries for choices, words and yes or no, with the same ways as the entries for figures."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QComboBox, QWidget

from app.look.theme import Theme
from app.widgets.entry import Entry, TypedEntry
from app.widgets.tick import Tick


class TextEntry(TypedEntry):
    """A line of words, at most `longest` letters."""

    def __init__(
        self,
        theme: Theme,
        label: str = "",
        help_text: str = "",
        longest: int = 200,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(theme, label, help_text, parent)
        self._longest = longest

    def _read(self, text: str) -> str:
        if len(text) > self._longest:
            raise ValueError(f"{len(text)} letters are too many. Accepted: up to {self._longest}.")
        return text

    def _write(self, value: Any) -> str:
        return str(value)


class SwitchEntry(Entry):
    """Yes or no, as a box to tick; the label may stand beside the box."""

    def __init__(
        self, theme: Theme, label: str = "", help_text: str = "", parent: QWidget | None = None
    ) -> None:
        super().__init__(theme, label, help_text, parent)
        self._box = Tick(theme, "", self)
        self._box.clicked.connect(self._clicked)
        self._add_editor(self._box)

    def value(self) -> bool:
        return self._box.isChecked()

    def set_value(self, value: Any) -> None:
        self._box.setChecked(bool(value))

    def _clicked(self, checked: bool) -> None:
        self.edited.emit(bool(checked))
        self.left.emit()


class ChoiceEntry(Entry):
    """One of several: `choices` are (value, words) pairs. A value that is not among them is shown and
    marked.
    """

    def __init__(
        self,
        theme: Theme,
        choices: Sequence[tuple[Any, str]],
        label: str = "",
        help_text: str = "",
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(theme, label, help_text, parent)
        self._box = QComboBox(self)
        self._box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self._box.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._box.installEventFilter(self)
        self._values: list[Any] = []
        self._value: Any = None
        self._box.activated.connect(self._activated)
        self._add_editor(self._box)
        self.set_choices(choices)

    def set_choices(self, choices: Sequence[tuple[Any, str]]) -> None:
        """Offer other choices, keeping the value."""
        self._values = [value for value, _ in choices]
        self._box.clear()
        self._box.addItems([words for _, words in choices])
        for row, (_, words) in enumerate(choices):
            self._box.setItemData(row, words, Qt.ItemDataRole.ToolTipRole)
        self.set_value(self._value)

    def value(self) -> Any:
        return self._value

    def set_value(self, value: Any) -> None:
        self._value = value
        known = value in self._values
        self._box.setCurrentIndex(self._values.index(value) if known else -1)
        missing = value is not None and not known
        self._set_own_problem(
            f"{value} is not among the choices. Accepted: one from the list." if missing else None
        )

    def _activated(self, row: int) -> None:
        value = self._values[row]
        if value != self._value:
            self._value = value
            self._set_own_problem(None)
            self.edited.emit(value)
        self.left.emit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A wheel over a closed list scrolls the page and never changes the machine."""
        if watched is self._box and event.type() == QEvent.Type.Wheel and not self._box.hasFocus():
            event.ignore()
            return True
        return super().eventFilter(watched, event)
