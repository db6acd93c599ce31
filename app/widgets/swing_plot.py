"""Swings of one figure as bars to both sides of its likely value, the widest on top; painted by hand like `bar_plot`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPoint, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QHelpEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from app.look.palette import LIGHT, Palette
from app.look.theme import Theme
from app.widgets.bars import paint_bar
from app.widgets.picture import picture_bytes
from app.widgets.picture_menu import Numbers, PictureMenu

_MARGIN = 4.0


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


class SwingPlot(QWidget):
    """Bars from the figure at an input's low end (hatched) and at its high end (filled) to the likely value."""

    def __init__(self, theme: Theme, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._title = title
        self._about = ""
        self._swings: tuple[Swing, ...] = ()
        self._middle = 0.0
        self._middle_words = ""
        self.files = PictureMenu(self, self)
        self.setAccessibleName(title)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        theme.changed.connect(self.update)

    def title(self) -> str:
        return self._title

    def set_about(self, sentence: str) -> None:
        """What the bars mean, shown on hover over the title."""
        self._about = sentence

    def swings(self) -> tuple[Swing, ...]:
        return self._swings

    def set_swings(self, swings: Sequence[Swing], middle: float, middle_words: str) -> None:
        """Show these bars around a likely value, with its words."""
        self._swings, self._middle, self._middle_words = tuple(swings), middle, middle_words
        self.setAccessibleDescription(", ".join(f"{s.label}: {s.words}" for s in self._swings))
        self.updateGeometry()
        self.update()

    def set_numbers(self, numbers: Numbers | None) -> None:
        """Where the figures behind the bars come from, as CSV text."""
        self.files.set_numbers(numbers)

    def sizeHint(self) -> QSize:
        return QSize(420, self._row_height() * (len(self._swings) + 2) + 10)

    def minimumSizeHint(self) -> QSize:
        return QSize(280, self._row_height() * (min(len(self._swings), 6) + 2) + 10)

    def picture(self, kind: str) -> bytes:
        """The bars as the content of a file, in the light colours of paper."""
        width, height = max(560, self.width()), max(self.sizeHint().height(), self.height())
        return picture_bytes(
            kind, width, height, lambda p: self._paint(p, QRectF(0, 0, width, height), LIGHT), self._title
        )

    def _row_height(self) -> int:
        return self.fontMetrics().height() + 6

    def _rows(self, area: QRectF) -> list[QRectF]:
        row = self._row_height()
        room = int((area.height() - 2 * row) // row)
        count = min(len(self._swings), max(room, 1))
        return [QRectF(area.left(), area.top() + (2 + i) * row, area.width(), row) for i in range(count)]

    def _paint(self, p: QPainter, area: QRectF, palette: Palette) -> None:
        font = QFont(self.font())
        font.setPixelSize(self.fontInfo().pixelSize())
        p.setFont(font)
        metrics = QFontMetricsF(font)
        p.fillRect(area, QColor(palette.entry))
        p.setPen(QColor(palette.text))
        middle = Qt.AlignmentFlag.AlignVCenter
        row = self._row_height()
        p.drawText(QRectF(area.left() + _MARGIN, area.top(), area.width(), row), middle, self._title)
        if not self._swings:
            return
        names = max(metrics.horizontalAdvance(s.label) for s in self._swings) + 10
        names = min(names, area.width() * 0.5)
        figures = max(metrics.horizontalAdvance(s.words) for s in self._swings) + 12
        left = area.left() + _MARGIN + names
        room = max(20.0, area.width() - names - figures - 3 * _MARGIN)
        ends = [v for s in self._swings for v in (s.at_low, s.at_high)]
        least, most = min([self._middle, *ends]), max([self._middle, *ends])
        scale = room / (most - least) if most > least else 0.0
        at = left + (self._middle - least) * scale
        self._paint_middle(p, at, area, row, metrics, palette)
        for swing, box in zip(self._swings, self._rows(area), strict=False):
            p.setPen(QColor(palette.text))
            name = metrics.elidedText(swing.label, Qt.TextElideMode.ElideRight, names - 8)
            p.drawText(QRectF(box.left() + _MARGIN, box.top(), names, box.height()), middle, name)
            for end, hatched in ((swing.at_low, True), (swing.at_high, False)):
                to = left + (end - least) * scale
                bar = QRectF(min(at, to), box.top() + 3, abs(to - at), box.height() - 6)
                paint_bar(p, bar, "1" if hatched else "2", hatched, palette)
            p.setPen(QColor(palette.text))
            words = QRectF(left + room + 2 * _MARGIN, box.top(), figures, box.height())
            p.drawText(words, middle, swing.words)

    def _paint_middle(
        self, p: QPainter, at: float, area: QRectF, row: int, metrics: QFontMetricsF, palette: Palette
    ) -> None:
        rows = self._rows(area)
        p.setPen(QPen(QColor(palette.text), 1.2))
        p.drawLine(QPoint(int(at), int(rows[0].top())), QPoint(int(at), int(rows[-1].bottom())))
        wide = metrics.horizontalAdvance(self._middle_words)
        start = min(max(at - wide / 2, area.left() + _MARGIN), area.right() - wide - _MARGIN)
        p.drawText(
            QRectF(start, area.top() + row, wide + 2, row), Qt.AlignmentFlag.AlignVCenter, self._middle_words
        )

    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as p:
            self._paint(p, QRectF(self.rect()), self._theme.palette)

    def hint_under(self, at: QPoint) -> str:
        """The hover text at a place in pixels."""
        for swing, row in zip(self._swings, self._rows(QRectF(self.rect())), strict=False):
            if row.contains(at):
                return swing.hint or f"{swing.label}: {swing.words}"
        return self._about

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            QToolTip.showText(event.globalPos() + QPoint(8, 8), self.hint_under(event.pos()), self)
            return True
        return super().event(event)
