"""Columns of a table by the names that people give them, in plain English."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from core.imports.sheets import BadTable, Sheet

_UNIT = re.compile(r"[,(\[].*$")

PRICE_NAMES: Mapping[str, tuple[str, ...]] = {
    "part": ("part", "item", "article", "product", "what", "part name", "item name"),
    "spec": ("specification", "spec", "size", "description", "type", "details"),
    "section": ("section", "profile", "cross section", "tube"),
    "material": ("material", "grade", "alloy"),
    "family": ("kind of section", "family", "kind", "group of sections"),
    "price": ("price", "unit price", "price of one", "net price", "cost", "unit cost", "price each", "rate"),
    "per": ("per", "for each", "unit", "price per", "basis", "unit of price", "sold by", "sold per"),
    "currency": ("currency", "money"),
    "name": ("name", "note", "shop", "supplier", "source", "whose price", "comment", "remark"),
}
STOCK_NAMES: Mapping[str, tuple[str, ...]] = {
    "key": ("key", "part key", "id"),
    "part": PRICE_NAMES["part"],
    "spec": PRICE_NAMES["spec"],
    "on_hand": ("on hand", "in stock", "stock", "have", "had", "owned", "on the shelf"),
    "ordered": ("ordered", "on order", "quantity ordered", "bought"),
    "arrived": ("arrived", "received", "delivered", "here", "quantity received"),
    "fitted": ("fitted", "installed", "built in", "mounted", "used"),
    "paid": ("paid for one", "paid", "actual price", "paid each", "paid price"),
    "date": ("paid on", "date", "day", "date paid", "ordered on", "date ordered"),
    "note": ("source and note", "note", "notes", "source", "supplier", "shop", "comment", "remark"),
    "link": ("link", "url", "web address", "address", "page"),
}
_BASES: Mapping[str, tuple[str, ...]] = {
    "metre": (
        "m",
        "metre",
        "meter",
        "metres",
        "meters",
        "running metre",
        "lm",
        "per m",
        "per metre",
        "per meter",
    ),
    "foot": ("ft", "foot", "feet", "per ft", "per foot"),
    "piece": ("piece", "pieces", "pc", "pcs", "each", "ea", "one", "unit", "per piece", "per unit", "item"),
    "pack": ("pack", "packs", "box", "bag", "package", "per pack", "per box"),
    "kilogram": ("kg", "kilogram", "kilograms", "kilo", "per kg", "per kilogram"),
    "pound": ("lb", "lbs", "pound", "pounds", "per lb", "per pound"),
}


def words_of(header: str) -> str:
    """A column's name for comparing: small letters, no unit behind it, single spaces."""
    return " ".join(_UNIT.sub("", header).replace("_", " ").replace("-", " ").casefold().split())


def basis_of(text: str) -> str | None:
    """What a price is for each of, by the words used ("kg", "per metre"); None when unknown."""
    plain = " ".join(text.casefold().replace("/", " per ").replace(".", "").split())
    plain = plain.removeprefix("a ").removeprefix("1 ")
    return next((basis for basis, words in _BASES.items() if plain in words), None)


def find_columns(sheet: Sheet, names: Mapping[str, tuple[str, ...]], wanted: Iterable[str]) -> dict[str, int]:
    """Place of each column by field; the first that fits takes it.

    Raises:
        BadTable: none of `wanted` is there, with the names that would be accepted.
    """
    heads = [words_of(head) for head in sheet.rows[0]]
    found: dict[str, int] = {}
    for field, synonyms in names.items():
        for words in synonyms:
            if field not in found and words in heads and heads.index(words) not in found.values():
                found[field] = heads.index(words)
    missing = [field for field in wanted if field not in found]
    if missing:
        accepted = "; ".join(" or ".join(f'"{words}"' for words in names[field][:4]) for field in missing)
        raise BadTable(f"{sheet.name} has no column that is called {accepted}.")
    return found


def price_column(sheet: Sheet) -> tuple[int, str] | None:
    """A column whose very name says what its price is for ("Price per metre"), and the basis."""
    for place, head in enumerate(sheet.rows[0]):
        words = words_of(head)
        if words.startswith(("price per ", "price for one ", "cost per ")):
            basis = basis_of(
                words.replace("price for one", "per").removeprefix("price ").removeprefix("cost ")
            )
            if basis is not None:
                return place, basis
    return None
