"""Entries that may be left empty: nothing typed means None, and a quiet word tells what stands in for it."""

from __future__ import annotations

from typing import Any

from app.widgets.quantity_entry import CountEntry, QuantityEntry


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
