"""The cutting page: which entries it shows for which load case, and what its edits say."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from app.look.theme import Theme
from app.pages.cutting_page import CuttingPage
from app.widgets.plot_engine import PlotEngine
from core.cutting import find_cutting
from core.machine.loads import CutForce, DirectForce, LoadCase
from core.machine.project import Project


@pytest.fixture
def page(qtbot):
    engine = PlotEngine()
    made = CuttingPage(Theme("light"), engine)
    qtbot.addWidget(made)
    yield made
    engine.close()


def show(page, *loads):
    project = Project(cases=tuple(LoadCase(name=f"Case {k}", load=load) for k, load in enumerate(loads)))
    page.show_project(project, project.units)
    answer = SimpleNamespace(units=project.units, project=project, findings=())
    page.show_study(answer, SimpleNamespace(cutting=find_cutting(project)))
    return project


def test_it_begins_with_a_case_that_has_a_cut(page):
    show(page, DirectForce(x=1.0), CutForce(workpiece="brass"))
    assert page.case.currentIndex() == 1
    assert not page.form.isHidden()
    assert len(page.turn.surface.plot().curves) == 5
    assert page.bite.drawing().of_key("bite")
    assert page.table.table().title.endswith("Case 1")
    page.choose(0)
    assert page.form.isHidden()
    assert page.upper.isHidden()
    assert page.table.table().title.startswith("Force")


def test_edits_carry_the_whole_path(page):
    show(page, CutForce(workpiece="brass"), DirectForce(x=1.0))
    said = []
    page.edited.connect(lambda path, value: said.append((path, value)))
    page.form.edited.emit("feed", 0.1)
    page.spindle.edited.emit("power", 800.0)
    assert said[:2] == [("cases.0.load.feed", 0.1), ("machine.head.spindle.power", 800.0)]
    page.sheets.menu().actions()[0].trigger()
    assert [path for path, _ in said[2:]] == ["cases.0.load.workpiece", "cases.0.load.pressure"]
    page.choose(1)
    page.describe.click()
    assert said[-1][0] == "cases.1.load"
    assert isinstance(said[-1][1], CutForce)


def test_findings_stand_in_words(page):
    show(page, CutForce(feed=0.5))
    assert "over" in page.words.text()
    show(page, CutForce())
    assert "times the mean" in page.words.text()
