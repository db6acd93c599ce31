"""The legend of a plot as a strip of its own above it, so that it costs the plot nothing and never hides a
curve.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.look.theme import Theme

_SWATCH, _GAP, _SPACE = 26, 5, 14
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
    """Words with the line they stand for."""

    label: str
    colour: str
    dash: str = "solid"
    width: float = 2.4


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
        metrics = self.fontMetrics()
        row = metrics.height() + 2
        x = y = 2
        places = []
        for item in self._items:
            wide = _SWATCH + _GAP + metrics.horizontalAdvance(item.label)
            if x > 2 and x + wide > width:
                x, y = 2, y + row
            places.append(QRect(x, y, min(wide, max(1, width - x)), row))
            x += wide + _SPACE
        return places

    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as p:
            p.setRenderHint(QPainter.RenderHint.Antialiasing)
            metrics = self.fontMetrics()
            for item, place in zip(self._items, self._places(self.width()), strict=True):
                line = QPen(QColor(item.colour), item.width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap)
                if _PATTERNS[item.dash]:
                    line.setDashPattern(_PATTERNS[item.dash])
                p.setPen(line)
                middle = place.center().y()
                p.drawLine(place.left(), middle, place.left() + _SWATCH, middle)
                p.setPen(QColor(self._theme.palette.text))
                words = place.adjusted(_SWATCH + _GAP, 0, 0, 0)
                text = metrics.elidedText(item.label, Qt.TextElideMode.ElideRight, words.width() + 1)
                p.drawText(words.adjusted(0, 0, 2, 0), Qt.AlignmentFlag.AlignVCenter, text)
