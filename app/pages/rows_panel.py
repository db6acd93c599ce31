"""Rows of a list as a table, with the picked one's entries below and buttons to add and remove: for long lists."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from operator import attrgetter
from typing import Any

import msgspec
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.look.theme import Theme
from app.pages.entries import below
from app.pages.page import quiet
from app.pages.tables import ReportTable
from app.widgets.form import Form
from core.machine.project import Project
from core.report import Table
from core.units import METRIC, UnitSet


class RowsPanel(QWidget):
    """A list of the project.

    Args:
        path: where the list stands ("purchases"). struct: type of its rows. make: a row to begin with.
        table: the list as a table, one row each, in order.

    Signals:
        edited(path, value), left(path): as of a page. added(path, row), removed(path, number): whole rows.
    """

    edited = Signal(str, object)
    left = Signal(str)
    added = Signal(str, object)
    removed = Signal(str, int)

    def __init__(
        self,
        theme: Theme,
        name: str,
        path: str,
        struct: type[msgspec.Struct],
        make: Callable[[Project], Any],
        table: Callable[[Project], Table],
        choices: Mapping[str, Any] | None = None,
        about: str = "",
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._path, self._make, self._table_of = path, make, table
        self._project: Project | None = None
        self._problems: dict[str, str] = {}
        self._row = -1
        self.table = ReportTable(name, self)
        self.table.setSelectionMode(ReportTable.SelectionMode.SingleSelection)
        self.table.horizontalHeader().setHighlightSections(False)
        self.table.selectionModel().currentRowChanged.connect(lambda now, _before: self._pick(now))
        self.form = Form(theme, struct, METRIC, choices=choices or {})
        self.form.edited.connect(lambda name, value: self.edited.emit(f"{path}.{self._row}.{name}", value))
        self.form.left.connect(lambda name: self.left.emit(f"{path}.{self._row}.{name}"))
        self.add = QPushButton("Add one", self)
        self.add.clicked.connect(self._add)
        self.remove = QPushButton("Remove", self)
        self.remove.clicked.connect(lambda: self.removed.emit(path, self._row))
        scroll = QScrollArea(self)
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setWidget(self.form)
        self._scroll = scroll
        buttons = QHBoxLayout()
        buttons.addWidget(self.add)
        buttons.addStretch(1)
        buttons.addWidget(self.remove)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 8, 8, 4)
        if about:
            column.addWidget(quiet(about))
        column.addWidget(self.table, 2)
        column.addLayout(buttons)
        column.addWidget(scroll, 3)
        self._room = QWidget(self)  # keeps words and button at the top while there is no row
        column.addWidget(self._room, 4)

    def show_project(self, project: Project, units: UnitSet) -> None:
        count = 0 if self._project is None else len(self._rows())
        self._project = project
        self.form.set_units(units)
        self.table.show_table(self._table_of(project))
        rows = self._rows()
        if len(rows) > count and count:
            self.pick(len(rows) - 1)
        self._row = min(self._row, len(rows) - 1)
        if self._row < 0 and rows:
            self.pick(0)
        self._show_row()

    def show_problems(self, problems: dict[str, str]) -> None:
        """Sentences by full path."""
        self._problems = below(f"{self._path}.{self._row}", problems)
        self.form.show_problems(self._problems)

    def pick(self, row: int) -> None:
        """Pick a row of the list."""
        self._row = row
        model = self.table.model()
        source = model.sourceModel().index(row, 0)  # type: ignore[attr-defined]
        index = model.mapFromSource(source)  # type: ignore[attr-defined]
        shown = next((k for k in range(model.columnCount()) if not self.table.isColumnHidden(k)), 0)
        self.table.setCurrentIndex(index.siblingAtColumn(shown))

    def _rows(self) -> tuple[Any, ...]:
        return tuple(attrgetter(self._path)(self._project))

    def _pick(self, index: Any) -> None:
        if index.isValid():
            self._row = self.table.model().mapToSource(index).row()  # type: ignore[attr-defined]
            self._show_row()

    def _show_row(self) -> None:
        rows = self._rows() if self._project is not None else ()
        there = 0 <= self._row < len(rows)
        self._scroll.setVisible(there)
        self._room.setVisible(not there)
        self.table.setVisible(bool(rows))
        self.remove.setEnabled(there)
        if there:
            self.form.show_values(rows[self._row])
            self.form.show_problems(self._problems)

    def _add(self) -> None:
        if self._project is not None:
            self._row = len(self._rows())
            self.added.emit(self._path, self._make(self._project))
