"""The bands in words: for the verdict, for findings, and for what to find out first."""

from __future__ import annotations

from core.certainty.answer import BandsAnswer, CaseBand, Spread
from core.findings import Finding
from core.machine.project import Project
from core.units import UnitSet, digits_beside, show, show_number

CLOSED = 1e-6
"""A band narrower than this part of its figure is closed."""


def band_words(spread: Spread, units: UnitSet, quantity: str = "deflection") -> str:
    """The figure with its band ("0.08 mm, 0.06 to 0.11 mm in 9 of 10 cases").

    As few digits as tell the three figures apart and from the limit; a closed band is the figure alone.
    """
    figures = (spread.likely, spread.low, spread.high)
    if spread.high - spread.low <= CLOSED * spread.likely:
        return show(spread.likely, quantity, units)
    pairs = [(spread.low, spread.high)] + [(v, spread.limit) for v in figures if spread.limit is not None]
    digits = digits_beside(pairs, quantity, units)
    likely, high = (show(v, quantity, units, digits) for v in (spread.likely, spread.high))
    return f"{likely}, {show_number(spread.low, quantity, units, digits)} to {high} in 9 of 10 cases"


def nine_of_ten(spread: Spread, units: UnitSet, quantity: str = "deflection") -> str:
    """The band alone, as a sentence for the verdict; empty when it is closed."""
    figure, _, rest = band_words(spread, units, quantity).partition(", ")
    return f"With all that is uncertain {rest}." if figure and rest else ""


def cause_words(case: CaseBand, units: UnitSet) -> str:
    """What makes a case's band wide, and that finding it out narrows it; empty when nothing does."""
    if not case.causes:
        return "Every figure that matters here is exact, so the band is closed."
    first = case.causes[0]
    low, high = sorted((first.at_low, first.at_high))
    ends = f"{show_number(low, 'deflection', units, 2)} to {show(high, 'deflection', units, 2)}"
    return (
        f"Widest by itself: {first.input.label}, {ends} "
        "between its ends. A datasheet or a measurement narrows it."
    )


def wide_findings(project: Project, answer: BandsAnswer) -> tuple[Finding, ...]:
    """Figures that hold their limit when likely, but not in nineteen of twenty cases."""
    units = project.units
    rows = [
        (c.name, f"cases.{c.number}.limit", c.spread, c.causes[0].input.label if c.causes else "")
        for c in answer.cases
    ]
    rows.append(("Sag of the gantry beam", "limits.sag", answer.sag, ""))
    rows.append(("Path error left after the best line", "limits.path_error", answer.path_error, ""))
    found = []
    for what, where, spread, cause in rows:
        if spread.limit is None or not spread.likely <= spread.limit < spread.high:
            continue
        limit = show(spread.limit, "deflection", units)
        text = f"{what}: {band_words(spread, units)}; the limit of {limit} holds in {_percent(spread.within)} of the cases."
        if cause:
            text += f" Most uncertain: {cause}."
        found.append(Finding("wide-band", "warning", where, text, spread.high, spread.limit, "deflection"))
    return tuple(found)


def _percent(share: float) -> str:
    """Never "100 %" for what sometimes fails, nor "0 %" for what sometimes holds."""
    if 0.0 < share < 1.0:
        share = min(max(share, 0.01), 0.99)
    return f"{100 * share:.0f} %"
