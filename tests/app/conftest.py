"""What holds for every test of the front end: nothing is left over, no dialog pops up unasked.

Left over means a window (shown or not), a running timer or thread, or a job in Qt's pool.
"""

from __future__ import annotations

import gc
import time
from collections.abc import Iterator
from typing import Any, NoReturn

import pytest
import shiboken6
from PySide6.QtCore import QCoreApplication, QEvent, QObject, QThread, QThreadPool, QTimer
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog, QInputDialog, QMessageBox


class UnexpectedDialog(AssertionError):
    """A dialog would have waited for an answer that no test gives."""


DIALOGS: list[tuple[type, tuple[str, ...]]] = [
    (QDialog, ("exec",)),
    (QMessageBox, ("exec", "about", "critical", "information", "question", "warning")),
    (QFileDialog, ("exec", "getExistingDirectory", "getOpenFileName", "getOpenFileNames", "getSaveFileName")),
    (QInputDialog, ("exec", "getDouble", "getInt", "getItem", "getText")),
]


def _refuse(name: str) -> Any:
    def dialog(*arguments: object, **_: object) -> NoReturn:
        texts = [text for text in arguments if isinstance(text, str)]
        raise UnexpectedDialog(
            f"{name} {texts}: a test that expects this dialog replaces it with monkeypatch"
        )

    return staticmethod(dialog)


@pytest.fixture(autouse=True)
def no_unexpected_dialog(monkeypatch: pytest.MonkeyPatch) -> None:
    """A dialog that would stop the test fails it instead."""
    for kind, names in DIALOGS:
        for name in names:
            monkeypatch.setattr(kind, name, _refuse(f"{kind.__name__}.{name}"))


def _settle() -> None:
    """Carry out what Qt has put off: deletions asked for, jobs of the pool."""
    QThreadPool.globalInstance().waitForDone(1000)
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    QCoreApplication.processEvents()


def _objects() -> list[QObject]:
    return [
        thing
        for thing in gc.get_objects()
        if isinstance(thing, QTimer | QThread) and shiboken6.isValid(thing)
    ]


def _address(thing: QObject) -> int:
    """Where Qt keeps the object; the Python wrapper around it may be another each time."""
    return int(shiboken6.getCppPointer(thing)[0])


def _left_over(windows_before: set[int]) -> list[str]:
    """Names of what a test should have put away."""
    left = [
        f"window {type(widget).__name__} {widget.objectName()!r}"
        for widget in QApplication.topLevelWidgets()
        if widget.parent() is None and _address(widget) not in windows_before
    ]
    for thing in _objects():
        if isinstance(thing, QTimer) and thing.isActive():
            left.append(f"timer every {thing.interval()} ms of {thing.parent()!r}")
        elif isinstance(thing, QThread) and thing.isRunning() and thing is not QThread.currentThread():
            left.append(f"thread {thing!r}")
    if jobs := QThreadPool.globalInstance().activeThreadCount():
        left.append(f"{jobs} jobs in the pool")
    return left


@pytest.fixture(autouse=True)
def nothing_left_over(request: pytest.FixtureRequest) -> Iterator[None]:
    """Fail a test that leaves a window, a running timer or thread, or a job in the pool.

    Checks after qtbot has closed the widgets handed to it, since it asks for qapp only and is set up first.
    """
    if not {"qapp", "qtbot"} & set(request.fixturenames):
        yield
        return
    request.getfixturevalue("qapp")
    windows = {_address(widget) for widget in QApplication.topLevelWidgets()}
    yield
    patience = time.monotonic() + 1.0
    _settle()
    while (left := _left_over(windows)) and time.monotonic() < patience:
        gc.collect()  # a widget that only a reference cycle holds is no leak
        _settle()
        time.sleep(0.01)
    assert not left, "left over: " + "; ".join(left)
