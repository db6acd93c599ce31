"""What a table of the report is: columns with their units, rows of cells; and how figures get into the user's units.

The tables themselves stand in `answer_tables` and `build_tables`; the screen, the CSV files and the terminal all show them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.units import UnitSet, from_si, unit_label

Cell = str | int | float | None


@dataclass(frozen=True, slots=True)
class Column:
    """A column: header, unit (empty for none) and the side its cells are aligned to."""

    header: str
    unit: str = ""
    align: Literal["left", "right"] = "right"


@dataclass(frozen=True, slots=True)
class Table:
    """A table: each row has a cell for each column; numbers stand in the column's unit."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]


def number(value: float | None, quantity: str, units: UnitSet) -> float | None:
    """An SI figure in the user's units."""
    return None if value is None else float(from_si(value, quantity, units))


def text_column(header: str) -> Column:
    """A column of words."""
    return Column(header, align="left")


def figure_column(header: str, quantity: str, units: UnitSet) -> Column:
    """A column of figures of one quantity, in the user's unit."""
    return Column(header, unit_label(quantity, units))
