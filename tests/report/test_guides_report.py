"""Carriages as JSON and tables: everything that a reader needs, and nothing that JSON cannot say."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest

from core.drawing.views.carriages import carriages_drawing
from core.guides import find_guides
from core.machine.gantry import GantryBeam
from core.machine.layout import layout
from core.machine.project import Project, replace_at
from core.model.setting import Setting
from core.report.study.guides import carriages_table, forces_table, guides_json, loads_table
from core.sections import PropertyBook

BOOK = PropertyBook()


def answered(project):
    lay = layout(project.machine, BOOK)
    return lay, find_guides(Setting(project.machine, lay, "likely", BOOK), project)


@pytest.fixture(scope="module")
def found():
    return answered(Project())[1]


def test_json_is_whole_and_plain(found):
    data = json.loads(json.dumps(guides_json(found), allow_nan=False))
    assert data["tightest"] == found.carriages[found.tightest].name
    assert len(data["carriages"]) == 12
    first = data["carriages"][0]
    for state in first["states"]:
        assert state["equivalent_N"] == pytest.approx(abs(state["pressing_N"]) + abs(state["lateral_N"]))
    assert first["life_m"] == pytest.approx(
        1e5 * (first["dynamic_rating_for_100_km_N"] / first["mean_load_N"]) ** 3
    )
    endless = replace(found, life=np.full(12, np.inf), hours=np.full(12, np.inf), safety=np.full(12, np.inf))
    json.dumps(guides_json(endless), allow_nan=False)


def test_tables_have_a_row_each_and_one_mark(found):
    units = Project().units
    table = carriages_table(found, units)
    assert len(table.rows) == 12
    assert sum("tightest" in row for row in table.rows) == 1
    assert all(len(row) == len(table.columns) for row in table.rows)
    loads = loads_table(found, units)
    assert len(loads.columns) == 1 + len(found.states)
    assert len(forces_table(found, units).rows) == 12 * len(found.states)


@pytest.mark.parametrize(("beam", "side"), [("front", "top"), ("top", "outside")])
def test_every_carriage_is_drawn_in_its_view(beam, side):
    project = replace_at(Project(), "machine.gantry.beam", GantryBeam(rail_face=beam))
    project = replace_at(project, "machine.base.rail_face", side)
    lay, found = answered(project)
    drawing = carriages_drawing(project, lay, found, project.units)
    for carriage in found.carriages:
        assert drawing.of_key(carriage.name)
    words = [item.text for item in drawing if hasattr(item, "text")]
    assert any(found.carriages[found.tightest].name in text for text in words)
