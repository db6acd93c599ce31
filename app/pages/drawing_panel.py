"""The machine drawn to scale: choice of view, the load's place to drag, and the bent shape on demand."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.answers import VIEWS, Answer
from app.look.theme import Theme
from app.widgets.drawing_view import DrawingView
from app.widgets.tick import Tick
from app.widgets.views import ViewButtons
from core.machine.project import Project
from core.units import UnitSet, show

LOAD_KEY = "load"
NUDGE = 0.01
"""Part of the travel that one press of a key moves the load by."""


class DrawingPanel(QWidget):
    """View, selectors and the load's place.

    Signals:
        placed(x): the user moved the load to this x, m.
        case_chosen(row): another load case.
        bent_chosen(shown): the bent shape is wanted or not.
    """

    placed = Signal(float)
    case_chosen = Signal(int)
    bent_chosen = Signal(bool)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._answer: Answer | None = None
        self._key = "front"
        self._x = 0.0
        self._reach = 0.5
        self.view = DrawingView(theme, self)
        self.view.set_draggable(frozenset({LOAD_KEY}))
        self.view.dragged_to.connect(lambda x, _y: self._place(x))
        self.view.nudged.connect(lambda step: self._place(self._x + 2.0 * self._reach * NUDGE * step))
        self.views = ViewButtons(VIEWS, self._key, self)
        self.views.picked.connect(self.show_view)
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(self.views)
        row.addStretch(1)
        self.case = QComboBox(self)
        self.case.setAccessibleName("Load case")
        self.case.setToolTip("The load case whose bent shape is drawn.")
        self.case.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.case.setMaximumWidth(240)
        self.case.activated.connect(self.case_chosen)
        self.bent = Tick(theme, "Bent shape", self)
        self.bent.setToolTip("Draws how the machine bends under the load case, magnified.")
        self.bent.clicked.connect(lambda checked: self.bent_chosen.emit(bool(checked)))
        row.addWidget(QLabel("Load case", self))
        row.addWidget(self.case)
        row.addWidget(self.bent)
        self.note = QLabel(self)
        self.note.setProperty("tone", "quiet")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addLayout(row)
        column.addWidget(self.view, 1)
        column.addWidget(self.note)

    def show_project(self, project: Project, units: UnitSet) -> None:
        self._reach = project.machine.work.travel_x / 2.0
        names = [case.name for case in project.cases]
        if names != [self.case.itemText(row) for row in range(self.case.count())]:
            row = self.case.currentIndex()
            with QSignalBlocker(self.case):
                self.case.clear()
                self.case.addItems(names)
                self.case.setCurrentIndex(min(max(row, 0), len(names) - 1))

    def show_answer(self, answer: Answer) -> None:
        self._answer = answer
        self._x = answer.wish.place.x
        self.bent.setChecked(answer.wish.bent)
        with QSignalBlocker(self.case):
            self.case.setCurrentIndex(min(answer.wish.place.case, self.case.count() - 1))
        self.view.set_drawing(answer.views[self._key])
        words = f"Tool at x = {show(self._x, 'length', answer.units)}; drag the load or press the arrow keys."
        self.note.setText(words)

    def show_view(self, key: str) -> None:
        """Front, side or plan."""
        self._key = key
        self.views.set_shown(key)
        self.view.set_draggable(frozenset() if key == "side" else frozenset({LOAD_KEY}))
        if self._answer is not None:
            self.view.set_drawing(self._answer.views[key])
            self.view.fit()

    def _place(self, x: float) -> None:
        self._x = min(max(x, -self._reach), self._reach)
        self.placed.emit(self._x)
