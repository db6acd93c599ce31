"""Reads an entry by its dotted path and says in words what the entry is called."""

from __future__ import annotations

import msgspec

from core.errors import BadEntry
from core.fields import specs
from core.machine.variants import ROOTS

_ROWS = {
    "own_parts": "part",
    "stock": "record",
    "purchases": "purchase",
    "stock_bars": "bar",
    "own_pieces": "piece",
    "rows": "price",
    "cases": "load case",
    "variants": "variant",
}
_PARTS = {"low": "low end", "likely": "likely figure", "high": "high end"}


def value_at(root: object, path: str) -> object:
    """The value at a dotted path ("machine.work.travel_x", "cases.0.limit").

    Raises:
        BadEntry: the path names nothing.
    """
    here = root
    for step in path.split("."):
        if isinstance(here, tuple) and step.isdigit() and int(step) < len(here):
            here = here[int(step)]
        elif isinstance(here, msgspec.Struct) and step in here.__struct_fields__:
            here = getattr(here, step)
        else:
            raise BadEntry(path, step, "does not exist", "a path of fields and row numbers")
    return here


def entry_label(root: object, path: str) -> str:
    """The entry's words in lower case, with the row's name where it stands in a row ("limit of Roughing")."""
    head, _, rest = path.partition(".")
    index, _, inside = rest.partition(".")
    if (
        head == "variants" and inside.partition(".")[0] in ROOTS
    ):  # an entry of the machine as it is in a variant
        rows = getattr(root, head, ())
        name = rows[int(index)].name if index.isdigit() and int(index) < len(rows) else ""
        return f"{entry_label(root, inside)} in {name}".removesuffix(" in ")
    here, label, row = root, path, ""
    for step in path.split("."):
        if isinstance(here, msgspec.Struct):
            spec = specs(type(here)).get(step)
            label = spec.label if spec is not None else _PARTS.get(step, step.replace("_", " "))
            label = label[:1].lower() + label[1:] if label[1:2].islower() else label
            here = getattr(here, step, None)
        elif isinstance(here, tuple):
            here = here[int(step)] if step.isdigit() and int(step) < len(here) else None
            row = str(getattr(here, "name", "")) or row
    return f"{label} of {row}" if row else label


def row_words(path: str) -> str:
    """What a row of this list is called."""
    return _ROWS.get(path.rpartition(".")[2], "row")
