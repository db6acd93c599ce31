"""The plan in lines of text, for a terminal and for `verdict.txt`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.certainty import nine_of_ten
from core.findings import ordered
from core.machine.project import COMPONENTS
from core.report.tables import Cell, Column, Table
from core.units import show, show_beside
from core.units.telling import FEW

if TYPE_CHECKING:
    from core.plan import Plan
    from core.study import Study

CAUTION = (
    "Planning figures, not a certificate. A driven gantry pinches, a spinning cutter cuts and throws, a beam "
    "that drops crushes; follow local codes and ask competent people about guards, stops, wiring and welding."
)
_WEIGHT = {"limit": "Over a limit", "warning": "Look at", "note": "Note"}
_TOP_SHARES = 4


def verdict_lines(plan: Plan, study: Study | None = None) -> list[str]:
    """Verdict, load cases, sag, where the deflection comes from, findings and the caution."""
    lines = [
        plan.project.name,
        *([plan.project.note] if plan.project.note else []),
        "",
        (plan if study is None else study).verdict.text,
        "",
    ]
    lines += _case_lines(plan, study) + _sag_lines(plan) + _budget_lines(plan)
    for finding in ordered(plan.findings if study is None else study.findings):
        place = f" ({finding.place})" if finding.place else ""
        lines.append(f"{_WEIGHT[finding.severity]}: {finding.message}{place}")
    return [*lines, "", CAUTION]


def _case_lines(plan: Plan, study: Study | None) -> list[str]:
    if plan.stiffness is None:
        return []
    units = plan.project.units
    lines = []
    bands = None if study is None else study.bands
    spread = {} if bands is None else {case.name: case.spread for case in bands.cases}
    for case, result in zip(plan.project.cases, plan.stiffness.cases, strict=True):
        held = "within" if result.worst <= case.limit else "over"
        lines.append(
            f"{case.name}: {show_beside(result.worst, case.limit, 'deflection', units)} at the tip, {held} the limit of "
            f"{show(case.limit, 'deflection', units)}; worst at x {show(result.worst_x, 'length', units)}, "
            f"y {show(result.worst_y, 'length', units)}."
            + (f" {nine_of_ten(spread[case.name], units)}" if case.name in spread else "")
        )
    return lines


def _sag_lines(plan: Plan) -> list[str]:
    if plan.sag is None:
        return []
    units = plan.project.units
    sag, limits = plan.sag, plan.project.limits
    return [
        f"Sag of the beam: {show_beside(sag.beam_worst, limits.sag, 'deflection', units)} "
        f"(limit {show(limits.sag, 'deflection', units)}).",
        f"Path error after the best line: {show_beside(sag.worst_residual, limits.path_error, 'deflection', units)} "
        f"(limit {show(limits.path_error, 'deflection', units)}); "
        f"a shim takes away up to {show(sag.removable, 'deflection', units, FEW)}.",
    ]


def _budget_lines(plan: Plan) -> list[str]:
    lines = []
    for budget in plan.budgets:
        top = ", ".join(
            f"{COMPONENTS.get(key, key)} {100.0 * share:.0f} %" for key, share in budget.shares[:_TOP_SHARES]
        )
        lines.append(f"Where the deflection comes from, {budget.case}: {top}.")
    return lines


def table_lines(table: Table, most_width: int = 44) -> list[str]:
    """The table in columns of text; columns without any content are left out and long texts are cut."""
    kept = [k for k in range(len(table.columns)) if any(row[k] not in (None, "") for row in table.rows)]
    if not kept:
        return [f"{table.title}: none"]
    columns = [table.columns[k] for k in kept]
    heads = [f"{c.header} ({c.unit})" if c.unit else c.header for c in columns]
    cells = [heads] + [
        [_short(row[k], most_width, columns[n]) for n, k in enumerate(kept)] for row in table.rows
    ]
    widths = [max(len(line[k]) for line in cells) for k in range(len(kept))]
    lines = [table.title]
    for line in cells:
        padded = [
            text.rjust(width) if column.align == "right" else text.ljust(width)
            for text, width, column in zip(line, widths, columns, strict=True)
        ]
        lines.append("  ".join(padded).rstrip())
    return lines


def _short(cell: Cell, most: int, column: Column) -> str:
    text = column.text(cell)
    return text if len(text) <= most else text[: most - 1] + "…"
