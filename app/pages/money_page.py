"""Money: the running cost against the budget, cost by group and still to come; prices, rates and other purchases."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date as Date
from typing import Any

import numpy as np
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QTabWidget, QVBoxLayout, QWidget

from app.answers import Answer
from app.look.theme import Theme
from app.pages.entries import below
from app.pages.form_column import FormColumn
from app.pages.headline import HeadlineBar
from app.pages.page import Page, heading
from app.pages.rows_panel import RowsPanel
from app.pages.tables import ReportTable
from app.widgets.form import Form
from app.widgets.plot import LinePlot
from app.widgets.plot_data import Curve, Level
from app.widgets.plot_engine import PlotEngine
from core.bill import BillAnswer, running_curve
from core.machine.ordering import Budget, Purchase
from core.machine.prices import PriceRow, Prices
from core.machine.project import Project
from core.report import csv_text
from core.report.bill_tables import groups_table, money_table, purchases_table, spendings_table, work_table
from core.report.bill_words import money_headline
from core.report.price_tables import short_prices_table
from core.units import METRIC, UnitSet

ABOUT = (
    "Ordered pieces count on the day entered beside the part, other purchases on theirs. Sums are exact decimals; a line "
    "without a price is in none of them."
)
BOUGHT = (
    "What belongs to no line of the bill: shipping, tax, tools, paint. Parts are recorded on their own page."
)
PRICED = "Your own prices. A price for one size goes before one for its kind. What has none shows no price."


def _first_price(project: Project) -> PriceRow:
    return PriceRow(family="rectangular hollow", per="kilogram")


def _first_purchase(project: Project) -> Purchase:
    return Purchase(date=Date.today().isoformat())


class MoneyPage(Page):
    """Plot and sums at the left; budget, purchases and prices at the right.

    Signals:
        row_added(path, row), row_removed(path, number): a whole row of a list.
    """

    row_added = Signal(str, object)
    row_removed = Signal(str, int)

    def __init__(self, theme: Theme, engine: PlotEngine, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._project: Project | None = None
        self._units: UnitSet = METRIC
        self._problems: dict[str, str] = {}
        self._forms: list[tuple[Form, str]] = []
        self._panels: list[RowsPanel] = []
        self.plot = LinePlot(theme, engine, "Running cost", "", "", from_zero=True, dates=True, parent=self)
        self.plot.set_about(ABOUT)
        self.headline = HeadlineBar(theme, self)
        self.sums = ReportTable("Money", self)
        self.sums.stretch("What")
        self.groups = ReportTable("Cost by group", self)
        self.groups.stretch("Group")
        self.work = ReportTable("Work", self)
        self.work.stretch("From")
        self.spent = ReportTable("Spent so far", self)
        self.spent.stretch("What")
        self.sides = QTabWidget(self)
        self.sides.setDocumentMode(True)
        self._lay_out()

    def _lay_out(self) -> None:
        self.tables = QTabWidget(self)
        self.tables.setDocumentMode(True)
        for table, words in ((self.groups, "By group"), (self.spent, "Spent so far"), (self.work, "Work")):
            self.tables.addTab(table, words)
        lower = QSplitter(self)
        first = QWidget(self)
        column = QVBoxLayout(first)
        column.setContentsMargins(0, 4, 6, 0)
        column.addWidget(heading("Money"))
        column.addWidget(self.sums, 1)
        lower.addWidget(first)
        lower.addWidget(self.tables)
        lower.setStretchFactor(1, 1)
        lower.setSizes([240, 560])
        lower.setChildrenCollapsible(False)
        left = QWidget(self)
        inside = QVBoxLayout(left)
        inside.setContentsMargins(14, 10, 6, 8)
        inside.addWidget(self.headline)
        inside.addWidget(self.plot, 4)
        inside.addWidget(lower, 6)
        across = QSplitter(Qt.Orientation.Horizontal, self)
        across.addWidget(left)
        across.addWidget(self.sides)
        across.setStretchFactor(0, 1)
        across.setSizes([830, 420])
        across.setChildrenCollapsible(False)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(across)

    def make_entries(self) -> Iterator[None]:
        """The forms and the two lists beside them."""
        budget = Form(self.theme, Budget, self._units)
        rates = Form(self.theme, Prices, self._units, skip=frozenset({"rows"}))
        self._forms = [(budget, "budget"), (rates, "prices")]
        for form, path in self._forms:
            form.edited.connect(lambda name, value, path=path: self.edited.emit(f"{path}.{name}", value))
            form.left.connect(lambda name, path=path: self.left.emit(f"{path}.{name}"))
        column = FormColumn(self, heading("Budget"), budget, heading("Currency and work"), rates)
        self.sides.addTab(column, "Budget and rates")
        yield
        self.purchases = RowsPanel(
            self.theme, "Other purchases", "purchases", Purchase, _first_purchase, purchases_table, about=BOUGHT, parent=self
        )  # fmt: skip
        self.purchases.table.stretch("What")
        yield
        self.prices = RowsPanel(
            self.theme, "Price list", "prices.rows", PriceRow, _first_price, short_prices_table, about=PRICED, parent=self
        )  # fmt: skip
        self.prices.table.stretch("For")
        self._panels = [self.purchases, self.prices]
        for panel, words in zip(self._panels, ("Other purchases", "Price list"), strict=True):
            self.sides.addTab(panel, words)
        for panel in self._panels:
            panel.edited.connect(self.edited)
            panel.left.connect(self.left)
            panel.added.connect(self.row_added)
            panel.removed.connect(self.row_removed)
        yield
        self._fill()
        self.show_problems(self._problems)

    def show_project(self, project: Project, units: UnitSet) -> None:
        self._project, self._units = project, units
        self._fill()

    def show_answer(self, answer: Answer) -> None:
        bill = answer.plan.bill
        if bill is None:
            return
        self._show_plot(bill)
        self.sums.show_table(money_table(bill))
        self.groups.show_table(groups_table(bill))
        self.work.show_table(work_table(bill))
        self.spent.show_table(spendings_table(bill))
        self.tables.setTabVisible(1, bool(bill.spendings))
        self.tables.setTabVisible(2, bool(bill.work))
        self.headline.say(money_headline(bill))

    def show_problems(self, problems: dict[str, str]) -> None:
        self._problems = dict(problems)
        for form, path in self._forms:
            own = below(path, problems)
            form.show_problems({name: text for name, text in own.items() if not name.startswith("rows")})
        for panel in self._panels:
            panel.show_problems(problems)

    def _fill(self) -> None:
        if self._project is None or not self._forms:
            return
        values: dict[str, Any] = {"budget": self._project.budget, "prices": self._project.prices}
        for form, path in self._forms:
            form.show_values(values[path])
        for panel in self._panels:
            panel.show_project(self._project, self._units)

    def _show_plot(self, bill: BillAnswer) -> None:
        days, sums = running_curve(bill.steps)
        self.plot.set_labels("Day (year-month-day)", f"Spent, {bill.currency}")
        levels = []
        if bill.cost.any_price or bill.spendings:
            levels.append(Level(float(bill.expected), "expected altogether", "3", "dot"))
        if bill.budget is not None:
            levels.append(Level(float(bill.budget), "budget"))
        curves = [Curve(days, sums, "spent", "1")] if days.size else []
        # Room above the highest line, and a scale of its own as long as there is none.
        highest = 1.08 * max([0.0, *sums, *(level.at for level in levels)]) or 100.0
        if levels or not curves:
            curves.append(Curve(np.array([np.nan]), np.array([highest]), ""))
        self.plot.set_curves(curves, levels)
        self.plot.set_numbers(lambda: csv_text(spendings_table(bill)))
