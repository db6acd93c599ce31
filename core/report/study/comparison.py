"""Variants side by side as plain JSON (SI, the unit at the end of each key) and as tables in the user's units."""

from __future__ import annotations

from typing import Any

from core.comparison import ComparisonAnswer, Fact, Figure, VariantAnswer, differing, sentence
from core.materials import material
from core.prices import NO_PRICE
from core.report.findings_json import finding_json
from core.report.study.cost_differences import costs_json
from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.sections import label
from core.units import UnitSet, from_si, show_number, unit_label

OWN_BEAM = "This machine's beam"
_UNIT = {
    "deflection": "m",
    "length": "m",
    "mass": "kg",
    "stiffness": "N_per_m",
    "rotational_stiffness": "N_m_per_rad",
    "frequency": "Hz",
    "money": "money",
    "ratio": "",
    "count": "",
}
_DIGITS = 3
NOTHING = "–"


def variants_json(answer: ComparisonAnswer, units: UnitSet, against: int = 0) -> list[dict[str, Any]]:
    """One for each machine, the project's own first. A figure is likely, low and high; low and high are null without a band."""
    return [_machine(answer, number, units, against) for number in range(len(answer.machines))]


def _machine(answer: ComparisonAnswer, number: int, units: UnitSet, against: int) -> dict[str, Any]:
    machine = answer.machines[number]
    plan = machine.plan
    stiffness = plan.stiffness if plan is not None else None
    return {
        "name": machine.name,
        "note": machine.note,
        "changes": [
            {"path": one.path, "label": one.label, "here": one.here, "machine": one.machine}
            for one in machine.listed
        ],
        "answered": machine.stands,
        "sentence": sentence(answer, number, units, against),
        "figures": {_key(figure): _figure(figure, number) for figure in answer.figures},
        "facts": {fact.key: fact.texts[number] for fact in answer.facts},
        "x_m": [] if stiffness is None else stiffness.x.tolist(),
        "deflection_along_x_m": []
        if stiffness is None
        else [case.along_x.tolist() for case in stiffness.cases],
        "budgets": []
        if plan is None
        else [
            {"case": b.case, "deflection_m": float(b.deflection), "shares": dict(b.shares)}
            for b in plan.budgets
        ],
        "cost_against_machine": costs_json(answer.costs[number]),
        "findings": [finding_json(finding) for finding in machine.findings],
    }


def _key(figure: Figure) -> str:
    unit = _UNIT.get(figure.quantity, figure.quantity)
    return f"{figure.key}_{unit}" if unit else figure.key


def _figure(figure: Figure, number: int) -> dict[str, float | None]:
    band = figure.band(number)
    likely = figure.likely[number]
    if figure.upper:  # nothing says where in between
        likely = None
    return {"likely": likely, "low": band[0] if band else None, "high": band[1] if band else None}


def comparison_json(answer: ComparisonAnswer) -> dict[str, Any]:
    """How the rows tell the machines apart, largest relative difference first."""
    apart, same, told, alike = differing(answer)
    return {
        "currency": answer.machines[0].project.prices.currency,
        "differing": [
            {
                "key": _key(figure),
                "label": figure.label,
                "better": figure.better or None,
                "relative_difference": figure.spread,
            }
            for figure in apart
        ],
        "same": [_key(figure) for figure in same],
        "differing_facts": [fact.key for fact in told],
        "same_facts": [fact.key for fact in alike],
    }


def alternatives_json(answer: ComparisonAnswer) -> list[dict[str, Any]]:
    """The beams of all machines that have an answer, the machine's own first, as files of earlier versions had them."""
    return [
        _beam(machine, OWN_BEAM if number == 0 else machine.name, answer)
        for number, machine in enumerate(answer.machines)
        if machine.stands
    ]


def _beam(machine: VariantAnswer, name: str, answer: ComparisonAnswer) -> dict[str, Any]:
    plan = machine.plan
    assert plan is not None
    assert plan.stiffness is not None
    beam = machine.project.machine.gantry.beam
    value = {key: ends[0] for key, ends in machine.values.items()}
    screws, nuts = value["screws"], value["nuts"]
    return {
        "name": name,
        "section": label(beam.section),
        "material": material(beam.material).name,
        "rail_spacing_m": value["rail_spacing"],
        "height_m": value["height"],
        "beam_mass_kg": value["beam_mass"],
        "moving_mass_kg": value["moving_mass"],
        "worst_m": [float(case.worst) for case in plan.stiffness.cases],
        "stiffness_x_y_z_N_per_m": [value["stiffness_x"], value["stiffness_y"], value["stiffness_z"]],
        "sag_m": value["sag"],
        "path_error_m": value["path_error"],
        "shares": {key: float(share) for key, share in plan.budgets[0].shares},
        "screws": int(screws or 0),
        "nuts": int(nuts or 0),
        "findings": [finding_json(finding) for finding in machine.findings],
    }


def variants_table(answer: ComparisonAnswer, units: UnitSet) -> Table:
    """Every row as numbers: likely, low and high of each machine; those that differ first. Facts stand in `facts_table`."""
    apart, same, _, _ = differing(answer)
    columns = [text_column("Figure"), text_column("Unit")]
    for name in answer.names:
        columns += [Column(name), Column(f"{name}, low"), Column(f"{name}, high")]
    rows = []
    for figure in (*apart, *same):
        cells: list[Cell] = [figure.label, _unit(answer, figure, units)]
        for k in range(len(answer.machines)):
            band = figure.band(k)
            low, high = band if band is not None else (0.0 if figure.upper else None, None)
            likely = figure.likely[k]
            cells += [
                number(value, figure.quantity, units)
                for value in (likely, None if likely is None else low, high)
            ]
        rows.append(tuple(cells))
    return Table("Variants side by side", tuple(columns), tuple(rows))


def facts_table(answer: ComparisonAnswer, units: UnitSet) -> Table:
    """What cannot be a number, and one sentence for each machine."""
    rows: list[tuple[Cell, ...]] = [(fact.label, *fact.texts) for fact in answer.facts]
    rows.append(("Note", *(machine.note for machine in answer.machines)))
    rows.append(("In a sentence", *(sentence(answer, k, units) for k in range(len(answer.machines)))))
    return Table(
        "Variants in words", (text_column("Fact"), *(text_column(name) for name in answer.names)), tuple(rows)
    )


def changes_table(answer: ComparisonAnswer, units: UnitSet) -> Table:
    """Every entry in which a variant differs."""
    rows = tuple(
        (machine.name, one.label, one.here, one.machine, one.path)
        for machine in answer.machines
        for one in machine.listed
    )
    headers = ("Variant", "Entry", "Here", "In the machine", "Path")
    return Table("Entries that differ", tuple(text_column(words) for words in headers), rows)


def variant_curves_table(answer: ComparisonAnswer, units: UnitSet) -> Table:
    """Tip deflection along X of each load case, and the beam's sag, of all machines on the places of the first."""
    machines = [machine for machine in answer.machines if machine.stands]
    columns = [figure_column("X", "length", units)]
    series: list[list[float]] = []
    first = machines[0].plan if machines else None
    for machine in machines:
        plan = machine.plan
        assert plan is not None
        assert plan.stiffness is not None
        assert first is not None
        assert first.stiffness is not None
        if plan.stiffness.x.shape != first.stiffness.x.shape or (plan.stiffness.x != first.stiffness.x).any():
            continue  # another travel; its curves stand in its own JSON
        for case in plan.stiffness.cases:
            columns.append(figure_column(f"{machine.name}, {case.name}", "deflection", units))
            series.append(from_si(case.along_x, "deflection", units).tolist())
    places = (
        []
        if first is None or first.stiffness is None
        else from_si(first.stiffness.x, "length", units).tolist()
    )
    rows = tuple(zip(places, *series, strict=True))
    return Table("Tip deflection along X of the variants", tuple(columns), rows)


FIRST_FACTS = ("holds", "section")
"""Facts that stand above the figures."""


def screen_tables(answer: ComparisonAnswer, units: UnitSet) -> tuple[Table, Table]:
    """(rows that differ, rows that do not) as a person reads them: figures with their bands between two lots of facts."""
    apart, same, told, alike = differing(answer)
    return _screen("What differs", answer, apart, told, units), _screen(
        "The same in all", answer, same, alike, units
    )


def _screen(
    title: str, answer: ComparisonAnswer, figures: tuple[Figure, ...], facts: tuple[Fact, ...], units: UnitSet
) -> Table:
    count = range(len(answer.machines))
    first: list[tuple[Cell, ...]] = [(fact.label, *fact.texts) for fact in facts if fact.key in FIRST_FACTS]
    rows: list[tuple[Cell, ...]] = [
        (_with_unit(answer, figure, units), *(_cell(answer, figure, k, units) for k in count))
        for figure in figures
    ]
    last: list[tuple[Cell, ...]] = [
        (fact.label, *fact.texts) for fact in facts if fact.key not in FIRST_FACTS
    ]
    columns = (text_column("Figure"), *(Column(name) for name in answer.names))
    return Table(title, columns, (*first, *rows, *last))


def _unit(answer: ComparisonAnswer, figure: Figure, units: UnitSet) -> str:
    """The unit shown; of prices the project's currency."""
    if figure.quantity == "money":
        return answer.machines[0].project.prices.currency
    return unit_label(figure.quantity, units)


def _with_unit(answer: ComparisonAnswer, figure: Figure, units: UnitSet) -> str:
    unit = _unit(answer, figure, units)
    return f"{figure.label}, {unit}" if unit else figure.label


def _cell(answer: ComparisonAnswer, figure: Figure, column: int, units: UnitSet) -> str:
    """ "0.056 (0.026 – 0.12)"; an upper bound as "0 – 0.4"."""
    value = figure.likely[column]
    if value is None:
        missing = figure.quantity == "money" and answer.machines[column].plan is not None
        return NO_PRICE if missing else NOTHING
    digits = None if figure.quantity in ("count", "money") else _DIGITS
    text = show_number(value, figure.quantity, units, digits)
    if figure.upper:
        return f"0 – {text}" if value > 0.0 else text
    band = figure.band(column)
    if band is None or band[1] - band[0] <= 1e-6 * abs(value):
        return text
    low, high = (show_number(end, figure.quantity, units, 2) for end in band)
    return f"{text} ({low} – {high})"
