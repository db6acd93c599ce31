"""Qt calls that return nothing must not use up references to None.

One version of the binding did, and then aborted a live window.
"""

from __future__ import annotations

import sys

import pytest
from PySide6.QtCore import QObject, QTimer
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QLabel, QLineEdit

TURNS = 3_000
# A few references come and go with frames and events; a faulty binding loses one for nearly every call.
LEEWAY = 200


@pytest.mark.skipif(
    sys.version_info >= (3, 12), reason="None is immortal from Python 3.12 on, so nothing can be lost"
)
def test_references_to_none_stay_level(qtbot) -> None:
    """Thousands of setters, repaints and property writes leave the count where it was."""
    label, entry, holder, timer = QLabel(), QLineEdit(), QObject(), QTimer()
    qtbot.addWidget(label)
    qtbot.addWidget(entry)
    image = QImage(40, 20, QImage.Format.Format_ARGB32)
    before = sys.getrefcount(None)
    for turn in range(TURNS):
        label.setText(str(turn))
        label.setEnabled(True)
        label.update()
        entry.setText(str(turn))
        entry.setToolTip("a length")
        holder.setObjectName("holder")
        timer.setInterval(10)
        with QPainter(image) as painter:
            painter.drawLine(0, 0, 10, 10)
        # Looked at in every turn: a faulty binding would make Python abort before the end.
        assert abs(sys.getrefcount(None) - before) < LEEWAY
