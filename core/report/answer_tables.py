"""The plan's answers as tables: load cases, findings, deflection along X, sag and path error."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from core.findings import ordered
from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.units import UnitSet, digits_beside, unit_label

if TYPE_CHECKING:
    from core.certainty import BandsAnswer
    from core.findings import Finding
    from core.plan import Plan


_SEVERITY = {"limit": "breaks a limit", "warning": "wants a look", "note": "for information"}


def cases_table(plan: Plan, bands: BandsAnswer | None = None) -> Table:
    """Load cases: worst deflection with its band once that is known, limit and place."""
    units = plan.project.units
    found = () if plan.stiffness is None else plan.stiffness.cases
    spread = {case.name: case.spread for case in bands.cases} if bands is not None else {}
    rows: list[tuple[Cell, ...]] = []
    beside = []
    for case, result in zip(plan.project.cases, found, strict=False):
        band = spread.get(case.name)
        low, high = (None, None) if band is None else (band.low, band.high)
        beside += [(v, case.limit) for v in (result.worst, low, high) if v is not None]
        rows.append(
            (
                case.name,
                *(number(v, "deflection", units) for v in (result.worst, low, high, case.limit)),
                number(result.worst_x, "length", units),
                number(result.worst_y, "length", units),
                "within" if result.worst <= case.limit else "over",
            )
        )
    digits = digits_beside(beside, "deflection", units)
    columns = (
        text_column("Load case"),
        figure_column("Worst deflection", "deflection", units, digits),
        figure_column("9 of 10 from", "deflection", units, digits),
        figure_column("9 of 10 to", "deflection", units, digits),
        figure_column("Limit", "deflection", units),
        figure_column("At X", "length", units),
        figure_column("At Y", "length", units),
        text_column("Result"),
    )
    return Table("Load cases", columns, tuple(rows))


def findings_table(plan: Plan, findings: tuple[Finding, ...] | None = None) -> Table:
    """Findings (the plan's own, unless others are given), the gravest first, each figure with its own unit."""
    units = plan.project.units
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
        for finding in ordered(plan.findings if findings is None else findings)
    )
    headers = (text_column("Severity"), text_column("Finding"), Column("Figure"), Column("Limit"))
    columns = (*headers, text_column("Unit"), text_column("Place"), text_column("Entry"), text_column("Code"))
    return Table("Findings", columns, rows)


def _figure_of(finding: Finding, value: float | None, units: UnitSet) -> float | None:
    return number(value, finding.quantity, units)


def curve_table(plan: Plan) -> Table:
    """Tip deflection along X of each load case."""
    units = plan.project.units
    answer = plan.stiffness
    columns = [figure_column("X", "length", units)]
    series: list[Sequence[float]] = [] if answer is None else [answer.x.tolist()]
    for case in answer.cases if answer is not None else ():
        columns.append(figure_column(case.name, "deflection", units))
        series.append(case.along_x.tolist())
    rows = tuple(
        (number(values[0], "length", units), *(number(v, "deflection", units) for v in values[1:]))
        for values in zip(*series, strict=True)
    )
    return Table("Tip deflection along X", tuple(columns), rows)


def path_table(plan: Plan) -> Table:
    """Sag of the beam, the tip's height under weight, and what is left after the best line."""
    units = plan.project.units
    columns = (
        figure_column("X", "length", units),
        figure_column("Beam's own sag", "deflection", units),
        figure_column("Tip's height under weight, from the middle", "deflection", units),
        figure_column("Path error after the best line", "deflection", units),
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
