"""Swings of one figure as bars to both sides of its likely value, the widest on top; painted by hand like `bar_plot`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPoint, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QWidget

from app.look.palette import Palette
from app.look.theme import Theme
from app.widgets.bars import paint_bar
from app.widgets.painted_plot import MARGIN, PaintedPlot


@dataclass(frozen=True, slots=True)
class Swing:
    """One bar.

    Attributes:
        label: what swings. at_low, at_high: the figure with that at its low and its high end. words: beside the bar.
        hint: shown on hover.
    """

    label: str
    at_low: float
    at_high: float
    words: str
    hint: str = ""


class SwingPlot(PaintedPlot):
    """Bars from the figure at an input's low end (hatched) and at its high end (filled) to the likely value."""

    def __init__(self, theme: Theme, title: str, parent: QWidget | None = None) -> None:
        super().__init__(theme, title, parent)
        self._swings: tuple[Swing, ...] = ()
        self._middle = 0.0
        self._middle_words = ""

    def swings(self) -> tuple[Swing, ...]:
        return self._swings

    def set_swings(self, swings: Sequence[Swing], middle: float, middle_words: str) -> None:
        """Show these bars around a likely value, with its words."""
        self._swings, self._middle, self._middle_words = tuple(swings), middle, middle_words
        self.setAccessibleDescription(", ".join(f"{s.label}: {s.words}" for s in self._swings))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(420, self._row_height() * (len(self._swings) + 2) + 10)

    def minimumSizeHint(self) -> QSize:
        return QSize(280, self._row_height() * (min(len(self._swings), 6) + 2) + 10)

    def _rows(self, area: QRectF) -> list[QRectF]:
        row = self._row_height()
        room = int((area.height() - 2 * row) // row)
        count = min(len(self._swings), max(room, 1))
        return [QRectF(area.left(), area.top() + (2 + i) * row, area.width(), row) for i in range(count)]

    def _paint_inside(self, p: QPainter, area: QRectF, metrics: QFontMetricsF, palette: Palette) -> None:
        if not self._swings:
            return
        middle, row = Qt.AlignmentFlag.AlignVCenter, self._row_height()
        names = max(metrics.horizontalAdvance(s.label) for s in self._swings) + 10
        names = min(names, area.width() * 0.5)
        figures = max(metrics.horizontalAdvance(s.words) for s in self._swings) + 12
        left = area.left() + MARGIN + names
        room = max(20.0, area.width() - names - figures - 3 * MARGIN)
        ends = [v for s in self._swings for v in (s.at_low, s.at_high)]
        least, most = min([self._middle, *ends]), max([self._middle, *ends])
        scale = room / (most - least) if most > least else 0.0
        at = left + (self._middle - least) * scale
        self._paint_middle(p, at, area, row, metrics, palette)
        for swing, box in zip(self._swings, self._rows(area), strict=False):
            p.setPen(QColor(palette.text))
            name = metrics.elidedText(swing.label, Qt.TextElideMode.ElideRight, names - 8)
            p.drawText(QRectF(box.left() + MARGIN, box.top(), names, box.height()), middle, name)
            for end, hatched in ((swing.at_low, True), (swing.at_high, False)):
                to = left + (end - least) * scale
                bar = QRectF(min(at, to), box.top() + 3, abs(to - at), box.height() - 6)
                paint_bar(p, bar, "1" if hatched else "2", hatched, palette)
            p.setPen(QColor(palette.text))
            words = QRectF(left + room + 2 * MARGIN, box.top(), figures, box.height())
            p.drawText(words, middle, swing.words)

    def _paint_middle(
        self, p: QPainter, at: float, area: QRectF, row: int, metrics: QFontMetricsF, palette: Palette
    ) -> None:
        rows = self._rows(area)
        p.setPen(QPen(QColor(palette.text), 1.2))
        p.drawLine(QPoint(int(at), int(rows[0].top())), QPoint(int(at), int(rows[-1].bottom())))
        wide = metrics.horizontalAdvance(self._middle_words)
        start = min(max(at - wide / 2, area.left() + MARGIN), area.right() - wide - MARGIN)
        p.drawText(
            QRectF(start, area.top() + row, wide + 2, row), Qt.AlignmentFlag.AlignVCenter, self._middle_words
        )

    def hint_under(self, at: QPoint) -> str:
        for swing, row in zip(self._swings, self._rows(QRectF(self.rect())), strict=False):
            if row.contains(at):
                return swing.hint or f"{swing.label}: {swing.words}"
        return self._about
