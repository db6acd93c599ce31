"""A list of what is on hand, ordered, arrived or fitted, read against the parts list; an empty cell leaves things be."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import msgspec

from core.errors import BadEntry
from core.imports.columns import STOCK_NAMES, find_columns
from core.imports.figures import BadCell, other_money, read_count, read_day, read_money
from core.imports.plan import ImportPlan, Row
from core.imports.sheets import BadTable, Sheet
from core.machine.ordering import StockRow
from core.machine.project import Project
from core.parts import PartLine
from core.prices.match import plain

COUNTS = ("on_hand", "ordered", "arrived", "fitted")
TEXTS = ("note", "link")
TOTALS = frozenset({"all", "total", "sum"})
LONGEST = 500


def plan_stock(
    sheet: Sheet, project: Project, parts: Iterable[PartLine], beside: Mapping[str, int] | None = None
) -> ImportPlan:
    """What a stock list would do to the project's records.

    Args:
        beside: by key, pieces on hand that are entered elsewhere (bars beside the cut list). A list shows them among those
            on hand, so they are taken off, or a list that was saved and read again would count them twice.

    Raises:
        BadTable: no column names the part, or there is nothing to record.
    """
    found = find_columns(sheet, STOCK_NAMES, ())
    if "key" not in found:
        find_columns(sheet, STOCK_NAMES, ("part",))
    if not any(field in found for field in (*COUNTS, *TEXTS, "paid", "date")):
        find_columns(sheet, STOCK_NAMES, COUNTS)
    lines, elsewhere = _Lines(tuple(parts)), beside or {}
    there = {row.part: row for row in project.stock}
    currency = project.prices.currency.strip()
    seen: dict[str, int] = {}
    other = other_money(sheet.rows[0][found["paid"]], currency) if "paid" in found else ""
    rows = []
    for number, cells in zip(sheet.numbers[1:], sheet.rows[1:], strict=True):
        row = {field: cells[place].strip()[:LONGEST] for field, place in found.items()}
        what = row.get("key") or " ".join(row.get(name, "") for name in ("part", "spec")).strip()
        if row.get("part", "").casefold() in TOTALS | {""} and not row.get("key"):
            if any(cell.strip() for cell in row.values()) and row.get("part", "").casefold() not in TOTALS:
                rows.append(Row(number, "bad", what, reason="The row names no part."))
            continue
        line, trouble = lines.find(row)
        if line is None:
            rows.append(Row(number, "unknown", what, reason=trouble))
            continue
        if other and row.get("paid"):
            reason = f"Prices paid are in {other}, this project's money is {currency}."
            rows.append(Row(number, "bad", line.what, reason=reason))
            continue
        first = seen.get(line.key)
        if first is not None:
            rows.append(Row(number, "duplicate", line.what, reason=f"The same part as row {first}."))
            continue
        made = _judge(
            number, line, row, there.get(line.key), currency, sheet.decimal, elsewhere.get(line.key, 0)
        )
        rows.append(made)
        if made.status != "bad":  # a row that cannot be read is no reason to refuse the next
            seen[line.key] = number
    used = set(found.values())
    unread = tuple(h for k, h in enumerate(sheet.rows[0]) if h.strip() and k not in used)

    def put(taken: tuple[Row, ...]) -> tuple[Any, ...]:
        out = dict(there)
        for row in taken:
            out[row.value.part] = row.value
        return tuple(record for record in out.values() if not record.empty)

    return ImportPlan("stock", sheet.name, tuple(rows), put, unread)


def _judge(
    number: int,
    line: PartLine,
    row: dict[str, str],
    before: StockRow | None,
    currency: str,
    decimal: str | None,
    beside: int,
) -> Row:
    old = StockRow(part=line.key) if before is None else before
    try:
        fields = _fields(row, currency, decimal)
        if "on_hand" in fields:
            fields["on_hand"] = _without(fields["on_hand"], beside)
        new = msgspec.structs.replace(old, **fields)
        new.__post_init__()
    except (BadCell, BadEntry) as error:
        words = str(error) if isinstance(error, BadCell) else f"{error.value} {error.problem}."
        return Row(number, "bad", line.what, reason=words)
    if new == old:
        return Row(number, "same", line.what)
    was, now = _words(old, new), _words(new, old)
    overwrites = any(
        getattr(old, name) != getattr(new, name) and getattr(old, name) != getattr(StockRow(part="x"), name)
        for name in (*COUNTS, *TEXTS, "paid", "date")
    )
    return Row(
        number, "change" if overwrites else "new", line.what, was if overwrites else "", now, value=new
    )


def _without(on_hand: int, beside: int) -> int:
    if on_hand < beside:
        raise BadCell(
            f"{beside} of them are entered as on hand beside the cut list; change their number there."
        )
    return on_hand - beside


def _fields(row: dict[str, str], currency: str, decimal: str | None) -> dict[str, Any]:
    fields: dict[str, Any] = {}
    for name in COUNTS:
        if row.get(name):
            fields[name] = read_count(row[name], decimal)
    for name in TEXTS:
        if row.get(name):
            fields[name] = row[name]
    if row.get("paid") and plain(row["paid"]) != "no price":
        fields["paid"] = read_money(row["paid"], currency, decimal)
    if row.get("date"):
        fields["date"] = read_day(row["date"])
    return fields


def _words(record: StockRow, other: StockRow) -> str:
    """The fields of one record in which it differs from another."""
    names = [
        name for name in (*COUNTS, "paid", "date", *TEXTS) if getattr(record, name) != getattr(other, name)
    ]
    return ", ".join(f"{name.replace('_', ' ')} {_shown(getattr(record, name))}" for name in names)


def _shown(value: object) -> str:
    return "nothing" if value is None or value == "" else str(value)


class _Lines:
    """Finds a line of the parts list by key, or by name and specification."""

    def __init__(self, parts: tuple[PartLine, ...]) -> None:
        self.keys = {part.key: part for part in parts}
        self.names: dict[str, list[PartLine]] = {}
        for part in parts:
            for name in {part.what, part.spec, f"{part.what} {part.spec}", f"{part.what}, {part.spec}"}:
                self.names.setdefault(plain(name), []).append(part)

    def find(self, row: dict[str, str]) -> tuple[PartLine | None, str]:
        """The line, or None with the reason in a sentence."""
        if row.get("key"):
            line = self.keys.get(row["key"])
            return line, "" if line else "No line of the parts list has this key."
        both = " ".join(text for text in (row.get("part", ""), row.get("spec", "")) if text)
        for name in (both, row.get("part", "")):
            fitting = self.names.get(plain(name), [])
            if len(fitting) == 1:
                return fitting[0], ""
            if len(fitting) > 1:
                return (
                    None,
                    f"{len(fitting)} lines of the parts list are called so; give the specification or the key.",
                )
        return None, "No line of the parts list is called so."


__all__ = ["BadTable", "plan_stock"]
