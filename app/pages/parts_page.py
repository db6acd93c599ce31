"""The bill of parts: what is needed, on hand, ordered, arrived and fitted, with prices; import, and the list to share."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QModelIndex, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QMenu,
    QStackedWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.answers import Answer
from app.look.theme import Theme
from app.pages.headline import HeadlineBar
from app.pages.import_panel import ImportPanel
from app.pages.page import Page, heading, quiet
from app.pages.stock_form import StockForm
from app.pages.tables import ReportTable
from core.bill import BillAnswer
from core.imports import plan_prices, plan_stock, read_sheet
from core.imports.sheets import MOST_BYTES, BadTable
from core.machine.project import Project
from core.prices import show_money
from core.report import Table, csv_text
from core.report.bill_tables import VIEWS, bill_table
from core.report.bill_words import bars_words, parts_headline
from core.units import METRIC, UnitSet, show

LESS_ASKED = frozenset(
    [
        "Group",
        "Spare",
        "In a pack",
        "Packs",
        "Packs to order",
        "Paid for one",
        "Cost new",
        "Spent",
        "Paid on",
        "Goes to",
        "Source and note",
        "Link",
        "Key",
    ]
)
"""Columns of the files that the page leaves out to fit a small screen; the picked line shows them below."""
ROOMY = 1400
LESS_IN_NARROW = frozenset({"Price of one"})
"""Width in pixels from which a column is shown that the picked line's entries tell too."""
SHARING = {
    "xlsx": "Spreadsheet with formulas…",
    "html": "Web page…",
    "pdf": "PDF…",
    "markdown": "Markdown…",
    "csv": "CSV…",
}
NOTHING = "The parts are being counted."


class PartsPage(Page):
    """The bill with the picked line's record below it.

    Signals:
        share_wanted(kind): the user wants the list as a file; a key of `SHARING`.
        recorded(key, field, value, words): a figure about a part's stock or price.
        part_wanted(): a part of the user's own is to be added. part_removed(row): one of them is to go.
        import_taken(path, value, words): a list out of a table goes into the project, as one step.
        troubled(sentence): a file could not be read.
    """

    share_wanted = Signal(str)
    recorded = Signal(str, str, object, str)
    part_wanted = Signal()
    part_removed = Signal(int)
    import_taken = Signal(str, object, str)
    troubled = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._project: Project | None = None
        self._units: UnitSet = METRIC
        self._bill: BillAnswer | None = None
        self._narrow = False
        self._problems: dict[str, str] = {}
        self._chosen: tuple[Path, str] | None = None  # a table to be read when the bars are counted
        self._previewed: tuple[Project, Path, str] | None = (
            None  # the table in the preview, and what it is held against
        )
        self._wanted = ""  # key of a part to pick as soon as it is in the bill
        self.table = ReportTable("Bill of parts", self)
        self.table.stretch("Specification")
        self.table.wrap_beyond("Part", 176)  # one long name would take the room of all specifications
        self.table.setSelectionMode(ReportTable.SelectionMode.SingleSelection)
        self.table.horizontalHeader().setHighlightSections(False)
        self.form = StockForm(theme, self)
        self.form.recorded.connect(self.recorded)
        self.form.described.connect(
            lambda row, field, value: self.edited.emit(f"own_parts.{row}.{field}", value)
        )
        self.form.removed.connect(self.part_removed)
        self.form.left.connect(lambda: self.left.emit("stock"))
        self.headline = HeadlineBar(theme, self)
        self.words = quiet(NOTHING)
        self.preview = ImportPanel(theme, self)
        self.preview.taken.connect(self._take)
        self.preview.given_up.connect(self._end_preview)
        self.view = QComboBox(self)
        self.view.setAccessibleName("Lines shown")
        for key, (words, _) in VIEWS.items():
            self.view.addItem(words, key)
        self.view.currentIndexChanged.connect(lambda _index: self._show_bill())
        self.stack = QStackedWidget(self)
        self._lay_out()
        self.table.model().dataChanged.connect(lambda *_: self._show_picked())
        self.table.selectionModel().currentRowChanged.connect(self._picked)

    def _lay_out(self) -> None:
        self.add = QToolButton(self)
        self.add.setText("Add a part of your own")
        self.add.setProperty("segment", "true")
        self.add.clicked.connect(self.part_wanted)
        self.reading = self._menu("Import…", "Prices or stock out of a CSV or XLSX table.")
        self.reading.menu().addAction("Prices…", lambda: self._ask_file("prices"))
        self.reading.menu().addAction("Stock: on hand, ordered, arrived…", lambda: self._ask_file("stock"))
        self.share = self._menu("Save the list as…", "The list to share, with totals.")
        for kind, words in SHARING.items():
            self.share.menu().addAction(words, lambda kind=kind: self.share_wanted.emit(kind))
        row = QHBoxLayout()
        row.addWidget(heading("Bill of parts"))
        row.addSpacing(12)
        row.addWidget(QLabel("Show", self))
        row.addWidget(self.view)
        row.addStretch(1)
        for button in (self.add, self.reading, self.share):
            row.addWidget(button)
        whole = QWidget(self)
        column = QVBoxLayout(whole)
        column.setContentsMargins(14, 10, 14, 10)
        column.addLayout(row)
        column.addWidget(self.headline)
        column.addWidget(self.table, 1)
        column.addWidget(self.words)
        column.addWidget(self.form)
        self.stack.addWidget(whole)
        self.stack.addWidget(self.preview)
        outside = QVBoxLayout(self)
        outside.setContentsMargins(0, 0, 0, 0)
        outside.addWidget(self.stack)

    def _menu(self, words: str, help_words: str) -> QToolButton:
        button = QToolButton(self)
        button.setText(words)
        button.setProperty("segment", "true")
        button.setToolTip(help_words)
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        button.setMenu(QMenu(button))
        return button

    def show_project(self, project: Project, units: UnitSet) -> None:
        self._project, self._units = project, units
        if self._previewed is not None and self._previewed[0] is not project:
            _, path, into = (
                self._previewed
            )  # what it would do to the project as it was must not be done to this one
            self._previewed, self._chosen = None, (path, into)
            self.preview.wait()

    def show_answer(self, answer: Answer) -> None:
        self._bill, self._units = answer.plan.bill, answer.units
        self._project = answer.project
        self._show_bill()
        if self._bill is not None:
            self.headline.say(parts_headline(self._bill))
            self.words.setText(_in_words(self._bill, answer))
        self._read_chosen()

    def show_problems(self, problems: dict[str, str]) -> None:
        self._problems = problems
        self._show_problems()

    def csv(self) -> str:
        """The whole bill as CSV, whatever part of it is in view."""
        return "" if self._bill is None else csv_text(bill_table(self._bill, self._units))

    def pick(self, key: str) -> None:
        """Pick a part's line, now or as soon as the bill holds it."""
        self._wanted = key
        table = self.table.table()
        if table is None:
            return
        keys = [str(row[-1]) for row in table.rows]
        if key not in keys:
            return
        self._wanted = ""
        model = self.table.model()
        at = model.mapFromSource(model.sourceModel().index(keys.index(key), 0))  # type: ignore[attr-defined]
        self.table.setCurrentIndex(self._seen(at))

    def read_counted(self, path: Path, into: str) -> None:
        """Read a table as soon as bars have their lines, which it may name; the search for them is under way."""
        self._chosen = (path, into)
        self._read_chosen()

    def _read_chosen(self) -> None:
        if self._chosen is not None and self._bill is not None and self._bill.cuts is not None:
            (path, into), self._chosen = self._chosen, None
            self.read_file(path, into)

    def read_file(self, path: Path, into: str) -> None:
        """Read a table and show what it would do; what is wrong with the file is told."""
        if self._bill is None or self._project is None:
            return
        lines = self._bill.lines
        parts, beside = [line.part for line in lines], {line.key: line.beside for line in lines}
        try:
            with path.open("rb") as stream:
                sheet = read_sheet(stream.read(MOST_BYTES + 1), path.name)
            if into == "prices":
                plan = plan_prices(sheet, self._project, parts)
            else:
                plan = plan_stock(sheet, self._project, parts, beside)
        except OSError as error:
            self.troubled.emit(f"{path.name} could not be read: {error.strerror or error}.")
            return
        except BadTable as error:
            self.troubled.emit(str(error))
            return
        self._previewed = (self._project, path, into)
        self.preview.show_plan(plan, into)
        self.stack.setCurrentIndex(1)

    def _seen(self, index: QModelIndex) -> QModelIndex:
        """The same row in the first column that is not hidden."""
        shown = next(k for k in range(index.model().columnCount()) if not self.table.isColumnHidden(k))
        return index.siblingAtColumn(shown)

    def _ask_file(self, into: str) -> None:
        name, _ = QFileDialog.getOpenFileName(
            self, f"Import {into}", "", "Tables (*.csv *.tsv *.txt *.xlsx);;All files (*)"
        )
        if name:
            self.read_counted(Path(name), into)

    def _take(self, path: str, value: object, words: str) -> None:
        self._end_preview()
        self.import_taken.emit(path, value, words)

    def _end_preview(self) -> None:
        self._previewed = self._chosen = None
        self.stack.setCurrentIndex(0)

    def _show_bill(self) -> None:
        if self._bill is None:
            return
        key = self._wanted or self.form.key()
        table = bill_table(self._bill, self._units, str(self.view.currentData()))
        self._narrow = self.width() < ROOMY
        self.table.show_table(_without(table, LESS_IN_NARROW) if self._narrow else table, LESS_ASKED)
        if key and key != self._picked_key():
            self.pick(key)
        self._show_picked()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._narrow != (self.width() < ROOMY):
            self._show_bill()

    def _picked(self, _now: QModelIndex, _before: QModelIndex) -> None:
        self._show_picked()
        # The entries below may have come up just now and left the table less room.
        QTimer.singleShot(0, self.table, lambda: self.table.scrollTo(self.table.currentIndex()))

    def _picked_key(self) -> str:
        index = self.table.currentIndex()
        table = self.table.table()
        if not index.isValid() or table is None:
            return self.form.key()
        source = self.table.model().mapToSource(index).row()  # type: ignore[attr-defined]
        return str(table.rows[source][-1]) if source < len(table.rows) else ""

    def _show_picked(self) -> None:
        key = self._picked_key()
        lines = self._bill.lines if self._bill is not None else ()
        line = next((line for line in lines if line.key == key), None)
        self.form.show_line(line, self._project, self._units)
        self._show_problems()

    def _show_problems(self) -> None:
        """Sentences beside the picked part's entries."""
        if self._project is None:
            return
        key = self.form.key()
        rows = self._project.stock
        at = next((k for k, row in enumerate(rows) if row.part == key), len(rows))
        start = f"stock.{at}."
        found = {p[len(start) :]: words for p, words in self._problems.items() if p.startswith(start)}
        for finding in self._bill.findings if self._bill is not None else ():
            if finding.where.startswith(start):
                found.setdefault(finding.where[len(start) :], finding.message)
        self.form.stock.show_problems(found)


def _without(table: Table, headers: frozenset[str]) -> Table:
    """The table without these columns."""
    kept = [k for k, column in enumerate(table.columns) if column.header not in headers]
    rows = tuple(tuple(row[k] for k in kept) for row in table.rows)
    return replace(table, columns=tuple(table.columns[k] for k in kept), rows=rows)


def _in_words(bill: BillAnswer, answer: Answer) -> str:
    parts = answer.plan.parts
    known = [part.mass for part in parts if part.mass is not None]
    unknown = len(parts) - len(known)
    words = f"{len(bill.lines)} lines; the machine's parts have {show(sum(known), 'mass', answer.units)} altogether"
    words += f" ({unknown} carry no mass)." if unknown else "."
    words += f" {bars_words(bill, answer.units)}"
    cost = bill.cost
    if not cost.any_price:
        return f"{words} No price yet: enter one beside a part, fill the price list (Money), or import one."
    words += f" Everything new {show_money(cost.goods, bill.currency)}"
    return words + (
        f"; {len(cost.unpriced)} of all lines have no price and are in no sum." if cost.unpriced else "."
    )
