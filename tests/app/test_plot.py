"""Plots: axes that keep still, one redraw a turn, curves at once, readings, files; and the bars."""

from __future__ import annotations

from collections.abc import Iterator
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPoint, QRectF
from PySide6.QtGui import QColor, QGuiApplication, QImage
from pytestqt.qtbot import QtBot

from app.look.palette import DARK, LIGHT
from app.look.theme import Theme
from app.widgets.bar_plot import BarPlot, Share
from app.widgets.plot import LinePlot
from app.widgets.plot_data import (
    Axes,
    Curve,
    Level,
    LineData,
    axes_for,
    nice_step,
    thinned,
    ticks,
    x_axis,
    y_axis,
)
from app.widgets.plot_engine import PlotEngine

X = np.linspace(0.0, 1500.0, 61)
LIMIT = Level(0.1, "limit 0.1 mm")


def bow(height: float, role: str = "1") -> Curve:
    return Curve(
        X, height * np.sin(np.pi * X / 1500.0), f"case {role}", role, "dash" if role == "2" else "solid"
    )


@pytest.fixture
def engine(qtbot: QtBot) -> Iterator[PlotEngine]:
    made = PlotEngine()
    made.load_now()
    yield made
    made.close()


@pytest.fixture
def plot(qtbot: QtBot, engine: PlotEngine) -> LinePlot:
    made = LinePlot(Theme("light"), engine, "Tip deflection", "Place along the beam, mm", "Deflection, mm")
    qtbot.addWidget(made)
    made.resize(480, 320)
    made.set_curves([bow(0.05)], LIMIT, Level(400.0, "load"))
    made.show()
    qtbot.waitUntil(lambda: made.surface.full_redraws == 1)
    return made


@given(st.floats(1e-9, 1e9))
def test_a_nice_step_cuts_a_span_into_a_few_pieces(span: float) -> None:
    assert 1.59 <= span / nice_step(span) <= 4.0 * (1 + 1e-6)


@given(st.floats(-1e6, 1e6), st.floats(0.0, 1e6))
def test_axes_hold_the_data_and_stay_when_asked_again(low: float, span: float) -> None:
    data = (low, low + span)
    axis = y_axis(data, None)
    assert axis[0] <= data[0] <= data[1] <= axis[1]
    assert axis[0] < axis[1]
    assert y_axis(data, axis) == axis


def test_axes_move_when_the_data_leaves_or_shrinks_but_not_before() -> None:
    axis = y_axis((0.0, 1.0), None)
    assert y_axis((0.0, 0.8), axis) == axis
    assert y_axis((0.0, 1.3), axis)[1] >= 1.3
    assert y_axis((0.0, 0.2), axis)[1] < axis[1]
    assert y_axis(None, axis) == axis


def test_axes_show_the_limit_zero_and_bands_and_skip_nan() -> None:
    y = np.array([0.5, np.nan, 0.7])
    curve = Curve(np.array([0.0, 1.0, 2.0]), y, "a", low=y - 0.2, high=y + 0.4)
    axes = axes_for(LineData("t", "x", "y", (curve,), (Level(2.0, "limit"),), from_zero=True), None)
    assert axes.x == (0.0, 2.0)
    assert axes.y[0] == 0.0
    assert axes.y[1] >= 2.0
    assert axes_for(LineData("t", "x", "y"), None) == Axes((0.0, 1.0), (0.0, 1.0))


def test_tick_labels_have_the_decimals_of_their_step() -> None:
    assert ticks((0.0, 0.1))[1] == ["0.00", "0.05", "0.10"]
    assert ticks((-2.0, 2.0))[1] == ["\N{MINUS SIGN}2", "\N{MINUS SIGN}1", "0", "1", "2"]


def test_a_plot_waits_quietly_until_matplotlib_is_there(qtbot: QtBot) -> None:
    engine = PlotEngine()
    plot = LinePlot(Theme("light"), engine, "Tip", "x, mm", "y, mm")
    qtbot.addWidget(plot)
    plot.set_curves([bow(1.0)])
    plot.show()
    qtbot.waitExposed(plot)
    plot.grab()
    assert plot.surface.full_redraws == 0
    with qtbot.waitSignal(engine.ready):
        engine.start()
    qtbot.waitUntil(lambda: plot.surface.full_redraws == 1)
    engine.close()


def test_curves_within_the_axes_cost_no_full_redraw(qtbot: QtBot, plot: LinePlot) -> None:
    before = plot.surface.grab().toImage()
    plot.set_curves([bow(0.07)], LIMIT, Level(700.0, "load"))
    after = plot.surface.grab().toImage()
    qtbot.wait(20)
    assert after != before
    assert plot.surface.full_redraws == 1
    plot.set_curves([bow(0.05)], LIMIT, Level(400.0, "load"))
    assert plot.surface.grab().toImage() == before


def test_curves_beyond_the_axes_are_shown_at_once_and_redrawn_a_turn_later(
    qtbot: QtBot, plot: LinePlot
) -> None:
    plot.set_curves([bow(3.0)], LIMIT)
    plot.surface.grab()
    assert plot.surface.full_redraws == 1
    qtbot.waitUntil(lambda: plot.surface.full_redraws == 2)
    assert "case 1: 3" in plot.surface.reading(middle(plot))


def middle(plot: LinePlot) -> QPoint:
    """Where x = 750 mm lies, from the fixed margins of the figure."""
    return QPoint(round(68 + (plot.surface.width() - 68 - 24) / 2), 60)


def test_every_turn_of_the_loop_redraws_one_plot(qtbot: QtBot, engine: PlotEngine) -> None:
    turns: list[str] = []

    class Recorder(LinePlot):
        pass

    plots = []
    for name in "abc":
        made = Recorder(Theme("light"), engine, name, "x", "y")
        qtbot.addWidget(made)
        made.surface.redraw_now = lambda name=name: turns.append(name)  # type: ignore[method-assign]
        plots.append(made)
    for made in plots * 2:
        engine.ask(made.surface)
    engine._next()
    assert turns == ["a"]
    qtbot.waitUntil(lambda: len(turns) == 3)
    assert turns == ["a", "b", "c"]


def test_a_hidden_plot_is_not_drawn(qtbot: QtBot, engine: PlotEngine) -> None:
    plot = LinePlot(Theme("light"), engine, "Tip", "x", "y")
    qtbot.addWidget(plot)
    plot.set_curves([bow(1.0)])
    qtbot.wait(20)
    assert plot.surface.full_redraws == 0


def test_the_legend_and_the_theme(qtbot: QtBot, plot: LinePlot) -> None:
    plot.set_curves([bow(0.05), bow(0.03, "2")], LIMIT, Level(400.0, "load"))
    assert [item.label for item in plot.legend().items()] == ["case 1", "case 2", "limit 0.1 mm", "load"]
    assert plot.legend().heightForWidth(90) > plot.legend().heightForWidth(900) > 0
    plot._theme.choose("dark")
    qtbot.waitUntil(lambda: plot.surface.full_redraws == 2)
    assert plot.legend().items()[0].colour == DARK.curves[0]
    assert plot.surface.grab().toImage().pixelColor(2, 2) == QColor(DARK.entry)


def test_pixels_are_those_of_the_curve(qtbot: QtBot, plot: LinePlot) -> None:
    """A level curve is found in its colour at the row where the figures say it lies."""
    plot.set_curves([Curve(X, np.full_like(X, 0.05), "level")], LIMIT)
    image = plot.surface.grab().toImage()
    column = middle(plot).x()
    rows = [row for row in range(image.height()) if image.pixelColor(column, row) == QColor(LIGHT.curves[0])]
    assert rows
    assert plot.surface._figure.place(column, float(np.mean(rows)))[1] == pytest.approx(0.05, rel=0.03)


@pytest.mark.parametrize("ratio", [1.0, 1.25, 2.0])
def test_the_picture_has_a_pixel_for_every_pixel_of_the_screen(engine: PlotEngine, ratio: float) -> None:
    figure = engine.load_now().LineFigure()
    data = LineData("t", "x", "y", (bow(1.0),))
    for width in (400, 479, 599, 601):
        figure.redraw(data, axes_for(data, None), LIGHT, width, 300, ratio)
        pixels, wide, high = figure.pixels()
        assert (wide, high) == (int(width * ratio + 0.25), int(300 * ratio + 0.25))
        assert len(pixels) == 4 * wide * high


def test_line_plot_files(plot: LinePlot) -> None:
    svg = plot.picture("svg")
    assert svg == plot.picture("svg")
    assert ElementTree.fromstring(svg).tag.endswith("svg")
    assert plot.picture("pdf").startswith(b"%PDF")
    image = QImage.fromData(plot.picture("png"), "PNG")
    assert (image.width(), image.height()) == (1600, 1000)


def test_a_plot_whose_lines_have_no_names_is_a_file_too(plot: LinePlot) -> None:
    plot.set_curves([Curve(X, X, "")])
    assert plot.picture("pdf").startswith(b"%PDF")


def test_numbers_are_copied_when_given(plot: LinePlot) -> None:
    assert [action.text() for action in plot.files.menu().actions()] == ["Copy picture", "Save picture…"]
    plot.set_numbers(lambda: "x,y\n1,2\n")
    plot.files.copy_numbers()
    assert QGuiApplication.clipboard().text() == "x,y\n1,2\n"
    plot.files.copy_picture()
    assert QGuiApplication.clipboard().mimeData().hasImage()
    menu = plot.files.menu()
    assert any("numbers" in action.text() for action in menu.actions())
    menu.deleteLater()


def test_bars_are_as_long_as_their_shares(qtbot: QtBot) -> None:
    bars = BarPlot(Theme("light"), "Where it gives")
    qtbot.addWidget(bars)
    bars.resize(500, 200)
    bars.set_shares(
        [Share("beam", 0.6), Share("blocks", 0.3, "X blocks", "2"), Share("joints", 0.1, hatched=True)]
    )
    assert "beam 60.0 %" in bars.accessibleDescription()
    image = bars.grab().toImage()

    def length(row: int, colour: str) -> int:
        y = round(bars._bar_rows(QRectF(bars.rect()))[row].center().y())
        return sum(image.pixelColor(x, y) == QColor(colour) for x in range(image.width()))

    assert length(0, LIGHT.curves[0]) == pytest.approx(2 * length(1, LIGHT.curves[1]), abs=3)
    assert bars.hint_under(bars._bar_rows(QRectF(bars.rect()))[1].center().toPoint()) == "X blocks"
    assert bars.picture("svg").startswith(b"<?xml")
    assert bars.minimumSizeHint().height() <= 200
    bars.set_shares([])
    bars.grab()
    assert bars.hint_under(QPoint(5, 5)) == ""


def test_axes_stay_while_a_length_is_typed_and_follow_a_real_change() -> None:
    kept = (-650.0, 650.0)
    assert x_axis((-650.15, 650.15), kept) == kept
    assert x_axis((-645.0, 645.0), kept) == kept
    assert x_axis((-600.0, 600.0), kept) == (-600.0, 600.0)
    assert x_axis((-655.0, 655.0), kept) == (-655.0, 655.0)
    assert x_axis((2.0, 2.0), None) == (1.5, 2.5)


def test_ticks_are_thinned_until_their_labels_stand_clear_and_zero_stays() -> None:
    places, labels = [-400.0, -200.0, 0.0, 200.0, 400.0], ["-400", "-200", "0", "200", "400"]
    assert thinned(places, labels, 1000.0) == (places, labels)
    assert thinned(places, labels, 110.0) == ([-400.0, 0.0, 400.0], ["-400", "0", "400"])
    assert 0.0 in thinned([-100.0, 0.0, 100.0, 200.0], ["-100", "0", "100", "200"], 90.0)[0]
