"""Form as delivered, welded and measured, as plain JSON (SI, the unit at the end of each key) and as tables."""

from __future__ import annotations

from typing import Any

from core.form import FormAnswer, Survey
from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.units import UnitSet


def form_json(answer: FormAnswer) -> dict[str, Any]:
    """Deviations as delivered, welds one a row, bows summed, and the shims of each axis that was measured."""
    return {
        "deviations": [
            {"part": d.part, "what": d.what, "size_m": d.size, "allowed_m": d.allowed, "wanted_m": d.wanted,
             "ratio": d.ratio, "remedy": d.remedy, "standard": d.standard, "status": d.status}
            for d in answer.deviations
        ],
        "welds": [
            {"name": w.name, "part": w.part, "direction": w.direction, "throat_area_m2": w.throat_area, "bow_m": w.bow}
            for w in answer.welds
        ],
        "bows": [
            {"part": b.part, "direction": b.direction, "delivered_m": b.delivered, "welded_m": b.welded,
             "worst_m": b.worst, "wanted_m": b.wanted, "remedy": b.remedy}
            for b in answer.bows
        ],
        "surveys": [_survey(survey) for survey in answer.surveys],
    }  # fmt: skip


def _survey(survey: Survey) -> dict[str, Any]:
    return {
        "axis": survey.axis,
        "slope_m_per_m": survey.slope,
        "tilt_m": survey.tilt,
        "twist_m": survey.twist,
        "before_m": survey.before,
        "thickest_shim_m": survey.thickest,
        "worst_left_m": survey.worst_left,
        "rails": [
            {"key": rail.key, "label": rail.label, "line_slope_m_per_m": rail.line[0], "line_offset_m": rail.line[1],
             "measured_m": [list(pair) for pair in rail.measured],
             "shims": [{"hole": s.hole, "place_m": s.place, "height_m": s.height, "target_m": s.target,
                        "shim_m": s.shim, "left_m": s.left} for s in rail.shims]}
            for rail in survey.rails
        ],
    }  # fmt: skip


def delivery_table(answer: FormAnswer, units: UnitSet) -> Table:
    """What may arrive against what the rails want, and what takes it out at its worst."""
    rows = tuple(
        (
            d.part[:1].upper() + d.part[1:],
            d.what,
            number(d.size, "length", units),
            number(d.allowed, "deflection", units),
            number(d.wanted, "deflection", units),
            d.ratio,
            "" if d.remedy is None else d.remedy,
            f"{d.standard} ({d.status})" if d.status else d.standard,
        )
        for d in answer.deviations
    )
    columns = (
        text_column("Part"),
        text_column("What"),
        figure_column("Over", "length", units),
        figure_column("Allowed", "deflection", units, 3),
        figure_column("Rails want", "deflection", units),
        Column("Times", digits=3),
        text_column("At its worst"),
        text_column("Source"),
    )
    return Table("Form as delivered", columns, rows)


def weld_table(answer: FormAnswer, units: UnitSet) -> Table:
    """Each row of welds, then delivery and welds together."""
    rows: list[tuple[Cell, ...]] = [
        (w.name, w.part, w.direction, number(w.bow, "deflection", units), None, "") for w in answer.welds
    ]
    rows += [
        ("All, with delivery", b.part, b.direction, number(b.welded, "deflection", units),
         number(b.worst, "deflection", units), b.remedy)
        for b in answer.bows
    ]  # fmt: skip
    columns = (
        text_column("Welds"),
        text_column("Part"),
        text_column("Direction"),
        figure_column("Bow", "deflection", units, 3),
        figure_column("With delivery", "deflection", units, 3),
        text_column("At its worst"),
    )
    return Table("Bow by welding", columns, tuple(rows))


def shim_table(answer: FormAnswer, units: UnitSet) -> Table:
    """A row for each hole of each measured rail."""
    rows = tuple(
        (
            rail.label,
            shim.hole,
            number(shim.place, "length", units),
            *(number(v, "deflection", units) for v in (shim.height, shim.target, shim.shim, shim.left)),
        )
        for survey in answer.surveys
        for rail in survey.rails
        for shim in rail.shims
    )
    columns = (
        text_column("Rail"),
        Column("Hole"),
        figure_column("Place", "length", units),
        figure_column("Height", "deflection", units),
        figure_column("Wanted", "deflection", units),
        figure_column("Shim", "deflection", units),
        figure_column("Left over", "deflection", units, 2),
    )
    return Table("Shims", columns, rows)
