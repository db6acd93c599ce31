"""What a table of the report is: columns with their units, rows of cells; and how figures get into the user's units.

The tables themselves stand in `answer_tables` and `build_tables`; the screen, the CSV files and the terminal all show them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from core.prices.money import NO_PRICE, exact, show_amount
from core.units import UnitSet, finest_decimals, from_si, unit_label
from core.units.quantities import quantity_named

Cell = str | int | float | None
_SMALLEST, _LARGEST = -7, 12  # powers of ten beyond which a figure is written with an exponent


@dataclass(frozen=True, slots=True)
class Column:
    """A column: header, unit (empty for none) and the side its cells are aligned to.

    `digits` are the significant digits that a screen or a terminal shows, with at least so many `decimals`; files hold
    the figure in full. `money` columns show at least two decimals, and as many more as were typed. `finest` is the most
    decimals; `rough` rounds digits before the point away as well; a figure beyond `most` is only said to be over it.
    """

    header: str
    unit: str = ""
    align: Literal["left", "right"] = "right"
    digits: int = 4
    decimals: int = 0
    money: bool = False
    finest: int | None = None
    rough: bool = False
    most: float | None = None

    def text(self, cell: Cell) -> str:
        """A cell of this column as a person reads it."""
        if self.money and isinstance(cell, (int, float)):
            return show_amount(exact(cell))
        if isinstance(cell, float) and math.isfinite(cell):
            if self.most is not None and cell > self.most:
                return f"over {cell_text(self.most)}"
            if self.rough:
                cell = float(f"{cell:.{self.digits - 1}e}")
        return cell_text(cell, self.digits, self.decimals, self.finest)


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


def figure_column(header: str, quantity: str, units: UnitSet, digits: int | None = None) -> Column:
    """A column of figures of one quantity, in the user's unit, with the quantity's own digits unless others are given."""
    rule = quantity_named(quantity).digits[units.length == "in"]
    if digits is not None:
        finest = finest_decimals(quantity, units)
        return Column(header, unit_label(quantity, units), digits=digits, finest=finest)
    return Column(header, unit_label(quantity, units), digits=rule.significant or 4, decimals=rule.decimals)


def money_column(header: str, currency: str) -> Column:
    """A column of sums of money."""
    return Column(header, currency, money=True)


def amount(value: Decimal | None) -> Cell:
    """A sum of money as a cell; words where there is none, so that nobody reads a zero."""
    return NO_PRICE if value is None else float(value)


def cell_text(cell: Cell, digits: int = 4, decimals: int = 0, finest: int | None = None) -> str:
    """A cell as a person reads it: significant digits, none before the point rounded away, no zeros at the end."""
    if cell is None:
        return ""
    if not isinstance(cell, float):
        return str(cell)
    if not math.isfinite(cell):
        return "infinite" if cell > 0.0 else "minus infinite" if cell < 0.0 else "not a number"
    if finest is not None and abs(cell) < 0.5 * 10.0**-finest:
        return "0"
    power = math.floor(math.log10(abs(cell))) if cell else 0
    if power < _SMALLEST or power > _LARGEST:
        return f"{cell:.{digits - 1}e}"
    places = max(0, decimals, digits - 1 - power)
    if finest is not None:
        places = min(places, finest)
    text = f"{cell:.{places}f}"
    return text.rstrip("0").rstrip(".") if places else text
