"""What plots painted by hand have in common: title, files, hover. Whoever extends it paints what is below the title and knows
what lies under the pointer."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QHelpEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from app.look.palette import LIGHT, Palette
from app.look.theme import Theme
from app.widgets.picture import picture_bytes
from app.widgets.picture_menu import Numbers, PictureMenu

MARGIN = 4.0
PAPER = 560
"""Least width of a picture in a file, pixels."""


class PaintedPlot(QWidget):
    """A plot with its title, its hover and the menu of pictures and numbers."""

    def __init__(self, theme: Theme, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._title = title
        self._about = ""
        self.files = PictureMenu(self, self)
        self.setAccessibleName(title)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        theme.changed.connect(self.update)

    def title(self) -> str:
        return self._title

    def set_title(self, title: str) -> None:
        """Another title; what it names is painted anew by whoever sets data."""
        self._title = title
        self.setAccessibleName(title)

    def set_about(self, sentence: str) -> None:
        """What the plot means, shown on hover over the title."""
        self._about = sentence

    def set_numbers(self, numbers: Numbers | None) -> None:
        """Where the figures behind the plot come from, as CSV text."""
        self.files.set_numbers(numbers)

    def picture(self, kind: str) -> bytes:
        """The plot as the content of a file, in the light colours of paper."""
        width, height = max(PAPER, self.width()), max(self.sizeHint().height(), self.height())
        area = QRectF(0, 0, width, height)
        return picture_bytes(kind, width, height, lambda p: self._paint(p, area, LIGHT), self._title)

    def hint_under(self, at: QPoint) -> str:
        """The hover text at a place in pixels."""
        raise NotImplementedError

    def _paint_inside(self, p: QPainter, area: QRectF, metrics: QFontMetricsF, palette: Palette) -> None:
        """Paint all below the title."""
        raise NotImplementedError

    def _row_height(self) -> int:
        """The least height of a row of words."""
        return self.fontMetrics().height() + 6

    def _begin(self, p: QPainter, area: QRectF, palette: Palette) -> QFontMetricsF:
        """Paint ground and title."""
        font = QFont(self.font())
        font.setPixelSize(self.fontInfo().pixelSize())
        p.setFont(font)
        p.fillRect(area, QColor(palette.entry))
        p.setPen(QColor(palette.text))
        title = QRectF(area.left() + MARGIN, area.top(), area.width(), self._row_height())
        p.drawText(title, Qt.AlignmentFlag.AlignVCenter, self._title)
        return QFontMetricsF(font)

    def _paint(self, p: QPainter, area: QRectF, palette: Palette) -> None:
        self._paint_inside(p, area, self._begin(p, area, palette), palette)

    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as p:
            self._paint(p, QRectF(self.rect()), self._theme.palette)

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            QToolTip.showText(event.globalPos() + QPoint(8, 8), self.hint_under(event.pos()), self)
            return True
        return super().event(event)
