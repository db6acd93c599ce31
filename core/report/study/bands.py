"""Bands and their causes as plain JSON (SI, the unit at the end of each key) and as tables in the user's units."""

from __future__ import annotations

from typing import Any

from core.certainty import BandsAnswer, CaseBand, Spread, UncertainInput
from core.fields import SI_UNITS
from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.units import UnitSet, show, unit_label


def bands_json(answer: BandsAnswer) -> dict[str, Any]:
    """Band of each load case with its causes, of sag, path error and first mode."""
    return {
        "samples": answer.samples,
        "samples_of_curves": answer.curve_samples,
        "band_from_share": 0.05,
        "band_to_share": 0.95,
        "largest_difference_from_whole_frame": answer.checked,
        "inputs": [_input(i) for i in answer.inputs],
        "cases": [_case(answer, c) for c in answer.cases],
        "sag": _spread(answer.sag, "m"),
        "path_error": _spread(answer.path_error, "m"),
        "first_mode": _spread(answer.first_mode, "Hz"),
    }


def _input(i: UncertainInput) -> dict[str, Any]:
    unit = SI_UNITS.get(i.quantity, "").replace("/", "_per_").replace(" ", "_")
    end = f"_{unit}" if unit else ""
    return {
        "path": i.path,
        "label": i.label,
        "typical_of_the_program": i.automatic,
        f"low{end}": i.low,
        f"likely{end}": i.likely,
        f"high{end}": i.high,
    }


def _spread(s: Spread, unit: str) -> dict[str, Any]:
    return {
        f"likely_{unit}": s.likely,
        f"low_{unit}": s.low,
        f"high_{unit}": s.high,
        f"limit_{unit}": s.limit,
        "share_within_limit": s.within,
    }


def _case(answer: BandsAnswer, c: CaseBand) -> dict[str, Any]:
    return {
        "name": c.name,
        "x_m": c.x,
        "y_m": c.y,
        **_spread(c.spread, "m"),
        "all_favourable_m": c.best,
        "all_unfavourable_m": c.worst,
        "causes": [
            {
                "path": cause.input.path,
                "at_low_m": cause.at_low,
                "at_high_m": cause.at_high,
                "rank_correlation": cause.correlation,
                "share_of_width": cause.share,
            }
            for cause in c.causes
        ],
        "curve": {
            "y_m": answer.place_y,
            "x_m": answer.along_x.tolist(),
            "low_m": c.low_along_x.tolist(),
            "high_m": c.high_along_x.tolist(),
        },
    }


def bands_table(answer: BandsAnswer, units: UnitSet) -> Table:
    """Likely figure, band and limit of every load case, of sag, path error and first mode, each in its own unit."""
    columns = (
        text_column("Figure"),
        Column("Likely", digits=3),
        Column("From", digits=3),
        Column("To", digits=3),
        Column("Limit", digits=3),
        text_column("Unit"),
        Column("Holds in", "%", digits=3),
        Column("All favourable", digits=3),
        Column("All unfavourable", digits=3),
    )
    rows: list[tuple[Cell, ...]] = [
        _row(c.name, c.spread, "deflection", units, c.best, c.worst) for c in answer.cases
    ]
    rows.append(_row("Sag of the beam", answer.sag, "deflection", units))
    rows.append(_row("Path error", answer.path_error, "deflection", units))
    rows.append(_row("First natural frequency", answer.first_mode, "frequency", units))
    return Table("Bands: 9 of 10 machines within the given limits", columns, tuple(rows))


def _row(
    what: str, s: Spread, quantity: str, units: UnitSet, best: float | None = None, worst: float | None = None
) -> tuple[Cell, ...]:
    figures = [number(v, quantity, units) for v in (s.likely, s.low, s.high, s.limit)]
    within = None if s.limit is None else 100.0 * s.within
    corners = [number(v, quantity, units) for v in (best, worst)]
    return (what, *figures, unit_label(quantity, units), within, *corners)


def causes_table(answer: BandsAnswer, units: UnitSet) -> Table:
    """What makes each band wide: every input at its ends with all others likely."""
    columns = (
        text_column("Load case"),
        text_column("Known within limits only"),
        text_column("From"),
        text_column("Likely"),
        text_column("To"),
        figure_column("Deflection at its low end", "deflection", units),
        figure_column("Deflection at its high end", "deflection", units),
        Column("Rank correlation", digits=2),
        Column("Share of the width", "%", digits=3),
        text_column("Where from"),
    )
    rows = [
        (
            case.name,
            cause.input.label,
            *(
                show(v, cause.input.quantity, units)
                for v in (cause.input.low, cause.input.likely, cause.input.high)
            ),
            number(cause.at_low, "deflection", units),
            number(cause.at_high, "deflection", units),
            cause.correlation,
            100.0 * cause.share,
            "typical, from memory" if cause.input.automatic else "as entered",
        )
        for case in answer.cases
        for cause in case.causes
    ]
    return Table("What makes the bands wide", columns, tuple(rows))


def band_curve_table(answer: BandsAnswer, units: UnitSet) -> Table:
    """Ends of each load case's band along X."""
    columns = [figure_column("Place along X", "length", units)]
    for case in answer.cases:
        columns += [
            figure_column(f"{case.name}: from", "deflection", units),
            figure_column(f"{case.name}: to", "deflection", units),
        ]
    rows = []
    for k, x in enumerate(answer.along_x.tolist()):
        row: list[Cell] = [number(x, "length", units)]
        for case in answer.cases:
            row += [number(float(v[k]), "deflection", units) for v in (case.low_along_x, case.high_along_x)]
        rows.append(tuple(row))
    return Table("Bands along X", tuple(columns), tuple(rows))
