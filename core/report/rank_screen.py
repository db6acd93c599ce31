"""A ranking as a table for the screen, narrow enough to stand beside a chart; and the rows shown, in full, for a file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.materials import material
from core.prices import NO_PRICE
from core.rank import RankAnswer, deflections, spans
from core.report.rank import DIGITS, WATCH, rank_table
from core.report.rank_names import short_name
from core.report.rank_words import full_name
from core.report.tables import Cell, Column, Table, figure_column, money_column, text_column
from core.units import UnitSet, from_si

Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]
SHOWN, STANDS = "Beams shown", "Stands"
WARNED = " !"
"""Behind the word of a beam that comes with a warning."""
MIND = WATCH


@dataclass(frozen=True, slots=True)
class Screen:
    """Every candidate in its order as a table, made ready away from the window.

    Attributes:
        units, case: what it was made for. table: none marked as best. longest: of each column the texts that may be the widest.
    """

    units: UnitSet
    case: int | None
    table: Table
    longest: tuple[tuple[str, ...], ...]


MOST_MEASURED = 12
"""So many of the longest texts of a column are measured: the widest is among them, but for a hair."""


def make_screen(answer: RankAnswer, units: UnitSet, case: int | None) -> Screen:
    """The table of a load case, None for the largest over its limit, with its longest texts."""
    table = screen_table(answer, units, case)
    longest = []
    for number, column in enumerate(table.columns):
        texts = {column.text(row[number]) for row in table.rows}
        if column.header == STANDS:
            texts |= {_as_best(text) for text in texts if answer.holds.any() == text.startswith("holds")}
        longest.append(tuple(sorted(texts, key=len, reverse=True)[:MOST_MEASURED]))
    return Screen(units, case, table, tuple(longest))


def screen_table(answer: RankAnswer, units: UnitSet, case: int | None) -> Table:
    """Every candidate in its order, none marked as best.

    Args:
        case: load case whose deflection is shown; without one, the largest over its limit in percent.
    """

    def deflection(header: str) -> Column:
        if case is None:
            return Column(header, "%", digits=DIGITS)
        return figure_column(header, "deflection", units, DIGITS)

    columns = (
        text_column("Beam"), text_column(STANDS),
        deflection("Of limit" if case is None else "Deflection"), deflection("Low"), deflection("High"),
        figure_column("Path error", "deflection", units, DIGITS),
        figure_column("First mode", "frequency", units, DIGITS),
        figure_column("Mass that moves", "mass", units, DIGITS),
        figure_column("Beam alone", "mass", units, DIGITS),
        figure_column("Height", "length", units), money_column("Price", answer.currency),
        text_column("Kind"), text_column("Material"), text_column("Section"), text_column(MIND),
    )  # fmt: skip
    solved, fits, holds = answer.solved, answer.fits, answer.holds

    def figures(found: Floats, quantity: str) -> list[Cell]:
        shown = np.asarray(from_si(found, quantity, units))
        known = solved & np.isfinite(shown)
        return [value if there else None for value, there in zip(shown.tolist(), known.tolist(), strict=True)]

    def deflected(found: Floats) -> list[Cell]:
        return figures(100.0 * found, "ratio") if case is None else figures(found, "deflection")

    names = [short_name(one.name) for one in answer.candidates]
    words = np.where(fits, np.where(holds, "holds", "breaks"), "unfit").tolist()
    stands = [
        word + WARNED if remark and word != "unfit" else word
        for word, remark in zip(words, answer.remarks, strict=True)
    ]
    prices = [round(price, 2) if np.isfinite(price) else NO_PRICE for price in answer.price.tolist()]
    every = range(len(names))
    cells: tuple[list[Any], ...] = (
        names, stands, deflected(deflections(answer, case)), *(deflected(end) for end in spans(answer, case)),
        figures(answer.path_error, "deflection"), figures(answer.first_mode, "frequency"), figures(answer.moving_mass, "mass"),
        figures(answer.beam_mass, "mass"), figures(answer.height, "length"), prices,
        [one.family for one in answer.candidates], [material(one.beam.material).name for one in answer.candidates],
        [full_name(answer, row) for row in every],
        [problem or remark for problem, remark in zip(answer.problems, answer.remarks, strict=True)],
    )  # fmt: skip
    return Table(SHOWN, columns, tuple(zip(*cells, strict=True)))


def picked_rows(whole: Table, rows: Sequence[int], best: Flags) -> Table:
    """Some rows of such a table in the order given, those marked that are best, (n,).

    Where any beam holds every limit, the best do too, and one word tells it.
    """
    return Table(
        whole.title, whole.columns,
        tuple((one[0], _as_best(str(one[1])), *one[2:]) if best[row] else one for row in rows for one in (whole.rows[row],)),
    )  # fmt: skip


def _as_best(stands: str) -> str:
    return stands.replace("holds", "best").replace("breaks", "breaks, best")


def shown_table(answer: RankAnswer, units: UnitSet, rows: Sequence[int], best: Flags) -> Table:
    """Some candidates in the order given, with every column of the file."""
    whole = rank_table(answer, units, best)
    return Table(SHOWN, whole.columns, tuple(whole.rows[row] for row in rows))
