"""The legend of a plot as a strip of its own above it, so that it costs the plot nothing and never hides a
curve.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QFontMetricsF, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.look.palette import Palette
from app.look.theme import Theme
from app.widgets.marks import Mark, MarkPen

_SWATCH, _MARKED, _GAP, _SPACE = 26, 16, 5, 14
_MARK_SIZE = 4.0
_PATTERNS: dict[str, list[float]] = {
    "solid": [],
    "dash": [5.0, 2.0],
    "dot": [1.2, 1.6],
    "dashdot": [6.0, 2.0, 1.2, 2.0],
    "sparse": [6.5, 4.0],
    "sparse dot": [7.0, 3.0, 1.5, 3.0],
    "sparse dots": [7.0, 2.5, 1.5, 2.5, 1.5, 2.5],
}


@dataclass(frozen=True, slots=True)
class LegendItem:
    """Words with the line that they stand for, or with a mark (`filled` or hollow), then with a line only where it has a dash."""

    label: str
    colour: str
    dash: str = "solid"
    width: float = 2.4
    mark: Mark | None = None
    filled: bool = True

    @property
    def swatch(self) -> int:
        """Pixels before the words."""
        return _MARKED if self.mark is not None and not self.dash else _SWATCH


def legend_places(
    items: Sequence[LegendItem], width: int, metrics: QFontMetrics | QFontMetricsF
) -> list[QRect]:
    """Where each item goes within a width, in as many rows as it asks for."""
    row = int(metrics.height()) + 2
    x = y = 2
    places = []
    for item in items:
        wide = item.swatch + _GAP + int(metrics.horizontalAdvance(item.label)) + 1
        if x > 2 and x + wide > width:
            x, y = 2, y + row
        places.append(QRect(x, y, min(wide, max(1, width - x)), row))
        x += wide + _SPACE
    return places


def paint_legend(
    p: QPainter,
    items: Sequence[LegendItem],
    places: Sequence[QRect],
    palette: Palette,
    metrics: QFontMetrics | QFontMetricsF,
) -> None:
    """Every item at its place."""
    for item, place in zip(items, places, strict=True):
        middle = place.center().y()
        if item.dash:
            line = QPen(QColor(item.colour), item.width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap)
            if _PATTERNS[item.dash]:
                line.setDashPattern(_PATTERNS[item.dash])
            p.setPen(line)
            p.drawLine(place.left(), middle, place.left() + item.swatch, middle)
        if item.mark is not None:
            size = _MARK_SIZE if item.mark != "square" else 1.4 * _MARK_SIZE
            pen = MarkPen(p, item.mark, size, QColor(item.colour), QColor(palette.entry), item.filled)
            pen.put(place.left() + item.swatch / 2.0, middle)
        p.setPen(QColor(palette.text))
        words = place.adjusted(item.swatch + _GAP, 0, 0, 0)
        text = metrics.elidedText(item.label, Qt.TextElideMode.ElideRight, words.width() + 1)
        p.drawText(words.adjusted(0, 0, 2, 0), Qt.AlignmentFlag.AlignVCenter, text)


class Legend(QWidget):
    """Items in rows, as many rows as the width asks for."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._items: tuple[LegendItem, ...] = ()
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        theme.changed.connect(self.update)

    def items(self) -> tuple[LegendItem, ...]:
        return self._items

    def set_items(self, items: tuple[LegendItem, ...]) -> None:
        if items != self._items:
            self._items = items
            self.setAccessibleName(", ".join(item.label for item in items))
            self.updateGeometry()
            self.update()

    def hasHeightForWidth(self) -> bool:
        return True

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.updateGeometry()  # another width may take another number of rows

    def heightForWidth(self, width: int) -> int:
        places = self._places(width)
        return (places[-1].bottom() + 3) if places else 0

    def sizeHint(self) -> QSize:
        return QSize(200, self.heightForWidth(max(200, self.width())))

    def _places(self, width: int) -> list[QRect]:
        return legend_places(self._items, width, self.fontMetrics())

    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as p:
            p.setRenderHint(QPainter.RenderHint.Antialiasing)
            paint_legend(p, self._items, self._places(self.width()), self._theme.palette, self.fontMetrics())
