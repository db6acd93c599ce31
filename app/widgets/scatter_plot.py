"""A chart of points: each told apart by colour and shape, joined by steps where nothing beats them, picked by click or key.

All points are painted once into a kept picture; what the pointer and the picked point add is painted over it.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PySide6.QtCore import QEvent, QLineF, QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QResizeEvent,
)
from PySide6.QtWidgets import QToolTip, QWidget

from app.look.palette import Palette
from app.look.theme import Theme
from app.widgets.legend import legend_places, paint_legend
from app.widgets.painted_plot import PaintedPlot
from app.widgets.scatter_data import Placed, ScatterData, place
from app.widgets.scatter_paint import legend_of, paint_axes, paint_limit, paint_marks

REACH = 14.0
"""Pixels around a point within which the pointer means it."""
RING = 9.0
_KEYS = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_Down: -1, Qt.Key.Key_Up: 1}


class ScatterPlot(PaintedPlot):
    """Points with a legend, a step line, a limit and a picked one.

    Left and right go along the step line, up and down through all points by their figure, Home and End to the ends of the line.

    Signals:
        picked(number): the user picked this point.
    """

    picked = Signal(int)

    def __init__(self, theme: Theme, title: str, parent: QWidget | None = None) -> None:
        super().__init__(theme, title, parent)
        self._data = ScatterData()
        self._words: Callable[[int], str] = lambda _number: ""
        self._at = self._hovered = -1
        self._ground: QPixmap | None = None
        self._placed: Placed | None = None
        self.full_paints = 0
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        theme.changed.connect(self._renew)

    def data(self) -> ScatterData:
        return self._data

    def set_data(self, data: ScatterData, words: Callable[[int], str]) -> None:
        """Show other points; `words` names one, a line each."""
        self._data, self._words, self._hovered = data, words, -1
        self._renew()

    def set_picked(self, number: int) -> None:
        """Mark this point; -1 marks none. Nothing is told."""
        if number != self._at:
            self._at = number
            self.update()

    def picked_number(self) -> int:
        return self._at

    def set_summary(self, sentence: str) -> None:
        """What the chart says, in words, for a screen reader."""
        self.setAccessibleDescription(sentence)

    def place_of(self, number: int) -> QPointF:
        """Where a point stands, in pixels of the widget."""
        placed = self._bring_up_to_date()
        return QPointF(float(placed.x[number]), float(placed.y[number]))

    def hint_under(self, at: QPoint) -> str:
        number = self._under(QPointF(at))
        if number >= 0:
            return self._words(number)
        return self._about if at.y() < self._row_height() else ""

    def sizeHint(self) -> QSize:
        return QSize(520, 340)

    def minimumSizeHint(self) -> QSize:
        return QSize(300, 220)

    def _renew(self) -> None:
        self._ground = None
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._renew()

    def _bring_up_to_date(self) -> Placed:
        ratio = self.devicePixelRatioF()
        if self._ground is None or self._placed is None or self._ground.devicePixelRatioF() != ratio:
            self._ground = QPixmap(self.size() * ratio)
            self._ground.setDevicePixelRatio(ratio)
            with QPainter(self._ground) as p:
                area, palette = QRectF(self.rect()), self._theme.palette
                self._placed = self._paint_points(p, area, self._begin(p, area, palette), palette)
            self.full_paints += 1
        return self._placed

    def paintEvent(self, event: QPaintEvent) -> None:
        placed = self._bring_up_to_date()
        assert self._ground is not None
        palette = self._theme.palette
        with QPainter(self) as p:
            p.drawPixmap(0, 0, self._ground)
            p.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._paint_picked(p, placed, palette)
            if self._hovered >= 0 and np.isfinite(placed.x[self._hovered]):
                p.setPen(QPen(QColor(palette.text), 1.2))
                p.setBrush(Qt.BrushStyle.NoBrush)
                at = QPointF(float(placed.x[self._hovered]), float(placed.y[self._hovered]))
                p.drawEllipse(at, RING - 2.0, RING - 2.0)
            if self.hasFocus():
                p.setPen(QPen(QColor(palette.accent), 1.6))
                p.setBrush(Qt.BrushStyle.NoBrush)
                p.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))

    def _paint_inside(self, p: QPainter, area: QRectF, metrics: QFontMetricsF, palette: Palette) -> None:
        """Everything, picked point too: for files."""
        p.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_picked(p, self._paint_points(p, area, metrics, palette), palette)

    def _paint_points(self, p: QPainter, area: QRectF, metrics: QFontMetricsF, palette: Palette) -> Placed:
        top = area.top() + self._row_height()
        items = legend_of(self._data, palette)
        places = [one.translated(2, int(top)) for one in legend_places(items, int(area.width()) - 8, metrics)]
        paint_legend(p, items, places, palette, metrics)
        top = (places[-1].bottom() if places else top) + 8.0
        row = metrics.height()
        _, y_scale = self._data.scales()
        _, y_words = y_scale.ticks(5)
        side = max((metrics.horizontalAdvance(words) for words in y_words), default=0.0) + row + 14.0
        bottom = area.bottom() - 2.0 * row - 12.0
        frame = QRectF(area.left() + side, top, area.width() - side - 16.0, max(10.0, bottom - top))
        placed = place(self._data, frame)
        data = self._data
        if data.x_label or data.y_label:
            paint_axes(p, data, placed, metrics, palette)
        if not data.drawn().any():
            p.setPen(QColor(palette.quiet))
            flags = int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap)
            p.drawText(frame.adjusted(12, 12, -12, -12), flags, data.empty)
            return placed
        paint_limit(p, data, placed, palette)
        paint_marks(p, data, placed, palette)
        return placed

    def _paint_picked(self, p: QPainter, placed: Placed, palette: Palette) -> None:
        """A ring around the picked point, and its band as an upright bar."""
        data, number = self._data, self._at
        if not 0 <= number < placed.x.size or not np.isfinite(placed.x[number]):
            return
        x, y = float(placed.x[number]), float(placed.y[number])
        p.setPen(QPen(QColor(palette.accent), 2.0))
        p.setBrush(Qt.BrushStyle.NoBrush)
        if data.low is not None and data.high is not None and np.isfinite(data.high[number]):
            frame = placed.frame
            low, high = (
                min(max(placed.down(float(end[number])), frame.top()), frame.bottom())
                for end in (data.low, data.high)
            )
            for begin, end in ((low, min(y + RING, low)), (high, max(y - RING, high))):
                p.drawLine(QLineF(x, begin, x, end))
                p.drawLine(QLineF(x - 4, begin, x + 4, begin))
        for ink, wide in ((palette.entry, 6.0), (palette.text, 2.4)):  # to be seen among any points
            p.setPen(QPen(QColor(ink), wide))
            p.drawEllipse(QPointF(x, y), RING, RING)

    def _under(self, at: QPointF) -> int:
        return self._bring_up_to_date().nearest(at.x(), at.y(), REACH)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        number = self._under(event.position())
        if number != self._hovered:
            self._hovered = number
            words = self._words(number) if number >= 0 else ""
            QToolTip.showText(event.globalPosition().toPoint() + QPoint(12, 12), words, self)
            self.update()

    def leaveEvent(self, event: QEvent) -> None:
        self._hovered = -1
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and (number := self._under(event.position())) >= 0:
            self._pick(number)
        super().mousePressEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, data = Qt.Key(event.key()), self._data
        if key in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            self._pick(data.neighbour(self._at, _KEYS[key]))
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._pick(data.next_in_y(self._at, _KEYS[key]))
        elif key in (Qt.Key.Key_Home, Qt.Key.Key_End) and data.steps.size:
            self._pick(int(data.steps[0 if key == Qt.Key.Key_Home else -1]))
        else:
            super().keyPressEvent(event)

    def _pick(self, number: int) -> None:
        if number >= 0 and number != self._at:
            self.set_picked(number)
            self.picked.emit(number)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()
