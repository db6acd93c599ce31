"""A price list read against the project: which rows are new, which would change a price, which fit nothing here."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, cast, get_args

from core.catalogue import entries
from core.errors import BadEntry
from core.imports.columns import PRICE_NAMES, basis_of, find_columns, price_column
from core.imports.figures import BadCell, other_money, read_money, same_money
from core.imports.plan import ImportPlan, Row
from core.imports.sheets import BadTable, Sheet
from core.machine.prices import Basis, PriceRow
from core.machine.project import Project
from core.machine.stuff import Family
from core.materials import materials
from core.parts import PartLine
from core.prices import exact, show_amount
from core.prices.match import materials_of, piece_of, plain, target
from core.sections import label

FAMILIES = {plain(name): name for name in get_args(Family) if name != "any"}
LONGEST = 200


def plan_prices(sheet: Sheet, project: Project, parts: Iterable[PartLine]) -> ImportPlan:
    """What a price list would do to the project's prices.

    Raises:
        BadTable: the columns that a price list needs are not there.
    """
    named = price_column(sheet)
    found = find_columns(sheet, PRICE_NAMES, () if named else ("price",))
    if not any(field in found for field in ("part", "section", "material", "family", "spec")):
        find_columns(sheet, PRICE_NAMES, ("part",))
    if named is not None:
        found = {field: place for field, place in found.items() if place != named[0]} | {"price": named[0]}
    head = sheet.rows[0][found["price"]]
    known = _Known(project, tuple(parts))
    there = {target(row): (number, row) for number, row in reversed(list(enumerate(project.prices.rows)))}
    seen: dict[tuple[str, ...], int] = {}
    rows = []
    for number, cells in zip(sheet.numbers[1:], sheet.rows[1:], strict=True):
        row = {field: cells[place].strip()[:LONGEST] for field, place in found.items()}
        what = " ".join(row.get(name, "") for name in ("part", "spec", "section", "material")).strip()
        try:
            made = _row(row, project, sheet.decimal, named[1] if named else None, head)
        except (BadCell, BadEntry) as error:
            words = str(error) if isinstance(error, BadCell) else f"{error.value} {error.problem}."
            rows.append(Row(number, "bad", what, reason=words))
            continue
        rows.append(_judge(number, what, made, there, seen, known))
    used = set(found.values())
    unread = tuple(h for k, h in enumerate(sheet.rows[0]) if h.strip() and k not in used)

    def put(taken: tuple[Row, ...]) -> tuple[Any, ...]:
        out = list(project.prices.rows)
        for row in taken:
            before = there.get(target(row.value))
            if before is None:
                out.append(row.value)
            else:
                out[before[0]] = row.value
        return tuple(out)

    return ImportPlan("prices.rows", sheet.name, tuple(rows), put, unread)


def _row(
    row: dict[str, str], project: Project, decimal: str | None, basis: str | None, head: str
) -> PriceRow:
    """`head` is the name of the column of prices, which may tell their currency."""
    currency = project.prices.currency.strip()
    told = row.get("currency", "") or other_money(head, currency)
    if told and not same_money(told, currency):
        raise BadCell(f"The price is in {told}, this project's money is {currency}.")
    text = row.get("price", "")
    if not text or plain(text) == "no price":
        raise BadCell("There is no price in this row.")
    part = " ".join(text for text in (row.get("part", ""), row.get("spec", "")) if text)
    section, family = row.get("section", ""), row.get("family", "")
    per = basis or basis_of(row.get("per", ""))
    if per is None:
        if row.get("per"):
            raise BadCell(
                f"“{row['per']}” is not what a price is for. Accepted: metre, foot, piece, pack, kg or lb."
            )
        if not part:
            raise BadCell(
                "The row does not say for how much the price is: metre, foot, piece, pack, kg or lb."
            )
        per = "piece"
    if family and plain(family) not in (*FAMILIES, "any"):
        raise BadCell(f"“{family}” is no kind of section. Accepted: {', '.join(FAMILIES.values())}.")
    return PriceRow(
        name=row.get("name", ""),
        family=cast(Family, FAMILIES.get(plain(family), "any")),
        section=section,
        material=row.get("material", ""),
        part=part,
        price=read_money(text, currency, decimal),
        per=cast(Basis, per),
    )


def _judge(
    number: int,
    what: str,
    row: PriceRow,
    there: dict[tuple[str, str, str, str], tuple[int, PriceRow]],
    seen: dict[tuple[str, ...], int],
    known: _Known,
) -> Row:
    key, after = target(row), _words(row)
    first = seen.setdefault(key, number)
    if first != number:
        return Row(number, "duplicate", what, after=after, reason=f"The same thing as row {first}.")
    if key in there:
        before = there[key][1]
        if (before.price, before.per) == (row.price, row.per) and (not row.name or before.name == row.name):
            return Row(number, "same", what, _words(before), after)
        return Row(number, "change", what, _words(before), after, value=row)
    trouble = known.trouble(row)
    if trouble:
        return Row(number, "unknown", what, after=after, reason=trouble, value=row)
    return Row(number, "new", what, after=after, value=row)


def _words(row: PriceRow) -> str:
    price = "no price" if row.price is None else f"{show_amount(exact(row.price))} a {row.per}"
    return f"{price} ({row.name})" if row.name else price


class _Known:
    """Names that a price row may use and that mean something in this project or the catalogue."""

    def __init__(self, project: Project, parts: tuple[PartLine, ...]) -> None:
        self.sections: set[str] = set()
        self.parts: set[str] = set()
        for entry in entries():
            self._section(label(entry.section))
        for part in parts:
            if part.section is not None:
                self.sections |= piece_of(part.section, part.material).sections
            names = (part.key, part.what, part.spec, f"{part.what} {part.spec}", f"{part.what}, {part.spec}")
            self.parts |= {plain(name) for name in names}
        self.materials = {name for stuff in materials() for name in materials_of(stuff.key)}

    def _section(self, words: str) -> None:
        whole = plain(words)
        self.sections |= {whole, whole.partition(",")[0], whole.partition(" ")[0]}

    def trouble(self, row: PriceRow) -> str:
        """What of the row fits nothing, in a sentence; empty when all of it means something."""
        if row.part and plain(row.part) not in self.parts:
            return "No line of the parts list is called so."
        if row.section and plain(row.section) not in self.sections:
            return "No such section in the machine or in the catalogue."
        if row.material and plain(row.material) not in self.materials:
            return "No such material is known."
        return ""


__all__ = ["BadTable", "plan_prices"]
