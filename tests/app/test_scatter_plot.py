"""The chart of points: told by shape, picked by click and key, quick with a thousand points; its scales and files."""

from __future__ import annotations

import time

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.look.theme import Theme
from app.widgets.plot_data import Level
from app.widgets.scale import LOG_FROM, Scale, scale_for
from app.widgets.scatter_data import Kind, ScatterData
from app.widgets.scatter_plot import ScatterPlot

KINDS = (Kind("Good", "disc", "good"), Kind("Bad", "triangle", "bad", False))


def data(count: int = 6) -> ScatterData:
    """Points on a falling line, every second bad, the even ones on the step line."""
    x = np.arange(count, dtype=np.float64) + 1.0
    return ScatterData(
        "Mass, kg", "Deflection, mm", x, 10.0 - x / count, KINDS, np.arange(count) % 2, np.arange(0, count, 2), "Best", 1, "Own",
        9.0 - x / count, 11.0 - x / count, Level(9.5, "Limit 9.5 mm"),
    )  # fmt: skip


@pytest.fixture
def plot(qtbot: QtBot) -> ScatterPlot:
    made = ScatterPlot(Theme("light"), "Points")
    qtbot.addWidget(made)
    made.resize(520, 340)
    made.set_data(data(), lambda number: f"point {number}")
    made.show()
    return made


def test_a_click_picks_the_point_under_it_and_tells(plot: ScatterPlot, qtbot: QtBot) -> None:
    at = plot.place_of(3).toPoint()
    with qtbot.waitSignal(plot.picked) as told:
        QTest.mouseClick(plot, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, at)
    assert told.args == [3]
    assert plot.picked_number() == 3
    with qtbot.assertNotEmitted(plot.picked):
        QTest.mouseClick(plot, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, QPoint(2, 2))
        plot.set_picked(1)
    assert plot.hint_under(at) == "point 3"
    assert plot.hint_under(QPoint(2, 330)) == ""


def test_keys_go_along_the_steps_and_through_all(plot: ScatterPlot) -> None:
    plot.set_picked(-1)
    seen = []
    plot.picked.connect(seen.append)
    for key in (
        Qt.Key.Key_Right,
        Qt.Key.Key_Right,
        Qt.Key.Key_Right,
        Qt.Key.Key_Right,
        Qt.Key.Key_Left,
        Qt.Key.Key_Home,
    ):
        QTest.keyClick(plot, key)
    assert seen == [0, 2, 4, 2, 0]  # the fourth goes nowhere
    seen.clear()
    for key in (Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Up, Qt.Key.Key_End):
        QTest.keyClick(plot, key)
    assert seen == [1, 2, 1, 4]


def test_a_point_off_the_line_goes_to_its_neighbours_on_it() -> None:
    points = data()
    assert points.neighbour(3, 1) == 4
    assert points.neighbour(3, -1) == 2
    assert points.neighbour(5, 1) == -1
    assert ScatterData().neighbour(-1, 1) == -1
    assert ScatterData().next_in_y(-1, 1) == -1


def test_points_without_a_figure_are_neither_drawn_nor_picked(plot: ScatterPlot) -> None:
    points = data()
    points.y[3] = np.nan
    plot.set_data(points, str)
    assert not np.isfinite(plot.place_of(3).x())
    assert plot.hint_under(plot.place_of(2).toPoint()) == "2"
    assert [points.next_in_y(4, 1), points.next_in_y(2, -1)] == [2, 4]


def test_the_pointer_repaints_no_point_and_a_thousand_are_quick(plot: ScatterPlot) -> None:
    rng = np.random.default_rng(1)
    count = 1500
    x, y = rng.uniform(40.0, 150.0, count), rng.lognormal(0.0, 1.5, count)
    plot.set_data(ScatterData("x", "y", x, y, KINDS, np.arange(count) % 2), str)
    plot.repaint()
    painted = plot.full_paints
    begin = time.perf_counter()
    for number in range(40):
        QTest.mouseMove(plot, QPoint(100 + 5 * number, 150))
        plot.repaint()
    each = (time.perf_counter() - begin) / 40.0
    assert plot.full_paints == painted
    begin = time.perf_counter()
    plot.resize(521, 340)
    plot.repaint()
    assert plot.full_paints == painted + 1
    assert time.perf_counter() - begin < 0.25  # 6 ms or so on a quiet machine
    assert each < 0.1


@pytest.mark.parametrize("choice", ["light", "dark"])
def test_marks_limit_and_band_are_painted_in_both_themes(qtbot: QtBot, choice: str) -> None:
    theme = Theme(choice)  # type: ignore[arg-type]
    plot = ScatterPlot(theme, "Points")
    qtbot.addWidget(plot)
    plot.resize(520, 340)
    plot.set_data(data(), str)
    plot.set_picked(2)
    image = plot.grab().toImage()
    assert image.pixelColor(plot.place_of(0).toPoint()).name() == theme.palette.good
    colours = {image.pixelColor(x, y).name() for x in range(0, 520, 2) for y in range(340)}
    assert {theme.palette.entry, theme.palette.bad, theme.palette.accent} <= colours


def test_files_hold_title_labels_and_legend(plot: ScatterPlot) -> None:
    svg = plot.picture("svg").decode()
    for words in ("Points", "Mass, kg", "Deflection, mm", "Good", "Bad", "Best", "Own", "Limit 9.5 mm"):
        assert words in svg
    assert plot.picture("pdf").startswith(b"%PDF")
    assert plot.picture("png").startswith(b"\x89PNG")


def test_an_empty_chart_says_why(plot: ScatterPlot) -> None:
    nothing = np.full(3, np.nan)
    plot.set_data(
        ScatterData("x", "y", nothing, nothing, KINDS, np.zeros(3, dtype=np.int64), empty="No price yet."),
        str,
    )
    assert "No price yet." in plot.picture("svg").decode()
    assert plot.hint_under(QPoint(200, 200)) == ""


@given(st.lists(st.floats(1e-6, 1e6), min_size=1, max_size=30), st.floats(1e-3, 1e3))
def test_scales_hold_all_figures_in_their_order_with_ticks_inside(figures: list[float], limit: float) -> None:
    values = np.array(figures)
    scale = scale_for(values, (limit,))
    share = scale.share(np.sort(np.append(values, limit)))
    assert share.min() >= -1e-9
    assert share.max() <= 1.0 + 1e-9
    assert np.all(np.diff(share) >= -1e-12)
    span = max(*figures, limit) / min(*figures, limit)
    assert scale.log == (span > LOG_FROM)
    places, words = scale.ticks(5)
    assert len(places) == len(words)
    assert all(scale.low <= place <= scale.high for place in places)
    assert len(set(words)) == len(words)


def test_a_scale_without_figures_is_the_unit_interval() -> None:
    assert scale_for(np.array([np.nan])) == Scale(0.0, 1.0)
    flat = scale_for(np.array([5.0, 5.0]))
    assert flat.low < 5.0 < flat.high
