"""Plans as curves and bars in the user's units: the one place that decides what the plots show and how."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from app.answers import Answer
from app.widgets.bar_plot import BarPlot, Share
from app.widgets.plot import LinePlot
from app.widgets.plot_data import Curve, Dash, Level
from core.machine.project import COMPONENTS
from core.stiffness import CaseAnswer
from core.units import UnitSet, from_si, show, unit_label

DASHES: tuple[Dash, ...] = ("solid", "dash", "dot", "dashdot")
LIMIT_DASHES: tuple[Dash, ...] = ("sparse", "sparse dots", "sparse dot")
ABOUT_BUDGET = "How much of the tip's deflection each part gives under this load; all together 100 %."
ABOUT_SAG = (
    "The best line is the straight line nearest to the tool's path. A shim or a tilted rail takes it out; "
    "what is left after it is the path error."
)


def place_label(units: UnitSet, axis: str = "X") -> str:
    return f"Place along {axis}, {unit_label('length', units)}"


def deflection_label(units: UnitSet) -> str:
    return f"Deflection, {unit_label('deflection', units)}"


def _shown(values: Any, quantity: str, units: UnitSet) -> np.ndarray:
    return np.asarray(from_si(np.asarray(values, float), quantity, units), float)


def show_deflection(plot: LinePlot, answer: Answer, axis: str = "x") -> None:
    """Tip deflection along X (or Y) for each load case, with each limit and the tool's place.

    Along X with the band of nine in ten machines, once the study has it.
    """
    units, stiffness = answer.units, answer.plan.stiffness
    plot.set_labels(place_label(units, axis.upper()), deflection_label(units))
    if stiffness is None:
        plot.set_curves([])
        return
    curves = []
    bands = answer.study.bands if answer.study is not None and axis == "x" else None
    for number, case in enumerate(stiffness.cases):
        band = bands.cases[number] if bands is not None else None
        along = case.along_x if axis == "x" else case.along_y
        place = stiffness.x if axis == "x" else stiffness.y
        curves.append(
            Curve(
                _shown(place, "length", units),
                _shown(along, "deflection", units),
                case.name,
                str(number % 6 + 1),
                DASHES[number % 4],
                None if band is None else _shown(band.low_along_x, "deflection", units),
                None if band is None else _shown(band.high_along_x, "deflection", units),
            )
        )
    limits = case_limits(stiffness.cases, units)
    at = answer.wish.place.x if axis == "x" else answer.wish.place.y
    plot.set_curves(curves, limits, Level(float(from_si(at, "length", units)), "tool"))
    plot.set_summary(answer.plan.verdict.text)


def case_limits(cases: Sequence[CaseAnswer], units: UnitSet) -> list[Level]:
    """A line for each limit, in the colour of its load case and named after it; equal limits share one line."""
    names = short_names([case.name for case in cases])
    owners: dict[float, list[int]] = {}
    for number, case in enumerate(cases):
        owners.setdefault(case.limit, []).append(number)
    levels = []
    for line, (limit, numbers) in enumerate(owners.items()):
        whose = " and ".join(names[number] for number in numbers) if len(numbers) < 3 else "all of these"
        whose = "all load cases" if len(numbers) == len(cases) > 1 else whose
        levels.append(
            Level(
                float(from_si(limit, "deflection", units)),
                f"limit, {whose}: {show(limit, 'deflection', units)}",
                str(numbers[0] % 6 + 1) if len(owners) > 1 or len(cases) == 1 else "bad",
                LIMIT_DASHES[line % len(LIMIT_DASHES)],
            )
        )
    return levels


def short_names(names: Sequence[str]) -> list[str]:
    """As many of each name's first words as tell it from the others."""
    short = []
    for name in names:
        words = name.split()
        others = [other.split() for other in names if other != name]
        count = next(
            (n for n in range(1, len(words)) if all(other[:n] != words[:n] for other in others)), len(words)
        )
        short.append(" ".join(words[:count]) or name)
    return short


def show_sag(plot: LinePlot, answer: Answer) -> None:
    """The beam's sag, the tip's path under weight, and what a shim along the best line leaves of it."""
    units, sag = answer.units, answer.plan.sag
    plot.set_about(ABOUT_SAG)
    plot.set_labels(place_label(units), deflection_label(units))
    if sag is None:
        plot.set_curves([])
        return
    x = _shown(sag.x, "length", units)
    plot.set_curves(
        [
            Curve(x, _shown(sag.beam, "deflection", units), "beam", "1", "solid"),
            Curve(x, _shown(np.asarray(sag.path)[:, 2], "deflection", units), "tool path", "2", "dash"),
            Curve(x, _shown(sag.residual, "deflection", units), "after the best line", "3", "dot"),
        ]
    )


def budget_shares(answer: Answer, case: int, least: float = 0.0, most: int = 99) -> list[Share]:
    """The compliance budget of a load case as bars; small ones are put together when there are too many."""
    if not answer.plan.budgets:
        return []
    budget = answer.plan.budgets[min(case, len(answer.plan.budgets) - 1)]
    return shares_of(budget.shares, answer.units, budget.deflection, least, most)


def shares_of(
    shares: Any, units: UnitSet, deflection: float, least: float = 0.0, most: int = 99
) -> list[Share]:
    """Bars of (component, share) pairs, the largest first."""
    ordered = sorted(shares, key=lambda pair: -pair[1])
    kept = [pair for pair in ordered if pair[1] >= least][:most]
    bars = [
        Share(
            COMPONENTS.get(key, key),
            part,
            f"{COMPONENTS.get(key, key)}: {100 * part:.1f} % of the deflection, "
            f"{show(part * deflection, 'deflection', units)}",
        )
        for key, part in kept
    ]
    rest = sum(part for _, part in ordered) - sum(part for _, part in kept)
    if len(kept) < len(ordered) and rest > 1e-9:
        bars.append(Share("All others", rest, role="quiet", hatched=True))
    return bars


def show_budget(plot: BarPlot, answer: Answer, case: int, least: float = 0.0, most: int = 99) -> None:
    plot.set_about(ABOUT_BUDGET)
    plot.set_shares(budget_shares(answer, case, least, most))
