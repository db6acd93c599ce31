"""The one table of the window: columns with header, unit and alignment over rows of plain values.

Every page shows its rows through `TableModel`; sorting goes by the values and not by their text, and a
selection is
copied as tab-separated text that a spreadsheet takes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSortFilterProxyModel,
    Qt,
)
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

Index = QModelIndex | QPersistentModelIndex
SORT_ROLE = Qt.ItemDataRole.UserRole
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


@dataclass(frozen=True, slots=True)
class Column:
    """A column.

    Attributes:
        title: header in words; the unit is added behind a comma.
        unit: unit of the figures shown; empty for words and plain numbers.
        align: "left" for words, "right" for figures.
        digits: decimals of a float; None shows up to six significant digits.
        write: turns a value into text, in place of `digits`.
        help: shown when the pointer rests on the header.
    """

    title: str
    unit: str = ""
    align: Literal["left", "right", "centre"] = "left"
    digits: int | None = None
    write: Callable[[Any], str] | None = None
    help: str = ""

    def header(self) -> str:
        return f"{self.title}, {self.unit}" if self.unit else self.title

    def text(self, value: Any) -> str:
        """The value as shown; None is empty."""
        if value is None:
            return ""
        if self.write is not None:
            return self.write(value)
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, float):
            return f"{value:.6g}" if self.digits is None else f"{value:.{self.digits}f}"
        return str(value)


_ALIGN = {
    "left": Qt.AlignmentFlag.AlignLeft,
    "right": Qt.AlignmentFlag.AlignRight,
    "centre": Qt.AlignmentFlag.AlignHCenter,
}


class TableModel(QAbstractTableModel):
    """Rows of plain values under fixed columns; `set_rows` replaces them."""

    def __init__(self, columns: Sequence[Column], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._columns = tuple(columns)
        self._rows: tuple[tuple[Any, ...], ...] = ()

    @property
    def columns(self) -> tuple[Column, ...]:
        return self._columns

    @property
    def rows(self) -> tuple[tuple[Any, ...], ...]:
        return self._rows

    def set_rows(self, rows: Sequence[Sequence[Any]]) -> None:
        """Show other rows, each as long as there are columns. Keeps selection and scroll when only values
        differ.
        """
        new = tuple(tuple(row) for row in rows)
        for row in new:
            if len(row) != len(self._columns):
                raise ValueError(f"A row of {len(row)} values does not fit {len(self._columns)} columns.")
        if new == self._rows:
            return
        if len(new) == len(self._rows) and new:
            self._rows = new
            self.dataChanged.emit(self.index(0, 0), self.index(len(new) - 1, len(self._columns) - 1))
        else:
            self.beginResetModel()
            self._rows = new
            self.endResetModel()

    def set_columns(self, columns: Sequence[Column], rows: Sequence[Sequence[Any]]) -> None:
        """Show other columns (other units), with their rows."""
        self.beginResetModel()
        self._columns, self._rows = tuple(columns), ()
        self.endResetModel()
        self.set_rows(rows)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 (Qt's own signature)
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        value, column = self._rows[index.row()][index.column()], self._columns[index.column()]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            return column.text(value)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return int(_ALIGN[column.align] | Qt.AlignmentFlag.AlignVCenter)
        return value if role == SORT_ROLE else None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation == Qt.Orientation.Vertical:
            return section + 1 if role == Qt.ItemDataRole.DisplayRole else None
        column = self._columns[section]
        if role == Qt.ItemDataRole.DisplayRole:
            return column.header()
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return int(_ALIGN[column.align] | Qt.AlignmentFlag.AlignVCenter)
        return (column.help or None) if role == Qt.ItemDataRole.ToolTipRole else None


class SortedModel(TableModel):
    """Sorts its own rows, so that a thousand of them come in one go; `order` tells where each came from."""

    def __init__(self, columns: Sequence[Column], parent: QObject | None = None) -> None:
        super().__init__(columns, parent)
        self._given: tuple[tuple[Any, ...], ...] = ()
        self._order: tuple[int, ...] = ()
        self._by = (-1, Qt.SortOrder.AscendingOrder)

    @property
    def order(self) -> tuple[int, ...]:
        """Of each row on screen its number among the rows given."""
        return self._order

    def set_rows(self, rows: Sequence[Sequence[Any]]) -> None:
        self._given = tuple(tuple(row) for row in rows)
        self._order = self._sorted()
        super().set_rows([self._given[k] for k in self._order])

    def set_columns(self, columns: Sequence[Column], rows: Sequence[Sequence[Any]]) -> None:
        if self._by[0] >= len(columns):
            self._by = (-1, self._by[1])
        super().set_columns(columns, rows)

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        self._by = (column, order)
        found = self._sorted()
        if found == self._order:
            return
        self.layoutAboutToBeChanged.emit()
        kept = self.persistentIndexList()
        places = {given: row for row, given in enumerate(found)}
        moved = [self.index(places[self._order[one.row()]], one.column()) for one in kept]
        self._order, self._rows = found, tuple(self._given[k] for k in found)
        self.changePersistentIndexList(kept, moved)
        self.layoutChanged.emit()

    def _sorted(self) -> tuple[int, ...]:
        column, order = self._by
        every = range(len(self._given))
        if not 0 <= column < len(self._columns):
            return tuple(every)
        full = [k for k in every if self._given[k][column] is not None]
        full.sort(
            key=lambda k: _sort_key(self._given[k][column]), reverse=order == Qt.SortOrder.DescendingOrder
        )
        return (*full, *(k for k in every if self._given[k][column] is None))


class SortProxy(QSortFilterProxyModel):
    """Sorts by value: figures before words, words without regard to case, empty cells always last."""

    def lessThan(self, left: Index, right: Index) -> bool:
        a, b = (self.sourceModel().data(side, SORT_ROLE) for side in (left, right))
        if a is None or b is None:
            descending = self.sortOrder() == Qt.SortOrder.DescendingOrder
            return (a is None) == descending and a is not b
        return _sort_key(a) < _sort_key(b)


def _sort_key(value: Any) -> tuple[int, Any]:
    if isinstance(value, (int, float)):
        return (0, value)
    return (1, str(value).casefold())


def safe_text(text: str) -> str:
    """Text that no spreadsheet takes for a formula, on one line; figures stay figures."""
    flat = text.replace("\t", " ").replace("\r", " ").replace("\n", " ")
    if not text.startswith(_FORMULA_STARTS):
        return flat
    try:
        float(flat)
    except ValueError:
        return "'" + flat
    return flat


class TableView(QTableView):
    """A sorted view on a `TableModel` (a `SortedModel` sorts itself); copying takes the selected cells, or everything
    when nothing is selected.
    """

    def __init__(self, model: TableModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        if isinstance(model, SortedModel):
            self.setModel(model)
        else:
            proxy = SortProxy(self)
            proxy.setSourceModel(model)
            self.setModel(proxy)
        self.setSortingEnabled(True)
        self.sortByColumn(-1, Qt.SortOrder.AscendingOrder)
        self.setAlternatingRowColors(True)
        self.setWordWrap(False)
        self.setShowGrid(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 8)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        self.setTabKeyNavigation(False)

    def as_tsv(self) -> str:
        """The selected cells (all when none is) as tab-separated lines under their headers."""
        model = self.model()
        picked = self.selectionModel().selectedIndexes()
        rows = sorted({i.row() for i in picked}) or list(range(model.rowCount()))
        shown = [c for c in range(model.columnCount()) if not self.isColumnHidden(c)]
        columns = sorted({i.column() for i in picked}) or shown
        horizontal = Qt.Orientation.Horizontal
        lines = [[str(model.headerData(c, horizontal)) for c in columns]]
        lines += [[str(model.index(r, c).data() or "") for c in columns] for r in rows]
        return "\n".join("\t".join(safe_text(cell) for cell in line) for line in lines) + "\n"

    def copy(self) -> None:
        """Put `as_tsv()` on the clipboard."""
        QGuiApplication.clipboard().setText(self.as_tsv())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy()
        else:
            super().keyPressEvent(event)
