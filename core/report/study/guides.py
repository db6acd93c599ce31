"""Carriages as plain JSON (SI, the unit at the end of each key) and as tables in the user's units."""

from __future__ import annotations

import math
from typing import Any

from core.guides import GuidesAnswer
from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.units import UnitSet, from_si, unit_label

MARK = "tightest"
LONGEST, LONGEST_HOURS = 1.0e8, 1.0e5
"""Life in m and in hours beyond which a screen says no more than that it is longer."""
FROM_MEMORY = "typical, from memory"


def guides_json(answer: GuidesAnswer) -> dict[str, Any]:
    """One entry a carriage, with its loads in every state of work; `null` stands for a life or safety without end."""
    return {
        "tool_x_m": answer.x.tolist(),
        "tool_y_m": answer.y.tolist(),
        "tightest": answer.carriages[answer.tightest].name,
        "unbalanced_share": answer.balance,
        "travel_shares": list(answer.shares),
        "carriages": [_carriage(answer, k) for k in range(len(answer.carriages))],
    }


def _carriage(answer: GuidesAnswer, k: int) -> dict[str, Any]:
    carriage = answer.carriages[k]
    return {
        "name": carriage.name,
        "axis": carriage.axis,
        "place_with_the_tool_in_the_middle_m": list(carriage.point),
        "dynamic_rating_for_100_km_N": float(answer.dynamic[k]),
        "static_rating_N": float(answer.static[k]),
        "rating_from_memory": bool(answer.typical[k]),
        "mean_load_N": float(answer.mean_load[k]),
        "life_m": _finite(answer.life[k]),
        "life_h": _finite(answer.hours[k]),
        "wanted_life_m": float(answer.wanted_life[k]),
        "largest_load_N": float(answer.largest[k]),
        "largest_load_in": answer.largest_state[k],
        "static_safety": _finite(answer.safety[k]),
        "wanted_static_safety": float(answer.wanted_safety[k]),
        "share_of_what_is_allowed": float(answer.use[k]),
        "largest_pull_N": float(answer.pull[k]),
        "preload_lost_at_N": float(answer.holds[k]),
        "states": [
            {
                "name": state.name,
                "kind": state.kind,
                "share_of_travel": state.share,
                "pressing_N": float(state.pressing[k]),
                "lateral_N": float(state.lateral[k]),
                "equivalent_N": float(state.load[k]),
                "tool_x_m": float(state.x[k]),
                "tool_y_m": float(state.y[k]),
            }
            for state in answer.states
        ],
    }


def _finite(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None


def _life(quantity: str, units: UnitSet) -> Column:
    """A column of lives; beyond a hundred thousand kilometres other things end a carriage."""
    most = float(f"{from_si(LONGEST, quantity, units):.0e}")
    return Column("Life", unit_label(quantity, units), digits=3, rough=True, most=most)


def carriages_table(answer: GuidesAnswer, units: UnitSet) -> Table:
    """Every carriage: largest and mean load, life, static safety, pull, and the share of what is allowed."""
    columns = (
        text_column("Carriage"),
        Column("Share of what is allowed", "%", digits=3),
        text_column("Tightest"),
        figure_column("Largest load", "force", units, 3),
        Column("Static safety", digits=3),
        figure_column("Mean load for the life", "force", units, 3),
        _life("distance_run", units),
        Column("Life", "h", digits=3, rough=True, most=LONGEST_HOURS),
        figure_column("Pull off the rail", "force", units, 3),
        text_column("Largest load when"),
        figure_column("Preload gone at", "force", units, 3),
        figure_column("C for 100 km", "force", units),
        figure_column("C0", "force", units),
        text_column("Ratings from"),
    )
    rows: list[tuple[Cell, ...]] = []
    for k, carriage in enumerate(answer.carriages):
        force = [
            number(float(a[k]), "force", units)
            for a in (
                answer.largest,
                answer.mean_load,
                answer.pull,
                answer.holds,
                answer.dynamic,
                answer.static,
            )
        ]
        largest, mean, pull, holds, dynamic, static = force
        mark = MARK if k == answer.tightest else ""
        rows.append(
            (
                carriage.name, 100.0 * float(answer.use[k]), mark, largest,
                _finite(answer.safety[k]), mean, number(_finite(answer.life[k]), "distance_run", units),
                _finite(answer.hours[k]), pull, answer.largest_state[k], holds, dynamic, static,
                FROM_MEMORY if answer.typical[k] else "as entered",
            )
        )  # fmt: skip
    return Table("Carriages", columns, tuple(rows))


def loads_table(answer: GuidesAnswer, units: UnitSet) -> Table:
    """Equivalent load of every carriage in every state of work, each at the carriage's own worst place."""
    columns = (text_column("Carriage"), *(figure_column(s.name, "force", units, 3) for s in answer.states))
    rows = tuple(
        (carriage.name, *(number(float(s.load[k]), "force", units) for s in answer.states))
        for k, carriage in enumerate(answer.carriages)
    )
    return Table("Loads of carriages in each state", columns, rows)


def forces_table(answer: GuidesAnswer, units: UnitSet) -> Table:
    """Normal and lateral force of every carriage in every state of work, where it is worst, and where the tool then is."""
    columns = (
        text_column("Carriage"),
        text_column("State"),
        figure_column("Pressing on the rail", "force", units, 3),
        figure_column("Sideways", "force", units, 3),
        figure_column("Equivalent load", "force", units, 3),
        figure_column("Tool at X", "length", units, 4),
        figure_column("Tool at Y", "length", units, 4),
    )
    rows = []
    for k, carriage in enumerate(answer.carriages):
        for state in answer.states:
            forces = (state.pressing[k], state.lateral[k], state.load[k])
            places = (state.x[k], state.y[k])
            rows.append(
                (
                    carriage.name,
                    state.name,
                    *(number(float(v), "force", units) for v in forces),
                    *(number(float(v), "length", units) for v in places),
                )
            )
    return Table("Forces on carriages", columns, tuple(rows))


def one_carriage_table(answer: GuidesAnswer, k: int, units: UnitSet) -> Table:
    """The same for one carriage."""
    whole = forces_table(answer, units)
    name = answer.carriages[k].name
    rows = tuple(row[1:] for row in whole.rows if row[0] == name)
    return Table(f"Forces on {name}", whole.columns[1:], rows)
