"""A form made from a described type: every field gets the entry that its type and `Spec` ask for.

The form holds no state of its own: it tells of edits by dotted path and shows whatever struct it is handed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import msgspec
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.look.theme import Theme
from app.widgets.entry import Entry
from app.widgets.form_nodes import Choices, FormContext, StructNode
from app.widgets.form_plan import fresh
from app.widgets.remark import in_view, is_grave, joined
from core.units import METRIC, UnitSet


class Form(QWidget):
    """Entries for one struct type.

    Args:
        struct: the msgspec Struct type.
        units: the units to show, and of bare numbers.
        decimal: see `QuantityEntry`.
        choices: values and words of text fields that take one of a list, by path or bare field name.
        words: words for kinds in selectors, by struct type.
        skip: paths or bare field names without an entry.
        make: gives the struct to begin with when a kind is picked or a row added: (type, old value).

    Signals:
        edited(path, value): the user changed the field at a dotted path ("beam.length", "cases.0.force_x") to
            a good value.
        left(path): the user is done with that entry for now.
    """

    edited = Signal(str, object)
    left = Signal(str)

    def __init__(
        self,
        theme: Theme,
        struct: type[msgspec.Struct],
        units: UnitSet = METRIC,
        *,
        decimal: str | None = None,
        choices: Mapping[str, Choices] | None = None,
        words: Mapping[type, str] | None = None,
        skip: frozenset[str] = frozenset(),
        make: Callable[[type, Any], Any] = fresh,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._context = FormContext(
            theme, self._tell, self._tell_left, units, decimal, choices or {}, words or {}, skip, make
        )
        self._problems: dict[str, str] = {}
        self._other = QLabel(self)
        self._other.setWordWrap(True)
        self._other.setTextFormat(Qt.TextFormat.PlainText)
        self._other.setProperty("tone", "problem")
        self._other.hide()
        self._rows = StructNode(self._context, "", struct)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._other)
        column.addWidget(self._rows)
        column.addStretch(1)

    def show_values(self, value: Any, derived: Mapping[str, Any] | None = None) -> None:
        """Show a struct without telling of it, leaving alone an entry whose text already means its value.

        Args:
            value: an instance of the form's struct.
            derived: values in SI of fields that are None (automatic), by path.
        """
        self._rows.show_value(value, derived or {})
        self._spread_problems()

    def show_problems(self, problems: Mapping[str, str]) -> None:
        """Mark these entries and no others; a path without an entry goes to the nearest one above, or to the
        top.
        """
        self._problems = dict(problems)
        self._spread_problems()

    def set_units(self, units: UnitSet) -> None:
        """Show every figure in other units."""
        self._context.units = units
        for _, entry in self._rows.leaves():
            entry.set_units(units)

    def entry(self, path: str) -> Entry:
        """The entry at a path; KeyError when there is none."""
        return dict(self._rows.leaves())[path]

    def paths(self) -> list[str]:
        """The paths of all entries in order."""
        return [path for path, _ in self._rows.leaves()]

    def _tell(self, path: str, value: Any) -> None:
        self.edited.emit(path, value)

    def _tell_left(self, path: str) -> None:
        self.left.emit(path)

    def _spread_problems(self) -> None:
        leaves = dict(self._rows.leaves())
        found: dict[str, list[str]] = {}
        for path, text in self._problems.items():
            place = path
            while place and place not in leaves:
                place = place.rpartition(".")[0]
            found.setdefault(place, []).append(text)
        for path, entry in leaves.items():
            entry.set_problem(joined(found.get(path, [])) or None)
        rest = joined(found.get("", []))
        self._other.setText(in_view(rest))
        self._other.setToolTip(rest)
        self._other.setProperty("tone", "problem" if is_grave(rest) else "warn")
        self._other.style().polish(self._other)
        self._other.setVisible(bool(rest))
