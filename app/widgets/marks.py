"""Marks of points in plots: told apart by shape and by filling, so that colour is never alone."""

from __future__ import annotations

from typing import Literal

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

Mark = Literal["disc", "diamond", "triangle", "cross", "square"]
_CORNERS: dict[str, tuple[tuple[float, float], ...]] = {
    "diamond": ((0.0, -1.25), (1.25, 0.0), (0.0, 1.25), (-1.25, 0.0)),
    "triangle": ((-1.1, -0.85), (1.1, -0.85), (0.0, 1.1)),
}


class MarkPen:
    """Paints marks of one shape, size and colour, as many as are wanted.

    Args:
        ground: colour of the paper, seen within hollow marks and as a hair around filled ones.
    """

    def __init__(
        self, p: QPainter, mark: Mark, size: float, colour: QColor, ground: QColor, filled: bool = True
    ) -> None:
        self._p, self._mark, self._size = p, mark, size
        self._polygon = QPolygonF([QPointF(x * size, y * size) for x, y in _CORNERS.get(mark, ())])
        hair = filled and mark not in ("cross", "square")
        p.setPen(QPen(ground, 0.7) if hair else QPen(colour, 1.5))
        if mark == "square":  # a frame around another mark
            p.setBrush(QColor(0, 0, 0, 0))
        else:
            p.setBrush(colour if filled else ground)

    def put(self, x: float, y: float) -> None:
        """One mark at a place in pixels."""
        p, size = self._p, self._size
        if self._mark == "disc":
            p.drawEllipse(QPointF(x, y), size, size)
        elif self._mark == "square":
            p.drawRect(QRectF(x - size, y - size, 2.0 * size, 2.0 * size))
        elif self._mark == "cross":
            reach = 0.75 * size
            p.drawLine(QPointF(x - reach, y - reach), QPointF(x + reach, y + reach))
            p.drawLine(QPointF(x - reach, y + reach), QPointF(x + reach, y - reach))
        else:
            p.drawPolygon(self._polygon.translated(x, y))
