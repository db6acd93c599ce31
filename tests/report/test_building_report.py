"""Drilling list, slots and interim plan as JSON and tables: nothing lost, units told, runs of numbers in short."""

from __future__ import annotations

import json

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.fasteners.drilling import find_drilling
from core.fasteners.interim import InterimAnswer, find_interim
from core.fasteners.interim.supply import wants
from core.fasteners.slots import find_slots
from core.machine.ordering import StockRow
from core.machine.project import Project
from core.model.setting import Setting
from core.plan import begin_plan
from core.report.study.drilling import drilling_json, drilling_table, pieces_table, rail_table
from core.report.study.interim import (
    axes_table,
    interim_headline,
    interim_json,
    interim_table,
    kinds_table,
    order_table,
    runs,
)
from core.report.study.slots import joint_nuts_table, loading_table, slots_json, slots_table
from core.units import METRIC, UnitSet
from tests.fasteners.machines import BOOK, changed, slotted

INCHES = UnitSet("in", "lbf")


def interim(project: Project, count: int) -> InterimAnswer:
    plan = begin_plan(project, BOOK)
    key = wants(project, plan.rails[2]).screw
    project = msgspec.structs.replace(project, stock=(StockRow(part=key, arrived=count),))
    setting = Setting(project.machine, plan.layout, "likely", BOOK)
    return find_interim(setting, project, plan.rails, plan.under, True)


@pytest.mark.parametrize(("units", "factor"), [(METRIC, 1000.0), (INCHES, 1.0 / 0.0254)])
def test_the_drilling_list_in_either_unit(units: UnitSet, factor: float) -> None:
    project = changed(y_guides__pieces__longest=1.0)
    plan = begin_plan(project, BOOK)
    found = find_drilling(project, plan.layout, plan.rails)
    rail = found.rails[2]
    rows = rail_table(rail, units).rows
    assert [row[2] for row in rows] == pytest.approx([mark.place * factor for mark in rail.marks])
    assert len(drilling_table(found, units).rows) == sum(len(r.marks) for r in found.rails)
    pieces = pieces_table(found, units)
    assert sum(float(row[2] or 0) for row in pieces.rows if row[0] == rail.label) == pytest.approx(
        rail.length * factor
    )
    for row in rows:
        if row[0] in ("hole", "joint"):
            assert float(row[6] or 0) <= float(row[2] or 0) + 1e-9


def test_json_is_plain_and_holds_every_mark_and_nut() -> None:
    project = slotted(y_guides__pieces__longest=1.0, gantry__beam__rail_fastening__parked_nuts=2)
    plan = begin_plan(project, BOOK)
    found = find_drilling(project, plan.layout, plan.rails)
    made = json.loads(json.dumps(drilling_json(found), allow_nan=False))
    assert [len(rail["marks"]) for rail in made["rails"]] == [len(rail.marks) for rail in found.rails]
    slots = find_slots(project, plan.layout, plan.rails, plan.joints)
    told = json.loads(json.dumps(slots_json(slots), allow_nan=False))
    assert [len(slot["nuts"]) for slot in told["slots"]] == [len(plan.nuts) for plan in slots.slots]
    assert all(slot["in_at_start"] + slot["in_at_end"] == len(slot["nuts"]) for slot in told["slots"])
    assert len(slots_table(slots, METRIC).rows) == len(slots.slots) == 3
    assert len(loading_table(slots, METRIC).rows) == sum(len(plan.nuts) for plan in slots.slots)
    assert len(joint_nuts_table(slots, METRIC).rows) == len(told["joints"])


@pytest.mark.parametrize("count", [0, 3, 60, 1000])
def test_the_interim_plan_never_allows_cutting(count: int) -> None:
    found = interim(changed(), count)
    told = json.loads(json.dumps(interim_json(found), allow_nan=False))
    assert not any(axis["cutting"] for axis in told["axes"])
    for rail in told["rails"]:
        assert len(rail["fill_now_in_this_order"]) + len(rail["still_open"]) == rail["holes"]
    assert len(interim_table(found, METRIC).rows) == len(order_table(found, METRIC).rows) == 6
    assert len(kinds_table(found, METRIC).rows) == len(found.kinds)
    assert len(axes_table(found, METRIC).rows) == len(found.axes)
    assert interim_headline(found).state == "warning"


@given(st.sets(st.integers(1, 60), max_size=40))
def test_runs_tell_every_number_and_no_other(numbers: set[int]) -> None:
    told: set[int] = set()
    words = runs(sorted(numbers))
    if words == "none":
        assert not numbers
        return
    parts = words.split(", ")
    for k, part in enumerate(parts):
        if " ... " in part:
            start, end = (int(n) for n in part.split(" ... "))
            told |= set(range(start, end + 1, start - int(parts[k - 1])))
        elif "-" in part:
            start, end = (int(n) for n in part.split("-"))
            told |= set(range(start, end + 1))
        else:
            told.add(int(part))
    assert told == numbers
