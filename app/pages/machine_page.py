"""The first page: entries at the left, the machine to scale and the live plots at the right."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QVBoxLayout, QWidget

from app.answers import Answer, derived_values
from app.look.theme import Theme
from app.pages.curves import show_budget, show_deflection, show_sag
from app.pages.drawing_panel import DrawingPanel
from app.pages.entries import Entries
from app.pages.page import Page
from app.widgets.bar_plot import BarPlot
from app.widgets.plot import LinePlot
from app.widgets.plot_engine import PlotEngine
from core.machine.project import Project
from core.units import UnitSet

ENTRIES_WIDTH = 456


class MachinePage(Page):
    """Entries, drawing and live plots."""

    def __init__(self, theme: Theme, engine: PlotEngine, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.entries = Entries(theme, self)
        self.entries.setMinimumWidth(ENTRIES_WIDTH)
        self.entries.edited.connect(self.edited)
        self.entries.left.connect(self.left)
        self.drawing = DrawingPanel(theme, self)
        self.deflection = LinePlot(theme, engine, "Tip deflection", "", "", from_zero=True, parent=self)
        self.sag = LinePlot(theme, engine, "Sag and path error", "", "", from_zero=True, parent=self)
        self.budget = BarPlot(theme, "Compliance budget", self)
        plots = QWidget(self)
        row = QHBoxLayout(plots)
        row.setContentsMargins(0, 4, 0, 0)
        row.setSpacing(8)
        for plot, share in ((self.deflection, 13), (self.sag, 9), (self.budget, 13)):
            row.addWidget(plot, share)
        right = QSplitter(Qt.Orientation.Vertical, self)
        right.addWidget(self.drawing)
        right.addWidget(plots)
        right.setStretchFactor(0, 3)
        right.setStretchFactor(1, 2)
        right.setSizes([415, 275])
        right.setChildrenCollapsible(False)
        frame = QWidget(self)
        inside = QVBoxLayout(frame)
        inside.setContentsMargins(6, 8, 10, 8)
        inside.addWidget(right)
        across = QSplitter(Qt.Orientation.Horizontal, self)
        across.addWidget(self.entries)
        across.addWidget(frame)
        across.setStretchFactor(0, 0)
        across.setStretchFactor(1, 1)
        across.setSizes([ENTRIES_WIDTH, 900])
        across.setChildrenCollapsible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(across)

    def show_project(self, project: Project, units: UnitSet) -> None:
        self.entries.show_project(project, units)
        self.drawing.show_project(project, units)

    def show_answer(self, answer: Answer) -> None:
        self.entries.show_derived(derived_values(answer))
        self.drawing.show_answer(answer)
        show_deflection(self.deflection, answer)
        show_sag(self.sag, answer)
        show_budget(self.budget, answer, answer.wish.place.case, least=0.01, most=9)

    def show_problems(self, problems: dict[str, str]) -> None:
        self.entries.show_problems(problems)
