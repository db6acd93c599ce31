"""The window may be closed at any moment: before its first paint, while loading, while working."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.look.theme import Theme
from app.window import MainWindow


@pytest.mark.parametrize("turns", [0, 1, 5, 40])
def test_closing_while_it_comes_up(qtbot: QtBot, turns: int) -> None:
    window = MainWindow(Theme("light"))
    window.show()
    for _ in range(turns):
        QApplication.processEvents()
        qtbot.wait(2)
    assert window.close()
    window.deleteLater()
    QApplication.processEvents()


def test_closing_while_working(qtbot: QtBot) -> None:
    window = MainWindow(Theme("dark"))
    window.show()
    qtbot.waitUntil(lambda: window.desk is not None, timeout=20_000)
    assert window.desk is not None
    window.desk.results.again()
    assert window.close()
    assert not window.desk.results.waiting
    window.deleteLater()
