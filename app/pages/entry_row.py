"""A few entries of one struct beside each other, with their words above: for pages whose room belongs to their answers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import msgspec
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from app.look.theme import Theme
from app.widgets.entry import Entry
from app.widgets.form_nodes import FormContext, make_entry
from app.widgets.form_plan import plan_of
from app.widgets.maybe_entry import MaybeQuantityEntry
from core.units import METRIC, UnitSet, show


class EntryRow(QWidget):
    """Entries of flat fields.

    Args:
        fields: names, in order. columns: how many stand in a row. wide: names that take two columns.
        choices: words of a choice by field name.

    Signals:
        edited(field, value), left(field): as of a form.
    """

    edited = Signal(str, object)
    left = Signal(str)

    def __init__(
        self,
        theme: Theme,
        struct: type[msgspec.Struct],
        fields: Sequence[str],
        columns: int = 4,
        wide: frozenset[str] = frozenset(),
        choices: Mapping[str, Sequence[tuple[Any, str]]] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._units: UnitSet = METRIC
        self.entries: dict[str, Entry] = {}
        self._quantities: dict[str, str] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(2)
        context = FormContext(theme, self.edited.emit, self.left.emit, choices=choices or {})
        plans = {plan.name: plan for plan in plan_of(struct)}
        at = 0
        for name in fields:
            plan = plans[name]
            span = 2 if name in wide else 1
            if at % columns + span > columns:
                at += columns - at % columns
            entry: Entry
            if plan.kind == "quantity" and plan.optional:
                entry = MaybeQuantityEntry(theme, plan.quantity, plan.label, plan.help, plan.low, plan.high)
                self._quantities[name] = plan.quantity
            else:
                entry = make_entry(context, name, plan)
            entry.setObjectName(name)
            entry.edited.connect(lambda value, name=name: self.edited.emit(name, value))
            entry.left.connect(lambda name=name: self.left.emit(name))
            label = QLabel(plan.label, self)
            label.setWordWrap(True)
            label.setToolTip(plan.help)
            label.setBuddy(entry)
            row, column = 2 * (at // columns), at % columns
            grid.addWidget(label, row, column, 1, span, Qt.AlignmentFlag.AlignBottom)
            grid.addWidget(entry, row + 1, column, 1, span, Qt.AlignmentFlag.AlignTop)
            self.entries[name] = entry
            at += span
        for column in range(columns):
            grid.setColumnStretch(column, 1)

    def show_values(
        self, value: Any, units: UnitSet, derived: Mapping[str, float | None] | None = None
    ) -> None:
        """Show a struct; `derived` holds what stands in for fields that are left empty, in SI."""
        for name, entry in self.entries.items():
            if units != self._units:
                entry.set_units(units)
            entry.set_value(getattr(value, name))
            if isinstance(entry, MaybeQuantityEntry):
                stand_in = (derived or {}).get(name)
                words = "automatic" if stand_in is None else show(stand_in, self._quantities[name], units)
                entry.hint(words)
        self._units = units

    def show_problems(self, problems: Mapping[str, str]) -> None:
        """Mark these entries and no others."""
        for name, entry in self.entries.items():
            entry.set_problem(problems.get(name))
