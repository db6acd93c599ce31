"""A box to tick whose border is seen in light and dark; the style's own all but vanishes on a dark ground."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QCheckBox, QStyle, QStyleOptionButton, QWidget

from app.look.theme import Theme

_SIDE = 14.0


class Tick(QCheckBox):
    """A check box painted in the theme's colours."""

    def __init__(self, theme: Theme, words: str = "", parent: QWidget | None = None) -> None:
        super().__init__(words, parent)
        self._theme = theme
        theme.changed.connect(self.update)

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = self._theme.palette
        option = QStyleOptionButton()
        self.initStyleOption(option)
        place = self.style().subElementRect(QStyle.SubElement.SE_CheckBoxContents, option, self)
        enabled, checked = self.isEnabled(), self.isChecked()
        with QPainter(self) as p:
            p.setRenderHint(QPainter.RenderHint.Antialiasing)
            box = QRectF(1.0, (self.height() - _SIDE) / 2.0, _SIDE, _SIDE)
            border = colours.accent if self.hasFocus() else colours.line
            p.setPen(QPen(QColor(border), 2.0 if self.hasFocus() else 1.2))
            p.setBrush(QColor(colours.accent if checked and enabled else colours.entry))
            p.drawRoundedRect(box, 3.0, 3.0)
            if checked:
                ink = QColor(colours.on_accent if enabled else colours.quiet)
                p.setPen(
                    QPen(ink, 2.0, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
                )
                corners = [QPointF(3.5, 7.5), QPointF(6.0, 10.0), QPointF(10.5, 4.5)]
                p.drawPolyline([box.topLeft() + corner for corner in corners])
            p.setPen(QColor(colours.text if enabled else colours.quiet))
            p.drawText(place, Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextShowMnemonic, self.text())
