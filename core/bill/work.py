"""Hours of work that the description implies, and what they cost at the user's rates: welds, machining, rail holes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from core.fasteners import RailAnswer
from core.machine.layout import Layout
from core.machine.project import Project
from core.prices import exact, times


@dataclass(frozen=True, slots=True)
class WorkLine:
    """Work of one kind: hours, rate (None when not entered) and cost (None without a rate)."""

    key: str
    what: str
    hours: float
    rate: Decimal | None
    cost: Decimal | None
    rule: str


def work_lines(project: Project, layout: Layout, rails: Iterable[RailAnswer]) -> tuple[WorkLine, ...]:
    """All work that takes time; kinds without any are left out."""
    prices, lines = project.prices, []
    metres = weld_length(project, layout)
    if metres > 0.0:
        hours = metres * prices.weld_hours_per_metre
        rule = f"{metres:.3g} m of weld at {prices.weld_hours_per_metre:g} h a metre"
        lines.append(_line("welding", "Welding", hours, prices.welding_rate, rule))
    if prices.machining_hours > 0.0:
        rule = "hours as entered"
        lines.append(_line("machining", "Machining", prices.machining_hours, prices.machining_rate, rule))
    counts: dict[str, int] = {}
    for rail in rails:
        counts[rail.hold] = counts.get(rail.hold, 0) + rail.count
    for hold, count in counts.items():
        minutes = project.hole_work.minutes(hold)  # type: ignore[arg-type]
        hours = count * minutes / 60.0
        rule = f"{count} holes at {minutes:g} min"
        key = f"holes_{hold.replace(' ', '_').replace('-', '_')}"
        lines.append(_line(key, f"Rail holes, {hold}", hours, prices.fitting_rate, rule))
    return tuple(line for line in lines if line.hours > 0.0)


def weld_length(project: Project, layout: Layout) -> float:
    """Length of all planned welds, m; both side beams are welded alike."""
    total = 0.0
    for weld in project.straightness.welds:
        side = weld.part == "side beam"
        whole = layout.side_beam_length if side else layout.beam_length
        length = whole if weld.length is None else min(weld.length, whole)
        total += weld.count * length * weld.filled * (2 if side else 1)
    return total


def _line(key: str, what: str, hours: float, rate: float | None, rule: str) -> WorkLine:
    each = None if rate is None else exact(rate)
    cost = None if each is None else times(each, round(hours, 6))
    return WorkLine(key, what, hours, each, cost, rule)
