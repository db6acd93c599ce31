"""Variants side by side in lines of text, for a terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.comparison import sentences
from core.prices import NO_PRICE
from core.report.lines import table_lines
from core.report.study.comparison import NOTHING, screen_tables
from core.report.study.cost_differences import cost_sentences

if TYPE_CHECKING:
    from core.comparison import ComparisonAnswer
    from core.units import UnitSet


def comparison_lines(answer: ComparisonAnswer, units: UnitSet, against: int = 0) -> list[str]:
    """What each variant lists, what differs, what is the same (named only), one sentence for each, and what does not fit."""
    lines = ["Variants"]
    for machine in answer.machines:
        lines.append(f"  {machine.name}" + (f". {machine.note}" if machine.note else ""))
        lines += [f"    {one.label}: {one.here} (machine: {one.machine})" for one in machine.listed]
    apart, same = screen_tables(answer, units)
    lines += ["", *table_lines(apart)]
    empty = [row for row in same.rows if all(cell in ("", NOTHING, NO_PRICE) for cell in row[1:])]
    known = [row for row in same.rows if row not in empty]
    for words, rows in (("The same in all", known), ("Not known", empty)):
        if rows:
            lines += ["", f"{words}: {', '.join(str(row[0]) for row in rows)}."]
    lines += ["", *sentences(answer, units, against)]
    if any(machine.cost is not None and machine.cost.any_price for machine in answer.machines):
        lines += ["", *cost_sentences(answer)]
    return [*lines, *(f"Look at: {finding.message}" for finding in answer.findings)]
