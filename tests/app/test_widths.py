"""Columns fit the room: words wrap before anything scrolls sideways; limits are named after their load cases."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytestqt.qtbot import QtBot

from app.pages.curves import case_limits, short_names
from app.pages.tables import ReportTable
from app.pages.widths import MOST_GROWN, fit_widths
from core.report import Column, Table
from core.units import METRIC

COLUMNS = st.lists(st.tuples(st.integers(40, 600), st.booleans()), min_size=1, max_size=12)


@given(COLUMNS, st.integers(200, 2000))
def test_columns_fill_the_room_or_keep_their_least(columns: list[tuple[int, bool]], room: int) -> None:
    natural = [width for width, _ in columns]
    least = [min(width, 104) if wraps else None for width, wraps in columns]
    widths = fit_widths(natural, least, room)
    smallest = sum(width if low is None else low for width, low in zip(natural, least, strict=True))
    assert sum(widths) <= max(room, smallest)
    for width, whole, low in zip(widths, natural, least, strict=True):
        assert (whole if low is None else low) - 1 <= width <= MOST_GROWN * whole
    if sum(natural) > room >= smallest:
        assert sum(widths) >= room - 26 * len(columns)  # no more is taken than needed


def test_the_taker_takes_what_is_left() -> None:
    assert fit_widths([100, 200], [None, 104], 500, taker=1) == [100, 400]


def test_a_long_table_does_not_scroll_sideways(qtbot: QtBot) -> None:
    view = ReportTable("Parts")
    qtbot.addWidget(view)
    view.resize(500, 300)
    words = "Plate 120 mm x 25 mm, Aluminium EN AW-6082 T6, planed on both faces and drilled"
    columns = (Column("Specification", align="left"), Column("Quantity"), Column("Where", align="left"))
    view.show_table(Table("Parts", columns, ((words, 2, "between the legs along Y"),)))
    view.show()
    assert sum(view.columnWidth(k) for k in range(3)) <= view.viewport().width()
    assert view.rowHeight(0) > 2 * view.fontMetrics().height()
    view.keep_height()
    assert view.height() == view.wanted_height()


def test_a_scroll_bar_that_nobody_needs_goes_away(qtbot: QtBot) -> None:
    view = ReportTable("Form")
    qtbot.addWidget(view)
    view.show()
    rows = tuple((f"bed in epoxy or machine {n}", 1.0) for n in range(8))
    view.show_table(Table("Form", (Column("At its worst", align="left"), Column("Times")), rows))
    enough = view._natural[0] + view._natural[1] + 2 * view.frameWidth()
    view.resize(enough, 90)  # too low at first, so that a scroll bar takes of the width
    qtbot.waitUntil(view.verticalScrollBar().isVisible)
    view.keep_height(9 * view.verticalHeader().defaultSectionSize() + 20)
    qtbot.waitUntil(lambda: not view.verticalScrollBar().isVisible())
    usual = view.verticalHeader().defaultSectionSize()
    assert [view.rowHeight(row) for row in range(8)] == [usual] * 8


def test_cells_show_the_digits_of_their_column(qtbot: QtBot) -> None:
    view = ReportTable("Figures")
    qtbot.addWidget(view)
    view.show_table(Table("Figures", (Column("Few", digits=2), Column("More")), ((0.037541, 0.037541),)))
    assert [view.model().index(0, k).data() for k in range(2)] == ["0.038", "0.03754"]
    assert "0.037541" in view.csv()


def case(name: str, limit: float) -> Any:
    return SimpleNamespace(name=name, limit=limit)


def test_limits_are_named_after_their_cases_and_told_apart() -> None:
    levels = case_limits([case("Finishing edges", 1e-4), case("Roughing edges", 3e-4)], METRIC)
    assert ["Finishing" in levels[0].label, "Roughing" in levels[1].label] == [True, True]
    assert levels[0].role != levels[1].role
    assert levels[0].dash != levels[1].dash


def test_equal_limits_share_one_line() -> None:
    (level,) = case_limits([case("Finishing", 1e-4), case("Roughing", 1e-4)], METRIC)
    assert level.at == pytest.approx(0.1)


def test_short_names_are_first_words_that_differ() -> None:
    names = ["Finishing plywood", "Roughing plywood", "Roughing solid oak"]
    assert short_names(names) == ["Finishing", "Roughing plywood", "Roughing solid"]
    assert short_names(["A", "A"]) == ["A", "A"]
