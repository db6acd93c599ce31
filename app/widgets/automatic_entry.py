"""An entry that may be left to the program: ticked "automatic" it shows the derived value, unticked it takes
one.
"""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QWidget

from app.look.theme import Theme
from app.widgets.entry import Entry
from app.widgets.tick import Tick


class AutomaticEntry(Entry):
    """Wraps another entry; its value is None while automatic.

    Unticking takes over the derived value as the user's own, so nothing jumps; without one it waits for the
    user's.
    """

    def __init__(self, theme: Theme, inner: Entry, parent: QWidget | None = None) -> None:
        super().__init__(theme, inner.accessibleName(), inner.help_text(), parent)
        self._inner = inner
        self._automatic = True
        self._awaiting = False
        self._derived: Any = None
        inner.set_compact()
        inner.problem_changed.connect(self._gather_problem)
        inner.edited.connect(self._inner_edited)
        inner.left.connect(self.left)
        self._box = Tick(theme, "automatic", self)
        self._box.setToolTip("Ticked: follows from the other entries. Unticked: your own figure.")
        self._box.clicked.connect(self._clicked)
        self._add_editor(inner)
        self._row.insertWidget(self._row.count() - 1, self._box)
        self._refresh()

    def inner(self) -> Entry:
        """The entry inside."""
        return self._inner

    def value(self) -> Any:
        return None if self._automatic else self._inner.value()

    def set_value(self, value: Any) -> None:
        self._awaiting = self._awaiting and value is None
        self._automatic = value is None and not self._awaiting
        if value is not None:
            self._inner.set_value(value)
        self._refresh()

    def set_derived(self, value: Any) -> None:
        """What the program derives (SI), shown while automatic; None when it cannot."""
        self._derived = value
        self._refresh()

    def set_units(self, units: Any) -> None:
        self._inner.set_units(units)

    def _refresh(self) -> None:
        self._box.setChecked(self._automatic)
        self._inner.setEnabled(not self._automatic)
        if self._automatic:
            self._inner.set_value(self._derived)

    def _clicked(self, automatic: bool) -> None:
        self._automatic = bool(automatic)
        self._refresh()
        if self._automatic:
            self.edited.emit(None)
        elif self._inner.value() is not None:
            self.edited.emit(self._inner.value())
        self._awaiting = not self._automatic and self._inner.value() is None
        self.left.emit()

    def _inner_edited(self, value: Any) -> None:
        if not self._automatic:
            self.edited.emit(value)

    def _gather_problem(self) -> None:
        self._set_own_problem(self._inner.problem())
