"""The book of analysed sections: stock sizes from a table, others kept in a cache file.

A book never changes; adding an entry makes a new one, so that work in another
thread keeps the book it began with.
"""

from __future__ import annotations

import contextlib
import csv
import math
import os
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from importlib.resources import files
from pathlib import Path

import msgspec

from core.errors import NeedsAnalysis
from core.sections.properties import SectionProperties
from core.sections.shape import Shape
from core.sections.t_slot import TSlot, label

CACHE_FORMAT = "gantrywright-analysed-sections"
CACHE_VERSION = 1
"""To be raised with every change to the outline of T-slot profiles or to their analysis."""

NUMBERS = ("width", "height", "area", "iyy", "izz", "it", "avy", "avz", "wall")
"""The figures of the table and of the cache, in order; SI, all above zero."""

PLACES = ("centroid_y", "centroid_z", "shear_centre_y", "shear_centre_z", "iyz")
"""Further figures of built-up shapes, of any sign."""

TABLES = ("t_slot_stock.csv", "built_up_stock.csv")


def key_of(section: TSlot | Shape) -> str:
    """The same text for the same shape, in any session: every measure in whole nanometres."""
    if isinstance(section, Shape):
        return section.key
    measures = (round(getattr(section, name) * 1e9) for name in TSlot.__struct_fields__)
    return "t_slot " + " ".join(str(nanometres) for nanometres in measures)


@dataclass(frozen=True, slots=True)
class PropertyBook:
    """Properties of analysed sections by `key_of`; not to be changed in place."""

    entries: Mapping[str, SectionProperties] = field(default_factory=dict)

    def properties(self, section: TSlot) -> SectionProperties:
        """The properties of a section; one that stands in the book on its side counts too.

        Raises:
            NeedsAnalysis: the book has no figures for this shape.
        """
        found = self.entries.get(key_of(section))
        if found is not None:
            return found
        lying = msgspec.structs.replace(section, width=section.height, height=section.width)
        found = self.entries.get(key_of(lying))
        if found is None:
            raise NeedsAnalysis(section, label(section))
        return replace(found.turned(), name=label(section))

    def shape(self, key: str, make: Callable[[], Shape]) -> SectionProperties:
        """The figures of a built-up or imported shape; `make` gives it when it has to be analysed.

        Raises:
            NeedsAnalysis: the book has no figures for this shape.
        """
        found = self.entries.get(key)
        if found is None:
            shape = make()
            raise NeedsAnalysis(shape, shape.name)
        return found

    def with_entry(self, section: TSlot | Shape, properties: SectionProperties) -> PropertyBook:
        """A book that has this entry as well."""
        return PropertyBook({**self.entries, key_of(section): properties})


@cache
def stock_book() -> PropertyBook:
    """The stock profiles, from the tables that `core.sections.make_stock_table` writes."""
    return PropertyBook({row["key"]: _from_row(row) for name in TABLES for row in _rows(name)})


def _rows(name: str) -> list[dict[str, str]]:
    text = files(__package__).joinpath("data", name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def _from_row(row: dict[str, str]) -> SectionProperties:
    numbers = {name: float(row[name]) for name in (*NUMBERS, *PLACES) if row.get(name)}
    return SectionProperties(name=row["name"], method=row["method"], source=row["source"], **numbers)


class _Cache(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    format: str
    version: int
    entries: dict[str, SectionProperties]


def load_cache(path: Path, book: PropertyBook | None = None) -> PropertyBook:
    """A book with the cached entries added; those it already has stay.

    A missing, foreign, older or damaged file adds nothing, since analysis can make its entries again.
    """
    known = {} if book is None else book.entries
    try:
        cached = msgspec.json.decode(path.read_bytes(), type=_Cache)
    except (OSError, msgspec.MsgspecError, UnicodeDecodeError):
        return PropertyBook(known)
    if cached.format != CACHE_FORMAT or cached.version != CACHE_VERSION:
        return PropertyBook(known)
    return PropertyBook({**{key: p for key, p in cached.entries.items() if _sound(p)}, **known})


def _sound(properties: SectionProperties) -> bool:
    figures = [getattr(properties, name) for name in NUMBERS]
    places = [getattr(properties, name) for name in PLACES]
    return all(math.isfinite(v) for v in (*figures, *places)) and min(figures) > 0.0


def save_cache(path: Path, book: PropertyBook) -> None:
    """Write what the stock table does not have, whole or not at all.

    Raises:
        OSError: the folder cannot be made or the file not written; an earlier file is left as it was.
    """
    stock = stock_book().entries
    extra = {key: p for key, p in book.entries.items() if key not in stock}
    data = msgspec.json.format(msgspec.json.encode(_Cache(CACHE_FORMAT, CACHE_VERSION, extra)), indent=1)
    path.parent.mkdir(parents=True, exist_ok=True)
    # Of its own, since sections lies below the room that writes projects.
    handle, name = tempfile.mkstemp(prefix=path.name, suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.replace(name, path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(name)
        raise
