"""A ranking as a table for the screen, narrow enough to stand beside a chart; and the rows shown, in full, for a file."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from core.materials import material
from core.prices import NO_PRICE
from core.rank import RankAnswer, deflections, spans
from core.report.rank import rank_table
from core.report.rank_words import full_name
from core.report.tables import Cell, Column, Table, figure_column, money_column, text_column
from core.units import UnitSet, from_si

Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]
SHOWN = "Beams shown"
MIND = "Why not, or what to watch"
DIGITS = 3
_SHORTER = (
    ("T-slot profile", "T-slot"),
    (" hollow, cold formed", " cold"),
    (" hollow, hot finished", " hot"),
)
_SLOT = re.compile(r", slot [\d.]+")


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
        text_column("Beam"), text_column("Stands"),
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

    names = [_short(one.name) for one in answer.candidates]
    stands = np.where(fits, np.where(holds, "holds", "breaks"), "unfit").tolist()
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


def _short(name: str) -> str:
    """A name for a narrow column: how a tube is made in one word, a profile without its slot."""
    for long, short in _SHORTER:
        name = name.replace(long, short)
    return _SLOT.sub("", name)


def picked_rows(whole: Table, rows: Sequence[int], best: Flags) -> Table:
    """Some rows of such a table in the order given, those marked that are best, (n,)."""
    return Table(
        whole.title, whole.columns,
        tuple((one[0], f"{one[1]}, best", *one[2:]) if best[row] else one for row in rows for one in (whole.rows[row],)),
    )  # fmt: skip


def shown_table(answer: RankAnswer, units: UnitSet, rows: Sequence[int], best: Flags) -> Table:
    """Some candidates in the order given, with every column of the file."""
    whole = rank_table(answer, units, best)
    return Table(SHOWN, whole.columns, tuple(whole.rows[row] for row in rows))
