"""Entries: any unit in, the user's unit out, exact values beside rounded text, problems marked, nothing
lost.
"""

from __future__ import annotations

from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QAction, QColor, QKeySequence, QWheelEvent
from PySide6.QtWidgets import QApplication, QCheckBox, QComboBox, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from app.look.theme import Theme
from app.widgets.automatic_entry import AutomaticEntry
from app.widgets.band_entry import BandEntry
from app.widgets.entry import Entry
from app.widgets.quantity_entry import CountEntry, QuantityEntry
from app.widgets.remark import Remark
from app.widgets.simple_entries import ChoiceEntry, SwitchEntry, TextEntry
from core.units import METRIC, UnitSet, show

INCHES = UnitSet("in", "lbf")


class Bench:
    """A window with one entry and a place to go when leaving it."""

    def __init__(self, qtbot: QtBot, entry: Entry) -> None:
        self.qtbot, self.entry = qtbot, entry
        self.window = QWidget()
        self.elsewhere = QLineEdit()
        column = QVBoxLayout(self.window)
        column.addWidget(entry)
        column.addWidget(self.elsewhere)
        qtbot.addWidget(self.window)
        self.window.show()
        qtbot.waitExposed(self.window)
        self.window.activateWindow()
        self.edits: list[Any] = []
        self.leaves = 0
        entry.edited.connect(self.edits.append)
        entry.left.connect(self._count)

    def _count(self) -> None:
        self.leaves += 1

    @property
    def line(self) -> QLineEdit:
        return self.entry.findChild(QLineEdit)

    def type(self, text: str) -> None:
        self.line.setFocus()
        self.line.selectAll()
        self.qtbot.keyClicks(self.line, text)

    def leave(self) -> None:
        self.elsewhere.setFocus()
        QApplication.processEvents()


@pytest.fixture
def theme(qtbot: QtBot) -> Theme:
    return Theme("light")


@pytest.fixture
def length(qtbot: QtBot, theme: Theme) -> Iterator[Bench]:
    entry = QuantityEntry(theme, "length", "Beam length", "Over both ends", 0.05, 12.0)
    entry.set_value(1.5)
    bench = Bench(qtbot, entry)
    yield bench
    bench.window.close()


def test_it_shows_the_users_unit_and_takes_any(length: Bench) -> None:
    assert length.line.text() == show(1.5, "length", METRIC)
    length.type("48 in")
    assert length.entry.value() == 1.2192
    assert length.edits[-1] == 1.2192
    length.leave()
    assert length.line.text() == show(1.2192, "length", METRIC)
    assert length.entry.value() == 1.2192
    length.entry.set_units(INCHES)
    assert length.line.text() == show(1.2192, "length", INCHES)


def test_an_untouched_value_is_never_rounded(length: Bench) -> None:
    exact = 1.0 / 3.0
    length.entry.set_value(exact)
    shown = length.line.text()
    length.line.setFocus()
    length.leave()
    length.type(shown)
    assert length.line.text() == shown
    assert length.entry.value() == exact
    length.leave()
    assert length.entry.value() == exact
    assert length.entry.problem() is None


def test_setting_never_emits(length: Bench) -> None:
    length.entry.set_value(2.0)
    length.entry.set_value(None)
    assert length.edits == []
    assert length.line.text() == ""


@pytest.mark.parametrize("bad", ["abc", "15 m", "1 mm", "3 kg", "1e300", "nan"])
def test_bad_text_is_marked_says_what_is_accepted_and_loses_nothing(length: Bench, bad: str) -> None:
    length.type(bad)
    assert length.entry.value() not in (15.0, 0.001)
    last_good = length.entry.value()
    length.leave()
    assert length.line.text() == bad
    assert length.entry.value() == last_good
    problem = length.entry.problem()
    assert problem is not None
    assert show(last_good, "length", METRIC) in problem
    assert length.entry.toolTip() == problem
    assert length.line.property("problem") == "true"
    assert length.entry._sentence.isVisible()
    length.type("2 m")
    assert length.entry.problem() is None
    assert not length.entry._sentence.isVisible()
    assert length.entry.value() == 2.0


def test_out_of_range_names_both_ends(length: Bench) -> None:
    length.type("15 m")
    problem = length.entry.problem() or ""
    assert show(0.05, "length", METRIC) in problem
    assert show(12.0, "length", METRIC) in problem


def test_escape_goes_back_to_the_start_of_the_visit(length: Bench) -> None:
    length.type("2 m")
    length.qtbot.keyClick(length.line, Qt.Key.Key_Escape)
    assert length.entry.value() == 1.5
    assert length.edits[-1] == 1.5
    assert length.line.text() == show(1.5, "length", METRIC)
    count = len(length.edits)
    length.type("zz")
    length.qtbot.keyClick(length.line, Qt.Key.Key_Escape)
    assert length.entry.problem() is None
    assert len(length.edits) == count


def test_refreshing_leaves_the_users_keystrokes_alone(length: Bench) -> None:
    length.type("2.50")
    value = length.entry.value()
    length.entry.set_value(value)
    assert length.line.text() == "2.50"
    length.entry.set_value(3.0)
    assert length.line.text() == show(3.0, "length", METRIC)


def test_every_good_keystroke_is_told_and_leaving_once(length: Bench) -> None:
    length.type("123")
    assert length.edits == pytest.approx([0.123])
    length.line.selectAll()
    length.type("1234")
    assert length.edits == pytest.approx([0.123, 1.234])
    before = length.leaves
    length.leave()
    assert length.leaves == before + 1


def test_undo_keys_are_left_to_the_window(length: Bench) -> None:
    undone: list[bool] = []
    action = QAction(length.window)
    action.setShortcut(QKeySequence.StandardKey.Undo)
    action.triggered.connect(lambda: undone.append(True))
    length.window.addAction(action)
    length.type("2 m")
    length.qtbot.keyClick(length.line, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert len(undone) == 1
    assert length.line.text() == "2 m"


def test_a_problem_from_elsewhere_yields_to_the_entrys_own(length: Bench) -> None:
    length.entry.set_problem("The beam is shorter than the span.")
    assert length.entry.problem() == "The beam is shorter than the span."
    length.type("x")
    assert length.entry.problem() != "The beam is shorter than the span."
    length.type("2 m")
    assert length.entry.problem() == "The beam is shorter than the span."
    length.entry.set_problem(None)
    assert length.entry.problem() is None
    assert length.entry.toolTip() == "Over both ends"


def test_counts_step_by_keys_within_their_range(qtbot: QtBot, theme: Theme) -> None:
    bench = Bench(qtbot, CountEntry(theme, "Blocks", low=1, high=3))
    bench.entry.set_value(2)
    for key in (Qt.Key.Key_Up, Qt.Key.Key_Up, Qt.Key.Key_Down):
        qtbot.keyClick(bench.line, key)
    assert bench.edits == [3, 2]
    for bad in ("2.5", "", "9", "two"):
        bench.type(bad) if bad else bench.line.clear() or bench.entry._typed("")
        assert bench.entry.problem() is not None
        assert bench.entry.value() == 2


def test_band_keeps_its_order(qtbot: QtBot, theme: Theme) -> None:
    entry = BandEntry(theme, "length", lambda **parts: SimpleNamespace(**parts), "Reach", "", 0.0, 1.0)
    bench = Bench(qtbot, entry)
    entry.set_value(SimpleNamespace(low=0.1, likely=0.2, high=0.3))
    likely = entry.part("likely").findChild(QLineEdit)
    likely.setFocus()
    likely.selectAll()
    with qtbot.waitSignal(entry.part_edited) as told:
        qtbot.keyClicks(likely, "250")
    assert told.args[0] == "likely"
    assert entry.value().likely == pytest.approx(0.25)
    likely.selectAll()
    count = len(bench.edits)
    qtbot.keyClicks(likely, "900")
    assert entry.problem() is not None
    assert entry.value().likely <= 0.3
    assert bench.edits[-1].likely <= 0.3
    assert len(bench.edits) >= count
    entry.set_value(SimpleNamespace(low=0.1, likely=0.2, high=0.3))
    assert entry.problem() is None


def test_choice_switch_and_text(qtbot: QtBot, theme: Theme) -> None:
    choice = Bench(qtbot, ChoiceEntry(theme, [("s", "Steel"), ("a", "Aluminium")], "Material"))
    choice.entry.set_value("s")
    box = choice.entry.findChild(QComboBox)
    qtbot.keyClick(box, Qt.Key.Key_Down)
    assert choice.edits == ["a"]
    choice.entry.set_value("wood")
    assert choice.entry.problem() is not None
    assert choice.entry.value() == "wood"

    switch = Bench(qtbot, SwitchEntry(theme, "Turned"))
    switch.entry.findChild(QCheckBox).click()
    assert switch.edits == [True]
    switch.entry.set_value(False)
    assert switch.edits == [True]

    text = Bench(qtbot, TextEntry(theme, "Name", longest=5))
    text.type("abcdefg")
    assert text.entry.value() == "abcde"
    assert text.entry.problem() is not None


def test_the_wheel_does_not_change_a_choice_without_focus(qtbot: QtBot, theme: Theme) -> None:
    bench = Bench(qtbot, ChoiceEntry(theme, [(1, "One"), (2, "Two")], "Count"))
    bench.entry.set_value(1)
    bench.elsewhere.setFocus()
    box = bench.entry.findChild(QComboBox)
    wheel = QWheelEvent(
        QPointF(4, 4), QPointF(box.mapToGlobal(QPoint(4, 4))), QPoint(), QPoint(0, -120),
        Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(box, wheel)
    assert (bench.entry.value(), bench.edits) == (1, [])


def test_a_tick_box_is_seen_on_a_dark_ground(qtbot: QtBot) -> None:
    dark = Theme("dark")
    bench = Bench(qtbot, SwitchEntry(dark, "Turned"))
    box = bench.entry.findChild(QCheckBox)

    def painted(colour: str) -> bool:
        image = box.grab().toImage()
        return any(image.pixelColor(x, image.height() // 2) == QColor(colour) for x in range(20))

    bench.elsewhere.setFocus()
    assert not painted(dark.palette.accent)
    assert painted(dark.palette.entry)
    box.click()
    assert painted(dark.palette.accent)


def test_automatic_shows_the_derived_value_and_hands_it_over(qtbot: QtBot, theme: Theme) -> None:
    inner = QuantityEntry(theme, "length", "Length", low=0.05, high=12.0)
    bench = Bench(qtbot, AutomaticEntry(theme, inner))
    bench.entry.set_derived(1.75)
    bench.entry.set_value(None)
    assert inner.text() == show(1.75, "length", METRIC)
    assert not inner.isEnabled()
    assert bench.entry.value() is None
    box = bench.entry.findChild(QCheckBox)
    box.click()
    assert bench.edits == [1.75]
    bench.type("2 m")
    assert bench.edits[-1] == 2.0
    bench.type("99 m")
    assert bench.entry.problem() is not None
    box.click()
    assert bench.edits[-1] is None
    assert bench.entry.problem() is None
    assert inner.text() == show(1.75, "length", METRIC)


def test_a_long_sentence_is_never_cut_and_a_remark_is_short_and_mild(length: Bench) -> None:
    length.entry.resize(180, 30)
    length.entry.set_problem(
        Remark(["The rails want 0.1 mm here, and heat takes more than that. Do something."])
    )
    length.qtbot.waitUntil(lambda: length.entry._sentence.isVisible())
    length.qtbot.wait(20)
    sentence = length.entry._sentence
    assert sentence.text() == "The rails want 0.1 mm here, and heat takes more than that."
    assert sentence.toolTip().endswith("Do something.")
    assert sentence.property("tone") == "warn"
    assert sentence.height() >= sentence.heightForWidth(sentence.width())
    length.type("x")
    assert sentence.property("tone") == "problem"
