"""The page of variants as a user meets it: added, edited in their list only, used, given back; many only on demand."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QFileDialog, QMessageBox
from pytestqt.qtbot import QtBot

from app.answers import Answer
from app.look.theme import Theme
from app.pages.compare_page import ComparePage
from app.pages.compare_waiting import FEW
from app.window import MainWindow
from core.catalogue import entries
from core.commands import SetEntries, value_in
from core.machine.project import Project
from core.machine.variants import Change, Variant
from core.sections import RectangularHollow, TSlot
from core.storage import save_project

PATIENCE = 20_000
WALL = "machine.gantry.beam.section.wall"
SECTION = "machine.gantry.beam.section"


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    QSettings("gantrywright", "gantrywright").clear()
    made = MainWindow(Theme("light"))
    made.resize(1366, 768)
    made.show()
    qtbot.waitUntil(lambda: made.desk is not None and made.desk.results.answer is not None, timeout=PATIENCE)
    settle(made, qtbot)
    made.show_page("compare")
    settle(made, qtbot)
    yield made
    made.finish()
    made.close = lambda: True  # type: ignore[method-assign,assignment]
    made.deleteLater()


def settle(window: MainWindow, qtbot: QtBot) -> Answer:
    desk: Any = window.desk
    qtbot.waitUntil(lambda: not desk.results.waiting and desk.engine.module is not None, timeout=PATIENCE)
    return desk.results.answer


def page_of(window: MainWindow) -> ComparePage:
    assert window.desk is not None
    return window.desk.compare


def shown(page: ComparePage) -> list[str]:
    table = page.table.table()
    return [] if table is None else [column.header for column in table.columns[1:]]


def test_a_variant_is_added_edited_used_and_given_back(window: MainWindow, qtbot: QtBot) -> None:
    desk, page = window.desk, page_of(window)
    assert desk is not None
    before = desk.session.project
    page.added.emit()
    page.form.changed.emit(SECTION, before.machine.gantry.beam.section)
    page.form.changed.emit(WALL, 0.004)
    settle(window, qtbot)
    assert desk.session.project.machine == before.machine
    assert value_in(desk.session.project, 0, WALL) == 0.004
    assert shown(page) == ["This machine", "Variant"]
    assert [block.path for block in page.form.blocks()] == [SECTION]
    page.use.click()
    section = desk.session.project.machine.gantry.beam.section
    assert isinstance(section, RectangularHollow)
    assert section.wall == 0.004
    settle(window, qtbot)
    while desk.session.history.can_undo:
        window.actions_.undo.trigger()
    assert desk.session.project == before
    settle(window, qtbot)


def test_a_beam_from_the_catalogue_and_the_ready_pair(window: MainWindow, qtbot: QtBot) -> None:
    page = page_of(window)
    page.beam_added.emit(next(entry for entry in entries() if isinstance(entry.section, TSlot)))
    settle(window, qtbot)
    page.builds.menu().actions()[0].trigger()
    answer = settle(window, qtbot)
    assert answer.study is not None
    assert answer.study.comparison is not None
    assert len(answer.study.comparison.machines) == 4
    assert shown(page) == list(answer.study.comparison.names)
    assert page.picked() == 2
    assert len(page.along_x.surface.plot().curves) == 4
    assert len(page.budgets.plots()) == 4
    assert page.against.currentIndex() == 2  # the welded one with the extruded one
    assert answer.study.comparison.names[2].lower() in page.words.text().lower()
    assert "Figure" in page.csv().splitlines()[0]
    window.actions_.undo.trigger()  # the pair is one step
    assert window.desk is not None
    assert len(window.desk.session.project.variants) == 1
    settle(window, qtbot)


def test_a_refusal_stands_beside_its_entry_in_the_variant_alone(window: MainWindow, qtbot: QtBot) -> None:
    desk, page = window.desk, page_of(window)
    assert desk is not None
    page.added.emit()
    page.form.changed.emit("machine.work.travel_x", 1.4)
    settle(window, qtbot)
    page.form.changed.emit("machine.work.travel_x", -1.0)
    block = page.form.blocks()[0]
    assert block.form is not None
    assert block.form.entry("travel_x").problem()
    window.show_page("machine")
    form, rest = desk.machine.entries.form_of("machine.work.travel_x")
    assert not form.entry(rest).problem()
    settle(window, qtbot)


def test_a_change_that_no_longer_fits_is_told_and_dropped(window: MainWindow, qtbot: QtBot) -> None:
    desk, page = window.desk, page_of(window)
    assert desk is not None
    old = Variant(name="Old", changes=(Change(path="machine.gantry.wings", value=2),))
    desk.session.do(SetEntries((("variants", (old,)),), "Test"))
    page.pick(0)
    settle(window, qtbot)
    block = page.form.blocks()[0]
    assert block.problem.text()
    assert "no figures" in page.words.text()
    block.drop.click()
    settle(window, qtbot)
    assert not page.form.blocks()
    assert "no difference" in page.words.text()


def test_many_variants_are_worked_out_only_when_asked(window: MainWindow, qtbot: QtBot) -> None:
    desk, page = window.desk, page_of(window)
    assert desk is not None
    many = tuple(Variant(name=f"Number {k}") for k in range(FEW + 1))
    window.show_page("machine")
    desk.session.do(SetEntries((("variants", many),), "Test"))
    settle(window, qtbot)
    window.show_page("compare")
    answer = settle(window, qtbot)
    assert answer.study is not None
    assert answer.study.comparison is None
    assert page.waiting.start.isVisible()
    told: list[tuple[int, int]] = []
    desk.results.progressed.connect(lambda done, whole: told.append((done, whole)))
    page.waiting.start.click()
    answer = settle(window, qtbot)
    assert answer.study is not None
    assert answer.study.comparison is not None
    assert told[-1] == (FEW + 2, FEW + 2)
    assert not page.waiting.bar.isVisible()
    page.waiting.stop.click()
    answer = settle(window, qtbot)
    assert page.waiting.start.isVisible()


def test_rows_move_and_go_and_the_table_picks(window: MainWindow, qtbot: QtBot) -> None:
    desk, page = window.desk, page_of(window)
    assert desk is not None
    for _ in range(2):
        page.added.emit()
    settle(window, qtbot)
    first, second = (variant.name for variant in desk.session.project.variants)
    page.earlier.click()
    assert [variant.name for variant in desk.session.project.variants] == [second, first]
    assert page.picked() == 0
    page.copied.emit(0)
    settle(window, qtbot)
    page.table.horizontalHeader().sectionClicked.emit(1)
    assert page.picked() == -1
    page.pick(2)
    page.remove.click()
    assert len(desk.session.project.variants) == 2
    settle(window, qtbot)


def test_entries_are_chosen_from_a_menu(window: MainWindow, qtbot: QtBot) -> None:
    page = page_of(window)
    page.added.emit()
    menu = page.form.add.menu()
    menu.aboutToShow.emit()
    groups = {action.text(): action.menu() for action in menu.actions()}
    assert "Gantry: Gantry beam" in groups
    inside = groups["Gantry: Gantry beam"]
    next(action for action in inside.actions() if action.text() == "Material").trigger()
    settle(window, qtbot)
    assert [block.path for block in page.form.blocks()] == ["machine.gantry.beam.material"]
    menu.aboutToShow.emit()
    inside = {action.text(): action.menu() for action in menu.actions()}["Gantry: Gantry beam"]
    assert not next(action for action in inside.actions() if action.text() == "Material").isEnabled()


def test_what_another_file_or_the_last_save_has_otherwise(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk, page = window.desk, page_of(window)
    assert desk is not None
    file = tmp_path / "other.json"
    save_project(file, Project(name="Other one"))
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(file), ""))
    page.file_wanted.emit()
    other = desk.session.project.variants
    assert [variant.name for variant in other][-1:] == [
        "Other one"
    ] or desk.session.project.cases != Project().cases
    said: list[str] = []
    monkeypatch.setattr(QMessageBox, "exec", lambda box: said.append(box.informativeText()) or 0)
    file.write_bytes(b"{}")
    page.file_wanted.emit()
    assert said
    count = len(desk.session.project.variants)
    page.saved_wanted.emit()
    assert len(desk.session.project.variants) == count + 1
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "v.csv"), ""))
    settle(window, qtbot)
    page.save.click()
    assert (tmp_path / "v.csv").read_text("utf-8").startswith("Figure")


def test_rows_tell_on_hover_how_they_are_found(window: MainWindow, qtbot: QtBot) -> None:
    page = page_of(window)
    page.beam_added.emit(next(entry for entry in entries() if isinstance(entry.section, TSlot)))
    settle(window, qtbot)
    table = page.table.table()
    assert table is not None
    told = dict(zip((str(row[0]) for row in table.rows), page.table.notes(), strict=True))
    assert "48 E I" in next(
        note for label, note in told.items() if label.startswith("Bare beam, up and down")
    )


def test_minutes_on_a_hole_are_the_users_own(window: MainWindow, qtbot: QtBot) -> None:
    desk, page = window.desk, page_of(window)
    assert desk is not None
    page.minutes.set_open(True)
    answer = settle(window, qtbot)
    assert answer.study is not None
    assert answer.study.comparison is not None
    before = answer.study.comparison.figure("hole_hours").likely[0]
    desk.edit("hole_work.tapped", 2.0 * desk.session.project.hole_work.tapped)
    answer = settle(window, qtbot)
    assert answer.study is not None
    assert answer.study.comparison is not None
    assert answer.study.comparison.figure("hole_hours").likely[0] == pytest.approx(2.0 * before)
