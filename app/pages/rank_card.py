"""The picked beam: its figures with their bands, why it cannot be used, and what can be done with it."""

from __future__ import annotations

import re

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from app.pages.page import quiet
from core.commands.ranked import keep_candidate, use_candidate
from core.rank import RankAnswer
from core.report.rank_words import beam_lines, full_name, state_of
from core.units import UnitSet

_UNIT = re.compile(r"(\d) (?=[A-Za-z\N{MICRO SIGN}])")
"""Before a unit, which stays on the line of its figure."""
NONE = "Pick a beam in the table or in the chart."
_TONES = {"cannot be used": "problem", "breaks a limit": "warn", "holds every limit": "good"}


class RankCard(QWidget):
    """Name, figures and two buttons.

    Signals:
        used(candidate): put it into the machine. kept(candidate): add a variant with it.
    """

    used = Signal(object)
    kept = Signal(object)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._candidate: object = None
        self.name = QLabel(self)
        self.name.setProperty("heading", "true")
        self.name.setWordWrap(True)
        self.name.setTextFormat(Qt.TextFormat.PlainText)
        self.state = QLabel(self)
        self.lines = QLabel(self)
        self.lines.setWordWrap(True)
        self.lines.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.why = quiet()
        for label in (self.lines, self.why):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.use = QPushButton("Put into the machine", self)
        self.use.setToolTip(
            "Gives the machine this beam, in its usual metal and fastening; one step that can be undone. Heat, joints, carriages "
            "and chatter are answered then."
        )
        self.use.clicked.connect(lambda: self.used.emit(self._candidate))
        self.keep = QPushButton("Add as a variant", self)
        self.keep.setToolTip(
            "Adds a variant with this beam to the page Compare; one step that can be undone."
        )
        self.keep.clicked.connect(lambda: self.kept.emit(self._candidate))
        head = QHBoxLayout()
        head.addWidget(self.name, 1)
        head.addWidget(self.state)
        buttons = QHBoxLayout()
        buttons.addWidget(self.use)
        buttons.addWidget(self.keep)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 2, 0, 0)
        column.setSpacing(3)
        column.addLayout(head)
        column.addWidget(self.lines)
        column.addWidget(self.why)
        column.addLayout(buttons)
        self.show_beam(None, -1, UnitSet())

    def show_beam(self, answer: RankAnswer | None, row: int, units: UnitSet) -> None:
        """Show one candidate; -1 for none."""
        there = answer is not None and 0 <= row < len(answer.candidates)
        self._candidate = answer.candidates[row] if answer is not None and there else None
        for widget in (self.lines, self.use, self.keep, self.state):
            widget.setVisible(there)
        if answer is None or not there:
            self.name.setText("" if answer is None else NONE)
            self.why.hide()
            return
        self.name.setText(full_name(answer, row))
        words = state_of(answer, row)
        self._tone(self.state, words, _TONES[words])
        self.lines.setText(_UNIT.sub("\\1\N{NO-BREAK SPACE}", "\n".join(beam_lines(answer, row, units))))
        problem, remark = answer.problems[row], answer.remarks[row]
        self._tone(self.why, problem or remark, "problem" if problem else "warn")
        self.why.setVisible(bool(problem or remark))
        candidate = answer.candidates[row]
        self.use.setEnabled(bool(answer.solved[row]) and use_candidate(candidate) is not None)
        self.keep.setEnabled(bool(answer.solved[row]) and keep_candidate(candidate) is not None)

    @staticmethod
    def _tone(label: QLabel, words: str, tone: str) -> None:
        label.setText(words)
        label.setProperty("tone", tone)
        label.style().polish(label)
