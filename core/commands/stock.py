"""Commands about buying: what is recorded of one part, and parts of the user's own with their records."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import msgspec

from core.commands.commands import SetEntries, SetEntry
from core.errors import BadEntry
from core.fields import specs
from core.machine.ordering import OwnPart, StockRow
from core.machine.project import Project


@dataclass(frozen=True, slots=True)
class SetStock:
    """Records one figure of a part; the first one makes the record, the last one taken back ends it.

    `words` is what the history calls the part.
    """

    part: str
    field: str
    value: object
    words: str = ""

    @property
    def merge_key(self) -> str | None:
        return f"stock {self.part} {self.field}"

    def apply(self, project: Project) -> Project:
        rows = list(project.stock)
        at = next((k for k, row in enumerate(rows) if row.part == self.part), len(rows))
        old = rows[at] if at < len(rows) else StockRow(part=self.part)
        if self.field not in StockRow.__struct_fields__ or self.field == "part":
            raise BadEntry(
                f"stock.{at}.{self.field}",
                "this entry",
                "does not exist",
                ", ".join(StockRow.__struct_fields__),
            )
        try:
            changes: dict[str, Any] = {self.field: self.value}
            new = msgspec.structs.replace(old, **changes)
            new.__post_init__()
        except BadEntry as error:
            raise BadEntry(f"stock.{at}.{error.where}", error.value, error.problem, error.accepted) from error
        rows[at : at + 1] = [] if new.empty else [new]
        return SetEntry("stock", tuple(rows)).apply(project)

    def label(self, project: Project) -> str:
        words = specs(StockRow)[self.field].label if self.field in specs(StockRow) else self.field
        return f"Change {words[:1].lower()}{words[1:]} of {self.words or self.part.replace('_', ' ')}"


@dataclass(frozen=True, slots=True)
class RemoveOwnPart:
    """Takes out a part of the user's own, with what was recorded of it."""

    index: int

    @property
    def merge_key(self) -> str | None:
        return None

    def apply(self, project: Project) -> Project:
        own = project.own_parts
        if not 0 <= self.index < len(own):
            raise BadEntry(
                "own_parts", f"row {self.index}", "does not exist", f"a row from 0 to {len(own) - 1}"
            )
        gone = own[self.index].key
        rest = own[: self.index] + own[self.index + 1 :]
        stock = tuple(row for row in project.stock if row.part != gone)
        return SetEntries((("own_parts", rest), ("stock", stock)), self.label(project)).apply(project)

    def label(self, project: Project) -> str:
        own = project.own_parts
        return f"Remove part {own[self.index].name}" if 0 <= self.index < len(own) else "Remove part"


def new_own_part(project: Project, name: str = "Part") -> OwnPart:
    """A part of the user's own with a key that nothing in the project has, not even a record of a part gone."""
    taken = {part.key for part in project.own_parts} | {row.part for row in project.stock}
    number = 1
    while f"own_{number}" in taken:
        number += 1
    return OwnPart(key=f"own_{number}", name=name)
