"""The list of findings opens from the verdict, and each finding leads to its page and entry."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.finding_places import page_of
from app.look.theme import Theme
from app.page_list import PAGES
from app.widgets.remark import Remark, in_view, is_grave, joined
from app.window import MainWindow
from core.findings import Finding
from tests.app.test_window import settle, window  # noqa: F401

DOCUMENT = Path(__file__).resolve().parents[2] / "DEVELOPERS.md"


def test_every_code_of_the_documents_has_a_page() -> None:
    keys = {key for key, _, _ in PAGES}
    rows = [line for line in DOCUMENT.read_text(encoding="utf-8").splitlines() if line.startswith("| `")]
    codes = {c for row in rows for c in re.findall(r"`([a-z]+(?:-[a-z]+)+)`", row.split("|")[1])}
    assert len(codes) > 40
    for code in codes:
        assert page_of(Finding(code, "note", "", "")) in keys


def test_a_remark_shows_its_first_sentence_and_keeps_the_rest() -> None:
    one = Remark(["It bends by 0.2 mm. Stiffen it."])
    assert in_view(one) == "It bends by 0.2 mm."
    assert one == "It bends by 0.2 mm. Stiffen it."
    assert not is_grave(one)
    assert in_view(Remark(["One. Two.", "Three."])) == "One. And 1 more."
    assert is_grave(joined([one, Remark(["Too short."], True)]))
    assert joined(["Not a number.", one]) == "Not a number. It bends by 0.2 mm. Stiffen it."
    assert is_grave(joined(["Not a number.", one]))


def test_the_verdict_opens_the_list_and_a_finding_leads_to_its_entry(
    window: MainWindow,  # noqa: F811
    qtbot: QtBot,
) -> None:
    desk, panel, look = window.desk, window.findings, window.band.look
    assert desk is not None
    assert panel is not None
    desk.edit("machine.gantry.beam.length", 1.0)
    settle(window, qtbot)
    qtbot.waitUntil(look.isVisible)
    qtbot.mouseClick(look, Qt.MouseButton.LeftButton)
    assert panel.isVisible()
    assert panel.list.count() == len(desk.results.answer.findings)
    assert panel.geometry().bottom() <= window.centralWidget().height()
    texts = [panel.list.item(row).text() for row in range(panel.list.count())]
    row = next(k for k, f in enumerate(panel._findings) if f.where == "machine.gantry.beam.length")
    assert texts[row].startswith("Machine")
    window.show_page("rails")
    panel.list.itemActivated.emit(panel.list.item(row))
    assert not panel.isVisible()
    assert not look.isChecked()
    assert window.current_page() == "machine"
    form, rest = desk.machine.entries.form_of("machine.gantry.beam.length")
    entry = form.entry(rest)
    assert entry.isAncestorOf(window.focusWidget())
    assert panel._findings[row].message in (entry.problem() or "")


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_escape_closes_the_list(window: MainWindow, qtbot: QtBot, theme: str) -> None:  # noqa: F811
    panel = window.findings
    assert panel is not None
    panel._theme.choose(theme)  # type: ignore[arg-type]
    panel.open_list(60)
    qtbot.keyClick(panel.list, Qt.Key.Key_Escape)
    assert not panel.isVisible()
    assert isinstance(panel._theme, Theme)
