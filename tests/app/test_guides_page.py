"""The page of carriages: what it shows, what its entries say, and what a click picks."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from app.look.theme import Theme
from app.pages.guides_page import NOTHING, GuidesPage
from core.guides import find_guides
from core.machine.layout import layout
from core.machine.project import Project, replace_at
from core.model.setting import Setting
from core.sections import PropertyBook

BOOK = PropertyBook()


@pytest.fixture
def page(qtbot):
    made = GuidesPage(Theme("light"))
    qtbot.addWidget(made)
    return made


def show(page, project=None, found=True):
    project = project or Project()
    lay = layout(project.machine, BOOK)
    answer = SimpleNamespace(units=project.units, project=project, plan=SimpleNamespace(layout=lay))
    guides = find_guides(Setting(project.machine, lay, "likely", BOOK), project) if found else None
    page.show_project(project, project.units)
    page.show_study(answer, SimpleNamespace(guides=guides))
    return guides


def test_the_tightest_is_marked_by_word_and_shape(page):
    found = show(page)
    name = found.carriages[found.tightest].name
    marked = [share for share in page.bars.shares() if share.hatched]
    assert len(marked) == 1
    assert name in marked[0].label
    assert name in page.words.text()
    assert any(type(item).__name__ == "Polygon" for item in page.view.drawing().of_key(name))
    assert len(page.bars.shares()) == len(page.table.table().rows) == 12
    assert "tightest" in page.bars.shares()[found.tightest].label


def test_edits_carry_the_whole_path(page):
    show(page)
    said = []
    page.edited.connect(lambda path, value: said.append((path, value)))
    for axis in "XYZ":
        page.folds[axis].set_open(True)
        page.forms[axis].edited.emit("wanted_life", 1e7)
    assert [path for path, _ in said] == [
        "machine.x_guides.rating.wanted_life",
        "machine.y_guides.rating.wanted_life",
        "machine.head.guides.rating.wanted_life",
    ]


def test_a_click_shows_the_forces_on_that_carriage(page):
    found = show(page)
    page.view.picked.emit("Y, right, back")
    assert page.tabs.currentWidget() is page.one
    assert page.one.table().title.endswith("Y, right, back")
    assert len(page.one.table().rows) == len(found.states)
    page.view.picked.emit("beam")  # no carriage: nothing changes
    assert page.one.table().title.endswith("Y, right, back")


def test_findings_stand_in_words_and_beside_the_entry(page):
    project = replace_at(Project(), "machine.y_guides.rating.static", 300.0)
    found = show(page, project)
    assert found.findings
    assert found.findings[0].message in page.words.text()
    assert page.words.property("tone") == "problem"
    page.folds["Y"].set_open(True)
    page.show_problems({found.findings[0].where: "Too little."})
    assert page.forms["Y"].entry("wanted_static_safety").problem() == "Too little."


def test_a_machine_without_an_answer_says_so(page):
    show(page)
    show(page, found=False)
    assert page.headline.text() == NOTHING
    assert page.tabs.isHidden()


def test_other_units(page):
    project = replace_at(replace_at(Project(), "display.length", "in"), "display.force", "lbf")
    show(page, project)
    header = [f"{c.header} {c.unit}" for c in page.table.table().columns]
    assert "Life mi" in header
    assert "Largest load lbf" in header
