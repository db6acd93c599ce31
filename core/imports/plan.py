"""What an import would do, row by row, before anything is done; and what is left of it when the user has chosen."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import Any, Literal

Status = Literal["new", "change", "same", "unknown", "duplicate", "bad"]
WORDS: dict[Status, str] = {
    "new": "new",
    "change": "would change what is there",
    "same": "is there already",
    "unknown": "fits nothing in this project",
    "duplicate": "stands twice in the file",
    "bad": "cannot be read",
}


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the file.

    Attributes:
        number: its number in the file, from 1.
        status: see `WORDS`. what: the thing it is about. before, after: in words, what is there and what would be.
        reason: why it cannot be taken, or what to look at; empty when plain.
        value: what would be put in; None when it cannot be taken.
    """

    number: int
    status: Status
    what: str
    before: str = ""
    after: str = ""
    reason: str = ""
    value: Any = None

    @property
    def takeable(self) -> bool:
        """Whether the user may take it."""
        return self.value is not None and self.status in ("new", "change", "unknown")


@dataclass(frozen=True, slots=True)
class ImportPlan:
    """The whole import.

    Attributes:
        path: the list of the project that it goes into. file: name of the file. rows: every row of it.
        put: makes the new list out of the rows taken. left_out: names of columns that nothing was read from.
    """

    path: str
    file: str
    rows: tuple[Row, ...]
    put: Callable[[tuple[Row, ...]], tuple[Any, ...]]
    left_out: tuple[str, ...] = ()

    def count(self, status: Status) -> int:
        """How many rows have this status."""
        return sum(row.status == status for row in self.rows)

    def plain(self) -> frozenset[int]:
        """Numbers of the rows that overwrite nothing: taken unless the user says otherwise."""
        return frozenset(row.number for row in self.rows if row.status == "new" and row.takeable)

    def changes(self) -> frozenset[int]:
        """Numbers of the rows that would overwrite something: taken only when the user says so."""
        return frozenset(row.number for row in self.rows if row.status == "change")


def take(plan: ImportPlan, numbers: Collection[int]) -> tuple[str, tuple[Any, ...]]:
    """(path, value) of the one entry to set so that the rows with these numbers are taken, and no others."""
    return plan.path, plan.put(tuple(row for row in plan.rows if row.number in numbers and row.takeable))


def report_lines(plan: ImportPlan, taken: Collection[int]) -> list[str]:
    """What was or would be done, in sentences: counts first, then every row that is not simply taken."""
    statuses: tuple[Status, ...] = ("new", "change", "same", "unknown", "duplicate", "bad")
    counted = ", ".join(f"{plan.count(s)} {WORDS[s]}" for s in statuses if plan.count(s))
    done = sum(row.number in taken and row.takeable for row in plan.rows)
    lines = [f"{plan.file}: {len(plan.rows)} rows; {counted}. Taken: {done}."]
    if plan.left_out:
        lines.append(f"Columns that nothing was read from: {', '.join(plan.left_out)}.")
    for row in plan.rows:
        if row.status == "same" or (row.status == "new" and row.number in taken):
            continue
        change = f" {row.before} -> {row.after}." if row.before or row.after else ""
        kept = " Taken." if row.number in taken and row.takeable else " Left."
        reason = f" {row.reason}" if row.reason else ""
        lines.append(f"Row {row.number}, {row.what or 'nothing'}: {WORDS[row.status]}.{change}{reason}{kept}")
    return lines
