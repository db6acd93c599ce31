"""An entry for a largest figure that may be left empty: then there is no such limit."""

from __future__ import annotations

from typing import Any

from app.widgets.quantity_entry import QuantityEntry

ANY = "any"


class MostEntry(QuantityEntry):
    """A quantity above zero in any unit, or nothing; its value is None while it is empty."""

    def __init__(self, *arguments: Any, **named: Any) -> None:
        super().__init__(*arguments, low=0.0, **named)
        self._line.setPlaceholderText(ANY)
        self.set_compact()

    def _read(self, text: str) -> Any:
        return super()._read(text) if text.strip() else None
