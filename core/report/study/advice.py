"""What to stiffen first as plain JSON (SI, the unit at the end of each key) and as tables in the user's units."""

from __future__ import annotations

from typing import Any

from core.advice import Advice, AdviceAnswer, Slope
from core.fields import SI_UNITS
from core.report.tables import Column, Table, figure_column, number, text_column
from core.units import UnitSet, show, to_si, unit_label

NO_PRICE = "no price"


def advice_json(answer: AdviceAnswer) -> dict[str, Any]:
    """The load case that governs, the changes with their gain, and the slopes."""
    return {
        "case": answer.case,
        "x_m": answer.x,
        "y_m": answer.y,
        "deflection_m": answer.before,
        "limit_m": answer.limit,
        "changes": [_advice(a) for a in answer.advices],
        "slopes": [_slope(s) for s in answer.slopes],
    }


def _advice(a: Advice) -> dict[str, Any]:
    return {
        "key": a.change.key,
        "sentence": a.sentence,
        "entries": [path for path, _ in a.change.edits],
        "deflection_m": a.after,
        "gain_share": a.gain,
        "added_mass_kg": a.mass,
        "gain_share_per_kg": a.gain_per_kg,
        "price": a.price,
        "gain_share_per_price": a.gain_per_price,
        "no_longer_holds": a.breaks,
    }


def _slope(s: Slope) -> dict[str, Any]:
    unit = SI_UNITS.get(s.quantity, s.quantity).replace("/", "_per_").replace(" ", "_")
    return {
        "path": s.path,
        "label": s.label,
        f"value_{unit}": s.value,
        f"deflection_m_for_each_{unit}": s.per_unit,
        "percent_for_each_percent": s.relative,
    }


def advice_table(answer: AdviceAnswer, units: UnitSet) -> Table:
    """Changes of the machine, the largest gain first."""
    columns = (
        text_column("Change"),
        Column("Less deflection", "%", digits=2),
        figure_column("Deflection", "deflection", units, 3),
        figure_column("Added mass", "mass", units, 2),
        Column(f"Gain for each {unit_label('mass', units)}", "%", digits=2),
        text_column("Gain for the money"),
        text_column("Mind"),
    )
    kilograms = to_si(1.0, "mass", units)
    rows = [
        (
            a.change.words,
            100.0 * a.gain,
            number(a.after, "deflection", units),
            number(a.mass, "mass", units),
            None if a.gain_per_kg is None else 100.0 * a.gain_per_kg * kilograms,
            NO_PRICE if a.gain_per_price is None else f"{100.0 * a.gain_per_price:.2g} %",
            a.breaks,
        )
        for a in answer.advices
    ]
    return Table(f"What to stiffen first: {answer.case}", columns, tuple(rows))


def slopes_table(answer: AdviceAnswer, units: UnitSet) -> Table:
    """How the worst deflection follows each entry, the strongest first."""
    columns = (
        text_column("Entry"),
        text_column("Now"),
        Column("Change for each % more", "%", digits=2),
        figure_column("Change for 10 % more", "deflection", units, 3),
    )
    rows = [
        (
            s.label,
            show(s.value, s.quantity, units),
            s.relative,
            number(0.1 * s.value * s.per_unit, "deflection", units),
        )
        for s in answer.slopes
    ]
    return Table("How the deflection follows each entry", columns, tuple(rows))
