"""A widget that is seen only where the page has room left for it, so that a small window shows what matters whole."""

from __future__ import annotations

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget


class IfRoom(QWidget):
    """Takes the room that others leave, and shows what it holds when that is enough."""

    def __init__(self, held: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._held = held
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSizeConstraint(QVBoxLayout.SizeConstraint.SetNoConstraint)
        column.addWidget(held)
        held.hide()

    def look_again(self) -> None:
        """Call when what is held needs more or less room than before."""
        self._held.setVisible(self.height() >= self._held.minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.look_again()
