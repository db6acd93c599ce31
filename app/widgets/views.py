"""A row of buttons of which one is down: which view of a drawing is shown."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QToolButton, QWidget


class ViewButtons(QWidget):
    """One button for each view.

    Signals:
        picked(key): the user pressed a button.
    """

    picked = Signal(str)

    def __init__(self, views: Mapping[str, str], shown: str, parent: QWidget | None = None) -> None:
        """`views`: words by key. `shown`: the key that is down at first."""
        super().__init__(parent)
        self.buttons: dict[str, QToolButton] = {}
        self._group = QButtonGroup(self)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for key, words in views.items():
            button = QToolButton(self)
            button.setText(words)
            button.setCheckable(True)
            button.setProperty("segment", "true")
            button.setChecked(key == shown)
            button.clicked.connect(lambda _checked=False, key=key: self.picked.emit(key))
            self._group.addButton(button)
            self.buttons[key] = button
            row.addWidget(button)

    def set_shown(self, key: str) -> None:
        """Press the button of this view; `picked` stays silent."""
        self.buttons[key].setChecked(True)
