"""Entries for figures: a quantity with any unit, and a whole number.

Reading and showing are `core.units`' work; this file only joins them to a line of text and the range of the
entry.
"""

from __future__ import annotations

import math
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from app.look.theme import Theme
from app.widgets.entry import TypedEntry
from core.units import METRIC, UnitSet, parse, show


class QuantityEntry(TypedEntry):
    """A physical quantity typed in any unit, kept in SI, shown in the user's units.

    Args:
        quantity: a name of `core.units` ("length").
        low, high: allowed range in SI, ends included; None leaves that side open.
        units: the units to show, and those of a bare number.
        decimal: "." or "," to settle ambiguous separators; None refuses them with a sentence.
    """

    def __init__(
        self,
        theme: Theme,
        quantity: str,
        label: str = "",
        help_text: str = "",
        low: float | None = None,
        high: float | None = None,
        units: UnitSet = METRIC,
        decimal: str | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(theme, label, help_text, parent)
        self._quantity = quantity
        self._low = -math.inf if low is None else low
        self._high = math.inf if high is None else high
        self._units = units
        self._decimal = decimal

    def set_units(self, units: UnitSet) -> None:
        self._units = units
        if self._own_problem is None:
            self._show_value()

    def _write(self, value: Any) -> str:
        return show(value, self._quantity, self._units)

    def _read(self, text: str) -> float:
        value = float(parse(text, self._quantity, self._units, self._decimal))
        if not math.isfinite(value):
            raise ValueError(f"{text.strip()} is not a finite figure. Accepted: {self.accepted()}.")
        if not self._low <= value <= self._high:
            side = "too small" if value < self._low else "too large"
            raise ValueError(f"{self._write(value)} is {side}. Accepted: {self.accepted()}.")
        return value

    def accepted(self) -> str:
        """The allowed range in the user's units, as a clause."""
        if math.isinf(self._low) and math.isinf(self._high):
            return "any finite figure"
        if math.isinf(self._high):
            return f"{self._write(self._low)} or more"
        if math.isinf(self._low):
            return f"{self._write(self._high)} or less"
        return f"{self._write(self._low)} to {self._write(self._high)}"


class CountEntry(TypedEntry):
    """A whole number from `low` to `high`; the up and down keys step it."""

    def __init__(
        self,
        theme: Theme,
        label: str = "",
        help_text: str = "",
        low: float | None = 0,
        high: float | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(theme, label, help_text, parent)
        self._low = -math.inf if low is None else low
        self._high = math.inf if high is None else high

    def _write(self, value: Any) -> str:
        return str(value)

    def _read(self, text: str) -> int:
        try:
            value = int(text.strip())
        except ValueError:
            given = text.strip() or "An empty entry"
            raise ValueError(f"{given} is not a whole number. Accepted: {self._accepted()}.") from None
        if not self._low <= value <= self._high:
            side = "too few" if value < self._low else "too many"
            raise ValueError(f"{value} is {side}. Accepted: {self._accepted()}.")
        return value

    def _accepted(self) -> str:
        low = "" if math.isinf(self._low) else f" from {self._low:.0f}"
        high = "" if math.isinf(self._high) else f" up to {self._high:.0f}"
        return f"a whole number{low}{high}"

    def _key(self, event: QKeyEvent) -> bool:
        step = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1}.get(event.key())
        if step is None or self._value is None:
            return super()._key(event)
        value = self._value + step
        if self._low <= value <= self._high:
            self._value = value
            self._show_value()
            self.edited.emit(value)
        return True
