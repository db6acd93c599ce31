"""Diagonals of the base: they join the right nodes, stiffen the legs, are cut to length and are drawn."""

from __future__ import annotations

import math

import numpy as np
import pytest

from core.drawing.views import front_view, plan_view, side_view
from core.machine.base import Diagonals, Legs
from core.machine.diagonals import diagonals
from core.machine.layout import layout
from core.machine.project import Machine, Project, replace_at
from core.model.condensed import condense_gantry
from core.model.moving import condense_head, ride, tip_compliance
from core.model.place import solve_place
from core.model.setting import Setting
from core.plan import Place, make_plan
from core.sections.book import stock_book

BOOK = stock_book()


def machine_with(**fields):
    return replace_at(Machine(), "base.stand", Legs(diagonals=Diagonals(**fields)))


def setting_of(machine):
    return Setting(machine, layout(machine, BOOK), "likely", BOOK)


@pytest.mark.parametrize(
    ("fields", "along", "across"),
    [
        ({}, 4, 2),
        ({"crossed": True}, 8, 4),
        ({"along": "every bay", "across": "every frame"}, 4, 3),
        ({"along": "none", "across": "end frames"}, 0, 2),
        ({"along": "none", "across": "none"}, 0, 0),
    ],
)
def test_how_many_there_are(fields, along, across):
    machine = machine_with(**fields)
    found = diagonals(machine, layout(machine, BOOK))
    assert [sum(d.plane == plane for d in found) for plane in ("along", "across")] == [along, across]
    assert len({d.name for d in found}) == len(found)
    for d in found:
        assert d.end[2] > d.start[2]


def test_single_ones_rise_towards_the_middle_of_the_table():
    machine = replace_at(machine_with(), "base.supports", 4)
    lay = layout(machine, BOOK)
    for d in diagonals(machine, lay):
        if d.plane == "along":
            assert abs(d.end[1] - lay.side_y) < abs(d.start[1] - lay.side_y)


def test_they_stiffen_the_tip_and_both_ways_agree():
    bare, braced = (
        setting_of(machine_with(along="none", across="none")),
        setting_of(machine_with(crossed=True)),
    )
    soft, stiff = (solve_place(s, 0.2, 0.3).compliance for s in (bare, braced))
    for axis in range(3):
        assert stiff[axis, axis] < soft[axis, axis]
    gantry = condense_gantry(braced, np.array([0.3]))
    found = tip_compliance(gantry, ride(braced, gantry, np.array([0.2])), condense_head(braced))[0, 0]
    assert np.abs(found - stiff).max() < 1e-9 * np.abs(stiff).max()


def test_parts_hold_them_with_their_cut_lengths():
    project = Project(machine=machine_with(crossed=True))
    plan = make_plan(project, BOOK)
    lines = {part.key: part for part in plan.parts}
    assert lines["diagonal_along"].quantity == 8
    assert lines["diagonal_across"].quantity == 4
    lay, stand = plan.layout, project.machine.base.stand
    rise = 0.75 * stand.height
    span = 2.0 * lay.side_x
    clear = span - 0.08
    want = clear * math.hypot(span, rise) / span + 0.04 * rise / span
    assert lines["diagonal_across"].length == pytest.approx(want)
    assert "diagonal_along" not in {part.key for part in make_plan(Project(), BOOK).parts}


def test_views_show_them():
    project = Project(machine=machine_with(crossed=True))
    lay = layout(project.machine, BOOK)
    counts = [
        len(view(project, lay, Place(), project.units).of_key("diagonal"))
        for view in (front_view, side_view, plan_view)
    ]
    assert counts == [4, 8, 12]
    assert not front_view(Project(), layout(Machine(), BOOK), Place(), project.units).of_key("diagonal")


def test_very_low_legs_have_no_room_for_any():
    machine = replace_at(machine_with(), "base.stand.height", 0.05)
    machine = replace_at(machine, "base.stand.low_cross", 0.9)
    setting = setting_of(machine)
    assert diagonals(machine, setting.layout) == ()
    solve_place(setting, 0.0, 0.0)
