"""The cut list in the window: searched off its thread, drawn, undoable entries, saved; nothing shown when overtaken."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.answers import Answer, Wish, work_out
from app.cut_search import CutSearch
from app.look.theme import Theme
from app.pages.cuts_page import CutsPage
from app.widgets.drawing_view import MARGIN
from core.commands import AddRow, History, RemoveRow, SetEntry
from core.cuts import CutAnswer, find_cuts
from core.machine.project import Project
from core.machine.saw import OwnPiece, StockBar
from core.sections import stock_book

PROJECT = Project(
    stock_bars=(StockBar(length=6.0, price=80.0),),
    own_pieces=(OwnPiece(name="Shelf", section="30 x 30 x 2", material="S235", length=0.4, quantity=3),),
)


def answer_for(project: Project) -> Answer:
    return work_out(project, stock_book(), Wish())


def ask(page: CutsPage, project: Project) -> None:
    """What the desk does with a new answer while the page is in view."""
    answer = answer_for(project)
    page.show_answer(answer)
    page._search.search(answer.plan)


@pytest.fixture
def make(qtbot: QtBot) -> Iterator[Callable[..., CutsPage]]:
    made: list[CutsPage] = []

    def page(find: Any = find_cuts) -> CutsPage:
        search = CutSearch(find)
        one = CutsPage(Theme("light"), search)
        search.found.connect(one.show_cuts)
        search.setParent(one)
        qtbot.addWidget(one, before_close_func=lambda widget: widget.close_work())
        one.resize(1250, 640)
        one.show()
        one.show_project(PROJECT, PROJECT.units)
        made.append(one)
        return one

    yield page
    for one in made:
        one.close_work()


@pytest.fixture
def page(make: Callable[..., CutsPage], qtbot: QtBot) -> CutsPage:
    made = make()
    ask(made, PROJECT)
    qtbot.waitUntil(lambda: not made.waiting, timeout=20_000)
    return made


def test_every_bar_and_piece_is_drawn_and_listed(page: CutsPage) -> None:
    cuts = page._cuts
    assert cuts is not None
    assert page.headline.state == "good"
    for _, bar in cuts.bars:
        assert page.view.drawing().of_key(f"bar {bar.number}")
    order = page.tables["order"].table()
    assert order is not None
    assert len(order.rows) == cuts.pieces
    marks = [row[4] for row in order.rows]
    assert len(set(marks)) == len(marks)


def test_one_section_may_be_drawn_alone(page: CutsPage) -> None:
    everything = len(page.view.drawing().items)
    page.section.setCurrentIndex(1)
    assert 0 < len(page.view.drawing().items) < everything


def test_entries_tell_paths_that_can_be_undone(page: CutsPage, qtbot: QtBot) -> None:
    told: list[tuple[str, object]] = []
    page.edited.connect(lambda path, value: told.append((path, value)))
    assert page.sides.saw is not None
    line = page.sides.saw.entry("kerf").focusProxy()
    line.selectAll()
    qtbot.keyClicks(line, "3 mm")
    path, value = told[-1]
    assert path == "saw.kerf"
    history = History(PROJECT).do(SetEntry(path, value))
    assert history.project.saw.kerf == pytest.approx(0.003)
    assert history.undo().project == PROJECT


def test_a_row_begins_with_the_section_of_most_pieces(page: CutsPage) -> None:
    rows: list[tuple[str, Any]] = []
    page.row_added.connect(lambda path, row: rows.append((path, row)))
    for panel in page.sides.panels:
        panel.add.click()
    (bars, bar), (pieces, piece) = rows
    assert (bars, pieces) == ("stock_bars", "own_pieces")
    assert bar.section
    assert bar.section == piece.section
    project = AddRow(bars, bar).apply(PROJECT)
    assert RemoveRow(bars, 1).apply(project) == PROJECT


def test_a_piece_too_long_stands_beside_the_bars(page: CutsPage, qtbot: QtBot) -> None:
    short = SetEntry("stock_bars.0.length", 1.0).apply(PROJECT)
    page.show_project(short, short.units)
    ask(page, short)
    qtbot.waitUntil(lambda: not page.waiting, timeout=20_000)
    assert page.headline.state == "bad"
    assert page.sides.panels[0].form.entry("length").problem()


def test_an_overtaken_or_stopped_search_shows_nothing(make: Callable[..., CutsPage], qtbot: QtBot) -> None:
    begun, stopped = threading.Event(), threading.Event()

    def slow(*arguments: Any) -> CutAnswer | None:
        stale = arguments[4]
        begun.set()
        while not stale():
            stopped.wait(0.005)
        stopped.set()
        return None

    page = make(slow)
    ask(page, PROJECT)
    qtbot.waitUntil(begun.is_set, timeout=20_000)
    qtbot.waitUntil(lambda: page.stop.isVisibleTo(page), timeout=20_000)
    page.stop.click()
    qtbot.waitUntil(stopped.is_set, timeout=20_000)
    assert not page.waiting
    assert page._cuts is None
    assert not page.stop.isVisibleTo(page)


def test_the_order_of_cutting_is_saved(page: CutsPage, tmp_path: Path) -> None:
    page.save_csv(tmp_path / "list.csv")
    assert (tmp_path / "list.csv").read_text(encoding="utf-8").count("\n") == page._cuts.pieces + 1  # type: ignore[union-attr]
    told: list[str] = []
    page.troubled.connect(told.append)
    page.save_csv(tmp_path / "nowhere" / "list.csv")
    assert told


@pytest.mark.parametrize("kind", ["svg", "pdf", "png"])
def test_the_bars_can_be_printed(page: CutsPage, kind: str) -> None:
    assert len(page.view.picture(kind)) > 500


def test_the_drawing_fits_again_after_the_page_became_narrower(page: CutsPage, qtbot: QtBot) -> None:
    ask(page, PROJECT)
    qtbot.waitUntil(lambda: page.view.drawing().bounds() is not None, timeout=20_000)
    for width in (1850, 1250):
        page.hide()  # as when another page is in view
        page.resize(width, 640)
        page.show()
        QApplication.processEvents()
        bounds = page.view.drawing().bounds()
        assert bounds is not None
        wide = page.around.viewport().width() - 2 * MARGIN
        assert page.view.minimumHeight() == pytest.approx(
            wide * bounds.height / bounds.width + 2 * MARGIN, abs=2
        )
