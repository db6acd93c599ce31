"""The drawing's view: scale, fit, zoom, pan, picking, dragging and files."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from app.look.palette import DARK, LIGHT
from app.look.theme import Theme
from app.widgets.camera import Camera, fitted
from app.widgets.drawing_paint import paint_drawing
from app.widgets.drawing_view import DrawingView
from app.widgets.picture import CannotSave, save_bytes
from core.drawing.primitives import (
    ROLES,
    Arrow,
    Bounds,
    Circle,
    Dimension,
    Drawing,
    Line,
    Polygon,
    Polyline,
    Text,
    rectangle,
)


def every_kind() -> Drawing:
    """All kinds of shapes in all roles, around a table of 2 m by 1 m with a load upon it."""
    square = ((0.0, 0.0), (0.1, 0.0), (0.1, 0.1), (0.0, 0.1))
    hole = ((0.02, 0.02), (0.08, 0.02), (0.08, 0.08), (0.02, 0.08))
    shapes = [rectangle(0.0, 0.0, 2.0, 1.0, "table", "table", "The table")]
    for number, role in enumerate(sorted(ROLES)):
        shapes.append(Polygon(outline=square, holes=(hole,), role=role).moved(0.15 * number, 1.2))
        shapes.append(Circle(centre=(0.15 * number, 1.5), radius=0.03, role=role))
        shapes.append(
            Polyline(vertices=((0.0, 1.6), (0.1, 1.7), (0.2, 1.6)), role=role).moved(0.15 * number, 0.0)
        )
    shapes += [
        Line(start=(0.0, 0.0), end=(2.0, 1.0), role="axis"),
        Text(at=(1.0, 0.5), text="Ten", anchor="centre", turn=0.5, role="note"),
        Dimension(start=(0.0, 0.0), end=(2.0, 0.0), offset=-0.2, label="2000 mm"),
        Dimension(start=(2.0, 1.0), end=(2.0, 0.0), offset=0.2, label="1000 mm"),
        Dimension(start=(0.0, 0.0), end=(0.001, 0.0), offset=-0.1, label="1 mm"),
        Dimension(start=(0.0, 0.0), end=(0.0, 0.0), offset=-0.1, label="0 mm"),
        Arrow(start=(1.0, 1.1), end=(1.0, 1.0), label="100 N", role="load", key="load", hint="The cut"),
        Arrow(start=(1.0, 1.0), end=(1.0, 1.0), role="load"),
    ]
    return Drawing(tuple(shapes), "Front")


@pytest.fixture
def view(qtbot: QtBot) -> DrawingView:
    made = DrawingView(Theme("light"))
    qtbot.addWidget(made)
    made.resize(600, 400)
    made.set_drawing(every_kind())
    return made


def pixel(view: DrawingView, x: float, y: float) -> QPoint:
    return view.camera().pixel((x, y)).toPoint()


@given(st.floats(-5, 5), st.floats(-5, 5), st.floats(0.2, 5.0), st.floats(0, 600), st.floats(0, 400))
def test_zooming_keeps_the_place_under_the_pointer(
    x: float, y: float, factor: float, px: float, py: float
) -> None:
    camera = Camera(120.0, 300.0 + x, 200.0 + y)
    about = QPointF(px, py)
    before, after = camera.metres(about), camera.zoomed(factor, about).metres(about)
    assert after == pytest.approx(before, abs=1e-9)


def test_fit_shows_all_to_one_scale_in_the_middle() -> None:
    camera = fitted(Bounds(-1.0, 0.0, 3.0, 1.0), 500.0, 400.0, 50.0)
    assert camera.scale == pytest.approx(100.0)
    assert camera.pixel((1.0, 0.5)) == QPointF(250.0, 200.0)
    assert camera.pixel((-1.0, 0.0)).x() == pytest.approx(50.0)
    assert fitted(None, 100.0, 100.0, 10.0).scale > 0.0
    assert fitted(Bounds(1.0, 1.0, 1.0, 1.0), 100.0, 100.0, 10.0).pixel((1.0, 1.0)) == QPointF(50.0, 50.0)


def test_it_paints_the_theme(view: DrawingView) -> None:
    def colour() -> QColor:
        return view.grab().toImage().pixelColor(pixel(view, 0.5, 0.6))

    assert colour() == QColor(LIGHT.table)
    view._theme.choose("dark")
    assert colour() == QColor(DARK.table)


def test_a_fitted_view_stays_fitted_and_a_zoomed_one_stays_put(view: DrawingView) -> None:
    first = view.camera()
    larger = every_kind().with_items([rectangle(-3.0, 0.0, -2.0, 1.0, "plate")])
    view.set_drawing(larger)
    assert view.camera().scale < first.scale
    view.zoom(2.0)
    zoomed = view.camera()
    view.set_drawing(every_kind())
    assert view.camera() == zoomed
    view.fit()
    assert view.camera() == first


def test_dragging_the_load_tells_metres_and_keeps_the_ground_still(qtbot: QtBot, view: DrawingView) -> None:
    view.set_draggable(frozenset({"load"}))
    camera = view.camera()
    moves: list[tuple[float, float]] = []
    ends: list[bool] = []
    view.dragged_to.connect(lambda x, y: moves.append((x, y)))
    view.drag_ended.connect(lambda: ends.append(True))
    qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=pixel(view, 1.0, 1.02))
    qtbot.mouseMove(view, pixel(view, 1.5, 1.02))
    view.set_drawing(Drawing((rectangle(-9.0, 0.0, 9.0, 1.0, "table"),)))
    assert view.camera() == camera
    qtbot.mouseRelease(view, Qt.MouseButton.LeftButton, pos=pixel(view, 1.5, 1.02))
    assert moves[-1][0] == pytest.approx(1.5, abs=1.0 / camera.scale)
    assert ends == [True]


def test_dragging_elsewhere_pans_and_a_press_tells_the_thing(qtbot: QtBot, view: DrawingView) -> None:
    picked: list[str] = []
    view.picked.connect(picked.append)
    before = view.camera()
    start = pixel(view, 0.3, 0.5)
    qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(view, start + QPoint(30, -20))
    qtbot.mouseRelease(view, Qt.MouseButton.LeftButton, pos=start + QPoint(30, -20))
    assert picked == ["table"]
    assert view.camera().left - before.left == pytest.approx(30.0)
    assert view.camera().top - before.top == pytest.approx(-20.0)


def test_keys_zoom_fit_pan_and_nudge(qtbot: QtBot, view: DrawingView) -> None:
    first = view.camera()
    qtbot.keyClick(view, Qt.Key.Key_Plus)
    assert view.camera().scale > first.scale
    qtbot.keyClick(view, Qt.Key.Key_Right)
    assert view.camera() != first
    qtbot.keyClick(view, Qt.Key.Key_0)
    assert view.camera() == first
    view.set_draggable(frozenset({"load"}))
    with qtbot.waitSignal(view.nudged) as told:
        qtbot.keyClick(view, Qt.Key.Key_Left)
    assert told.args == [-1]


def test_hover_tells_the_hint_of_what_lies_there(view: DrawingView) -> None:
    assert view.hint_under(QPointF(pixel(view, 1.0, 1.04))) == "The cut"
    assert view.hint_under(QPointF(pixel(view, 0.2, 0.7))) == "The table"
    assert view.hint_under(QPointF(2.0, 2.0)) == ""


def test_files_of_all_kinds_come_from_the_same_painting(view: DrawingView, tmp_path: Path) -> None:
    root = ElementTree.fromstring(view.picture("svg"))
    assert root.attrib["viewBox"].split() == ["0", "0", "600", "400"]
    assert "2000 mm" in "".join(root.itertext())
    assert view.picture("pdf").startswith(b"%PDF")
    assert view.picture("png").startswith(b"\x89PNG")
    view.files.save_picture(tmp_path / "front.svg")
    assert (tmp_path / "front.svg").read_bytes() == view.picture("svg")


def test_a_file_that_cannot_be_written_is_told_in_words(view: DrawingView, tmp_path: Path) -> None:
    told: list[str] = []
    view.files.trouble.connect(told.append)
    view.files.save_picture(tmp_path / "front.doc")
    view.files.save_picture(tmp_path / "nowhere" / "front.svg")
    assert len(told) == 2
    assert "front.doc" in told[0]
    assert ".svg" in told[0]
    with pytest.raises(CannotSave):
        save_bytes(tmp_path, b"a folder is no file")
    assert list(tmp_path.iterdir()) == []


def test_letters_at_the_sides_are_not_cut(view: DrawingView) -> None:
    view.resize(300, 320)
    words = "1234.5 pounds"
    items = (
        rectangle(0.0, 0.0, 2.0, 3.0, "table"),
        Text(at=(-0.1, 1.0), text=words, anchor="right", role="note"),
        Text(at=(2.1, 1.0), text=words, anchor="left", role="note"),
    )
    view.set_drawing(Drawing(items, "Plan"))
    view.fit()
    wide = view.fontMetrics().horizontalAdvance(words)
    assert view.camera().pixel((-0.1, 1.0)).x() - wide >= 0.0
    assert view.camera().pixel((2.1, 1.0)).x() + wide <= 300.0


@pytest.mark.parametrize("offset", [0.2, -0.2])
def test_the_label_of_a_short_upright_dimension_lies_away_from_what_is_measured(
    qtbot: QtBot, offset: float
) -> None:
    image = QImage(200, 200, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.white)
    short = Dimension(start=(0.0, -0.1), end=(0.0, 0.1), offset=offset, label="Upright 150 mm")
    with QPainter(image) as p:
        paint_drawing(p, Drawing((short,)), Camera(100.0, 100.0, 100.0), LIGHT)
    line = round(100 - 100 * offset)  # the dimension line's column of pixels

    def ink(columns: range) -> int:
        return sum(image.pixelColor(x, y).lightness() < 160 for x in columns for y in range(200))

    left, right = ink(range(line - 20, line - 4)), ink(range(line + 5, line + 21))
    assert left > 2 * right if offset > 0.0 else right > 2 * left
