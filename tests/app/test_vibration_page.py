"""The page of vibration: modes to pick, a swing that stops by itself, speeds and depths of each cut."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from app.answers import Answer, Wish, deepen, work_out
from app.look.theme import Theme
from app.pages.vibration_page import VibrationPage
from app.widgets.plot_engine import PlotEngine
from core.drawing.views.mode import VIEW_AXES, clearest_view, mode_drawing, mode_ground
from core.machine.loads import CutForce, DirectForce, LoadCase
from core.machine.project import Project
from core.report import all_tables, csv_text
from core.sections import PropertyBook
from core.units import METRIC, UnitSet

CASES = (
    LoadCase(name="A push", load=DirectForce(x=40.0)),
    LoadCase(name="A slot", load=CutForce()),
    LoadCase(name="A light cut", load=CutForce(width=0.001, depth=0.0002)),
)


@pytest.fixture(scope="module")
def answer() -> Answer:
    book = PropertyBook()
    found = deepen(work_out(Project(cases=CASES), book, Wish()), book, lambda: False)
    assert found is not None
    return found


@pytest.fixture
def page(qtbot: QtBot, answer: Answer) -> Iterator[VibrationPage]:
    theme, engine = Theme("light"), PlotEngine()
    made = VibrationPage(theme, engine)
    qtbot.addWidget(made)
    made.resize(1250, 680)
    made.show_project(answer.project, METRIC)
    made.show_study(answer, answer.study)
    made.show()
    yield made
    engine.close()


def test_modes_are_listed_and_picked(page: VibrationPage, answer: Answer) -> None:
    assert page.panel.mode.count() == 6
    page.panel.choose(3)
    assert page.panel.words.text() == answer.study.vibration.modes[3].words
    assert page.modes.currentIndex().row() == 3
    page._row_clicked(page.shares.model().index(1, 0))
    assert page.panel.row == 1
    assert page.panel.mode.currentIndex() == 1


def test_the_swing_moves_and_stops_when_the_page_is_left(page: VibrationPage, qtbot: QtBot) -> None:
    assert not page.panel.going()
    page.panel.swing.setChecked(True)
    assert page.panel.going()
    first = page.panel.view.drawing()
    qtbot.waitUntil(lambda: page.panel.view.drawing() != first, timeout=2000)
    assert page.panel.view.drawing().bounds() == first.bounds()  # the view must not jump about
    page.hide()
    assert not page.panel.going()
    assert not page.panel.swing.isChecked()


def test_each_cut_has_its_speeds_and_depth(page: VibrationPage, answer: Answer) -> None:
    assert [page.case.itemText(k) for k in range(page.case.count())] == ["A slot", "A light cut"]
    rows = len(page.avoid.table().rows)
    assert rows == len(answer.study.vibration.speeds[0].avoid)
    page.case.setCurrentIndex(1)
    page._show_case()
    assert "A light cut" in page.words.text()
    depth = page.depth.surface.plot()
    assert depth.limits[0].at == pytest.approx(0.2)


def test_without_a_cut_it_says_what_is_missing(page: VibrationPage) -> None:
    book = PropertyBook()
    bare = deepen(work_out(Project(cases=CASES[:1]), book, Wish()), book, lambda: False)
    assert bare is not None
    page.show_study(bare, bare.study)
    assert page.case.count() == 0
    assert not page.speeds.surface.plot().curves
    assert page.tip.surface.plot().curves


def test_damping_is_an_entry(page: VibrationPage, qtbot: QtBot) -> None:
    changed: list[tuple[str, object]] = []
    page.edited.connect(lambda path, value: changed.append((path, value)))
    line = page.form.entry("damping").part("likely").findChildren(QLineEdit)[0]
    line.selectAll()
    qtbot.keyClicks(line, "3 %")
    assert changed[-1][0] == "machine.damping"
    assert changed[-1][1].likely == pytest.approx(0.03)
    page.show_problems({"machine.damping": "too much", "machine.saddle.width": "other"})


def test_inches(page: VibrationPage, answer: Answer) -> None:
    page.show_project(answer.project, UnitSet("in", "lbf"))
    page.show_study(answer, answer.study)


def test_a_machine_without_an_answer_leaves_the_page_empty(page: VibrationPage, answer: Answer) -> None:
    class Nothing:
        vibration = None

    page.panel.swing.setChecked(True)
    page.show_study(answer, Nothing())
    assert not page.panel.going()
    assert not page.panel.view.drawing().items


def test_drawings_of_a_swing(answer: Answer) -> None:
    shape = answer.study.vibration.modes[0].shape
    span = answer.plan.layout.upright_spacing
    assert clearest_view(shape) in VIEW_AXES
    for view in VIEW_AXES:
        ground = mode_ground(answer.views[view], shape, view, span)
        there, still, back = (mode_drawing(ground, shape, view, span, s) for s in (1.0, 0.0, -1.0))
        assert there.bounds() == still.bounds() == back.bounds() == ground.bounds()
        assert there.items[-1] != back.items[-1]
        assert not any(item.role == "dimension" for item in ground.items)


def test_tables_and_files(answer: Answer) -> None:
    tables = all_tables(answer.plan, answer.study, answer.findings)
    names = {
        "vibration_modes",
        "vibration_places",
        "vibration_receptance",
        "vibration_speeds",
        "vibration_depth",
    }
    assert names <= set(tables)
    for name in names:
        text = csv_text(tables[name])
        assert len(text.splitlines()) == len(tables[name].rows) + 1 or text
    assert np.isfinite([row[1] for row in tables["vibration_modes"].rows]).all()
