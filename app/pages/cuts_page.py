"""The cut list: bars to scale with their pieces, what to buy, the order of cutting; saw, bars and pieces of one's own beside."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QScrollArea,
    QSplitter,
    QTabWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.answers import Answer
from app.cut_search import CutSearch
from app.look.theme import Theme
from app.pages.cuts_sides import CutsSides
from app.pages.headline import HeadlineBar
from app.pages.page import Page, heading, quiet
from app.pages.tables import ReportTable
from app.widgets.drawing_view import MARGIN, DrawingView
from app.widgets.picture import CannotSave, save_bytes
from app.widgets.remark import Remark
from core.cuts import CutAnswer
from core.drawing.primitives import Drawing
from core.drawing.views.bars import bars_drawing
from core.machine.project import Project
from core.report import csv_text
from core.report.cut_tables import (
    bars_table,
    buy_table,
    order_table,
    sections_table,
)
from core.report.cut_words import cuts_headline
from core.units import METRIC, UnitSet

LONGER = 30.0
"""Seconds of the longer search that the user may ask for."""
PATIENCE = 300
"""Milliseconds before a search is said to be under way."""
LESS_ASKED = {
    "order": frozenset({"From", "Section", "Material", "Key"}),
    "bars": frozenset({"Material", "In pieces"}),
    "sections": frozenset({"Material", "Bought", "In pieces"}),
    "buy": frozenset[str](),
}
"""Columns of the files that the page leaves out to fit a small screen."""


class CutsPage(Page):
    """Bars above, tables below; at the right the entries.

    Signals:
        row_added(path, row), row_removed(path, number): a whole row of a list.
        troubled(sentence): a file could not be written, or the list not be found.
    """

    row_added = Signal(str, object)
    row_removed = Signal(str, int)
    troubled = Signal(str)

    def __init__(self, theme: Theme, search: CutSearch, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._search = search
        self._units: UnitSet = METRIC
        self._answer: Answer | None = None
        self._cuts: CutAnswer | None = None
        self._problems: dict[str, str] = {}
        search.failed.connect(self.troubled)
        search.busy.connect(self._busy)
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(PATIENCE)
        self._patience.timeout.connect(self._say_state)
        self.headline = HeadlineBar(theme, self)
        self.view = DrawingView(theme, self)
        self.around = QScrollArea(self)
        self.around.setWidgetResizable(True)
        self.around.setFrameShape(QScrollArea.Shape.NoFrame)
        self.around.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.around.setWidget(self.view)
        self.section = QComboBox(self)
        self.section.setAccessibleName("Sections drawn")
        self.section.currentIndexChanged.connect(lambda _index: self._draw())
        self.state = quiet()
        self.stop = self._button("Stop", "Give up the search; the list shown stays.", search.stop)
        self.longer = self._button(
            "Search longer", "Up to half a minute for what is not proven yet.", self.search_longer
        )
        self.save = self._button(
            "Save order of cutting…", "As CSV, to print or to take to the saw.", self._ask_csv
        )
        self.tables = {
            "order": ReportTable("Order of cutting", self),
            "bars": ReportTable("Bars", self),
            "sections": ReportTable("Cut list by section", self),
            "buy": ReportTable("Bars to buy", self),
        }
        for key, stretched in (
            ("order", "Piece"),
            ("bars", "Pieces"),
            ("sections", "Section"),
            ("buy", "Section"),
        ):
            self.tables[key].stretch(stretched)
        self.sides = CutsSides(theme, self._common, self)
        self.sides.edited.connect(self.edited)
        self.sides.left.connect(self.left)
        self.sides.row_added.connect(self.row_added)
        self.sides.row_removed.connect(self.row_removed)
        self._lay_out()
        self._say_state()

    def _button(self, words: str, help_words: str, do: Callable[[], None]) -> QToolButton:
        button = QToolButton(self)
        button.setText(words)
        button.setToolTip(help_words)
        button.setProperty("segment", "true")
        button.clicked.connect(lambda _checked=False: do())
        return button

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.addWidget(heading("Bars"))
        row.addSpacing(8)
        row.addWidget(self.section, 1)
        row.addWidget(self.state)
        for button in (self.stop, self.longer, self.save):
            row.addWidget(button)
        lower = QTabWidget(self)
        lower.setDocumentMode(True)
        for key, words in (
            ("order", "Order of cutting"),
            ("buy", "To buy"),
            ("sections", "By section"),
            ("bars", "Bars"),
        ):
            lower.addTab(self.tables[key], words)
        left = QWidget(self)
        inside = QVBoxLayout(left)
        inside.setContentsMargins(14, 10, 6, 8)
        inside.addWidget(self.headline)
        inside.addLayout(row)
        inside.addWidget(self.around, 6)
        inside.addWidget(lower, 4)
        across = QSplitter(Qt.Orientation.Horizontal, self)
        across.addWidget(left)
        across.addWidget(self.sides)
        across.setStretchFactor(0, 1)
        across.setSizes([790, 460])
        across.setChildrenCollapsible(False)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(across)
        self.view.files.set_numbers(self.csv)
        self.view.files.trouble.connect(self.troubled)

    def make_entries(self) -> Iterator[None]:
        """The lists and the form at the side."""
        yield from self.sides.make()

    def _common(self) -> tuple[str, str]:
        """Section and material of most pieces, in words that a row is found by."""
        groups = () if self._cuts is None else self._cuts.groups
        if not groups:
            return "", ""
        group = max(groups, key=lambda g: sum(len(bar.pieces) for bar in g.bars))
        return group.section.partition(",")[0], group.material

    def show_project(self, project: Project, units: UnitSet) -> None:
        self._units = units
        self.sides.show_project(project, units)

    def show_answer(self, answer: Answer) -> None:
        self._answer = answer
        bill = answer.plan.bill
        if bill is not None and bill.cuts is not None and bill.cuts is not self._cuts:
            self.show_cuts(bill.cuts)

    def show_problems(self, problems: dict[str, str]) -> None:
        self._problems = dict(problems)
        self._show_problems()

    def search_longer(self) -> None:
        """Look for a better list, for as long as somebody may want to wait."""
        if self._answer is not None:
            self._search.search(self._answer.plan, LONGER)

    def close_work(self) -> None:
        """Nothing is shown from now on."""
        self._patience.stop()
        self._search.close()

    @property
    def waiting(self) -> bool:
        """Whether a search is under way."""
        return self._search.waiting

    def csv(self) -> str:
        """The order of cutting as CSV."""
        return "" if self._cuts is None else csv_text(order_table(self._cuts, self._units))

    def show_cuts(self, cuts: CutAnswer) -> None:
        """Show a cut list."""
        if self._answer is None:
            return
        self._cuts = cuts
        units = self._answer.units
        self.headline.say(cuts_headline(cuts, units))
        self._name_sections(cuts)
        self._draw()
        for key, table in (
            ("order", order_table(cuts, units)),
            ("bars", bars_table(cuts, units)),
            ("sections", sections_table(cuts, units)),
            ("buy", buy_table(cuts, units)),
        ):
            self.tables[key].show_table(table, LESS_ASKED[key])
        self._say_state()
        self._show_problems()

    def _busy(self, busy: bool) -> None:
        if busy:
            self._patience.start()
        else:
            self._patience.stop()
            self._say_state()

    def _say_state(self) -> None:
        busy = self._search.waiting
        self.stop.setVisible(busy)
        cuts = self._cuts
        proven = cuts is None or all(cuts.proven(group) for group in cuts.groups)
        self.longer.setVisible(not busy and not proven)
        self.save.setEnabled(bool(cuts is not None and cuts.pieces))
        self.state.setText("Searching…" if busy else "")
        self.state.setVisible(busy)

    def _name_sections(self, cuts: CutAnswer) -> None:
        names = [group.label for group in cuts.groups]
        if names == [self.section.itemText(k) for k in range(1, self.section.count())]:
            return
        chosen = self.section.currentText()
        self.section.blockSignals(True)
        self.section.clear()
        self.section.addItems([f"All {len(names)} sections", *names])
        self.section.setCurrentIndex(max(0, self.section.findText(chosen)))
        self.section.blockSignals(False)

    def _draw(self) -> None:
        if self._cuts is None or self._answer is None:
            self.view.set_drawing(Drawing(title="Cut list"))
            return
        at = self.section.currentIndex()
        drawing = bars_drawing(self._cuts, self._answer.units, None if at < 1 else at - 1)
        self.view.set_drawing(drawing)
        self.view.fit()
        self._make_room()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        QTimer.singleShot(
            0, self, self._make_room
        )  # the scrolled room gets its width a moment after the page

    def _make_room(self) -> None:
        """Make the drawing so tall that its bars keep their width however many there are; beyond the page it scrolls."""
        bounds = self.view.drawing().bounds()
        if bounds is None or bounds.width <= 0.0:
            self.view.setMinimumHeight(0)
            return
        wide = self.around.viewport().width() - 2 * MARGIN
        self.view.setMinimumHeight(round(wide * bounds.height / bounds.width + 2 * MARGIN))

    def _show_problems(self) -> None:
        """Sentences beside the entries: the desk's, and the findings of the list shown."""
        found: dict[str, str] = {}
        for finding in self._cuts.findings if self._cuts is not None else ():
            place = finding.where if finding.where != "stock_bars" else "stock_bars.0.length"
            if place != "saw" and finding.code != "bar-length-assumed":
                found.setdefault(place, Remark([finding.message], finding.severity == "limit"))
        found |= self._problems
        self.sides.show_problems(found)

    def _ask_csv(self) -> None:
        name, _ = QFileDialog.getSaveFileName(
            self, "Save the order of cutting", "cut-list.csv", "CSV (*.csv)"
        )
        if name:
            self.save_csv(Path(name))

    def save_csv(self, file: Path) -> None:
        """Write the order of cutting; trouble is told."""
        try:
            save_bytes(file, self.csv().encode("utf-8"))
        except CannotSave as error:
            self.troubled.emit(str(error))
