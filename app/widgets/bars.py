"""The painting of one bar, plain or hatched, so that colour is not alone."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen

from app.look.palette import Palette, curve_colour


def paint_bar(p: QPainter, bar: QRectF, role: str, hatched: bool, palette: Palette) -> None:
    """A bar in the colour of a curve's role."""
    colour = QColor(curve_colour(role, palette))
    if hatched:
        p.fillRect(bar, QBrush(colour, Qt.BrushStyle.BDiagPattern))
    else:
        p.fillRect(bar, colour)
    p.setPen(QPen(colour, 1.0))
    p.drawRect(bar)
