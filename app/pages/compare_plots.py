"""Variants as overlaid curves and as bars side by side, in the user's units."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from app.pages.curves import DASHES, case_limits, deflection_label, place_label
from app.widgets.plot import LinePlot
from app.widgets.plot_data import Curve
from core.units import UnitSet, from_si

if TYPE_CHECKING:
    from core.comparison import ComparisonAnswer


def show_overlaid(plot: LinePlot, answer: ComparisonAnswer, case: int, units: UnitSet) -> None:
    """Tip deflection along X under one load case, a curve for each machine, with the case's limit."""
    plot.set_labels(place_label(units), deflection_label(units))
    curves, limits = [], []
    for number, machine in enumerate(answer.machines):
        plan = machine.plan
        if plan is None or plan.stiffness is None:
            continue
        found = plan.stiffness.cases[min(case, len(plan.stiffness.cases) - 1)]
        limits = limits or case_limits([found], units)
        curves.append(_curve(plan.stiffness.x, found.along_x, machine.name, number, units))
    plot.set_curves(curves, limits)


def show_sags(plot: LinePlot, answer: ComparisonAnswer, units: UnitSet) -> None:
    """The beam's own line under weight, a curve for each machine."""
    plot.set_labels(place_label(units), deflection_label(units))
    plot.set_curves(
        [
            _curve(machine.plan.sag.x, machine.plan.sag.beam, machine.name, number, units)
            for number, machine in enumerate(answer.machines)
            if machine.plan is not None and machine.plan.sag is not None
        ]
    )


def _curve(x: np.ndarray, y: np.ndarray, name: str, number: int, units: UnitSet) -> Curve:
    return Curve(
        np.asarray(from_si(np.asarray(x, float), "length", units)),
        np.asarray(from_si(np.asarray(y, float), "deflection", units)),
        name,
        str(number % 6 + 1),
        DASHES[number % len(DASHES)],
    )
