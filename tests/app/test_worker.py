"""The background runner: only the newest result, errors as signals, a clean end."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from typing import Any

import pytest
from PySide6.QtCore import QThread
from pytestqt.qtbot import QtBot

from app.worker import LatestRunner


class Log:
    """What a runner told, in order."""

    def __init__(self, runner: LatestRunner) -> None:
        self.delivered: list[tuple[int, Any]] = []
        self.failed: list[tuple[int, Exception]] = []
        self.busy: list[bool] = []
        runner.delivered.connect(lambda number, result: self.delivered.append((number, result)))
        runner.failed.connect(lambda number, error: self.failed.append((number, error)))
        runner.busy.connect(self.busy.append)


@pytest.fixture
def runner(qtbot: QtBot) -> Iterator[LatestRunner]:
    made = LatestRunner()
    yield made
    made.close()


def test_a_result_comes_to_the_window_from_another_thread(qtbot: QtBot, runner: LatestRunner) -> None:
    here = QThread.currentThread()
    with qtbot.waitSignal(runner.delivered) as told:
        runner.submit(7, QThread.currentThread)
    number, there = told.args
    assert number == 7
    assert there is not here
    assert not runner.is_busy


def test_only_the_newest_of_many_is_delivered(qtbot: QtBot, runner: LatestRunner) -> None:
    log, gate = Log(runner), threading.Event()

    def first() -> int:
        gate.wait(5.0)
        return 0

    done: list[int] = []
    runner.submit(0, first)
    for number in range(1, 20):
        runner.submit(number, lambda number=number: done.append(number) or number)
    gate.set()
    qtbot.waitUntil(lambda: bool(log.delivered))
    assert log.delivered == [(19, 19)]
    assert done[-1] == 19
    assert len(done) <= 2
    assert log.busy == [True, False]


def test_a_result_that_waits_to_be_delivered_is_dropped_when_overtaken(
    qtbot: QtBot, runner: LatestRunner
) -> None:
    log, done = Log(runner), threading.Event()
    runner.submit(1, done.set)
    assert done.wait(5.0)
    runner.submit(2, lambda: "new")
    qtbot.waitUntil(lambda: bool(log.delivered))
    assert log.delivered == [(2, "new")]


def test_an_exception_is_told_and_the_next_job_runs(qtbot: QtBot, runner: LatestRunner) -> None:
    log = Log(runner)
    runner.submit(1, lambda: 1 / 0)
    qtbot.waitUntil(lambda: bool(log.failed))
    assert log.failed[0][0] == 1
    assert isinstance(log.failed[0][1], ZeroDivisionError)
    runner.submit(2, lambda: None)
    qtbot.waitUntil(lambda: bool(log.delivered))
    assert log.delivered == [(2, None)]


def test_a_job_can_watch_whether_it_is_still_wanted(qtbot: QtBot, runner: LatestRunner) -> None:
    log, begun, ended = Log(runner), threading.Event(), threading.Event()

    def long(stale: Any) -> None:
        begun.set()
        patience = time.monotonic() + 2.0
        while not stale() and time.monotonic() < patience:
            time.sleep(0.001)
        if stale():
            ended.set()

    runner.submit(1, long, watches=True)
    assert begun.wait(5.0)
    runner.cancel()
    assert ended.wait(5.0)
    assert log.busy == [True, False]
    runner.submit(2, lambda: 2)
    qtbot.waitUntil(lambda: bool(log.delivered))
    assert log.delivered == [(2, 2)]


def test_closing_joins_the_thread_and_delivers_nothing(qtbot: QtBot) -> None:
    runner = LatestRunner()
    log, begun, gate = Log(runner), threading.Event(), threading.Event()

    def work() -> int:
        begun.set()
        gate.wait(5.0)
        return 1

    runner.submit(1, work)
    assert begun.wait(5.0)
    threading.Timer(0.02, gate.set).start()
    runner.close()
    runner.submit(2, lambda: 2)
    qtbot.wait(30)
    assert log.delivered == []
    assert not runner.is_busy
