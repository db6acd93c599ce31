"""Heat as plain JSON (SI, the unit at the end of each key) and as tables in the user's units."""

from __future__ import annotations

from typing import Any

from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.thermal import Bow, HeatAnswer, HeatPath
from core.units import UnitSet, unit_label


def heat_json(answer: HeatAnswer) -> dict[str, Any]:
    """Pairs are for the coldest and the warmest shop; bonded is the upper bound, rails that slide do not bend a beam.

    A plate of another metal bows its beam with rails that slide too; a path is the worse of both, and says which.
    """
    return {
        "changes_K": list(answer.changes),
        "growths": [
            {"key": g.key, "label": g.label, "length_m": g.length, "material": g.material,
             "expansion_per_K": g.expansion, "change_m": list(g.change)}
            for g in answer.growths
        ],
        "bows": [
            {"key": b.key, "label": b.label, "direction": b.direction, "centroid_distance_m": b.distance,
             "curvature_bonded_per_m": list(b.curvature), "bow_bonded_m": list(b.bonded), "bow_sliding_m": 0.0,
             "bow_held_by_supports_m": list(b.held), "rail_pull_bonded_N": list(b.force),
             "rail_end_shift_sliding_m": list(b.shift), "screw_clearance_m": b.clearance,
             "bow_by_plate_m": list(b.plate), "bow_whole_m": list(b.whole), "across": b.across,
             "bow_by_plate_across_m": list(b.plate_across)}
            for b in answer.bows
        ],
        "paths": [
            {"axis": p.axis, "place_m": p.place.tolist(), "tip_moved_bonded_m": p.moved.tolist(),
             "left_after_best_line_m": p.left.tolist(), "worst_m": p.worst, "worst_place_m": p.worst_place,
             "travel_changed_by_turning_m": list(p.along), "rails": p.rails}
            for p in answer.paths
        ],
        "scales": [
            {"axis": s.axis, "travel_m": s.travel, "follows": s.follows, "expansion_per_K": list(s.expansion),
             "error_coldest_m": list(s.cold), "error_warmest_m": list(s.warm), "worst_m": s.worst}
            for s in answer.scales
        ],
        "held_screws": [
            {"axis": s.axis, "length_m": s.length, "growth_m": list(s.growth), "stiffness_N_per_m": s.stiffness,
             "push_N": list(s.push), "buckling_N": s.buckling, "stretch_wanted_m": s.stretch, "pull_wanted_N": s.pull}
            for s in answer.screws
        ],
        "spread_m": list(answer.spread),
    }  # fmt: skip


def growth_table(answer: HeatAnswer, units: UnitSet) -> Table:
    """Every long part by itself."""
    rows = tuple(
        (
            growth.label,
            growth.material,
            number(growth.length, "length", units),
            number(growth.expansion, "expansion", units),
            *(number(value, "deflection", units) for value in growth.change),
        )
        for growth in answer.growths
    )
    columns = (
        text_column("Part"),
        text_column("Material"),
        figure_column("Length", "length", units),
        figure_column("Expansion", "expansion", units),
        *_cold_warm("Change", units),
    )
    return Table("Growth by heat", columns, rows)


def bow_table(answer: HeatAnswer, units: UnitSet) -> Table:
    """Both bounds of each beam's bow, and what the rails do; figures, not pairs, one a row."""
    rows: list[tuple[Cell, ...]] = []
    for bow in answer.bows:
        across = f"along {bow.direction}"
        rows += [
            _row(
                f"{bow.label}: bow {across}, rails hold",
                bow.bonded,
                "deflection",
                units,
                "between its outer supports",
            ),
            _row(f"{bow.label}: bow {across}, rails slide", (0.0, 0.0), "deflection", units, "nothing bends"),
        ]
        rows += _by_plate(bow, units)
        if bow.held != bow.whole:
            why = "every support holds the beam down"
            rows.append(
                _row(f"{bow.label}: bow between supports, rails hold", bow.held, "deflection", units, why)
            )
        clear = number(bow.clearance, "deflection", units)
        rows += [
            _row(f"{bow.label}: pull in a rail, rails hold", bow.force, "force", units, "its screws carry it by friction"),
            _row(f"{bow.label}: shift of a rail's end, rails slide", bow.shift, "deflection", units,
                 f"screws have {clear:.3g} {unit_label('deflection', units)} of room"),
        ]  # fmt: skip
    rows.append(
        _row(
            "Gantry beam grows more than the base",
            answer.spread,
            "deflection",
            units,
            "uprights, carriages give way",
        )
    )
    for screw in answer.screws:
        why = f"buckles at {number(screw.buckling, 'force', units):.3g} {unit_label('force', units)}"
        rows.append(_row(f"{screw.axis} screw held at both ends: push", screw.push, "force", units, why))
    columns = (
        text_column("Figure"), Column("Coldest", digits=3, finest=4), Column("Warmest", digits=3, finest=4),
        text_column("Unit"), text_column("What it means"),
    )  # fmt: skip
    return Table("Bow by heat", columns, tuple(rows))


def _by_plate(bow: Bow, units: UnitSet) -> list[tuple[Cell, ...]]:
    """What a plate of another metal adds; nothing without one."""
    if not bow.across:
        return []
    alone, both = "rails slide, the plate is joined as described", "rails hold; they help or hinder the plate"
    rows = []
    if any(bow.plate):
        rows += [
            _row(
                f"{bow.label}: bow along {bow.direction}, plate alone", bow.plate, "deflection", units, alone
            ),
            _row(
                f"{bow.label}: bow along {bow.direction}, plate and rails",
                bow.whole,
                "deflection",
                units,
                both,
            ),
        ]
    if any(bow.plate_across):
        why = "what rails hinder there is left out"
        rows.append(
            _row(f"{bow.label}: bow along {bow.across}, plate", bow.plate_across, "deflection", units, why)
        )
    return rows


def _row(what: str, pair: tuple[float, float], quantity: str, units: UnitSet, why: str) -> tuple[Cell, ...]:
    return (what, *(number(value, quantity, units) for value in pair), unit_label(quantity, units), why)


def scale_table(answer: HeatAnswer, units: UnitSet) -> Table:
    """Error over each travel against the work, least and largest at both ends of the temperature."""
    rows = tuple(
        (
            scale.axis,
            number(scale.travel, "length", units),
            scale.follows,
            *(number(value, "deflection", units) for value in (*scale.cold, *scale.warm, scale.worst)),
        )
        for scale in answer.scales
    )
    columns = (
        text_column("Axis"),
        figure_column("Travel", "length", units),
        text_column("Its length follows"),
        figure_column("Coldest, least", "deflection", units, 3),
        figure_column("Coldest, most", "deflection", units, 3),
        figure_column("Warmest, least", "deflection", units, 3),
        figure_column("Warmest, most", "deflection", units, 3),
        figure_column("Worst", "deflection", units, 3),
    )
    return Table("Error over the travel by heat", columns, rows)


def _cold_warm(words: str, units: UnitSet) -> tuple[Column, Column]:
    return (
        figure_column(f"{words}, coldest", "deflection", units, 3),
        figure_column(f"{words}, warmest", "deflection", units, 3),
    )


def heat_path_table(path: HeatPath, units: UnitSet) -> Table:
    """The tip's movement along one travel with rails that hold."""
    rows = tuple(
        (
            number(float(place), "length", units),
            *(
                number(float(path.moved[side, k, axis]), "deflection", units)
                for side in (0, 1)
                for axis in range(3)
            ),
        )
        for k, place in enumerate(path.place)
    )
    columns = [figure_column(path.axis, "length", units)]
    for words in ("coldest", "warmest"):
        columns += [figure_column(f"Moved along {a}, {words}", "deflection", units) for a in "XYZ"]
    return Table(f"Tip's path along {path.axis} by heat", tuple(columns), rows)


def heat_path_x_table(answer: HeatAnswer, units: UnitSet) -> Table:
    """Along X."""
    return heat_path_table(answer.paths[0], units)


def heat_path_y_table(answer: HeatAnswer, units: UnitSet) -> Table:
    """Along Y."""
    return heat_path_table(answer.paths[1], units)
