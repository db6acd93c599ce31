"""The fixtures that watch over the front end's tests do see what they are there for."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QDialog, QFileDialog, QMessageBox, QWidget

from tests.app.conftest import UnexpectedDialog, _left_over


def test_a_running_timer_is_seen(qtbot) -> None:
    timer = QTimer()
    timer.start(5000)
    seen = _left_over(set())
    timer.stop()
    assert any("5000" in line for line in seen)
    assert not any("5000" in line for line in _left_over(set()))


def test_a_shown_window_is_seen(qtbot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    window.setObjectName("forgotten")
    window.show()
    assert any("forgotten" in line for line in _left_over(set()))


@pytest.mark.parametrize(
    "ask",
    [
        lambda: QMessageBox.question(None, "Save?", "Save?"),
        lambda: QMessageBox().exec(),
        lambda: QFileDialog.getOpenFileName(None, "Open"),
        lambda: QDialog().exec(),
    ],
)
def test_a_dialog_nobody_expects_fails(qtbot, ask) -> None:
    with pytest.raises(UnexpectedDialog):
        ask()
