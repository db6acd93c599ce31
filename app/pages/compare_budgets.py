"""Compliance budgets of all machines beside each other."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QWidget

from app.look.theme import Theme
from app.pages.curves import shares_of
from app.widgets.bar_plot import BarPlot
from core.comparison import ComparisonAnswer
from core.units import UnitSet

FEW_BARS, BAR_ROOM = 5, 36
"""Bars of a budget on a low page; height in pixels for each one more."""


class Budgets(QScrollArea):
    """As many bars as there is room for, a plot for each machine that has a budget."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._theme = theme
        self._plots: list[BarPlot] = []
        self._shown: tuple[ComparisonAnswer, UnitSet, int] | None = None
        inside = QWidget(self)
        self._row = QHBoxLayout(inside)
        self._row.setSpacing(10)
        self._row.setAlignment(Qt.AlignmentFlag.AlignLeft)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidget(inside)

    def plots(self) -> list[BarPlot]:
        return self._plots

    def show_budgets(self, answer: ComparisonAnswer, units: UnitSet, case: int) -> None:
        self._shown = (answer, units, max(case, 0))
        self._draw()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._draw()

    def _draw(self) -> None:
        if self._shown is None:
            return
        answer, units, case = self._shown
        machines = [
            (m.name, m.plan.budgets) for m in answer.machines if m.plan is not None and m.plan.budgets
        ]
        names = [name for name, _ in machines]
        if names != [plot.title() for plot in self._plots]:
            self._make(names)
        most = max(FEW_BARS, self.height() // BAR_ROOM - 2)
        for plot, (_, budgets) in zip(self._plots, machines, strict=True):
            budget = budgets[min(case, len(budgets) - 1)]
            plot.set_shares(shares_of(budget.shares, units, budget.deflection, 0.01, most))

    def _make(self, names: list[str]) -> None:
        for plot in self._plots:
            self._row.removeWidget(plot)
            plot.hide()
            plot.deleteLater()
        self._plots = [BarPlot(self._theme, name, self) for name in names]
        for plot in self._plots:
            plot.setMinimumWidth(250)
            plot.setMaximumWidth(640)
            self._row.addWidget(plot)
