"""What standards allow a delivered, welded or cut part to be out of true, looked up by size.

The figures stand in `tolerances.csv`, each with its standard and how sure it is; a licensed copy of the standard is the
last word. A range without a row has no figure here, and nothing is guessed for it.
"""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

TOUCH = 1e-6  # mm; a length of 2 m counts as 2000 mm however it was typed


@dataclass(frozen=True, slots=True)
class Allowed:
    """One figure of a standard: limit in m, the standard with its class, the span it holds for (0: the whole length) in m,
    and how sure the figure is ("found", "memory high" and so on)."""

    limit: float
    standard: str
    item: str
    span: float
    status: str


@dataclass(frozen=True, slots=True)
class _Row:
    standard: str
    item: str
    kind: str
    width: tuple[float, float]
    length: tuple[float, float]
    fixed: float
    per_metre: float
    percent: float
    least: float
    span: float
    status: str


@cache
def _rows() -> tuple[_Row, ...]:
    text = files(__package__).joinpath("tolerances.csv").read_text(encoding="utf-8")
    return tuple(_row(row) for row in csv.DictReader(text.splitlines()))


def _row(row: dict[str, str]) -> _Row:
    def figure(name: str, empty: float = 0.0) -> float:
        return float(row[name]) if row[name] else empty

    return _Row(
        row["standard"], row["item"], row["class"],
        (figure("width_over_mm"), figure("width_to_mm", math.inf)), (figure("over_mm"), figure("to_mm", math.inf)),
        figure("fixed_mm"), figure("per_m_mm"), figure("percent"), figure("least_mm"), figure("span_mm"), row["status"],
    )  # fmt: skip


def allowed(standard: str, item: str, length: float, kind: str = "", width: float = 0.0) -> Allowed | None:
    """What a standard allows; None when the table holds no row for it.

    Args:
        standard: how its name begins ("EN 10219-2"). item: "straightness", "straightness over a span", "twist",
            "hollow face", "flatness", "lengths" or "squareness". length: m. kind: class, where there are classes.
        width: of the section's widest side, m, where the figure goes by it.
    """
    size, side = length * 1e3, width * 1e3
    for row in _rows():
        if row.standard.startswith(standard) and row.item == item and row.kind == kind:
            if not (_within(size, row.length) and _within(side, row.width)):
                continue
            figure = row.fixed + row.per_metre * length + max(row.percent / 100.0 * side, row.least)
            name = f"{row.standard}, class {kind}" if kind else row.standard
            return Allowed(figure / 1e3, name, item, row.span / 1e3, row.status)
    return None


def _within(value: float, limits: tuple[float, float]) -> bool:
    """Both ends count; rows rise, so that a size on a border takes the range below it, as the standards have it."""
    return limits[0] - TOUCH <= value <= limits[1] + TOUCH
