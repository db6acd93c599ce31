"""Drives as plain JSON (SI, the unit at the end of each key) and as tables in the user's units."""

from __future__ import annotations

from typing import Any

from core.drives import AxisDrive, DrivesAnswer, Racking, Row
from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.units import UnitSet, from_si, unit_label

_SUFFIX = {
    "length": "_m",
    "deflection": "_m",
    "force": "_N",
    "mass": "_kg",
    "stiffness": "_N_per_m",
    "torque": "_N_m",
    "rotation_speed": "_rev_per_s",
    "acceleration": "_m_per_s2",
    "angle": "_rad",
}
RESULT = {"at most": ("over", "within"), "at least": ("too little", "enough")}


def drives_json(answer: DrivesAnswer) -> dict[str, Any]:
    """Axes with their figures and curves, and the racking of the gantry (None when the frame cannot be solved)."""
    return {
        "axes": [_axis(axis) for axis in answer.axes],
        "racking": None if answer.racking is None else _racking(answer.racking),
    }


def _axis(axis: AxisDrive) -> dict[str, Any]:
    low, likely, high = axis.stiffness.tolist()
    least, torque, most = axis.available.tolist()
    return {
        "axis": axis.axis,
        "drive": axis.label,
        "motors": axis.drives,
        "gear_ratio": axis.ratio,
        "moved_mass_of_one_drive_kg": axis.mass,
        "screw_or_belt_length_m": axis.length,
        "push_accelerating_low_likely_high_N": axis.force_accelerating.tolist(),
        "push_cutting_low_likely_high_N": axis.force_cutting.tolist(),
        "rapid_m_per_s": axis.rapid,
        "feed_m_per_s": axis.feed,
        "torque_accelerating_low_likely_high_N_m": axis.accelerating.tolist(),
        "torque_cutting_low_likely_high_N_m": axis.cutting.tolist(),
        "figures": [_row(row) for row in axis.rows],
        "stiffness_along_travel": {
            "place_m": axis.place.tolist(),
            "low_N_per_m": low,
            "likely_N_per_m": likely,
            "high_N_per_m": high,
            "parts_likely_N_per_m": {name: k.tolist() for name, k in axis.parts.items()},
        },
        "torque_over_speed": {
            "speed_m_per_s": axis.speed.tolist(),
            "low_N_m": least,
            "likely_N_m": torque,
            "high_N_m": most,
        },
    }


def _row(row: Row) -> dict[str, Any]:
    unit = _SUFFIX.get(row.quantity, "")
    said: dict[str, Any] = {"key": row.key, "what": row.what, f"value{unit}": row.value}
    if row.limit is not None:
        said |= {f"limit{unit}": row.limit, "compare": row.compare, "holds": row.good}
    return said | {"note": row.note, "source": row.source}


def _racking(r: Racking) -> dict[str, Any]:
    return {
        "lag_m": r.lag,
        "drive_spacing_m": r.spacing,
        "turn_by_geometry_rad": r.angle,
        "offset_by_geometry_m": r.offset,
        "turn_at_work_rad": r.angle_elastic,
        "offset_at_work_m": r.offset_elastic,
        "strain_of_each_drive_N": r.strain,
        "case": r.case,
        "force_along_y_N": r.force,
        "share_of_drive_beside_head": r.share_near,
        "sides_differ_equal_drives_m": r.difference_equal,
        "sides_differ_unequal_drives_m": r.difference_unequal,
        "turn_equal_drives_rad": r.turn_equal,
        "turn_unequal_drives_rad": r.turn_unequal,
    }


_COLUMNS = (
    text_column("Figure"),
    Column("Value", digits=3),
    text_column("Compared"),
    Column("Limit", digits=3),
    text_column("Unit"),
    text_column("Result"),
    text_column("Note"),
    text_column("Where from"),
)


def rows_table(title: str, rows: tuple[Row, ...], units: UnitSet) -> Table:
    """Figures against their limits."""
    return Table(title, _COLUMNS, tuple(_cells(row, units) for row in rows))


def _cells(row: Row, units: UnitSet) -> tuple[Cell, ...]:
    result = "" if row.good is None else RESULT[row.compare][row.good]
    note = row.note[:1].upper() + row.note[1:]
    shown = (number(row.value, row.quantity, units), row.compare, number(row.limit, row.quantity, units))
    return (row.what, *shown, unit_label(row.quantity, units), result, note, row.source)


def drives_table(answer: DrivesAnswer, units: UnitSet) -> Table:
    """Every figure of every axis and of the racking."""
    groups = [(axis.label, axis.rows) for axis in answer.axes]
    if answer.racking is not None:
        groups.append(("Gantry racking", answer.racking.rows))
    rows = [(name, *_cells(row, units)) for name, own in groups for row in own]
    return Table("Drives", (text_column("Axis"), *_COLUMNS), tuple(rows))


def stiffness_table(axis: AxisDrive, units: UnitSet) -> Table:
    """Stiffness along the travel: low, likely, high, and the likely stiffness of each part."""
    names = ("Low", "Likely", "High", *(f"{name[:1].upper()}{name[1:]}" for name in axis.parts))
    columns = (
        figure_column("Place", "length", units),
        *(figure_column(name, "stiffness", units, 3) for name in names),
    )
    shown = [from_si(k, "stiffness", units) for k in (*axis.stiffness, *axis.parts.values())]
    rows = zip(from_si(axis.place, "length", units), *shown, strict=True)
    return Table(f"Stiffness of {axis.label}", columns, tuple(tuple(float(v) for v in row) for row in rows))


def torque_table(axis: AxisDrive, units: UnitSet) -> Table:
    """Torque that the motor has over the axis' speed, and what is wanted there."""
    names = ("There is, low", "There is, likely", "There is, high", "Wanted to accelerate", "Wanted to cut")
    columns = (
        figure_column("Speed", "speed", units),
        *(figure_column(name, "torque", units, 3) for name in names),
    )
    rows = []
    for k, speed in enumerate(axis.speed):
        wanted = (
            axis.accelerating[1] if speed <= axis.rapid * (1.0 + 1e-9) else None,
            axis.cutting[1] if speed <= axis.feed * (1.0 + 1e-9) else None,
        )
        torques = [
            number(None if v is None else float(v), "torque", units) for v in (*axis.available[:, k], *wanted)
        ]
        rows.append((number(float(speed), "speed", units), *torques))
    return Table(f"Torque of {axis.label}", columns, tuple(rows))


def all_stiffness_table(answer: DrivesAnswer, units: UnitSet) -> Table:
    """Stiffness along the travel of the three axes."""
    columns = (
        text_column("Axis"),
        figure_column("Place", "length", units),
        *(figure_column(name, "stiffness", units, 3) for name in ("Low", "Likely", "High")),
    )
    rows: list[tuple[Cell, ...]] = []
    for axis in answer.axes:
        rows += [(axis.label, *row[:4]) for row in stiffness_table(axis, units).rows]
    return Table("Stiffness of the drives along the travel", columns, tuple(rows))


def all_torque_table(answer: DrivesAnswer, units: UnitSet) -> Table:
    """Torque over speed of the three axes."""
    tables = [torque_table(axis, units) for axis in answer.axes]
    rows = [(axis.label, *row) for axis, table in zip(answer.axes, tables, strict=True) for row in table.rows]
    return Table("Motor torque over speed", (text_column("Axis"), *tables[0].columns), tuple(rows))
