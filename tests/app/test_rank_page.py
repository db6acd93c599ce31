"""The page of beams as a user meets it: tried by itself, stopped, filtered, picked in table and chart, put in, taken back."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import msgspec
import numpy as np
import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from app import ranking as ranking_module
from app.look.theme import Theme
from app.pages.rank_page import RankPage
from app.pages.rank_waiting import NONE, OLDER, STOPPED
from app.ranking import Ranking
from app.window import MainWindow
from core.commands import SetEntry
from core.machine.prices import Prices
from core.machine.project import Project
from core.rank import RankAnswer, find_rank
from core.sections.book import stock_book
from core.storage import load_project, save_project
from core.units import METRIC, UnitSet

PATIENCE = 30_000
DEMO = Path(__file__).resolve().parents[2] / "demo_projects" / "01_boat_shed_plywood.json"


@pytest.fixture(scope="module")
def answer() -> RankAnswer:
    found = find_rank(load_project(DEMO), stock_book())
    assert found is not None
    return found


@pytest.fixture
def page(qtbot: QtBot, answer: RankAnswer) -> RankPage:
    made = RankPage(Theme("light"))
    qtbot.addWidget(made)
    made.resize(1240, 660)
    made.show()
    made.show_project(answer.project, METRIC)
    made.show_rank(answer)
    return made


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    QSettings("gantrywright", "gantrywright").clear()
    file = tmp_path / "machine.json"
    save_project(file, load_project(DEMO))
    made = MainWindow(Theme("light"), file)
    made.resize(1366, 768)
    made.show()
    qtbot.waitUntil(lambda: made.desk is not None and made.desk.results.answer is not None, timeout=PATIENCE)
    desk: Any = made.desk
    qtbot.waitUntil(lambda: desk.engine.module is not None and not desk.results.waiting, timeout=PATIENCE)
    yield made
    made.finish()
    made.close = lambda: True  # type: ignore[method-assign,assignment]
    made.deleteLater()


def ranking_of(window: MainWindow) -> Ranking:
    assert window.desk is not None
    assert window.desk.ranking is not None
    return window.desk.ranking


def tried(window: MainWindow, qtbot: QtBot) -> RankPage:
    desk: Any = window.desk
    qtbot.waitUntil(
        lambda: not ranking_of(window).waiting and desk.rank.answer() is not None, timeout=PATIENCE
    )
    return desk.rank  # type: ignore[no-any-return]


def rows_on_screen(page: RankPage) -> int:
    return page.table.model().rowCount()


def test_beams_are_tried_when_the_page_is_first_opened_and_older_figures_say_so(
    window: MainWindow, qtbot: QtBot
) -> None:
    desk = window.desk
    assert desk is not None
    assert ranking_of(window).answer is None
    window.show_page("rank")
    page = tried(window, qtbot)
    first = page.answer()
    assert page.waiting.words.text() == ""
    assert not page.waiting.start.isVisible()
    assert page.headline.text().startswith("Lightest that holds every limit")
    window.show_page("machine")
    desk.edit("machine.work.travel_x", 1.5)
    window.show_page("rank")
    assert not ranking_of(window).waiting
    assert page.waiting.words.text() == OLDER
    assert page.answer() is first
    page.waiting.start.click()
    assert page.waiting.running
    newer = tried(window, qtbot).answer()
    assert newer is not None
    assert newer.project == desk.session.project
    assert page.waiting.words.text() == ""
    window.actions_.undo.trigger()  # in view: followed at once
    qtbot.waitUntil(lambda: page.answer() is not newer and not ranking_of(window).waiting, timeout=PATIENCE)
    window.show_page("machine")
    desk.edit("note", "nothing that a beam could feel")
    window.show_page("rank")
    assert page.waiting.words.text() == ""


def test_older_figures_follow_the_units_with_their_sentences(window: MainWindow, qtbot: QtBot) -> None:
    desk = window.desk
    assert desk is not None
    window.show_page("rank")
    page = tried(window, qtbot)
    before = page.answer()
    assert before is not None
    row = next(k for k, words in enumerate(before.remarks) if " mm" in words and before.fits[k])
    page.pick(row)
    window.show_page("machine")
    desk.edit("machine.work.travel_x", 1.5)
    desk.session.do(SetEntry("display.length", "in"))
    qtbot.waitUntil(lambda: page.answer() is not before and not ranking_of(window).waiting, timeout=PATIENCE)
    window.show_page("rank")
    assert page.waiting.words.text() == OLDER
    assert page.picked() == row
    assert " in" in page.card.why.text()
    assert " mm" not in page.card.why.text()
    after = page.answer()
    assert after is not None
    assert np.array_equal(after.worst, before.worst, equal_nan=True)


def test_trying_can_be_stopped_and_begun_again(
    window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk: Any = window.desk
    begun, ended = threading.Event(), threading.Event()

    def slow(project: Project, book: Any, *, stale: Any, tell: Any, under: Any) -> None:
        tell(3, 250)
        begun.set()
        while not stale():
            ended.wait(0.005)
        ended.set()

    monkeypatch.setattr(ranking_module, "find_rank", slow)
    window.show_page("rank")
    qtbot.waitUntil(begun.is_set, timeout=PATIENCE)
    qtbot.waitUntil(lambda: desk.rank.waiting.bar.value() == 3, timeout=PATIENCE)
    assert desk.rank.waiting.stop.isVisible()
    desk.rank.waiting.stop.click()
    qtbot.waitUntil(ended.is_set, timeout=PATIENCE)
    assert not ranking_of(window).waiting
    assert desk.rank.answer() is None
    assert desk.rank.waiting.words.text() == STOPPED
    window.show_page("machine")
    window.show_page("rank")
    assert not ranking_of(window).waiting  # it was stopped; it waits to be asked
    monkeypatch.undo()
    desk.rank.waiting.start.click()
    assert rows_on_screen(tried(window, qtbot)) > 20


def test_a_picked_beam_is_put_in_kept_and_taken_back_in_one_step_each(
    window: MainWindow, qtbot: QtBot
) -> None:
    desk = window.desk
    assert desk is not None
    window.show_page("rank")
    page = tried(window, qtbot)
    before, found = desk.session.project, page.answer()
    assert found is not None
    row = next(k for k in page.shown() if found.candidates[k].key.startswith("hollow"))
    page.pick(row)
    page.card.use.click()
    assert desk.session.project.machine.gantry.beam == found.candidates[row].beam
    newer = tried(window, qtbot).answer()  # tried anew, for the page is in view
    assert newer is not None
    assert newer.candidates[0].beam == found.candidates[row].beam
    picked = newer.candidates[page.picked()]
    assert picked.key == found.candidates[row].key
    window.actions_.undo.trigger()
    assert desk.session.project == before
    tried(window, qtbot)
    page.pick(row)
    page.card.keep.click()
    assert len(desk.session.project.variants) == len(before.variants) + 1
    window.actions_.undo.trigger()
    assert desk.session.project == before
    tried(window, qtbot)
    page.pick(0)
    assert not page.card.use.isEnabled()
    assert not page.card.keep.isEnabled()


def test_another_project_begins_without_the_ranking_of_the_one_before(
    window: MainWindow, qtbot: QtBot
) -> None:
    desk = window.desk
    assert desk is not None
    window.show_page("rank")
    page = tried(window, qtbot)
    window.show_page("machine")
    desk.session.begin(msgspec.structs.replace(load_project(DEMO), name="Another"))
    assert page.answer() is None
    assert rows_on_screen(page) == 0
    assert page.waiting.words.text() == NONE
    window.show_page("rank")
    newer = tried(window, qtbot).answer()
    assert newer is not None
    assert newer.project.name == "Another"


def test_picking_is_one_in_table_chart_and_words(page: RankPage, answer: RankAnswer) -> None:
    index = page.table.model().index(5, 0)
    page.table.setCurrentIndex(index)
    row = page.shown()[5]
    assert page.picked() == page.chart.picked_number() == row
    assert answer.candidates[row].name in page.card.name.text()
    other = page.shown()[9]
    at = page.chart.place_of(other).toPoint()
    QTest.mouseClick(page.chart, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, at)
    picked = page.picked()  # points may lie on each other
    assert np.hypot(*(page.chart.place_of(picked).toPoint() - at).toTuple()) <= 14.0
    assert page.shown()[page.table.currentIndex().row()] == picked
    QTest.keyClick(page.chart, Qt.Key.Key_Home)
    first = page.picked()
    QTest.keyClick(page.chart, Qt.Key.Key_Right)
    assert answer.moving_mass[page.picked()] > answer.moving_mass[first]
    assert answer.load[page.picked()] < answer.load[first]
    assert page.shown()[page.table.currentIndex().row()] == page.picked()
    QTest.keyClick(page.table, Qt.Key.Key_Down)
    assert page.chart.picked_number() == page.picked() == page.shown()[page.table.currentIndex().row()]


def test_filters_leave_rows_and_points_out_and_keep_the_own_beam(page: RankPage, answer: RankAnswer) -> None:
    usable = rows_on_screen(page)
    assert usable == int(answer.fits.sum())
    page.filters.ticks["usable"].setChecked(False)
    assert rows_on_screen(page) == len(answer.candidates)
    page.filters.ticks["usable"].setChecked(True)
    page.filters.ticks["holding"].setChecked(True)
    assert rows_on_screen(page) == int((answer.fits & answer.holds).sum())
    page.filters.reset()
    line = page.filters.figures["height"]
    QTest.keyClicks(line.focusProxy(), "10 cm")
    shown = page.shown()
    assert set(shown) == {0, *np.flatnonzero(answer.fits & (answer.height <= 0.1)).tolist()}
    drawn = page.chart.data().drawn()
    assert set(np.flatnonzero(drawn).tolist()) <= set(shown)
    QTest.keyClicks(line.focusProxy(), " of")  # text that cannot be read changes nothing
    assert page.shown() == shown
    assert line.problem()
    page.filters.clear.click()
    assert rows_on_screen(page) == usable
    actions = page.filters.kinds.menu().actions()
    for action in actions:
        action.setChecked(action.text() == "T-slot profile")
    families = {answer.candidates[row].family for row in page.shown() if row}
    assert families == {"T-slot profile"}
    page.filters.ticks["slotted"].setChecked(True)
    assert 0 < rows_on_screen(page) <= len(answer.candidates)
    page.filters.reset()
    page.filters.metal.setCurrentIndex(page.filters.metal.findData("s235"))
    assert {answer.candidates[row].beam.material for row in page.shown() if row} == {"s235"}


def test_a_beam_that_cannot_be_used_says_why(page: RankPage, answer: RankAnswer) -> None:
    page.filters.ticks["usable"].setChecked(False)
    idle = next(k for k in range(len(answer.candidates)) if answer.problems[k] and answer.solved[k])
    page.pick(idle)
    assert page.card.why.text() == answer.problems[idle]
    assert page.card.why.isVisible()
    unknown = next(k for k in range(len(answer.candidates)) if not answer.solved[k])
    page.pick(unknown)
    assert not page.card.use.isEnabled()


def test_axes_and_units_are_chosen_and_the_best_follow(page: RankPage, answer: RankAnswer) -> None:
    by_mass = page.chart.data().steps.tolist()
    page.cost.setCurrentIndex(page.cost.findData("height"))
    assert page.chart.data().steps.tolist() != by_mass
    assert page.chart.data().x_label.endswith(", mm")
    page.case.setCurrentIndex(1)
    assert page.chart.data().limit is not None
    assert page.chart.data().limit.at == pytest.approx(answer.limits[0] * 1e3)
    page.show_project(answer.project, UnitSet("in", "lbf"))
    assert page.chart.data().x_label.endswith(", in")


def test_without_prices_all_works_and_the_price_axis_says_why_it_is_empty(qtbot: QtBot) -> None:
    project = msgspec.structs.replace(load_project(DEMO), prices=Prices())
    found = find_rank(project, stock_book())
    page = RankPage(Theme("dark"))
    qtbot.addWidget(page)
    page.resize(1240, 660)
    page.show()
    page.show_rank(found)
    assert rows_on_screen(page) > 20
    assert "no price" in page.card.lines.text()
    page.cost.setCurrentIndex(page.cost.findData("price"))
    assert not page.chart.data().drawn().any()
    assert "price" in page.chart.data().empty.lower()
    assert not page.chart.data().steps.size
    QTest.keyClick(page.chart, Qt.Key.Key_Right)


def test_the_file_holds_what_is_shown_in_the_order_shown(
    page: RankPage, answer: RankAnswer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page.table.sortByColumn(0, Qt.SortOrder.DescendingOrder)
    file = tmp_path / "beams.csv"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(file), ""))
    page.save.click()
    lines = file.read_text(encoding="utf-8").splitlines()
    assert len(lines) == rows_on_screen(page) + 1
    names = [answer.candidates[row].name for row in page.shown()]
    assert [line.lstrip('"').startswith(name) for line, name in zip(lines[1:], names, strict=True)] == [
        True
    ] * len(names)


def test_a_description_that_cannot_be_ranked_is_told(
    window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: Any, **__: Any) -> None:
        raise RuntimeError("out of reach")

    monkeypatch.setattr(ranking_module, "find_rank", broken)
    desk: Any = window.desk
    window.show_page("rank")
    qtbot.waitUntil(lambda: "out of reach" in desk.rank.waiting.words.text(), timeout=PATIENCE)
    assert desk.rank.waiting.start.isVisible()
    desk.session.do(SetEntry("note", "x"))
