"""Answers arrive in order of the wishes; one that was overtaken never arrives."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from app.answers import Wish
from app.results import Results
from core.errors import BadEntry
from core.machine.project import Project, replace_at


class SlowWork:
    """Work that waits for the first project until it is let go, and is quick for all others."""

    def __init__(self) -> None:
        self.let_go = threading.Event()
        self.begun = threading.Event()

    def __call__(self, project: Project, _book: object, wish: Wish, _last: object) -> Any:
        self.begun.set()
        if project.name == "slow":
            self.let_go.wait(10.0)
        if project.name == "bad":
            raise BadEntry("machine.saddle.width", "0 m", "is nothing", "more")
        plan = SimpleNamespace(bill=None)
        return SimpleNamespace(name=project.name, wish=wish, study=None, plan=plan)


@pytest.fixture
def work() -> SlowWork:
    return SlowWork()


@pytest.fixture
def results(work: SlowWork, qtbot: QtBot) -> Iterator[Results]:
    made = Results(work, None)
    yield made
    work.let_go.set()
    made.close()
    made.deleteLater()


def named(name: str) -> Project:
    project = replace_at(Project(), "name", name)
    assert isinstance(project, Project)
    return project


def test_an_overtaken_answer_never_arrives(results: Results, work: SlowWork, qtbot: QtBot) -> None:
    arrived: list[str] = []
    results.answered.connect(lambda answer: arrived.append(answer.name))
    results.show(named("slow"))
    qtbot.waitUntil(work.begun.is_set)
    results.show(named("passed over"))
    results.show(named("newest"))
    work.let_go.set()
    qtbot.waitUntil(lambda: not results.waiting)
    assert arrived == ["newest"]


def test_the_last_answer_stays_when_the_next_is_refused(results: Results, qtbot: QtBot) -> None:
    results.show(named("good"))
    qtbot.waitUntil(lambda: results.answer is not None)
    with qtbot.waitSignal(results.refused) as refused:
        results.show(named("bad"))
    assert refused.args[0] == "machine.saddle.width"
    assert results.answer is not None
    assert results.answer.name == "good"  # type: ignore[attr-defined]


def test_the_place_stays_within_the_travel(results: Results, qtbot: QtBot) -> None:
    results.show(named("good"))
    results.look(x=99.0, case=12)
    qtbot.waitUntil(lambda: not results.waiting)
    assert results.wish.place.x == pytest.approx(Project().machine.work.travel_x / 2)
    assert results.wish.place.case == len(Project().cases) - 1
