"""The base's page: curves, the plan of the feet and the paths of its edits."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from app.look.theme import Theme
from app.pages.base_page import BasePage
from app.widgets.plot_engine import PlotEngine
from core.footing import find_footing
from core.machine.base import UnevenFoot
from core.machine.project import Project, replace_at
from core.model.setting import Setting
from core.plan import make_plan
from core.sections.book import stock_book


@pytest.fixture
def page(qtbot):
    engine = PlotEngine()
    made = BasePage(Theme("light"), engine)
    qtbot.addWidget(made)
    yield made
    engine.close()


def show(page, project):
    book = stock_book()
    plan = make_plan(project, book)
    found = find_footing(Setting(project.machine, plan.layout, "likely", book), project, plan.under)
    answer = SimpleNamespace(units=project.units, project=project, plan=plan)
    page.show_project(project, project.units)
    page.show_answer(answer)
    page.show_study(answer, SimpleNamespace(footing=found))
    return found


def test_curves_plan_and_tables(page, qtbot):
    found = show(page, Project())
    assert [len(p.surface.plot().curves) for p in (page.level, page.tilt, page.share)] == [2, 3, 3]
    assert page.place.value() == found.y.size // 2
    assert all(page.plan.drawing().of_key(f"foot {k}") for k in range(6))
    before = page.plan.drawing()
    page.place.setValue(0)
    page.head.setCurrentIndex(0)
    assert page.plan.drawing() != before
    assert len(page.feet.table().rows) == 6
    assert len(page.travel.table().rows) == found.y.size
    assert "weigh" in page.words.text()


def test_entries_are_made_when_looked_at_and_their_edits_carry_the_whole_path(page, qtbot):
    show(page, Project())
    assert page.forms() == []
    page.show()
    said = []
    page.edited.connect(lambda path, value: said.append(path))
    page.form.edited.emit("supports", 4)
    page.uneven.edited.emit("uneven", ())
    page.limit.edited.emit("rail_level", 1e-4)
    assert said == ["machine.base.supports", "machine.base.uneven", "limits.rail_level"]
    assert page.limit.paths() == ["rail_level"]


def test_a_hanging_foot_is_told_and_marked(page):
    show(page, replace_at(Project(), "machine.base.uneven", (UnevenFoot(gap=0.002),)))
    assert "hangs" in page.words.text()
    assert {shape.role for shape in page.plan.drawing().of_key("foot 0")} == {"finding"}


def test_without_an_answer_it_says_so(page):
    show(page, Project())
    page.show_study(SimpleNamespace(units=Project().units, project=Project()), SimpleNamespace(footing=None))
    assert page.upper.isHidden()
    assert page.headline.text()
