"""The drives page: its entries for each axis, its curves and figures, and where a figure comes from."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from app.look.theme import Theme
from app.pages.drives_page import DrivesPage
from app.widgets.plot_engine import PlotEngine
from core.drives import find_drives
from core.machine.drives import BallScrew
from core.machine.layout import layout
from core.machine.project import Project, replace_at
from core.model.setting import Setting
from core.sections import PropertyBook


@pytest.fixture
def page(qtbot):
    engine = PlotEngine()
    made = DrivesPage(Theme("light"), engine)
    qtbot.addWidget(made)
    yield made
    engine.close()


def show(page, project=None, stands=True):
    project = project or Project()
    setting = Setting(project.machine, layout(project.machine, PropertyBook()))
    page.show_project(project, project.units)
    answer = SimpleNamespace(units=project.units, project=project)
    page.show_answer(answer)
    page.show_study(answer, SimpleNamespace(drives=find_drives(setting, project, 0.0, stands)))


def test_no_entries_are_made_before_the_page_is_looked_at(page):
    page.show_project(Project(), Project().units)
    assert page._forms == {}


def test_each_axis_has_its_entries_curves_and_figures(page):
    show(page)
    for axis, titles in (("x", "X: ball screw"), ("y", "Y: rack and pinion"), ("z", "Z: drive")):
        page.choose(axis)
        assert page.table.table().title == titles
        assert page.stiffness.surface.plot().curves
        assert len(page.torque.surface.plot().curves) == 3
        assert page.line.isHidden()
    page.choose("gantry")
    assert page.table.table().title == "Gantry racking"
    assert len(page.line.surface.plot().curves) == 2
    assert page.torque.isHidden()


def test_edits_carry_the_whole_path(page):
    show(page)
    said = []
    page.edited.connect(lambda path, value: said.append(path))
    page.choose("x")
    page._forms["machine.motion.x"].edited.emit("rapid", 0.2)
    page._forms["machine of x"].edited.emit("x_drive.lead", 0.005)
    page.choose("z")
    page._forms["machine.head"].edited.emit("drive", BallScrew())
    page.choose("gantry")
    page._forms["machine.motion"].edited.emit("lag", 0.001)
    assert said == [
        "machine.motion.x.rapid",
        "machine.x_drive.lead",
        "machine.head.drive",
        "machine.motion.lag",
    ]


def test_only_z_asks_for_a_balance(page):
    show(page)
    assert "balance" not in page._forms["machine.motion.x"].paths()
    page.choose("z")
    assert "balance" in page._forms["machine.motion.z"].paths()


def test_automatic_entries_show_what_they_stand_at(page):
    show(page)
    page.choose("y")
    assert page._derived()["gear_ratio"] == 5.0
    assert page._derived()["deceleration"] == 0.8


def test_findings_stand_in_words_and_beside_their_entry(page):
    show(page, replace_at(Project(), "machine.motion.x.rapid", 0.3))
    assert "whirl" in page.headline.text()
    assert page.headline.state == "bad"
    page.show_problems({"machine.motion.x.rapid": "too quick", "machine.work.travel_x": "elsewhere"})
    assert page._forms["machine.motion.x"].entry("rapid").problem() == "too quick"
    page.choose("y")
    assert "what is asked" in page.headline.text()
    assert page.headline.state == "good"


def test_a_figure_tells_where_it_comes_from(page):
    show(page)
    assert "common practice" in page.table.told_at(0)
    assert page.table.told_at(-1) == ""


def test_a_frame_that_cannot_be_solved_leaves_racking_open(page):
    show(page, stands=False)
    page.choose("gantry")
    assert "cannot be solved" in page.words.text()
