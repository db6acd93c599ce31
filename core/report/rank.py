"""A ranking of beams as plain JSON (SI, the unit at the end of each key), as a table in the user's units, and in lines."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

from core.materials import material
from core.prices import NO_PRICE
from core.rank import RankAnswer, best, least
from core.report.lines import table_lines
from core.report.rank_names import short_name
from core.report.rank_words import rank_headline
from core.report.tables import Cell, Column, Table, figure_column, text_column
from core.sections import label
from core.units import UnitSet, from_si

Flags = npt.NDArray[np.bool_]
Floats = npt.NDArray[np.float64]
CHOICE = "Beams to choose from"
WATCH = "Why not, or what to watch"
NOT_TRIED = (
    "Heat, joints, carriages and chatter are not tried for every beam: put one into the project, or add it as a variant, and see "
    "what the machine says then."
)
NO_PRICES_YET = "No beam has a price yet; enter prices in the project, and they can be weighed."
DIGITS = 3
FORMAT = "gantrywright-rank"


def rank_json(answer: RankAnswer) -> dict[str, Any]:
    """Every candidate in its order; what has no figure is null."""
    by_mass = best(answer, "moving_mass", None, answer.fits)
    return {
        "format": FORMAT,
        "version": 1,
        "project": answer.project.name,
        "cases": [
            {"name": name, "limit_m": float(limit)}
            for name, limit in zip(answer.case_names, answer.limits, strict=True)
        ],
        "sag_limit_m": answer.project.limits.sag,
        "path_error_limit_m": answer.project.limits.path_error,
        "currency": answer.currency,
        "beams": [_beam_json(answer, row, bool(by_mass[row])) for row in range(len(answer.candidates))],
    }


def _beam_json(answer: RankAnswer, row: int, best_by_mass: bool) -> dict[str, Any]:
    one = answer.candidates[row]
    return {
        "key": one.key,
        "name": one.name,
        "family": one.family,
        "section": label(one.beam.section),
        "turned": one.beam.turned,
        "material": one.beam.material,
        "rails_held_by": one.beam.rail_fastening.hold,
        "usable": bool(answer.fits[row]),
        "holds_every_limit": bool(answer.holds[row]),
        "problem": answer.problems[row],
        "remark": answer.remarks[row],
        "worst_m": _list(answer.worst[row]),
        "worst_low_m": _list(answer.low[row]),
        "worst_high_m": _list(answer.high[row]),
        "worst_x_m": _list(answer.worst_x[row]),
        "worst_y_m": _list(answer.worst_y[row]),
        "sag_m": _one(answer.sag[row]),
        "path_error_m": _one(answer.path_error[row]),
        "first_mode_Hz": _one(answer.first_mode[row]),
        "beam_mass_kg": _one(answer.beam_mass[row]),
        "moving_mass_kg": _one(answer.moving_mass[row]),
        "height_m": _one(answer.height[row]),
        "width_m": _one(answer.width[row]),
        "rail_spacing_m": _one(answer.rail_spacing[row]),
        "delivered_bow_m": _one(answer.bow[row]),
        "delivered_twist_m": _one(answer.twist[row]),
        "delivered_by": answer.straight_by[row],
        "price": _one(answer.price[row]),
        "best_by_moving_mass": best_by_mass,
    }


def _one(value: float) -> float | None:
    return float(value) if np.isfinite(value) else None


def _list(values: npt.NDArray[np.float64]) -> list[float | None]:
    return [_one(value) for value in values]


def rank_table(answer: RankAnswer, units: UnitSet, marked: Flags | None = None) -> Table:
    """Every candidate in its order.

    Args:
        marked: (n,) which are best; by default those that no other beats in moving mass and deflection over its limit.
    """
    marked = best(answer, "moving_mass", None, answer.fits) if marked is None else marked
    columns = [text_column("Beam"), text_column("Kind"), text_column("Material"), text_column("Best")]
    columns.append(text_column("Limits"))
    for name in answer.case_names:
        columns += [
            figure_column(name, "deflection", units, DIGITS),
            figure_column(f"{name}: 9 of 10 from", "deflection", units, DIGITS),
            figure_column(f"{name}: 9 of 10 to", "deflection", units, DIGITS),
        ]
    columns += [
        figure_column("Path error", "deflection", units, DIGITS),
        figure_column("Sag", "deflection", units, DIGITS),
        figure_column("First mode", "frequency", units, DIGITS),
        figure_column("Beam", "mass", units, DIGITS),
        figure_column("All that moves", "mass", units, DIGITS),
        figure_column("Height", "length", units),
        figure_column("Rails apart", "length", units),
        figure_column("Bow as delivered", "deflection", units, DIGITS),
        figure_column("Twist as delivered", "deflection", units, DIGITS),
        Column("Price", answer.currency),
        text_column("Rails held by"),
        text_column(WATCH),
    ]
    return Table(CHOICE, tuple(columns), tuple(zip(*_cells(answer, units, marked), strict=True)))


def _cells(answer: RankAnswer, units: UnitSet, marked: Flags) -> list[list[Cell]]:
    """Column by column, as `rank_table` heads them: a figure at a time would halt the window."""
    solved, one_by_one = answer.solved, answer.candidates

    def figures(found: Floats, quantity: str, known: Flags | None = None) -> list[Cell]:
        there = np.isfinite(found) if known is None else known & np.isfinite(found)
        shown = np.asarray(from_si(found, quantity, units)).tolist()
        return [value if is_there else None for value, is_there in zip(shown, there.tolist(), strict=True)]

    limits = np.where(solved, np.where(answer.holds, "hold", "broken"), "").tolist()
    cells: list[list[Cell]] = [
        [one.name for one in one_by_one], [one.family for one in one_by_one],
        [material(one.beam.material).name for one in one_by_one],
        ["best" if is_best else "" for is_best in marked.tolist()], limits,
    ]  # fmt: skip
    for case in range(len(answer.case_names)):
        cells += [figures(array[:, case], "deflection") for array in (answer.worst, answer.low, answer.high)]
    priced = [price if np.isfinite(price) else NO_PRICE for price in answer.price.tolist()]
    return [
        *cells,
        figures(answer.path_error, "deflection"), figures(answer.sag, "deflection"),
        figures(answer.first_mode, "frequency"),
        figures(answer.beam_mass, "mass", solved), figures(answer.moving_mass, "mass", solved),
        figures(answer.height, "length"), figures(answer.rail_spacing, "length"),
        figures(answer.bow, "deflection"), figures(answer.twist, "deflection"), priced,
        [one.beam.rail_fastening.hold for one in one_by_one],
        [problem or remark for problem, remark in zip(answer.problems, answer.remarks, strict=True)],
    ]  # fmt: skip


def rank_lines(answer: RankAnswer, units: UnitSet, cost: str = "moving_mass") -> list[str]:
    """The verdict, how many were tried, and the best to choose from with the one that the verdict names, those of least cost
    first; the machine's own beam stands before them.

    Args:
        cost: a key of `core.rank.COSTS`, to be weighed against the deflection.
    """
    marked = best(answer, cost, None, answer.fits)
    count, usable, holding = (
        len(answer.candidates), int(answer.fits.sum()), int((answer.fits & answer.holds).sum()),
    )  # fmt: skip
    who = "Of those that hold every limit" if holding else "None holds every limit; of those that can be used"
    lines = [
        answer.project.name,
        "",
        rank_headline(answer, units, answer.fits, cost).words,
        "",
        f"{count} beams tried in this machine: {usable} can be used as they are, {holding} of these hold every limit.",
    ]
    if not np.isfinite(getattr(answer, cost)).any():
        return [*lines, NO_PRICES_YET]
    lines += [f"{who}, no other is {_BOTH[cost]} than these; gains below 1 % are left out:", ""]
    named = least(answer, cost, answer.fits)
    listed = {*np.flatnonzero(marked).tolist(), *([] if named is None else [named])}
    rows = sorted(listed - {0}, key=lambda row: float(getattr(answer, cost)[row]))
    rows = [0, *rows]  # the machine's own beam always stands there to be compared with
    whole = rank_table(answer, units, marked)
    heads = [column.header for column in whole.columns]
    kept = [heads.index("Limits"), *(heads.index(name) for name in answer.case_names)]
    kept += [
        heads.index(name) for name in ("Path error", "First mode", "All that moves", "Height", "Price", WATCH)
    ]
    short = Table(
        whole.title,
        (whole.columns[0], *(whole.columns[k] for k in kept[:-1]), text_column("Warning")),
        tuple(
            (
                short_name(str(whole.rows[row][0])),
                *(_in_brief(whole.rows[row][k], k == kept[-1]) for k in kept),
            )
            for row in rows
        ),
    )
    return [*lines, *table_lines(short), "", NOT_TRIED]


_BOTH = {
    "moving_mass": "both lighter, with all that moves, and stiffer",
    "beam_mass": "both lighter by itself and stiffer",
    "height": "both lower and stiffer",
    "price": "both cheaper and stiffer",
}


def _in_brief(cell: Cell, is_warning: bool) -> Cell:
    """A warning as one word: its sentence stands in the file."""
    return ("yes" if cell else "") if is_warning else cell
