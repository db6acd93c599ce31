"""An entry for a figure known only within limits: lowest, likely and highest, three in a row."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from app.look.theme import Theme
from app.widgets.entry import Entry
from app.widgets.quantity_entry import QuantityEntry
from core.units import METRIC, UnitSet

PARTS = ("low", "likely", "high")


class BandEntry(Entry):
    """Three quantities in rising order; the value is what `make(low=, likely=, high=)` returns.

    A wrong order is marked and not emitted, so the last good band stays in use.

    Signals:
        part_edited(part, value): which of "low", "likely", "high" the user changed, with its value in SI.
    """

    part_edited = Signal(str, float)

    def __init__(
        self,
        theme: Theme,
        quantity: str,
        make: Callable[..., Any],
        label: str = "",
        help_text: str = "",
        low: float | None = None,
        high: float | None = None,
        units: UnitSet = METRIC,
        decimal: str | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(theme, label, help_text, parent)
        self._make = make
        self._value: Any = None
        self._rule: str | None = None
        self._parts = {
            part: QuantityEntry(
                theme, quantity, f"{label}, {part}", help_text, low, high, units, decimal, self
            )
            for part in PARTS
        }
        for part, entry in self._parts.items():
            entry.setToolTip(f"{part.capitalize()}: {help_text}" if help_text else part.capitalize())
            entry.setObjectName(part)
            entry.edited.connect(self._part_changed)
            entry.left.connect(self.left)
            entry.set_compact()
            entry.problem_changed.connect(self._gather_problems)
            self._row.insertWidget(self._row.count() - 1, entry, 1)
        self.setFocusProxy(self._parts["low"])

    def part(self, name: str) -> QuantityEntry:
        """The entry of one part: "low", "likely" or "high"."""
        return self._parts[name]

    def value(self) -> Any:
        return self._value

    def set_value(self, value: Any) -> None:
        """Show a band: anything with low, likely and high; None empties it."""
        self._value = value
        for name, entry in self._parts.items():
            entry.set_value(None if value is None else getattr(value, name))
        self._rule = None
        self._gather_problems()

    def set_units(self, units: UnitSet) -> None:
        for entry in self._parts.values():
            entry.set_units(units)

    def _part_changed(self, _figure: float) -> None:
        part = self.sender().objectName()
        figures = {name: entry.value() for name, entry in self._parts.items()}
        self._rule = self._order_problem(figures)
        if self._rule is None:
            try:
                value = self._make(**figures)
            except ValueError as error:
                self._rule = str(error)
            else:
                if value != self._value:
                    self._value = value
                    self.part_edited.emit(part, figures[part])
                    self.edited.emit(value)
        self._gather_problems()

    @staticmethod
    def _order_problem(figures: dict[str, float | None]) -> str | None:
        low, likely, high = (figures[part] for part in PARTS)
        if low is None or likely is None or high is None:
            return "A figure is missing. Accepted: all three, lowest, likely and highest."
        if not low <= likely <= high:
            return "The three are out of order. Accepted: lowest, likely, highest, rising or equal."
        return None

    def _gather_problems(self) -> None:
        """Show the first problem among the three parts, else that of the three together."""
        parts = [entry.problem() for entry in self._parts.values()]
        self._set_own_problem(next((text for text in parts if text), self._rule))
