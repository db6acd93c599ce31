"""The painting of a chart of points: axes, limit, marks, and the items of its legend."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPolygonF

from app.look.palette import Palette, curve_colour
from app.widgets.legend import LegendItem
from app.widgets.marks import MarkPen
from app.widgets.painted_plot import MARGIN
from app.widgets.plot_data import thinned
from app.widgets.scatter_data import Placed, ScatterData

FRAME = 7.5
"""Half the side of the frame around one point, pixels."""


def legend_of(data: ScatterData, palette: Palette) -> list[LegendItem]:
    """What the marks stand for, of those that are there."""
    present = np.unique(data.kind[data.drawn()]) if data.kind.size else np.empty(0)
    items = [
        LegendItem(kind.label, str(getattr(palette, kind.role)), "", mark=kind.mark, filled=kind.filled)
        for number, kind in reversed(tuple(enumerate(data.kinds)))
        if kind.label and number in present
    ]
    if data.steps.size:
        items.append(LegendItem(data.steps_label, palette.accent, "solid", 1.6, "diamond"))
    if data.framed >= 0 and data.drawn()[data.framed]:
        items.append(LegendItem(data.framed_label, palette.text, "", mark="square"))
    if data.limit is not None:
        items.append(LegendItem(data.limit.label, curve_colour(data.limit.role, palette), "dash", 1.6))
    return items


def paint_axes(
    p: QPainter, data: ScatterData, placed: Placed, metrics: QFontMetricsF, palette: Palette
) -> None:
    """Grid, ticks, and labels along both axes."""
    frame, row = placed.frame, metrics.height()
    middle = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
    shown = bool(data.drawn().any())
    x_ticks = thinned(*placed.x_scale.ticks(6), frame.width()) if shown else ([], [])
    y_ticks = placed.y_scale.ticks(5) if shown else ([], [])
    x = frame.left() + placed.x_scale.share(np.array(x_ticks[0])) * frame.width()
    y = frame.bottom() - placed.y_scale.share(np.array(y_ticks[0])) * frame.height()
    for at, words in zip(x.tolist(), x_ticks[1], strict=True):
        p.setPen(QPen(QColor(palette.grid), 0.8))
        p.drawLine(QLineF(at, frame.top(), at, frame.bottom()))
        p.setPen(QColor(palette.text))
        p.drawText(QRectF(at - 40, frame.bottom() + 3, 80, row), Qt.AlignmentFlag.AlignHCenter, words)
    for at, words in zip(y.tolist(), y_ticks[1], strict=True):
        p.setPen(QPen(QColor(palette.grid), 0.8))
        p.drawLine(QLineF(frame.left(), at, frame.right(), at))
        p.setPen(QColor(palette.text))
        p.drawText(QRectF(frame.left() - 86, at - row / 2, 80, row), middle, words)
    p.setPen(QPen(QColor(palette.line), 1.0))
    p.drawLine(frame.topLeft(), frame.bottomLeft())
    p.drawLine(frame.bottomLeft(), frame.bottomRight())
    p.setPen(QColor(palette.text))
    below = QRectF(frame.left(), frame.bottom() + row + 5, frame.width(), row + 2)
    elide = Qt.TextElideMode.ElideRight
    words = metrics.elidedText(data.x_label, elide, below.width())
    p.drawText(below, Qt.AlignmentFlag.AlignHCenter, words)
    p.save()
    p.translate(MARGIN, frame.bottom())
    p.rotate(-90.0)
    words = metrics.elidedText(data.y_label, elide, frame.height())
    p.drawText(QRectF(0, 0, frame.height(), row + 2), Qt.AlignmentFlag.AlignHCenter, words)
    p.restore()


def paint_limit(p: QPainter, data: ScatterData, placed: Placed, palette: Palette) -> None:
    """The limit across."""
    limit = data.limit
    if limit is None:
        return
    pen = QPen(QColor(curve_colour(limit.role, palette)), 1.6)
    pen.setDashPattern([5.0, 3.0])
    p.setPen(pen)
    at = placed.down(limit.at)
    p.drawLine(QLineF(placed.frame.left(), at, placed.frame.right(), at))


def paint_marks(p: QPainter, data: ScatterData, placed: Placed, palette: Palette) -> None:
    """All points kind by kind, the step line below the marks, the frame around the framed one above them."""
    drawn = data.drawn()
    if data.steps.size > 1:
        corners = []
        x, y = placed.x[data.steps].tolist(), placed.y[data.steps].tolist()
        for before, after in zip(range(len(x) - 1), range(1, len(x)), strict=True):
            corners += [QPointF(x[before], y[before]), QPointF(x[after], y[before])]
        p.setPen(QPen(QColor(palette.accent), 1.6))
        p.setBrush(Qt.BrushStyle.NoBrush)
        p.drawPolyline(QPolygonF([*corners, QPointF(x[-1], y[-1])]))
    ground = QColor(palette.entry)
    for number, kind in enumerate(data.kinds):
        pen = MarkPen(p, kind.mark, kind.size, QColor(getattr(palette, kind.role)), ground, kind.filled)
        for row in np.flatnonzero(drawn & (data.kind == number)).tolist():
            pen.put(float(placed.x[row]), float(placed.y[row]))
    if data.framed >= 0 and drawn[data.framed]:
        frame = MarkPen(p, "square", FRAME, QColor(palette.text), ground)
        frame.put(float(placed.x[data.framed]), float(placed.y[data.framed]))
