"""The page of bands and advice: what it shows, and a change put in as one step that can be undone."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest
from PySide6.QtCore import QPoint

from app.look.theme import Theme
from app.pages.stiffen_page import StiffenPage
from app.widgets.plot_engine import PlotEngine
from app.widgets.swing_plot import Swing, SwingPlot
from core.commands import SetEntries
from core.plan import make_plan
from core.sections.book import stock_book
from core.storage import load_project
from core.study import make_study

DEMO = sorted((Path(__file__).resolve().parents[2] / "demo_projects").glob("*.json"))[2]


@pytest.fixture(scope="module")
def found():
    project = load_project(DEMO)
    plan = make_plan(project, stock_book())
    study = make_study(plan, stock_book())
    return SimpleNamespace(plan=plan, units=project.units, project=project), study


@pytest.fixture
def page(qtbot):
    engine = PlotEngine()
    made = StiffenPage(Theme("light"), engine)
    qtbot.addWidget(made)
    yield made
    engine.close()


def show(page, found):
    answer, study = found
    page.show_project(answer.project, answer.units)
    page.show_study(answer, study)


def test_bands_causes_and_curve_of_the_chosen_case(page, found):
    show(page, found)
    answer, study = found
    assert len(page.table.table().rows) == len(answer.project.cases) + 3
    first = page.swings.swings()
    assert len(first) >= 5
    assert [s.label for s in first] == [c.input.label for c in study.bands.cases[0].causes][: len(first)]
    page.case.setCurrentIndex(1)
    (curve,) = page.curve.surface.plot().curves
    assert curve.label == answer.project.cases[1].name
    assert (curve.low <= curve.y).all()
    assert (curve.y <= curve.high).all()
    assert page.curve.surface.plot().limits


def test_a_picked_change_is_asked_for_with_its_edits(page, found):
    show(page, found)
    answer, study = found
    asked = []
    page.change_wanted.connect(lambda edits, words: asked.append((edits, words)))
    assert not page.put_in.isEnabled()
    page.changes.selectRow(1)
    assert page.put_in.isEnabled()
    page.put_in.click()
    change = study.advice.advices[1].change
    assert asked == [(change.edits, change.words)]
    changed = SetEntries(*asked[0]).apply(answer.project)
    assert changed != answer.project


def test_sorting_the_table_picks_the_change_that_is_seen(page, found):
    show(page, found)
    page.changes.sortByColumn(3, page.changes.horizontalHeader().sortIndicatorOrder())
    page.changes.selectRow(2)
    seen = page.changes.model().index(2, 0).data()
    assert page.picked().change.words == seen


def test_every_change_can_be_put_in(found):
    answer, study = found
    for advice in study.advice.advices:
        SetEntries(advice.change.edits, advice.change.words).apply(answer.project)


def test_without_an_answer_the_page_says_why(page, found):
    answer, _ = found
    page.show_project(answer.project, answer.units)
    empty = SimpleNamespace(plan=SimpleNamespace(stiffness=None), units=answer.units, project=answer.project)
    page.show_study(empty, SimpleNamespace(bands=None, advice=None))
    assert page.table.isHidden()
    assert page.changes.isHidden()
    assert page.governs.text()


def test_swings_tell_of_themselves_on_hover(qtbot):
    plot = SwingPlot(Theme("light"), "Causes")
    qtbot.addWidget(plot)
    plot.resize(500, 200)
    plot.set_about("what bars are")
    plot.set_swings([Swing("joint", 3.0, 1.0, "2", "more of it")], 2.0, "likely 2")
    row = plot._row_height()
    assert plot.hint_under(QPoint(20, 2 * row + 4)) == "more of it"
    assert plot.hint_under(QPoint(20, 2)) == "what bars are"
    assert plot.picture("svg").startswith(b"<?xml")
    plot.grab()
    plot.set_swings([], 0.0, "")
    plot.grab()
