"""Everything to buy or cut, with quantities, lengths and masses."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from app.answers import Answer
from app.look.theme import Theme
from app.pages.page import Page, heading, quiet
from app.pages.tables import ReportTable
from core.report import parts_table
from core.units import show

LESS_ASKED = frozenset({"Mass of one", "In a pack"})
"""Columns of the CSV file that the page leaves out to fit a small screen."""


class PartsPage(Page):
    """The parts table.

    Signals:
        export_wanted(): the user wants the table as a CSV file.
    """

    export_wanted = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.table = ReportTable("Parts", self)
        self.words = quiet()
        self.button = QPushButton("Save as CSV…", self)
        self.button.clicked.connect(self.export_wanted)
        theme.changed.connect(self._dress)
        self._dress()
        row = QHBoxLayout()
        row.addWidget(heading("Parts"))
        row.addStretch(1)
        row.addWidget(self.button)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        column.addLayout(row)
        column.addWidget(self.table, 1)
        column.addWidget(self.words)

    def show_answer(self, answer: Answer) -> None:
        self.table.show_table(parts_table(answer.plan), LESS_ASKED)
        known = [part.mass for part in answer.plan.parts if part.mass is not None]
        unknown = len(answer.plan.parts) - len(known)
        mass = show(sum(known), "mass", answer.units)
        rest = f" {unknown} lines carry no mass." if unknown else ""
        self.words.setText(f"{len(answer.plan.parts)} lines, {mass} altogether.{rest}")

    def _dress(self) -> None:
        self.button.setIcon(self.theme.icon("export"))
