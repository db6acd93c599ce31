"""What an import would do, row by row, with boxes to tick, before anything is done."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QBrush, QColor
from PySide6.QtWidgets import (
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.look.theme import Theme
from app.pages.page import heading, quiet
from core.imports import ImportPlan, take
from core.imports.plan import WORDS

COLUMNS = ("Row", "What", "", "There now", "Would be", "Look at")
WIDTHS = (64, 230, 190, 180, 190, 260)


class ImportPanel(QWidget):
    """The preview.

    Signals:
        taken(path, value, words): put this list into the project, as one step.
        given_up(): leave everything as it is.
    """

    taken = Signal(str, object, str)
    given_up = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._plan: ImportPlan | None = None
        self._project_words = ""
        self.title = heading("Import")
        self.words = quiet()
        self.rows = QTreeWidget(self)
        self.rows.setHeaderLabels(list(COLUMNS))
        self.rows.setRootIsDecorated(False)
        self.rows.setUniformRowHeights(True)
        self.rows.setAlternatingRowColors(True)
        self.rows.setAccessibleName("Rows of the table to import")
        self.rows.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.rows.itemChanged.connect(lambda _item, _column: self._count())
        for column, width in enumerate(WIDTHS):
            self.rows.setColumnWidth(column, width)
        self.rows.header().setSectionResizeMode(len(COLUMNS) - 1, QHeaderView.ResizeMode.Stretch)
        self.changes = QPushButton("Tick every change", self)
        self.changes.setToolTip("Rows that would overwrite something are ticked only when you say so.")
        self.changes.clicked.connect(self._tick_changes)
        self.go = QPushButton(self)
        self.go.clicked.connect(self._take)
        self.cancel = QPushButton("Leave everything as it is", self)
        self.cancel.clicked.connect(self.given_up)
        buttons = QHBoxLayout()
        buttons.addWidget(self.changes)
        buttons.addStretch(1)
        buttons.addWidget(self.cancel)
        buttons.addWidget(self.go)
        column_of_all = QVBoxLayout(self)
        column_of_all.setContentsMargins(14, 10, 14, 10)
        column_of_all.addWidget(self.title)
        column_of_all.addWidget(self.words)
        column_of_all.addWidget(self.rows, 1)
        column_of_all.addLayout(buttons)

        theme.changed.connect(self._dress)
        self._dress()

    def _dress(self) -> None:
        """Boxes that are seen in every theme: hollow, or filled when ticked."""
        p = self._theme.palette
        self.rows.setStyleSheet(
            f"QTreeView::indicator {{ width: 12px; height: 12px; border: 1px solid {p.text}; border-radius: 2px; }}"
            f"QTreeView::indicator:checked {{ background: {p.accent}; border: 3px solid {p.entry}; outline: none; }}"
        )

    def show_plan(self, plan: ImportPlan, into: str) -> None:
        """Show what an import into "prices" or "stock" would do."""
        self._plan = plan
        self._project_words = f"Import {into} from {plan.file}"
        self.title.setText(f"{into.capitalize()} from {plan.file}")
        counts = ", ".join(f"{plan.count(s)} {words}" for s, words in WORDS.items() if plan.count(s))
        unread = f" Columns nothing was read from: {', '.join(plan.left_out)}." if plan.left_out else ""
        self.words.setText(
            f"{len(plan.rows)} rows: {counts}.{unread} Nothing is done yet; one undo takes it all back."
        )
        self.rows.blockSignals(True)
        self.rows.clear()
        ticked = plan.plain()
        for row in plan.rows:
            texts = [str(row.number), row.what, WORDS[row.status], row.before, row.after, row.reason]
            item = QTreeWidgetItem(self.rows, texts)
            item.setData(0, Qt.ItemDataRole.UserRole, row.number)
            for column, text in enumerate(texts):
                item.setToolTip(column, text)
            if row.takeable:
                on = row.number in ticked
                item.setCheckState(0, Qt.CheckState.Checked if on else Qt.CheckState.Unchecked)
            else:
                item.setForeground(2, QBrush(QColor(self._theme.palette.quiet)))
        self.rows.blockSignals(False)
        self.changes.setVisible(bool(plan.changes()))
        self._count()

    def wait(self) -> None:
        """The project has changed meanwhile; nothing can be taken until the table is read against it again."""
        self._plan = None
        self.words.setText("The project has changed. The table is being read again.")
        self.go.setEnabled(False)

    def ticked(self) -> frozenset[int]:
        """Numbers of the rows to take."""
        items = (self.rows.topLevelItem(k) for k in range(self.rows.topLevelItemCount()))
        return frozenset(
            int(item.data(0, Qt.ItemDataRole.UserRole))
            for item in items
            if item is not None and item.checkState(0) == Qt.CheckState.Checked
        )

    def _count(self) -> None:
        number = len(self.ticked())
        self.go.setText(f"Take {number} ticked {'row' if number == 1 else 'rows'}")
        self.go.setEnabled(number > 0)

    def _tick_changes(self) -> None:
        changes = self._plan.changes() if self._plan is not None else frozenset()
        for k in range(self.rows.topLevelItemCount()):
            item = self.rows.topLevelItem(k)
            if item is not None and item.data(0, Qt.ItemDataRole.UserRole) in changes:
                item.setCheckState(0, Qt.CheckState.Checked)

    def _take(self) -> None:
        if self._plan is not None:
            path, value = take(self._plan, self.ticked())
            self.taken.emit(path, value, self._project_words)
