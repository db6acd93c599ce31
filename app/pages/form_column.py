"""Scrolling columns of entries at the left of a page."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

WIDTH = 456


class ScrolledColumn(QScrollArea):
    """Holds a widget as wide as itself; only up and down is scrolled."""

    def __init__(self, inside: QWidget, width: int = 0) -> None:
        """`width`: least width, pixels."""
        super().__init__(inside.parentWidget())
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidget(inside)
        self.setMinimumWidth(width)


class FormColumn(ScrolledColumn):
    """Widgets below each other, as wide as entries want."""

    def __init__(self, parent: QWidget, *widgets: QWidget) -> None:
        inside = QWidget(parent)
        column = QVBoxLayout(inside)
        column.setContentsMargins(10, 10, 10, 8)
        for widget in widgets:
            column.addWidget(widget)
        column.addStretch(1)
        super().__init__(inside, WIDTH)
