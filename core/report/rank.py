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
from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.sections import label
from core.units import UnitSet

Flags = npt.NDArray[np.bool_]
CHOICE = "Beams to choose from"
WATCH = "Why not, or what to watch"
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
    rows = tuple(_row(answer, row, units, bool(marked[row])) for row in range(len(answer.candidates)))
    return Table(CHOICE, tuple(columns), rows)


def _row(answer: RankAnswer, row: int, units: UnitSet, is_best: bool) -> tuple[Cell, ...]:
    def figure(value: float, quantity: str) -> float | None:
        return number(_one(value), quantity, units)

    one, solved = answer.candidates[row], bool(answer.solved[row])
    cells: list[Cell] = [one.name, one.family, material(one.beam.material).name, "best" if is_best else ""]
    cells.append(("hold" if answer.holds[row] else "broken") if solved else "")
    for case in range(len(answer.case_names)):
        cells += [figure(array[row, case], "deflection") for array in (answer.worst, answer.low, answer.high)]
    cells += [
        figure(answer.path_error[row], "deflection"),
        figure(answer.sag[row], "deflection"),
        figure(answer.first_mode[row], "frequency"),
        figure(answer.beam_mass[row], "mass") if solved else None,
        figure(answer.moving_mass[row], "mass") if solved else None,
        figure(answer.height[row], "length"),
        figure(answer.rail_spacing[row], "length"),
        figure(answer.bow[row], "deflection"),
        figure(answer.twist[row], "deflection"),
        float(answer.price[row]) if np.isfinite(answer.price[row]) else NO_PRICE,
        one.beam.rail_fastening.hold,
        answer.problems[row] or answer.remarks[row],
    ]
    return tuple(cells)


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
    return [*lines, *table_lines(short)]


_BOTH = {
    "moving_mass": "both lighter, with all that moves, and stiffer",
    "beam_mass": "both lighter by itself and stiffer",
    "height": "both lower and stiffer",
    "price": "both cheaper and stiffer",
}


def _in_brief(cell: Cell, is_warning: bool) -> Cell:
    """A warning as one word: its sentence stands in the file."""
    return ("yes" if cell else "") if is_warning else cell
