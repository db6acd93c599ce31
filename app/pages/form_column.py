"""A scrolling column of entries at the left of a page."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

WIDTH = 456


class FormColumn(QScrollArea):
    """Widgets below each other, as wide as entries want; only up and down is scrolled."""

    def __init__(self, parent: QWidget, *widgets: QWidget) -> None:
        super().__init__(parent)
        inside = QWidget(self)
        column = QVBoxLayout(inside)
        column.setContentsMargins(10, 10, 10, 8)
        for widget in widgets:
            column.addWidget(widget)
        column.addStretch(1)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidget(inside)
        self.setMinimumWidth(WIDTH)
