"""Commands about buying: a record comes and goes with its figures, keystrokes are one step, undo takes all back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.commands import AddRow, History
from core.commands.stock import RemoveOwnPart, SetStock, new_own_part
from core.errors import BadEntry
from core.machine.ordering import StockRow
from core.machine.project import Project


def test_the_first_figure_makes_the_record_and_the_last_ends_it() -> None:
    history = History(Project())
    one = history.do(SetStock("beam", "ordered", 1, "Gantry beam"))
    assert one.project.stock == (StockRow(part="beam", ordered=1),)
    assert {"ordered", "Gantry", "beam"} <= set(one.undo_label.split())
    two = one.do(SetStock("leg", "on_hand", 2))
    assert [row.part for row in two.project.stock] == ["beam", "leg"]
    gone = two.do(SetStock("beam", "ordered", 0))
    assert [row.part for row in gone.project.stock] == ["leg"]
    assert gone.undo().undo().undo().project == history.project


def test_keystrokes_are_one_step_until_the_entry_is_left() -> None:
    history = History(Project())
    for value in (1, 12, 120):
        history = history.do(SetStock("screw", "ordered", value))
    assert len(history.done) == 1
    history = history.seal().do(SetStock("screw", "ordered", 12))
    assert len(history.done) == 2


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("ordered", -1),
        ("ordered", 1.5),
        ("date", "yesterday"),
        ("part", "x"),
        ("nothing", 1),
        ("price", -2.0),
    ],
)
def test_what_cannot_be_recorded_is_refused(field: str, value: object) -> None:
    with pytest.raises(BadEntry) as caught:
        SetStock("beam", field, value).apply(Project())
    assert caught.value.where.startswith("stock")


def test_a_part_of_ones_own_goes_with_its_record() -> None:
    history = History(Project())
    part = new_own_part(history.project)
    history = history.do(AddRow("own_parts", part)).do(SetStock(part.key, "ordered", 2))
    other = new_own_part(history.project)
    assert other.key != part.key
    gone = history.do(RemoveOwnPart(0))
    assert gone.project.own_parts == ()
    assert gone.project.stock == ()
    assert gone.undo().project == history.project
    with pytest.raises(BadEntry):
        RemoveOwnPart(0).apply(gone.project)


@given(
    st.lists(
        st.tuples(st.sampled_from("abc"), st.sampled_from(["on_hand", "ordered"]), st.integers(0, 3)),
        max_size=12,
    )
)
def test_doing_and_undoing_is_doing_nothing(edits: list[tuple[str, str, int]]) -> None:
    history = History(Project())
    for part, field, value in edits:
        history = history.do(SetStock(part, field, value)).seal()
        assert all(not row.empty for row in history.project.stock)
    while history.can_undo:
        history = history.undo()
    assert history.project == Project()


def test_a_record_whose_part_is_gone_is_still_named_in_words() -> None:
    assert StockRow(part="fastener_t_nut_slot_8p2_m5").name == "T-nut slot 8.2 M5"
    assert StockRow(part="x_carriage").name == "x carriage"
