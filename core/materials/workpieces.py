"""What is cut: Kienzle's figures of metals and ranges of specific cutting pressure of sheet materials.

The figures stand in `workpieces.csv` in N/mm2, each with its source and how sure it is; here they become Pa.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from typing import Literal, cast

from core.errors import BadEntry

Triple = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Workpiece:
    """One material to be cut.

    Attributes:
        key, name: word in project files; words for people.
        kind: "metal" follows Kienzle's relation; "sheet" has a pressure that does not depend on the chip.
        pressure: low, likely, high in Pa: k_c1.1 of a metal (chip 1 mm thick and wide), else the pressure itself.
        exponent: low, likely, high of Kienzle's m_c; zero for sheet materials.
        source, status: where the figures come from and how sure they are.
    """

    key: str
    name: str
    kind: Literal["metal", "sheet"]
    pressure: Triple
    exponent: Triple
    source: str
    status: str


@cache
def workpieces() -> tuple[Workpiece, ...]:
    """Every known workpiece material, in the order of the table."""
    text = files(__package__).joinpath("workpieces.csv").read_text(encoding="utf-8")
    found: list[Workpiece] = []
    for row in csv.DictReader(text.splitlines()):
        source = found[-1].source if row["source"] == "same" else row["source"]
        found.append(_workpiece(row, source))
    return tuple(found)


def metals() -> tuple[Workpiece, ...]:
    """Those that follow Kienzle's relation."""
    return tuple(w for w in workpieces() if w.kind == "metal")


def sheets() -> tuple[Workpiece, ...]:
    """Sheet materials, known by a range of pressure only."""
    return tuple(w for w in workpieces() if w.kind == "sheet")


def metal(key: str) -> Workpiece:
    """The metal with this key.

    Raises:
        BadEntry: there is none; names the nearest keys.
    """
    known = {w.key: w for w in metals()}
    if key in known:
        return known[key]
    near = get_close_matches(key.lower(), known, n=3, cutoff=0.5) or list(known)
    raise BadEntry("workpiece", repr(key), "is not a metal with Kienzle figures", ", ".join(near))


def _workpiece(row: dict[str, str], source: str) -> Workpiece:
    low, likely, high = (float(row[f"kc11{part}_MPa"]) * 1e6 for part in ("_low", "", "_high"))
    exponents = [float(row[f"mc{part}"] or 0.0) for part in ("_low", "", "_high")]
    return Workpiece(
        key=row["key"],
        name=row["name"],
        kind=cast(Literal["metal", "sheet"], row["kind"]),
        pressure=(low, likely, high),
        exponent=(exponents[0], exponents[1], exponents[2]),
        source=source,
        status=row["status"],
    )
