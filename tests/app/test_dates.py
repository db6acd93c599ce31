"""Days on an axis: whole weeks, months and years, labels as ISO 8601 has them, never one over the other."""

from __future__ import annotations

from datetime import date as Date
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.look.palette import LIGHT
from app.widgets.dates import LETTER, date_ticks, day_at
from app.widgets.plot_data import Curve, LineData, axes_for, x_ticks
from app.widgets.plot_figure import LineFigure, line_plot_file


def day(text: str) -> float:
    return float(Date.fromisoformat(text).toordinal())


@given(
    first=st.integers(1, 3_600_000),
    span=st.one_of(st.floats(0.0, 60.0), st.floats(0.0, 4000.0), st.floats(0.0, 40_000.0)),
    room=st.floats(160.0, 2000.0),
)
def test_ticks_lie_within_stand_clear_and_name_their_day(first: int, span: float, room: float) -> None:
    places, labels = date_ticks((float(first), first + span), room)
    assert all(first <= place <= first + span + 1e-6 for place in places)
    assert places == sorted(set(places))
    assert sum(LETTER * len(label) for label in labels) <= room
    for place, label in zip(places, labels, strict=True):
        assert day_at(place).startswith(label)
        assert place == round(place)
    if span >= 2.0:
        assert len(places) >= 2


@pytest.mark.parametrize(
    ("first", "last", "room", "labels"),
    [
        ("2026-02-02", "2026-02-20", 400, ["2026-02-02", "2026-02-09", "2026-02-16"]),
        ("2026-01-20", "2026-05-03", 400, ["2026-02", "2026-03", "2026-04", "2026-05"]),
        ("2024-11-01", "2028-03-01", 250, ["2025", "2026", "2027", "2028"]),
    ],
)
def test_weeks_begin_on_mondays_months_on_their_first(
    first: str, last: str, room: float, labels: list[str]
) -> None:
    places, found = date_ticks((day(first), day(last)), room)
    assert found == labels
    days = [Date.fromordinal(int(place)) for place in places]
    assert all(d.weekday() == 0 for d in days) if len(labels[0]) == 10 else all(d.day == 1 for d in days)


def test_a_plot_over_days_is_drawn_into_every_file() -> None:
    x = np.array([day("2026-02-02"), day("2026-02-16"), day("2026-04-20")])
    plot = LineData("Spent", "Day", "EUR", (Curve(x, np.array([0.0, 5.0, 9.0]), "spent"),), dates=True)
    for kind in ("svg", "png", "pdf"):
        assert len(line_plot_file(plot, LIGHT, kind)) > 1000


def test_no_day_is_told_where_there_is_none() -> None:
    assert x_ticks(LineData("Spent", "Day", "EUR", dates=True), (0.0, 1.0), 400.0, 5) == ([], [])
    assert x_ticks(LineData("Sag", "X", "mm"), (0.0, 1.0), 400.0, 5)[0]


@pytest.mark.parametrize("last", ["2026-01-20", "2026-01-19", "2026-01-15"])
def test_no_day_is_cut_at_the_edge_of_a_plot(last: str) -> None:
    ends = np.array([day("2026-01-12"), day(last)])
    data = LineData("Spent", "Day", "EUR", (Curve(ends, np.array([0.0, 1.0]), "spent"),), dates=True)
    figure = LineFigure()
    for width in (420, 760, 1000, 1310):
        figure.redraw(data, axes_for(data, None), LIGHT, width, 300, 1.0)
        drawn = [text for text in figure._axes.get_xticklabels() if text.get_text()]
        boxes = [text.get_window_extent() for text in drawn]
        assert boxes[-1].x1 <= figure._axes.figure.bbox.x1
        assert all(one.x1 < other.x0 for one, other in pairwise(boxes))
