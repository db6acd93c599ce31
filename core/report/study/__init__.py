"""The study as JSON data and as tables: one file for each of its answers, listed here."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from core.report.study.advice import advice_json, advice_table, slopes_table
from core.report.study.bands import band_curve_table, bands_json, bands_table, causes_table
from core.report.study.bars import bars_json, bars_table
from core.report.study.comparison import (
    changes_table,
    comparison_json,
    facts_table,
    variant_curves_table,
    variants_table,
)
from core.report.study.cutting import all_cuts_table, all_turns_table, cutting_json
from core.report.study.drilling import drilling_json, drilling_table, pieces_table
from core.report.study.drives import all_stiffness_table, all_torque_table, drives_json, drives_table
from core.report.study.footing import feet_table, footing_json, travel_table
from core.report.study.form import delivery_table, form_json, shim_table, weld_table
from core.report.study.guides import carriages_table, forces_table, guides_json, loads_table
from core.report.study.heat import (
    bow_table,
    growth_table,
    heat_json,
    heat_path_x_table,
    heat_path_y_table,
    scale_table,
)
from core.report.study.interim import (
    axes_table,
    interim_json,
    interim_table,
    kinds_table,
    offers_table,
    order_table,
)
from core.report.study.joints import joints_json, joints_table, limits_table, patterns_table, stacks_table
from core.report.study.slots import joint_nuts_table, loading_table, slots_json, slots_table
from core.report.study.vibration import (
    modes_table,
    places_table,
    receptance_table,
    speeds_table,
    stability_table,
    vibration_json,
)
from core.report.tables import Table
from core.units import UnitSet

if TYPE_CHECKING:
    from core.study import Study

# By the field of `Study`: how the answer becomes JSON, and its tables by the name of their file.
JSON: dict[str, Callable[[Any], dict[str, Any]]] = {
    "cutting": cutting_json,
    "bars": bars_json,
    "footing": footing_json,
    "drives": drives_json,
    "guides": guides_json,
    "joints": joints_json,
    "heat": heat_json,
    "form": form_json,
    "drilling": drilling_json,
    "slots": slots_json,
    "interim": interim_json,
    "vibration": vibration_json,
    "bands": bands_json,
    "advice": advice_json,
    "comparison": comparison_json,
}
TABLES: dict[str, tuple[str, Callable[[Any, UnitSet], Table]]] = {
    "cutting": ("cutting", all_cuts_table),
    "cutting_turns": ("cutting", all_turns_table),
    "sections": ("bars", bars_table),
    "feet": ("footing", feet_table),
    "base_travel": ("footing", travel_table),
    "drives": ("drives", drives_table),
    "drive_stiffness": ("drives", all_stiffness_table),
    "motor_torque": ("drives", all_torque_table),
    "carriages": ("guides", carriages_table),
    "carriage_loads": ("guides", loads_table),
    "carriage_forces": ("guides", forces_table),
    "joints": ("joints", joints_table),
    "joint_stacks": ("joints", stacks_table),
    "joint_patterns": ("joints", patterns_table),
    "joint_limits": ("joints", limits_table),
    "heat_growth": ("heat", growth_table),
    "heat_bow": ("heat", bow_table),
    "heat_scale": ("heat", scale_table),
    "heat_path_x": ("heat", heat_path_x_table),
    "heat_path_y": ("heat", heat_path_y_table),
    "form_delivered": ("form", delivery_table),
    "form_welds": ("form", weld_table),
    "form_shims": ("form", shim_table),
    "rail_pieces": ("drilling", pieces_table),
    "drilling": ("drilling", drilling_table),
    "t_nuts": ("slots", slots_table),
    "t_nuts_of_joints": ("slots", joint_nuts_table),
    "t_nut_order": ("slots", loading_table),
    "interim_axes": ("interim", axes_table),
    "interim": ("interim", interim_table),
    "interim_order": ("interim", order_table),
    "interim_screws": ("interim", kinds_table),
    "interim_joints": ("interim", offers_table),
    "vibration_modes": ("vibration", modes_table),
    "vibration_places": ("vibration", places_table),
    "vibration_receptance": ("vibration", receptance_table),
    "vibration_speeds": ("vibration", speeds_table),
    "vibration_depth": ("vibration", stability_table),
    "bands": ("bands", bands_table),
    "band_causes": ("bands", causes_table),
    "band_curves": ("bands", band_curve_table),
    "stiffen_first": ("advice", advice_table),
    "slopes": ("advice", slopes_table),
    "variants": ("comparison", variants_table),
    "variants_in_words": ("comparison", facts_table),
    "variants_changes": ("comparison", changes_table),
    "variants_along_x": ("comparison", variant_curves_table),
}


def study_json(study: Study) -> dict[str, Any]:
    """Each answer by its name, None for those that the machine does not have."""
    answers = {name: getattr(study, name) for name in JSON}
    return {name: None if answers[name] is None else JSON[name](answers[name]) for name in JSON}


def study_tables(study: Study) -> dict[str, Table]:
    """Every table of the answers that there are, by the name of its file."""
    units = study.plan.project.units
    return {
        file: make(answer, units)
        for file, (name, make) in TABLES.items()
        if (answer := getattr(study, name)) is not None
    }
