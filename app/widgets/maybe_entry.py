"""Entries that may be left empty: nothing typed means None, and a quiet word tells what stands in for it."""

from __future__ import annotations

from typing import Any

from app.widgets.entry import TypedEntry
from app.widgets.quantity_entry import CountEntry, QuantityEntry
from core.errors import BadEntry
from core.machine.ordering import check_date


class MaybeQuantityEntry(QuantityEntry):
    """A figure or nothing."""

    def _read(self, text: str) -> Any:
        return super()._read(text) if text.strip() else None

    def hint(self, words: str) -> None:
        """What is used while nothing is typed."""
        self._line.setPlaceholderText(words)


class MaybeCountEntry(CountEntry):
    """A whole number or nothing."""

    def _read(self, text: str) -> Any:
        return super()._read(text) if text.strip() else None

    def hint(self, words: str) -> None:
        """What is used while nothing is typed."""
        self._line.setPlaceholderText(words)


class DayEntry(TypedEntry):
    """A day of the calendar as 2026-03-14, or nothing."""

    def _read(self, text: str) -> str:
        bare = text.strip()
        try:
            check_date("day", bare)
        except BadEntry as error:
            raise ValueError(f"{error.value} {error.problem}. Accepted: {error.accepted}.") from None
        return bare

    def _write(self, value: Any) -> str:
        return str(value)
