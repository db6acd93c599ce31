"""Cutting loads as plain JSON (SI, the unit at the end of each key) and as tables in the user's units."""

from __future__ import annotations

import math
from typing import Any

from core.cutting import CutCase, CuttingAnswer, tip_force
from core.machine.loads import LoadCase
from core.materials.workpieces import Triple
from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.units import UnitSet, from_si, unit_label

PRACTICE = "common practice"
_COLUMNS = (
    text_column("Figure"),
    Column("Low", digits=3),
    Column("Likely", digits=3),
    Column("High", digits=3),
    text_column("Unit"),
    text_column("Where from"),
)


def cutting_json(answer: CuttingAnswer) -> dict[str, Any]:
    """One entry a load case that is described by its cut; figures of three are low, likely, high."""
    return {"cases": [_case(case) for case in answer.cases]}


def _case(case: CutCase) -> dict[str, Any]:
    chip, turn, plunge = case.chip, case.turn, case.plunge
    return {
        "case": case.number,
        "name": case.name,
        "workpiece": case.cut.workpiece,
        "workpiece_text": case.stuff,
        "source": case.source,
        "status": case.status,
        "feed_per_tooth_m": chip.feed_tooth,
        "engagement_rad": chip.engagement,
        "teeth_in_the_cut": chip.engaged,
        "mean_chip_m": chip.mean,
        "largest_chip_m": chip.largest,
        "thinnest_wanted_m": case.thinnest,
        "thickest_wanted_m": case.thickest,
        "pressure_Pa": list(case.pressure),
        "power_W": list(case.power),
        "spindle_power_to_plan_with_W": case.available,
        "torque_N_m": list(case.torque),
        "mean_tangential_N": list(case.tangential),
        "mean_radial_N": case.radial,
        "mean_axial_N": case.axial,
        "mean_tooth_N": list(case.tooth_mean),
        "peak_tooth_N": list(case.tooth_peak),
        "peak_of_all_teeth_N": turn.peak,
        "mean_of_all_teeth_N": turn.mean,
        "edge_speed_m_per_s": case.edge_speed,
        "chip_volume_m3_per_s": case.volume,
        "plunge": {
            "feed_m_per_s": plunge.feed,
            "feed_per_tooth_m": plunge.feed_tooth,
            "axial_N": list(plunge.force),
            "power_W": list(plunge.power),
            "torque_N_m": list(plunge.torque),
        },
    }


def cutting_table(case: CutCase, units: UnitSet) -> Table:
    """Every figure of one load case: low, likely and high with its unit and where it comes from."""
    chip, turn, plunge = case.chip, case.turn, case.plunge
    stuff = f"{case.source} ({case.status})" if case.source != case.status else case.source
    practice = PRACTICE
    rows = [
        _one("Feed a tooth", chip.feed_tooth, "deflection", units, "feed / (speed × teeth)"),
        _one("Engagement angle", chip.engagement, "angle", units, "arccos(1 − 2 width / diameter)"),
        _one("Teeth in the cut, mean", chip.engaged, "ratio", units, "teeth × angle / full turn"),
        _one("Mean chip", chip.mean, "deflection", units, "feed a tooth × (1 − cos angle) / angle"),
        _one("Thickest chip", chip.largest, "deflection", units, "feed a tooth × sin angle, up to 90°"),
        _three("Cutting pressure at the mean chip", case.pressure, "cutting_pressure", units, stuff),
        _three("Cutting power", case.power, "power", units, "depth × width × feed × pressure"),
        _one("Spindle power to plan with", case.available, "power", units, "as entered, at this speed"),
        _three("Torque", case.torque, "torque", units, "power / speed"),
        _three("Mean tangential force", case.tangential, "force", units, "power / speed of the edge"),
        _one("Mean radial force", case.radial, "force", units, f"share of the tangential, {practice}"),
        _one("Mean axial force", case.axial, "force", units, f"share of the tangential, {practice}"),
        _three(
            "One tooth, mean while it cuts", case.tooth_mean, "force", units, "pressure × depth × mean chip"
        ),
        _three("One tooth, peak", case.tooth_peak, "force", units, "at the thickest chip, straight edge"),
        _one("All teeth, mean", turn.mean, "force", units, "the sum over one turn, three directions"),
        _one("All teeth, peak", turn.peak, "force", units, "the largest in the turn, three directions"),
        _one("Speed of the edge", case.edge_speed, "speed", units, "diameter × speed"),
        _one(
            "Straight down: feed",
            plunge.feed,
            "speed",
            units,
            f"as entered, or a third of the feed, {practice}",
        ),
        _three("Straight down: axial force", plunge.force, "force", units, f"estimate, {practice}"),
        _three(
            "Straight down: power", plunge.power, "power", units, "as for drilling with the whole diameter"
        ),
    ]
    return Table(f"Cutting: {case.name}", _COLUMNS, tuple(rows))


def force_table(case: LoadCase, units: UnitSet) -> Table:
    """The force of a load case that is given as a force."""
    force = tip_force(case)
    size = math.sqrt(float(force @ force))
    why = "as entered"
    rows = [
        *(_one(f"Force along {a}", float(v), "force", units, why) for a, v in zip("XYZ", force, strict=True)),
        _one("All together", size, "force", units, "root of the sum of squares"),
    ]
    return Table(f"Force: {case.name}", _COLUMNS, tuple(rows))


def _one(what: str, value: float, quantity: str, units: UnitSet, why: str) -> tuple[Cell, ...]:
    return (what, None, number(value, quantity, units), None, unit_label(quantity, units), why)


def _three(what: str, values: Triple, quantity: str, units: UnitSet, why: str) -> tuple[Cell, ...]:
    shown = (number(value, quantity, units) for value in values)
    return (what, *shown, unit_label(quantity, units), why)


def turn_table(case: CutCase, units: UnitSet) -> Table:
    """Forces over one turn of the cutter."""
    turn = case.turn
    forces = (turn.tooth, turn.tangential, turn.along, turn.across, turn.axial, turn.resultant)
    shown = [from_si(turn.angle, "angle", units), *(from_si(f, "force", units) for f in forces)]
    rows = tuple(tuple(float(v) for v in row) for row in zip(*shown, strict=True))
    return Table(f"Forces over one turn: {case.name}", _turn_columns(units), rows)


def _turn_columns(units: UnitSet) -> tuple[Column, ...]:
    words = (
        "One tooth",
        "All teeth, tangential",
        "Along the feed",
        "Across the feed",
        "Along Z",
        "All together",
    )
    return (
        figure_column("Turned by", "angle", units, 3),
        *(figure_column(word, "force", units, 3) for word in words),
    )


def all_cuts_table(answer: CuttingAnswer, units: UnitSet) -> Table:
    """`cutting_table` of every load case below each other."""
    rows = [(case.name, *row) for case in answer.cases for row in cutting_table(case, units).rows]
    return Table("Cutting loads", (text_column("Load case"), *_COLUMNS), tuple(rows))


def all_turns_table(answer: CuttingAnswer, units: UnitSet) -> Table:
    """`turn_table` of every load case below each other."""
    rows = [(case.name, *row) for case in answer.cases for row in turn_table(case, units).rows]
    return Table("Forces over one turn", (text_column("Load case"), *_turn_columns(units)), tuple(rows))
