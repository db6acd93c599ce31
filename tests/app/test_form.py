"""Forms made from types: which entries, edits by path, refreshing, problems, kinds and rows."""

from __future__ import annotations

import gc
import weakref
from typing import Any

import msgspec
import pytest
import shiboken6
from PySide6.QtWidgets import QCheckBox, QComboBox, QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from app.look.theme import Theme
from app.widgets.automatic_entry import AutomaticEntry
from app.widgets.band_entry import BandEntry
from app.widgets.flags_entry import FlagsEntry
from app.widgets.form import Form
from app.widgets.form_plan import fresh, plan_of, words_for
from app.widgets.quantity_entry import CountEntry, QuantityEntry
from app.widgets.simple_entries import ChoiceEntry, SwitchEntry, TextEntry
from core.units import METRIC, UnitSet, show

from .machine_for_forms import Bar, Beam, Case, Machine, Side, Tube

MATERIALS = [("steel", "Structural steel"), ("aluminium", "Aluminium")]


class Desk:
    """A form over a document that takes every edit, as the window does."""

    def __init__(self, qtbot: QtBot) -> None:
        self.document: Any = Machine()
        self.form = Form(Theme("light"), Machine, choices={"material": MATERIALS})
        qtbot.addWidget(self.form)
        self.edits: list[tuple[str, Any]] = []
        self.form.edited.connect(self._take)
        self.refresh()

    def _take(self, path: str, value: Any) -> None:
        self.edits.append((path, value))
        self.document = _replaced(self.document, path.split("."), value)
        self.refresh()

    def refresh(self) -> None:
        self.form.show_values(self.document, {"beam.length": 1.9})

    def line(self, path: str) -> QLineEdit:
        return self.form.entry(path).findChild(QLineEdit)


def _replaced(thing: Any, names: list[str], value: Any) -> Any:
    if not names:
        return value
    first, rest = names[0], names[1:]
    if isinstance(thing, tuple):
        place = int(first)
        return (*thing[:place], _replaced(thing[place], rest, value), *thing[place + 1 :])
    return msgspec.structs.replace(thing, **{first: _replaced(getattr(thing, first), rest, value)})


@pytest.fixture
def desk(qtbot: QtBot) -> Desk:
    return Desk(qtbot)


def test_every_type_gets_its_entry(desk: Desk) -> None:
    kinds = {
        "travel": QuantityEntry,
        "blocks": CountEntry,
        "turned": SwitchEntry,
        "drive": ChoiceEntry,
        "side": ChoiceEntry,
        "rigid": FlagsEntry,
        "stiffness": BandEntry,
        "beam.section": ChoiceEntry,
        "beam.section.width": QuantityEntry,
        "beam.section.wall": QuantityEntry,
        "beam.material": ChoiceEntry,
        "beam.length": AutomaticEntry,
        "plate": ChoiceEntry,
        "cases.0.name": TextEntry,
        "cases.0.force": QuantityEntry,
        "cases.1.name": TextEntry,
        "cases.1.force": QuantityEntry,
    }
    assert {path: type(desk.form.entry(path)) for path in desk.form.paths()} == kinds


def test_plans_carry_the_words_and_the_range() -> None:
    travel, blocks, *_ = plan_of(Machine)
    assert (travel.label, travel.help, travel.low, travel.high) == (
        "Travel",
        "How far the head goes",
        0.1,
        10.0,
    )
    assert blocks.kind == "count"
    assert words_for("ball_screw") == "Ball screw"
    length = plan_of(Beam)[2]
    assert (length.optional, length.quantity, length.kind) == (True, "length", "quantity")


def test_a_field_without_an_entry_is_named() -> None:
    class Odd(msgspec.Struct):
        wheels: dict[str, float]

    with pytest.raises(TypeError, match="wheels"):
        plan_of(Odd)


def test_edits_are_told_by_path(qtbot: QtBot, desk: Desk) -> None:
    line = desk.line("cases.1.force")
    line.selectAll()
    qtbot.keyClicks(line, "250")
    assert desk.edits[-1] == ("cases.1.force", 250.0)
    assert desk.document.cases[1].force == 250.0
    assert desk.document.cases[0].force == 50.0
    with qtbot.waitSignal(desk.form.left) as told:
        line.editingFinished.emit()
    assert told.args == ["cases.1.force"]


def test_showing_tells_nothing_and_shows_all(desk: Desk) -> None:
    desk.document = Machine(
        travel=2.5, side=Side.RIGHT, turned=True, beam=Beam(material="aluminium", length=3.0)
    )
    desk.refresh()
    assert desk.edits == []
    assert desk.line("travel").text() == show(2.5, "length", METRIC)
    assert desk.form.entry("side").value() is Side.RIGHT
    assert desk.form.entry("turned").value() is True
    assert desk.form.entry("beam.length").value() == 3.0
    assert desk.form.entry("beam.material").value() == "aluminium"


def test_other_units_everywhere(desk: Desk) -> None:
    inches = UnitSet("in", "lbf")
    desk.form.set_units(inches)
    assert desk.line("travel").text() == show(1.5, "length", inches)
    assert desk.line("cases.0.force").text() == show(50.0, "force", inches)
    assert desk.line("beam.length").text() == show(1.9, "length", inches)


def test_picking_a_kind_keeps_what_both_share_and_remembers(qtbot: QtBot, desk: Desk) -> None:
    thick = Tube(wall=0.007)
    desk.document = Machine(beam=Beam(section=thick))
    desk.refresh()
    selector = desk.form.entry("beam.section").findChild(QComboBox)
    assert [selector.itemText(row) for row in range(selector.count())] == ["Hollow tube", "Bar"]
    pick(selector, 1)
    path, bar = desk.edits[-1]
    assert path == "beam.section"
    assert isinstance(bar, Bar)
    assert bar.width == Tube().width
    assert "beam.section.height" in desk.form.paths()
    assert "beam.section.wall" not in desk.form.paths()
    pick(selector, 0)
    assert desk.document.beam.section == thick


def pick(box: QComboBox, row: int) -> None:
    box.setCurrentIndex(row)
    box.activated.emit(row)


def test_a_kind_that_cannot_be_begun_leaves_all_as_it_was(qtbot: QtBot) -> None:
    def refuse(kind: type, old: Any) -> Any:
        raise ValueError("nothing fits")

    form = Form(Theme("light"), Machine, make=refuse)
    qtbot.addWidget(form)
    form.show_values(Machine())
    edits: list[str] = []
    form.edited.connect(lambda path, _: edits.append(path))
    pick(form.entry("plate").findChild(QComboBox), 1)
    assert edits == []
    assert form.entry("plate").value() is None
    assert "nothing fits" in (form.entry("plate").problem() or "")


def test_a_thing_that_may_be_absent(desk: Desk) -> None:
    selector = desk.form.entry("plate").findChild(QComboBox)
    pick(selector, 1)
    assert isinstance(desk.document.plate, Bar)
    assert "plate.width" in desk.form.paths()
    pick(selector, 0)
    assert desk.document.plate is None
    assert "plate.width" not in desk.form.paths()


def test_flags_are_told_in_the_order_of_their_list(desk: Desk) -> None:
    ticks = desk.form.entry("rigid").findChildren(QCheckBox)
    assert [tick.text() for tick in ticks] == ["Beam", "Blocks", "Joints"]
    ticks[2].click()
    ticks[0].click()
    assert desk.edits[-1] == ("rigid", ("beam", "joints"))
    desk.document = Machine(rigid=("blocks",))
    desk.refresh()
    assert [tick.isChecked() for tick in ticks] == [False, True, False]
    assert len(desk.edits) == 2


def test_rows_come_and_go(desk: Desk) -> None:
    buttons = [button for button in desk.form.findChildren(QPushButton) if button.text() == "Add one"]
    buttons[0].click()
    assert [case.name for case in desk.document.cases] == ["finishing", "roughing", "roughing"]
    remove = next(button for button in desk.form.findChildren(QPushButton) if button.text() == "Remove")
    remove.click()
    assert [case.name for case in desk.document.cases] == ["roughing", "roughing"]
    assert "cases.2.name" not in desk.form.paths()


def test_problems_find_their_entry_or_the_nearest_above(desk: Desk) -> None:
    desk.form.show_problems(
        {
            "travel": "Too far.",
            "stiffness.likely": "Too soft.",
            "beam.section.holes": "No holes.",
            "elsewhere": "Odd.",
        }
    )
    assert desk.form.entry("travel").problem() == "Too far."
    assert desk.form.entry("stiffness").problem() == "Too soft."
    assert desk.form.entry("beam.section").problem() == "No holes."
    assert desk.form._other.text() == "Odd."
    pick(desk.form.entry("beam.section").findChild(QComboBox), 1)
    assert desk.form.entry("beam.section").problem() == "No holes."
    desk.form.show_problems({})
    assert all(desk.form.entry(path).problem() is None for path in desk.form.paths())
    assert not desk.form._other.isVisibleTo(desk.form)


def test_a_form_that_nobody_holds_goes(qtbot: QtBot) -> None:
    """Nothing but its parent may hold a form. Qt takes the widgets down: a tree of them that is left to the garbage
    collector is destroyed in any order, which ends the program now and then (PySide 6.11.3)."""
    form = Form(Theme("light"), Machine)
    form.show_values(Machine())
    held = weakref.ref(form)
    shiboken6.delete(form)
    del form
    gc.collect()
    assert held() is None


def test_a_fresh_struct_is_valid_whatever_came_before() -> None:
    class Thick(msgspec.Struct, kw_only=True):
        width: float
        cases: tuple[Case, ...]
        tube: Tube | Bar

        def __post_init__(self) -> None:
            if self.width > 0.05:
                raise ValueError("too wide")

    made = fresh(Thick, Tube())
    assert (made.width, made.cases, made.tube) == (0.0, (), Tube())
    assert 0.001 < fresh(Bar).width < 0.5
