"""A mode drawn over the machine's outline: choice of mode and view, and the swing set going on demand."""

from __future__ import annotations

import math

from PySide6.QtCore import QSignalBlocker, QTimer, Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.answers import VIEWS, Answer
from app.look.theme import Theme
from app.widgets.drawing_view import DrawingView
from app.widgets.tick import Tick
from app.widgets.views import ViewButtons
from core.drawing.primitives import Drawing
from core.drawing.views.mode import clearest_view, mode_drawing, mode_ground
from core.units import show
from core.vibration import VibrationAnswer

TURN_MS = 40
SWINGS_PER_SECOND = 0.8  # slow enough to follow; the true ones are in the list


class ModePanel(QWidget):
    """The drawing of one mode with its controls.

    Signals:
        chosen(row): another mode.
    """

    chosen = Signal(int)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._answer: Answer | None = None
        self._found: VibrationAnswer | None = None
        self._view = "front"
        self._picked = False  # a view that the user picked stays; else the clearest one is shown
        self._ground = Drawing()
        self._turn = 0.0
        self.row = 0
        self.view = DrawingView(theme, self)
        self.mode = QComboBox(self)
        self.mode.setAccessibleName("Mode")
        self.mode.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.mode.activated.connect(self.choose)
        self.swing = Tick(theme, "Let it swing", self)
        self.swing.setToolTip("Shows the mode in slow motion; it stops when the page is left.")
        self.swing.toggled.connect(self._set_going)
        self._timer = QTimer(self)
        self._timer.setInterval(TURN_MS)
        self._timer.timeout.connect(self._step)
        self.views = ViewButtons(VIEWS, self._view, self)
        self.views.picked.connect(self._pick)
        top = QHBoxLayout()
        top.setSpacing(6)
        top.addWidget(self.views)
        top.addStretch(1)
        top.addWidget(QLabel("Mode", self))
        top.addWidget(self.mode)
        top.addWidget(self.swing)
        self.words = QLabel(self)
        self.words.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addLayout(top)
        column.addWidget(self.view, 1)
        column.addWidget(self.words)

    def going(self) -> bool:
        """Whether the drawing moves."""
        return self._timer.isActive()

    def show_modes(self, answer: Answer, found: VibrationAnswer | None) -> None:
        """The newest modes; None leaves the panel empty."""
        self._answer, self._found = answer, found
        names = []
        if found is not None:
            names = [
                f"{n}: {show(mode.frequency, 'frequency', answer.units)}"
                for n, mode in enumerate(found.modes, start=1)
            ]
        with QSignalBlocker(self.mode):
            self.mode.clear()
            self.mode.addItems(names)
            self.row = min(self.row, max(len(names) - 1, 0))
            self.mode.setCurrentIndex(self.row)
        for widget in (self.mode, self.swing, self.views):
            widget.setEnabled(found is not None)
        self._redraw()

    def choose(self, row: int) -> None:
        """Show the mode of this row."""
        self.row = row
        with QSignalBlocker(self.mode):
            self.mode.setCurrentIndex(row)
        self._redraw()
        self.chosen.emit(row)

    def _pick(self, key: str) -> None:
        self._picked = True
        self._view = key
        self._redraw()
        self.view.fit()

    def _redraw(self) -> None:
        if self._answer is None or self._found is None:
            self.swing.setChecked(False)
            self.view.set_drawing(Drawing())
            self.words.setText("The machine gives no answer to this yet.")
            return
        mode = self._found.modes[self.row]
        if not self._picked:
            self._view = clearest_view(mode.shape)
        self.views.set_shown(self._view)
        span = self._answer.plan.layout.upright_spacing
        self._ground = mode_ground(self._answer.views[self._view], mode.shape, self._view, span)
        self.words.setText(mode.words)
        self._draw()

    def _draw(self) -> None:
        if self._answer is None or self._found is None:
            return
        amount = math.cos(self._turn) if self.going() else 1.0
        shape, span = self._found.modes[self.row].shape, self._answer.plan.layout.upright_spacing
        self.view.set_drawing(mode_drawing(self._ground, shape, self._view, span, amount))

    def _set_going(self, going: bool) -> None:
        self._turn = 0.0
        if going and self._found is not None:
            self._timer.start()
        else:
            self._timer.stop()
            self._draw()

    def _step(self) -> None:
        self._turn += 2.0 * math.pi * SWINGS_PER_SECOND * TURN_MS / 1000.0
        self._draw()

    def hideEvent(self, event: QHideEvent) -> None:
        self.swing.setChecked(False)
        super().hideEvent(event)
