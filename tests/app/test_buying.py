"""Bars reach the bill while a page about buying is in view, and never a bill that asks for others."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from app.answers import Answer
from app.buying import Buying
from app.results import Results
from core.commands import SetEntry
from core.commands.stock import SetStock
from core.cuts import find_cuts
from core.machine.project import Project
from core.machine.saw import StockBar
from core.study import Study

PROJECT = Project(stock_bars=(StockBar(length=6.0, price=80.0),))


@pytest.fixture
def results() -> Iterator[Results]:
    made = Results(deeper=None)
    yield made
    made.close()


@pytest.fixture
def buying(results: Results) -> Iterator[Buying]:
    made = Buying(results)
    yield made
    made.search.close()


def counted(results: Results) -> bool:
    answer = results.answer
    return answer is not None and answer.plan.bill is not None and answer.plan.bill.cuts is not None


def show(results: Results, project: Project, qtbot: QtBot) -> None:
    with qtbot.waitSignal(results.answered, timeout=20_000):
        results.show(project)


def test_bars_are_searched_only_while_somebody_looks(results: Results, buying: Buying, qtbot: QtBot) -> None:
    show(results, PROJECT, qtbot)
    assert not buying.search.waiting
    with qtbot.waitSignal(results.counted, timeout=20_000):
        buying.look("parts")
    assert counted(results)
    buying.look("machine")
    show(results, SetEntry("saw.kerf", 0.004).apply(PROJECT), qtbot)
    assert not counted(results)
    assert not buying.search.waiting


def test_a_record_of_stock_needs_no_new_search(results: Results, buying: Buying, qtbot: QtBot) -> None:
    buying.look("money")
    with qtbot.waitSignal(results.counted, timeout=20_000):
        show(results, PROJECT, qtbot)
    show(results, SetStock("x_carriage", "ordered", 4).apply(PROJECT), qtbot)
    assert counted(results)
    assert not buying.search.waiting


def test_a_list_for_another_machine_is_not_taken(results: Results, buying: Buying, qtbot: QtBot) -> None:
    show(results, PROJECT, qtbot)
    answer = results.answer
    assert answer is not None
    cuts = find_cuts(PROJECT, answer.plan.layout, answer.plan.parts)
    assert cuts is not None
    show(results, SetEntry("stock_bars.0.length", 3.0).apply(PROJECT), qtbot)
    results.take_cuts(cuts)
    assert not counted(results)


def test_exports_wait_for_the_bars_and_do_without_when_there_are_none(
    results: Results, buying: Buying, qtbot: QtBot
) -> None:
    show(results, PROJECT, qtbot)
    assert results.answer is not None
    got: list[Answer] = []
    buying.with_bars(results.answer, got.append)
    qtbot.waitUntil(lambda: bool(got), timeout=20_000)
    bill = got[0].plan.bill
    assert bill is not None
    assert bill.cuts is not None
    again: list[Answer] = []
    buying.with_bars(got[0], again.append)
    assert again == got
    entered = threading.Event()

    def broken(*_: Any) -> None:
        entered.set()
        raise RuntimeError("no list")

    buying.search._find = broken
    show(results, SetEntry("saw.kerf", 0.004).apply(PROJECT), qtbot)
    assert results.answer is not None
    buying.with_bars(results.answer, again.append)
    qtbot.waitUntil(lambda: len(again) == 2, timeout=20_000)
    assert entered.is_set()
    assert again[1].plan.bill is not None
    assert again[1].plan.bill.cuts is None


def test_a_stopped_search_lets_a_waiting_export_go_on_once(
    results: Results, buying: Buying, qtbot: QtBot
) -> None:
    show(results, PROJECT, qtbot)
    assert results.answer is not None
    got: list[Answer] = []
    buying.with_bars(results.answer, got.append)
    buying.search.stop()
    assert got == [results.answer]
    with qtbot.waitSignal(buying.search.found, timeout=20_000):
        buying.look("parts")
    assert len(got) == 1


def test_a_study_that_comes_later_keeps_the_bars(qtbot: QtBot) -> None:
    gate = threading.Event()

    def late(answer: Answer, *_: Any) -> Answer:
        gate.wait(20.0)
        return replace(answer, study=Study(answer.plan))

    results = Results(deeper=late)
    buying = Buying(results)
    try:
        buying.look("parts")
        with qtbot.waitSignal(results.counted, timeout=20_000):
            results.show(PROJECT)
        with qtbot.waitSignal(results.studied, timeout=20_000):
            gate.set()
        assert counted(results)
        assert results.answer is not None
        assert results.answer.study is not None
        assert results.answer.study.plan is results.answer.plan
    finally:
        gate.set()
        buying.search.close()
        results.close()
