"""Unsaved work outlives a window that ends without saving, and only then."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from app.rescue import Rescue
from app.rescue_strip import RescueStrip
from app.session import Session
from core.commands import SetEntry


@pytest.fixture
def session(qtbot: QtBot) -> Iterator[Session]:
    made = Session()
    yield made
    made.deleteLater()


def change(session: Session, travel: float = 1.4) -> None:
    assert session.do(SetEntry("machine.work.travel_x", travel))


def crashed(session: Session, folder: Path) -> Rescue:
    """A window whose program died after its work had been kept: its file stays and nobody holds the lock."""
    rescue = Rescue(session, folder)
    change(session)
    rescue.keep()
    assert rescue._lock is not None
    rescue._lock.unlock()
    rescue._timer.stop()
    return rescue


def test_work_is_kept_a_moment_after_a_change_and_goes_when_it_is_saved(
    session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    rescue = Rescue(session, tmp_path / "kept")
    rescue._timer.setInterval(10)
    session.save(tmp_path / "own.json")
    change(session)
    qtbot.waitUntil(lambda: len(list((tmp_path / "kept").glob("*.json"))) == 1)
    session.save(tmp_path / "own.json")
    assert not list((tmp_path / "kept").glob("*.json"))
    rescue.close()


def test_a_running_windows_work_is_not_offered_to_another(session: Session, tmp_path: Path) -> None:
    running, other = Rescue(session, tmp_path), Rescue(Session(session), tmp_path)
    change(session)
    running.keep()
    assert other.found() == []
    running.close()
    other.close()


def test_work_that_was_left_is_offered_taken_and_unsaved(
    session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    crashed(session, tmp_path)
    new = Session(session)
    rescue, strip = Rescue(new, tmp_path), RescueStrip()
    qtbot.addWidget(strip)
    strip.offer(rescue)
    assert strip.isVisibleTo(None)
    assert session.project.name in strip.text()
    with qtbot.waitSignal(strip.wanted) as wanted:
        strip.take.click()
    rescue.take(wanted.args[0])
    strip.taken()
    assert new.project == session.project
    assert new.modified
    assert len(list(tmp_path.glob("*.json"))) == 1, "the new window keeps it now"
    assert not strip.isVisibleTo(None)
    rescue.close()
    assert not list(tmp_path.glob("*.json"))


def test_work_is_thrown_away_or_asked_about_again(session: Session, qtbot: QtBot, tmp_path: Path) -> None:
    crashed(session, tmp_path)
    rescue, strip = Rescue(Session(session), tmp_path), RescueStrip()
    qtbot.addWidget(strip)
    strip.offer(rescue)
    strip.later.click()
    assert len(rescue.found()) == 1
    strip.offer(rescue)
    strip.drop.click()
    assert rescue.found() == []
    rescue.close()


def test_a_damaged_file_is_left_alone_and_a_folder_that_cannot_be_made_is_told_once(
    session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    (tmp_path / "damaged.json").write_text("{")
    rescue = Rescue(session, tmp_path)
    assert rescue.found() == []
    assert (tmp_path / "damaged.json").exists()
    rescue.close()
    blocked = Rescue(session, tmp_path / "damaged.json" / "inside")
    told: list[str] = []
    blocked.troubled.connect(told.append)
    change(session)
    blocked.keep()
    blocked.keep()
    assert len(told) == 1
    blocked._timer.stop()
