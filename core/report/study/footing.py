"""The base as plain JSON (SI, the unit at the end of each key) and as tables in the user's units."""

from __future__ import annotations

from typing import Any

from core.footing import FootingAnswer
from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.units import UnitSet

HEAD_AT = ("head at the left", "head in the middle", "head at the right")


def footing_json(answer: FootingAnswer) -> dict[str, Any]:
    """Arrays count the places along Y first, then the head's three places along X."""
    return {
        "y_m": answer.y.tolist(),
        "x_m": answer.x.tolist(),
        "bolted": answer.bolted,
        "weight_N": answer.weight,
        "feet": [
            {
                "name": foot.name,
                "side": foot.side,
                "number": foot.number,
                "x_m": foot.x,
                "y_m": foot.y,
                "gap_m": foot.gap,
                "force_N": answer.press[..., k].tolist(),
                "clearance_m": answer.hangs[..., k].tolist(),
            }
            for k, foot in enumerate(answer.feet)
        ],
        "left_rail_height_m": answer.left.tolist(),
        "right_rail_height_m": answer.right.tolist(),
        "left_rail_height_by_gantry_m": answer.rolling_left.tolist(),
        "right_rail_height_by_gantry_m": answer.rolling_right.tolist(),
        "right_over_left_m": answer.tilt.tolist(),
        "twist_m": answer.twist,
        "level_error_m": answer.level,
        "level_error_side": answer.level_side,
        "deepest_under_gantry_m": answer.sag,
        "deepest_under_gantry_y_m": answer.sag_y,
        "base_compliance_m_per_N": answer.give.tolist(),
        "base_share": answer.share.tolist(),
    }


def feet_table(answer: FootingAnswer, units: UnitSet) -> Table:
    """Each foot with the least and the largest force on the floor, wherever gantry and head stand."""
    rows: list[tuple[Cell, ...]] = []
    middle = answer.y.size // 2
    for k, foot in enumerate(answer.feet):
        press = answer.press[..., k]
        hang = float(answer.hangs[..., k].max())
        rows.append(
            (
                foot.name.capitalize(),
                number(foot.x, "length", units),
                number(foot.y, "length", units),
                number(foot.gap, "deflection", units),
                number(float(press.min()), "force", units),
                number(float(press[middle, 1]), "force", units),
                number(float(press.max()), "force", units),
                number(hang, "deflection", units),
            )
        )
    columns = (
        text_column("Foot"),
        figure_column("X", "length", units, 4),
        figure_column("Y", "length", units, 4),
        figure_column("Floor too low by", "deflection", units),
        figure_column("Least force", "force", units, 3),
        figure_column("Gantry in the middle", "force", units, 3),
        figure_column("Largest force", "force", units, 3),
        figure_column("Hangs up to", "deflection", units, 3),
    )
    return Table("Feet", columns, tuple(rows))


def travel_table(answer: FootingAnswer, units: UnitSet) -> Table:
    """Level of the rails and the base's share with the head in the middle, for each place of the tool along Y."""
    columns = (
        figure_column("Y", "length", units, 4),
        figure_column("Left rail", "deflection", units, 3),
        figure_column("Right rail", "deflection", units, 3),
        figure_column("Right over left", "deflection", units, 3),
        figure_column("Left, by the gantry alone", "deflection", units, 3),
        figure_column("Right, by the gantry alone", "deflection", units, 3),
        *(figure_column(f"Base gives along {axis}", "compliance", units, 3) for axis in "XYZ"),
        *(Column(f"Base's share along {axis}", "%") for axis in "XYZ"),
    )
    heights = (answer.left, answer.right, answer.tilt, answer.rolling_left, answer.rolling_right)
    rows = tuple(
        (
            number(float(y), "length", units),
            *(number(float(h[n, 1]), "deflection", units) for h in heights),
            *(number(float(v), "compliance", units) for v in answer.give[n, 1]),
            *(100.0 * float(v) for v in answer.share[n, 1]),
        )
        for n, y in enumerate(answer.y)
    )
    return Table("Rails and base along the travel", columns, rows)
