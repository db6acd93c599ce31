"""Stock sections to choose from: tubes and bars of the European size tables and invented T-slot profiles.

The tables stand in CSV files, each row with its source and status; a size listed here need not be in stock
anywhere.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files

from core.catalogue.built_up import candidates
from core.errors import BadEntry
from core.sections import (
    Angle,
    Channel,
    FlatBar,
    RectangularHollow,
    RoundSolid,
    RoundTube,
    Section,
    TSlot,
    label,
)
from core.sections.t_slot import STOCK

__all__ = ["Entry", "built_ups", "entries", "find"]


@dataclass(frozen=True, slots=True)
class Entry:
    """One stock section.

    Attributes:
        key: a word of its own ("hollow_120x80x5_cold").
        label: the section in words.
        section: its description.
        family: the heading it is listed under ("Hollow, cold formed").
        source, status: where the size comes from and how sure that is.
        metal: key of the material that it is meant for; empty where that is open.
    """

    key: str
    label: str
    section: Section
    family: str
    source: str
    status: str
    metal: str = ""


@cache
def built_ups() -> tuple[Entry, ...]:
    """Sections built up from stock pieces; their analysed figures are in the stock book."""
    source = "pieces of the size tables, put together as is common practice"
    return tuple(
        Entry(key, label(section), section, "Built up", source, "common practice", metal)
        for key, section, metal in candidates()
    )


@cache
def entries() -> tuple[Entry, ...]:
    """Every stock section, family by family."""
    tubes = tuple(_tube(row) for row in _rows("hollow.csv"))
    bars = tuple(_bar(row) for row in _rows("bars.csv"))
    channels = tuple(_channel(row) for row in _rows("channels.csv"))
    return tubes + bars + channels + tuple(_t_slot(section) for section in STOCK)


def find(key: str) -> Entry:
    """The stock section with this key.

    Raises:
        BadEntry: there is none; names the nearest keys.
    """
    known = {entry.key: entry for entry in (*entries(), *built_ups())}
    if key in known:
        return known[key]
    near = get_close_matches(key.lower(), known, n=3, cutoff=0.5) or list(known)[:3]
    raise BadEntry("section", repr(key), "is not in the catalogue", ", ".join(near))


def _rows(name: str) -> list[dict[str, str]]:
    text = files(__package__).joinpath(name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def _tube(row: dict[str, str]) -> Entry:
    cold = row["finish"] == "cold formed"
    section = RectangularHollow(
        height=float(row["height_mm"]) / 1e3,
        width=float(row["width_mm"]) / 1e3,
        wall=float(row["wall_mm"]) / 1e3,
        finish="cold formed" if cold else "hot finished",
    )
    key = f"hollow_{row['height_mm']}x{row['width_mm']}x{row['wall_mm']}_{'cold' if cold else 'hot'}"
    return _entry(key, section, f"Hollow, {section.finish}", row)


def _bar(row: dict[str, str]) -> Entry:
    height = float(row["height_mm"]) / 1e3
    if row["kind"] == "flat":
        flat = FlatBar(height=height, width=float(row["width_mm"]) / 1e3)
        return _entry(f"flat_{row['height_mm']}x{row['width_mm']}", flat, "Flat and square bar", row)
    if row["kind"] == "round":
        return _entry(f"round_{row['height_mm']}", RoundSolid(diameter=height), "Round bar", row)
    if row["kind"] == "tube":
        tube = RoundTube(diameter=height, wall=float(row["thickness_mm"]) / 1e3)
        return _entry(f"tube_{row['height_mm']}x{row['thickness_mm']}", tube, "Round tube", row)
    angle = Angle(
        height=height, width=float(row["width_mm"]) / 1e3, thickness=float(row["thickness_mm"]) / 1e3
    )
    key = f"angle_{row['height_mm']}x{row['width_mm']}x{row['thickness_mm']}"
    return _entry(key, angle, "Angle", row)


def _channel(row: dict[str, str]) -> Entry:
    sizes = {name: float(row[f"{name}_mm"]) / 1e3 for name in ("height", "width", "web", "flange")}
    key = f"channel_{row['height_mm']}x{row['width_mm']}"
    return _entry(key, Channel(**sizes), "Channel", row)


def _entry(key: str, section: Section, family: str, row: dict[str, str]) -> Entry:
    return Entry(key, label(section), section, family, row["source"], row["status"])


def _t_slot(section: TSlot) -> Entry:
    words = label(section)
    key = f"t_slot_{section.height * 1e3:.6g}x{section.width * 1e3:.6g}_module_{section.module * 1e3:.6g}"
    return Entry(key, words, section, "T-slot profile", "invented; measures are common practice", "invented")
