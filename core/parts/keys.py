"""Keys of parts: the same text for the same thing, whatever else changes, so that records of stock find it again."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from core.parts.table import PartLine


def slug(text: str) -> str:
    """Text as small letters and figures joined by underscores; a decimal point becomes "p"."""
    pointed = re.sub(r"(?<=\d)[.,](?=\d)", "p", text.casefold())
    return re.sub(r"[^a-z0-9]+", "_", pointed).strip("_")


def fastener_key(what: str, spec: str) -> str:
    """The key of a screw, nut or washer: from its name and specification, not from its place in the list."""
    return f"fastener_{slug(what)}_{slug(spec)}"


def told_apart(lines: Iterable[PartLine]) -> Iterator[PartLine]:
    """The lines, each with a key of its own: of equal keys the first stays, others get their pack or length behind."""
    taken: set[str] = set()
    for line in lines:
        key = line.key
        if key in taken:
            more = f"pack_of_{line.pack_size}" if line.pack_size else slug(f"{line.length or 0.0:.4f}")
            key = f"{key}_{more}"
        number = 2
        while key in taken:
            key, number = f"{line.key}_{number}", number + 1
        taken.add(key)
        yield line if key == line.key else replace(line, key=key)
