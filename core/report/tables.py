"""The plan's tables as data, in the project's own units: rails, parts, load cases, beams, findings, curves.

The screen, the CSV files and the terminal all show these.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from core.units import UnitSet, from_si, unit_label

if TYPE_CHECKING:
    from core.findings import Finding
    from core.plan import Plan

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


def units_of(plan: Plan) -> UnitSet:
    """The units in which the plan's project wants its figures."""
    display = plan.project.display
    return UnitSet(display.length, display.force)


def number(value: float | None, quantity: str, units: UnitSet) -> float | None:
    """An SI figure in the user's units."""
    return None if value is None else float(from_si(value, quantity, units))


def _text(header: str) -> Column:
    return Column(header, align="left")


def _figure(header: str, quantity: str, units: UnitSet) -> Column:
    return Column(header, unit_label(quantity, units))


def cases_table(plan: Plan) -> Table:
    """Load cases: worst deflection with its uncertainty, limit and place."""
    units = units_of(plan)
    answer = plan.stiffness
    rows: list[tuple[Cell, ...]] = []
    for case, result in zip(plan.project.cases, answer.cases if answer is not None else (), strict=False):
        rows.append(
            (
                case.name,
                *(number(value, "deflection", units) for value in (result.worst, result.low, result.high)),
                number(case.limit, "deflection", units),
                number(result.worst_x, "length", units),
                number(result.worst_y, "length", units),
                "within" if result.worst <= case.limit else "over",
            )
        )
    columns = (
        _text("Load case"),
        _figure("Worst deflection", "deflection", units),
        _figure("When all is stiff", "deflection", units),
        _figure("When all is soft", "deflection", units),
        _figure("Limit", "deflection", units),
        _figure("At X", "length", units),
        _figure("At Y", "length", units),
        _text("Result"),
    )
    return Table("Load cases", columns, tuple(rows))


def fasteners_table(plan: Plan) -> Table:
    """Rails with their holes, screws and nuts."""
    units = units_of(plan)
    lengths = ("length", "pitch", "first", "last", "screw_length", "shortest", "longest", "engagement")
    rows: list[tuple[Cell, ...]] = []
    for rail in plan.rails:
        figures = {name: number(getattr(rail, name), "length", units) for name in lengths}
        slot = "" if rail.on_slot is None else ("on a slot" if rail.on_slot else "off the slots")
        rows.append(
            (
                rail.label,
                rail.size,
                *(figures[name] for name in ("length", "pitch", "first", "last")),
                rail.count,
                rail.screws,
                rail.nuts,
                rail.screw_text,
                *(figures[name] for name in ("screw_length", "shortest", "longest")),
                rail.hold,
                figures["engagement"],
                slot,
                rail.note,
            )
        )
    columns = (
        _text("Rail"),
        Column("Size"),
        _figure("Rail length", "length", units),
        _figure("Hole pitch", "length", units),
        _figure("First hole", "length", units),
        _figure("Last hole to end", "length", units),
        Column("Holes"),
        Column("Screws"),
        Column("Nuts"),
        _text("Screw"),
        _figure("Screw length", "length", units),
        _figure("Shortest usable screw", "length", units),
        _figure("Longest usable screw", "length", units),
        _text("Goes into"),
        _figure("Thread engagement", "length", units),
        _text("Slot"),
        _text("Note"),
    )
    return Table("Rails and fasteners", columns, tuple(rows))


def parts_table(plan: Plan) -> Table:
    """Every part with quantity, length, mass, spares and packs."""
    units = units_of(plan)
    rows = tuple(
        (
            part.group,
            part.what,
            part.spec,
            part.quantity,
            number(part.length, "length", units),
            number(part.mass_each, "mass", units),
            number(part.mass, "mass", units),
            *((part.spare, part.pack_size, part.packs) if part.pack_size else (None, None, None)),
            part.where,
        )
        for part in plan.parts
    )
    columns = (
        _text("Group"),
        _text("Part"),
        _text("Specification"),
        Column("Quantity"),
        _figure("Length of one", "length", units),
        _figure("Mass of one", "mass", units),
        _figure("Mass of all", "mass", units),
        Column("Spares"),
        Column("In a pack"),
        Column("Packs"),
        _text("Where"),
    )
    return Table("Parts", columns, rows)


def alternatives_table(plan: Plan) -> Table:
    """The machine's own beam and those to compare, side by side."""
    units = units_of(plan)
    cases = plan.project.cases
    rows: list[tuple[Cell, ...]] = []
    for beam in plan.alternatives:
        worst = [number(value, "deflection", units) for value in beam.worst]
        rows.append(
            (
                beam.name,
                beam.section_label,
                beam.material_name,
                number(beam.beam_mass, "mass", units),
                number(beam.moving_mass, "mass", units),
                *worst,
                *[None] * (len(cases) - len(worst)),
                *(number(value, "stiffness", units) for value in beam.stiffness),
                number(beam.sag, "deflection", units),
                number(beam.path_error, "deflection", units),
                100.0 * float(dict(beam.shares).get("beam", 0.0)),
                beam.screws,
                beam.nuts,
            )
        )
    columns = (
        _text("Beam"),
        _text("Section"),
        _text("Material"),
        _figure("Beam mass", "mass", units),
        _figure("Moving mass", "mass", units),
        *(_figure(f"Worst deflection, {case.name}", "deflection", units) for case in cases),
        *(_figure(f"Stiffness along {axis}", "stiffness", units) for axis in "XYZ"),
        _figure("Sag", "deflection", units),
        _figure("Path error", "deflection", units),
        Column("Beam's share of the deflection", "%"),
        Column("Screws"),
        Column("Nuts"),
    )
    return Table("Beams side by side", columns, tuple(rows))


_SEVERITY = {"limit": "breaks a limit", "warning": "wants a look", "note": "for information"}


def findings_table(plan: Plan) -> Table:
    """Findings, the gravest first, each figure with its own unit."""
    units = units_of(plan)
    order = {"limit": 0, "warning": 1, "note": 2}
    rows = tuple(
        (
            _SEVERITY[finding.severity],
            finding.message,
            _figure_of(finding, finding.value, units),
            _figure_of(finding, finding.limit, units),
            "" if finding.value is None and finding.limit is None else unit_label(finding.quantity, units),
            finding.place,
            finding.where,
            finding.code,
        )
        for finding in sorted(plan.findings, key=lambda found: order[found.severity])
    )
    headers = (_text("Severity"), _text("Finding"), Column("Figure"), Column("Limit"))
    columns = (*headers, _text("Unit"), _text("Place"), _text("Entry"), _text("Code"))
    return Table("Findings", columns, rows)


def _figure_of(finding: Finding, value: float | None, units: UnitSet) -> float | None:
    return number(value, finding.quantity, units)


def curve_table(plan: Plan) -> Table:
    """Tip deflection along X of each load case."""
    units = units_of(plan)
    answer = plan.stiffness
    columns = [_figure("X", "length", units)]
    series: list[Sequence[float]] = [] if answer is None else [answer.x.tolist()]
    for case in answer.cases if answer is not None else ():
        columns.append(_figure(case.name, "deflection", units))
        series.append(case.along_x.tolist())
    rows = tuple(
        (number(values[0], "length", units), *(number(v, "deflection", units) for v in values[1:]))
        for values in zip(*series, strict=True)
    )
    return Table("Tip deflection along X", tuple(columns), rows)


def path_table(plan: Plan) -> Table:
    """Sag of the beam, the tip's height under weight, and what is left after the best line."""
    units = units_of(plan)
    columns = (
        _figure("X", "length", units),
        _figure("Beam's own sag", "deflection", units),
        _figure("Tip's height under weight, from the middle", "deflection", units),
        _figure("Path error after the best line", "deflection", units),
    )
    if plan.sag is None:
        return Table("Sag and path error", columns, ())
    sag = plan.sag
    rows = tuple(
        (number(x, "length", units), *(number(value, "deflection", units) for value in values))
        for x, *values in zip(
            sag.x.tolist(), sag.beam.tolist(), sag.path[:, 2].tolist(), sag.residual.tolist(), strict=True
        )
    )
    return Table("Sag and path error", columns, rows)
