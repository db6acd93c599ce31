"""The one routine that paints a display list: the screen, SVG, PDF and PNG all come from here.

Shapes are to scale; letters, arrowheads and line widths are in logical pixels at every scale.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF

from app.look.palette import Palette
from app.look.roles import brushes, pen
from app.widgets.camera import Camera
from core.drawing.primitives import (
    Anchor,
    Arrow,
    Circle,
    Dimension,
    Drawing,
    Line,
    Polygon,
    Polyline,
    Shape,
    Text,
)

HEAD_LENGTH, HEAD_HALF = 8.0, 2.8
SMALLEST_CIRCLE = 1.2


@dataclass(frozen=True, slots=True)
class Brushwork:
    """All that painting needs beside the shapes: camera, palette and letters."""

    camera: Camera
    palette: Palette
    font: QFont
    metrics: QFontMetricsF


def paint_drawing(
    p: QPainter, drawing: Drawing, camera: Camera, palette: Palette, text_pixels: float = 12.0
) -> None:
    """Paint every shape in order.

    Args:
        p: an active painter in logical pixels; its state is given back as found.
        text_pixels: height of the letters.
    """
    font = QFont(p.font())
    font.setPixelSize(max(1, round(text_pixels)))
    work = Brushwork(camera, palette, font, QFontMetricsF(font))
    p.save()
    p.setRenderHint(QPainter.RenderHint.Antialiasing)
    p.setFont(font)
    for shape in drawing:
        _paint_shape(p, shape, work)
    p.restore()


def _paint_shape(p: QPainter, shape: Shape, work: Brushwork) -> None:
    p.setPen(pen(shape.role, work.palette))
    p.setBrush(Qt.BrushStyle.NoBrush)
    if isinstance(shape, Line):
        p.drawLine(work.camera.pixel(shape.start), work.camera.pixel(shape.end))
    elif isinstance(shape, Polyline):
        p.drawPolyline([work.camera.pixel(point) for point in shape.vertices])
    elif isinstance(shape, Polygon):
        _fill(p, _polygon_path(shape, work.camera), shape.role, work.palette)
    elif isinstance(shape, Circle):
        radius = max(SMALLEST_CIRCLE, shape.radius * work.camera.scale)
        path = QPainterPath()
        path.addEllipse(work.camera.pixel(shape.centre), radius, radius)
        _fill(p, path, shape.role, work.palette)
    elif isinstance(shape, Text):
        _write(p, work.camera.pixel(shape.at), shape.text, -math.degrees(shape.turn), shape.anchor, work)
    elif isinstance(shape, Arrow):
        _paint_arrow(p, shape, work)
    elif isinstance(shape, Dimension):
        _paint_dimension(p, shape, work)


def _polygon_path(shape: Polygon, camera: Camera) -> QPainterPath:
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    for ring in (shape.outline, *shape.holes):
        path.addPolygon(QPolygonF([camera.pixel(point) for point in ring]))
        path.closeSubpath()
    return path


def _fill(p: QPainter, path: QPainterPath, role: str, palette: Palette) -> None:
    outline = p.pen()
    *under, last = brushes(role, palette)
    for brush in under:
        p.fillPath(path, brush)
    p.setPen(outline)
    p.setBrush(last)
    p.drawPath(path)


def _write(p: QPainter, at: QPointF, text: str, degrees: float, anchor: Anchor, work: Brushwork) -> None:
    """Letters whose middle height lies at `at`, on a slip of the ground's colour so that lines do not cross
    them.
    """
    width, height = work.metrics.horizontalAdvance(text), work.metrics.height()
    left = {"left": 0.0, "centre": -width / 2, "right": -width}[anchor]
    colour = p.pen().color()
    p.save()
    p.translate(at)
    p.rotate(degrees)
    ground = QColor(work.palette.entry)
    ground.setAlphaF(0.8)
    p.fillRect(QRectF(left - 2, -height / 2, width + 4, height), ground)
    p.setPen(QPen(colour))
    p.drawText(QPointF(left, -height / 2 + work.metrics.ascent()), text)
    p.restore()


def _head(p: QPainter, tip: QPointF, towards: QPointF, size: float = 1.0) -> None:
    """A filled arrowhead at `tip` that points along the unit vector `towards` (pixels)."""
    back = tip - towards * HEAD_LENGTH * size
    side = QPointF(-towards.y(), towards.x()) * HEAD_HALF * size
    colour = p.pen().color()
    path = QPainterPath(tip)
    path.lineTo(back + side)
    path.lineTo(back - side)
    path.closeSubpath()
    p.fillPath(path, QBrush(colour))


def _direction(start: QPointF, end: QPointF) -> tuple[QPointF, float]:
    """Unit vector from start to end and the distance, pixels; (1, 0) when they coincide."""
    step = end - start
    length = math.hypot(step.x(), step.y())
    return (step / length if length > 0 else QPointF(1.0, 0.0)), length


def _paint_arrow(p: QPainter, shape: Arrow, work: Brushwork) -> None:
    start, end = work.camera.pixel(shape.start), work.camera.pixel(shape.end)
    towards, length = _direction(start, end)
    if length == 0.0:  # a load of nothing points nowhere
        return
    p.drawLine(start, end - towards * min(length, HEAD_LENGTH))
    _head(p, end, towards, 1.4)
    if shape.label:
        away = start - towards * work.metrics.height() * 0.8
        anchor: Anchor = "centre" if abs(towards.y()) > 0.5 else ("right" if towards.x() > 0 else "left")
        _write(p, away, shape.label, 0.0, anchor, work)


def _paint_dimension(p: QPainter, shape: Dimension, work: Brushwork) -> None:
    """Extension lines, a dimension line with heads at both ends, and the label along it, readable from below
    or right.
    """
    first, second = (work.camera.pixel(end) for end in shape.line())
    for foot, end in zip((shape.start, shape.end), (first, second), strict=True):
        start = work.camera.pixel(foot)
        away, gap = _direction(start, end)
        if gap > 3.0:
            p.drawLine(start + away * 3.0, end + away * 4.0)
    along, length = _direction(first, second)
    room = work.metrics.horizontalAdvance(shape.label) + 2.5 * HEAD_LENGTH
    outside = length < 2.5 * HEAD_LENGTH
    if outside:
        p.drawLine(first - along * 2 * HEAD_LENGTH, second + along * 2 * HEAD_LENGTH)
    else:
        p.drawLine(first, second)
    _head(p, first, along if outside else -along)
    _head(p, second, -along if outside else along)
    degrees = math.degrees(math.atan2(along.y(), along.x()))
    reads = degrees if -90.0 <= degrees < 90.0 else degrees - 180.0
    if degrees == 90.0:
        reads = -90.0
    place = (first + second) / 2
    if length < room and abs(along.x()) > abs(
        along.y()
    ):  # too narrow for the letters: on the line beyond its end
        beyond = second + along * ((2.0 if outside else 0.5) * HEAD_LENGTH)
        p.drawLine(second, beyond)
        _write(p, beyond + along * 4.0, shape.label, reads, "left" if along.x() > 0 else "right", work)
        return
    if length < room:  # upright and too short: beside the line, away from what is measured
        across = QPointF(math.sin(math.radians(reads)), -math.cos(math.radians(reads)))
        out = first - work.camera.pixel(shape.start)
        if QPointF.dotProduct(across, out) < 0.0:
            across = -across
        place = place + across * work.metrics.height() * 0.7
    _write(p, place, shape.label, reads, "centre", work)
