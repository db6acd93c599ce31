"""A group of entries under a heading that folds; what is inside is made only when it is first opened."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QSizePolicy, QToolButton, QVBoxLayout, QWidget


class Fold(QWidget):
    """A heading and, when open, what it stands over.

    Args:
        make: makes the content at the first opening.

    Signals:
        opened(): the content has come into view.
    """

    opened = Signal()

    def __init__(self, title: str, make: Callable[[], QWidget], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._make = make
        self._content: QWidget | None = None
        self.head = QToolButton(self)
        self.head.setText(title)
        self.head.setProperty("fold", "true")
        self.head.setCheckable(True)
        self.head.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.head.setArrowType(Qt.ArrowType.RightArrow)
        self.head.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.head.toggled.connect(self._toggled)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(2)
        self._column.addWidget(self.head)

    def content(self) -> QWidget | None:
        """What is inside, if it has been made."""
        return self._content

    def set_open(self, opened: bool) -> None:
        self.head.setChecked(opened)

    def is_open(self) -> bool:
        return self.head.isChecked()

    def prepare(self) -> None:
        """Make the content, hidden, so that opening only has to lay it out."""
        if self._content is None:
            self._content = self._make()
            self._content.setParent(self)  # before it is shown, or it would be a window for a moment
            self._content.setVisible(self.is_open())
            self._column.addWidget(self._content)

    def _toggled(self, opened: bool) -> None:
        self.head.setArrowType(Qt.ArrowType.DownArrow if opened else Qt.ArrowType.RightArrow)
        if opened:
            self.prepare()
            self.opened.emit()
        if self._content is not None:
            self._content.setVisible(opened)
