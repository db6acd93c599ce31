"""Shares of a whole as bars lying flat, with their names and percentages, or other figures without a unit; painted by
hand, for it is nothing but boxes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPoint, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter
from PySide6.QtWidgets import QWidget

from app.look.palette import Palette
from app.look.theme import Theme
from app.widgets.bars import paint_bar
from app.widgets.painted_plot import MARGIN, PaintedPlot

LEAST_BAR = 28.0
"""Room that names leave to the longest bar, pixels."""
MOST_GROWN, FEWEST_ROWS = 2.0, 4


def percent(part: float) -> str:
    """A part of the whole in words."""
    return f"{100.0 * part:.1f} %"


@dataclass(frozen=True, slots=True)
class Share:
    """One bar: its name, its part of the whole (1 is all), words shown on hover, and a curve's role for the
    colour.
    """

    label: str
    part: float
    hint: str = ""
    role: str = "1"
    hatched: bool = False


class BarPlot(PaintedPlot):
    """Shares from top to bottom in the order given; the scale ends at the largest, and figures stand beside."""

    def __init__(
        self,
        theme: Theme,
        title: str,
        parent: QWidget | None = None,
        *,
        say: Callable[[float], str] = percent,
    ) -> None:
        """`say`: the figure beside a bar in words."""
        super().__init__(theme, title, parent)
        self._say = say
        self._shares: tuple[Share, ...] = ()

    def shares(self) -> tuple[Share, ...]:
        return self._shares

    def set_shares(self, shares: Sequence[Share]) -> None:
        new = tuple(shares)
        if new == self._shares:
            return
        taller = len(new) != len(self._shares)
        self._shares = new
        self.setAccessibleDescription(", ".join(f"{share.label} {self._say(share.part)}" for share in new))
        if taller:
            self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(360, self._row_height() * (len(self._shares) + 1) + 14)

    def minimumSizeHint(self) -> QSize:
        return QSize(220, self.sizeHint().height())

    def hint_under(self, at: QPoint) -> str:
        for share, row in zip(self._shares, self._bar_rows(QRectF(self.rect())), strict=True):
            if row.contains(at):
                return share.hint or f"{share.label}: {self._say(share.part)}"
        return self._about if at.y() < self._row_height() else ""

    def _row_within(self, area: QRectF) -> float:
        """Height of a row when the bars use the room there is, up to twice the least."""
        least = self._row_height()
        rows = max(len(self._shares), FEWEST_ROWS) + 1
        return min(max(least, (area.height() - MARGIN) / rows), MOST_GROWN * least)

    def _bar_rows(self, area: QRectF) -> list[QRectF]:
        """Each share's row, under the title's."""
        row = self._row_within(area)
        first = area.top() + self._row_height() + MARGIN
        return [QRectF(area.left(), first + i * row, area.width(), row) for i in range(len(self._shares))]

    def _paint_inside(self, p: QPainter, area: QRectF, metrics: QFontMetricsF, palette: Palette) -> None:
        if not self._shares:
            return
        middle = Qt.AlignmentFlag.AlignVCenter
        names = max(metrics.horizontalAdvance(share.label) for share in self._shares) + 8
        figures = max(metrics.horizontalAdvance(self._say(share.part)) for share in self._shares) + 12
        names = min(names, max(area.width() * 0.6, area.width() - figures - LEAST_BAR))
        room = max(10.0, area.width() - names - figures - 2 * MARGIN)
        largest = max(1e-12, *(share.part for share in self._shares))
        for share, row in zip(self._shares, self._bar_rows(area), strict=True):
            p.setPen(QColor(palette.text))
            name = metrics.elidedText(share.label, Qt.TextElideMode.ElideRight, names - 6)
            p.drawText(QRectF(row.left() + MARGIN, row.top(), names, row.height()), middle, name)
            long = max(0.0, share.part) / largest * room
            gap = max(3.0, 0.16 * row.height())
            bar = QRectF(row.left() + MARGIN + names, row.top() + gap, long, row.height() - 2 * gap)
            paint_bar(p, bar, share.role, share.hatched, palette)
            p.setPen(QColor(palette.text))
            words = QRectF(bar.right() + 6, row.top(), figures, row.height())
            p.drawText(words, middle, self._say(share.part))
