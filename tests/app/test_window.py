"""The whole window as a user meets it: typing moves the verdict, steps can be undone, nothing is lost unasked."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QPoint, QSettings, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QFileDialog, QLineEdit, QMessageBox
from pytestqt.qtbot import QtBot

from app.answers import Answer
from app.look.theme import Theme
from app.page_list import PAGES
from app.window import MainWindow
from core.machine.project import Project
from core.storage import load_project, save_project

LENGTH = "machine.work.travel_x"
PATIENCE = 20_000


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    QSettings("gantrywright", "gantrywright").clear()
    theme = Theme("light")
    made = MainWindow(theme)
    made.resize(1366, 768)
    made.show()
    qtbot.waitUntil(lambda: made.desk is not None and made.desk.results.answer is not None, timeout=PATIENCE)
    settle(made, qtbot)
    yield made
    made.finish()
    made.close = lambda: True  # type: ignore[method-assign,assignment]
    made.deleteLater()


def settle(window: MainWindow, qtbot: QtBot) -> Answer:
    desk: Any = window.desk
    qtbot.waitUntil(lambda: not desk.results.waiting and desk.engine.module is not None, timeout=PATIENCE)
    return desk.results.answer


def line_of(window: MainWindow, path: str) -> QLineEdit:
    assert window.desk is not None
    form, rest = window.desk.machine.entries.form_of(path)
    return form.entry(rest).findChildren(QLineEdit)[0]


def type_into(window: MainWindow, qtbot: QtBot, path: str, text: str) -> QLineEdit:
    line = line_of(window, path)
    line.setFocus()
    line.selectAll()
    qtbot.keyClicks(line, text)
    return line


def test_typing_a_length_moves_the_verdict(window: MainWindow, qtbot: QtBot) -> None:
    before = settle(window, qtbot)
    said = window.band.text()
    type_into(window, qtbot, LENGTH, "2.6 m")
    after = settle(window, qtbot)
    assert after.project.machine.work.travel_x == pytest.approx(2.6)
    assert after.plan.stiffness is not None
    assert before.plan.stiffness is not None
    assert after.plan.stiffness.cases[0].worst > before.plan.stiffness.cases[0].worst
    assert window.band.text() != said
    assert window.isWindowModified()
    assert window.desk.machine.deflection.surface.plot().curves


def test_keystrokes_in_one_entry_are_one_step(window: MainWindow, qtbot: QtBot) -> None:
    assert window.desk is not None
    first = window.desk.session.project
    type_into(window, qtbot, LENGTH, "1500 mm")
    changed = window.desk.session.project
    assert changed.machine.work.travel_x == pytest.approx(1.5)
    window.actions_.undo.trigger()
    assert window.desk.session.project == first
    assert not window.desk.session.history.can_undo
    assert not window.isWindowModified()
    window.actions_.redo.trigger()
    assert window.desk.session.project == changed


@pytest.mark.parametrize("text", ["twelve", "-3 m", "0", "1e300 m"])
def test_bad_text_keeps_the_last_good_state(window: MainWindow, qtbot: QtBot, text: str) -> None:
    assert window.desk is not None
    good = window.desk.session.project
    type_into(window, qtbot, LENGTH, text)
    form, rest = window.desk.machine.entries.form_of(LENGTH)
    assert form.entry(rest).problem()
    assert window.desk.session.project.machine.work.travel_x in (good.machine.work.travel_x, 1.0)
    assert settle(window, qtbot).plan.stiffness is not None


def test_a_refusal_stands_beside_its_entry_and_in_the_band(window: MainWindow, qtbot: QtBot) -> None:
    assert window.desk is not None
    good = window.desk.session.project
    window.desk.edit("machine.x_guides.spread", 0.001)
    assert window.desk.session.project == good
    assert window.band.state == "problem"
    form, rest = window.desk.machine.entries.form_of("machine.x_guides.spread")
    assert form.entry(rest).problem()
    window.desk.edit("machine.x_guides.spread", 0.2)
    assert window.band.state != "problem"


def test_saving_and_reopening(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert window.desk is not None
    window.desk.edit(LENGTH, 1.7)
    file = tmp_path / "shed.json"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(file), ""))
    window.actions_.save.trigger()
    assert load_project(file).machine.work.travel_x == 1.7
    assert not window.isWindowModified()
    assert file.name in window.windowTitle()
    window.actions_.new.trigger()
    assert window.desk.session.project == Project()
    assert window.files.open(file)
    assert window.desk.session.project.machine.work.travel_x == 1.7
    settle(window, qtbot)


def test_a_damaged_file_is_refused_in_words(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert window.desk is not None
    said: list[str] = []
    monkeypatch.setattr(QMessageBox, "exec", lambda box: said.append(box.informativeText()) or 0)
    file = tmp_path / "half.json"
    save_project(file, Project())
    file.write_bytes(file.read_bytes()[:300])
    before = window.desk.session.project
    assert not window.files.open(file)
    assert said
    assert file.name in said[0]
    assert window.desk.session.project is before


@pytest.mark.parametrize(
    ("button", "closes"),
    [(QMessageBox.StandardButton.Cancel, False), (QMessageBox.StandardButton.Discard, True)],
)
def test_closing_asks_before_changes_are_lost(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, button: QMessageBox.StandardButton, closes: bool
) -> None:
    assert window.desk is not None
    asked: list[str] = []
    monkeypatch.setattr(QMessageBox, "exec", lambda box: asked.append(box.text()) or button.value)
    window.desk.edit(LENGTH, 1.8)
    assert MainWindow.close(window) is closes
    assert asked


def test_closing_without_changes_does_not_ask(window: MainWindow) -> None:
    assert MainWindow.close(window)


def test_the_load_is_dragged_along_x(window: MainWindow, qtbot: QtBot) -> None:
    assert window.desk is not None
    view = window.desk.machine.drawing.view
    grip = view.drawing().of_key("load")
    assert grip, "the front view shows no load to drag"
    box = grip[-1].bounds()
    start = view.camera().pixel(((box.left + box.right) / 2, (box.bottom + box.top) / 2))
    at = QPoint(round(start.x()), round(start.y()))
    qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=at)
    qtbot.mouseMove(view, at + QPoint(60, 0))
    qtbot.mouseRelease(view, Qt.MouseButton.LeftButton, pos=at + QPoint(60, 0))
    answer = settle(window, qtbot)
    assert answer.wish.place.x > 0.02
    assert not window.isWindowModified()
    marker = window.desk.machine.deflection.surface.plot().marker
    assert marker is not None
    assert marker.at == pytest.approx(answer.wish.place.x * 1000.0)


def test_units_are_a_step_that_can_be_undone(window: MainWindow, qtbot: QtBot) -> None:
    line = line_of(window, LENGTH)
    assert line.text().endswith("mm")
    window.actions_.length["in"].trigger()
    settle(window, qtbot)
    assert line.text().endswith("in")
    assert "in" in window.desk.machine.deflection.surface.plot().x_label
    window.actions_.undo.trigger()
    assert line.text().endswith("mm")
    assert window.actions_.length["mm"].isChecked()


@pytest.mark.parametrize("choice", ["light", "dark"])
def test_every_page_is_painted(window: MainWindow, qtbot: QtBot, choice: str) -> None:
    window.choose_theme(choice)
    seen = set()
    for key, _, _ in PAGES:
        window.show_page(key)
        qtbot.wait(60)
        assert window.current_page() == key
        image = window.stack.currentWidget().grab().toImage().scaled(200, 120)
        colours = {image.pixel(x, y) for x in range(0, 200, 3) for y in range(0, 120, 3)}
        assert len(colours) > 8, key
        seen.add(bytes(image.convertToFormat(QImage.Format.Format_RGB32).constBits()))
    assert len(seen) == len(PAGES)


def test_tables_and_pictures_are_exported(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_: str(tmp_path))
    window.actions_.export_tables.trigger()
    qtbot.waitUntil(lambda: (tmp_path / "findings.csv").exists(), timeout=PATIENCE)
    window.actions_.export_pictures.trigger()
    names = {file.name for file in tmp_path.iterdir()}
    assert {"parts.csv", "fasteners.csv", "machine.svg", "tip-deflection-x.svg"} <= names
    assert all(file.stat().st_size > 30 for file in tmp_path.iterdir())


def test_what_waits_for_an_answer_is_given_up_when_there_is_none(window: MainWindow, qtbot: QtBot) -> None:
    desk = window.desk
    assert desk is not None
    done: list[object] = []
    desk.with_everything(done.append)
    desk.results.refused.emit("machine.work.travel_x", "Too long.")
    desk.results.look(compare=True, advise=True)
    qtbot.waitUntil(lambda: not desk.results.waiting, timeout=PATIENCE)
    assert desk.results.answer is not None
    assert desk.results.answer.study is not None
    assert not done
    desk.with_everything(done.append)
    qtbot.waitUntil(lambda: bool(done), timeout=PATIENCE)


def test_help_opens_the_page_that_belongs_to_what_is_in_view(window: MainWindow) -> None:
    assert window.desk is not None
    window.show_page("rails")
    window.actions_.help.trigger()
    assert window.current_page() == "guide"
    assert window.desk.guide.browser.toPlainText().strip()
