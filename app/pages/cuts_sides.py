"""The entries of the cut list: bars to cut from, pieces of one's own, the saw."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QTabWidget, QWidget

from app.look.theme import Theme
from app.pages.entries import below
from app.pages.form_column import FormColumn
from app.pages.page import heading, quiet
from app.pages.rows_panel import RowsPanel
from app.widgets.form import Form
from core.machine.project import Project
from core.machine.saw import OwnPiece, Saw, StockBar
from core.report.cut_tables import own_pieces_table, stock_bars_table
from core.units import METRIC, UnitSet

BARS = "What your seller has, and what lies in the rack. What is filled in must fit: empty fits every section or material."
OWN = "Cut from the same bars as the machine's pieces when section and material are the same."
CAUTION = (
    "Saws cut hands and throw pieces. Clamp the bar and what comes off, hands out of the blade's line, no gloves or loose "
    "sleeves, eyes and ears guarded. Long bars tip and roll: rest both ends, lift with help."
)
ANY_SECTION = "40 x 40 x 3"
"""What a piece begins with when the machine has none."""


class CutsSides(QTabWidget):
    """Three tabs, made when they are first shown so that the window opens sooner.

    Args:
        common: gives section and material of most pieces, for new rows to begin with.

    Signals:
        edited(path, value), left(path): as of a page. row_added(path, row), row_removed(path, number): whole rows.
    """

    edited = Signal(str, object)
    left = Signal(str)
    row_added = Signal(str, object)
    row_removed = Signal(str, int)

    def __init__(
        self, theme: Theme, common: Callable[[], tuple[str, str]], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._theme, self._common = theme, common
        self._project: Project | None = None
        self._units: UnitSet = METRIC
        self._problems: dict[str, str] = {}
        self.saw: Form | None = None
        self.panels: list[RowsPanel] = []
        self.setDocumentMode(True)

    def make(self) -> Iterator[None]:
        """Make the entries, piece by piece; once."""
        self.saw = Form(self._theme, Saw, self._units)
        self.saw.edited.connect(lambda name, value: self.edited.emit(f"saw.{name}", value))
        self.saw.left.connect(lambda name: self.left.emit(f"saw.{name}"))
        column = FormColumn(self, heading("Saw"), self.saw, quiet(CAUTION))
        yield
        bars = RowsPanel(
            self._theme, "Bars to cut from", "stock_bars", StockBar, self._first_bar, stock_bars_table, about=BARS, parent=self
        )  # fmt: skip
        bars.table.stretch("For")
        yield
        own = RowsPanel(
            self._theme, "Pieces of your own", "own_pieces", OwnPiece, self._first_piece, own_pieces_table, about=OWN, parent=self
        )  # fmt: skip
        own.table.stretch("Piece")
        yield
        self.panels = [bars, own]
        for widget, words in ((bars, "Bars to cut from"), (own, "Own pieces"), (column, "Saw")):
            self.addTab(widget, words)
        for panel in self.panels:
            panel.edited.connect(self.edited)
            panel.left.connect(self.left)
            panel.added.connect(self.row_added)
            panel.removed.connect(self.row_removed)
        self._fill()
        self.show_problems(self._problems)

    def show_project(self, project: Project, units: UnitSet) -> None:
        self._project, self._units = project, units
        self._fill()

    def show_problems(self, problems: dict[str, str]) -> None:
        """Sentences by full path."""
        self._problems = problems
        for panel in self.panels:
            panel.show_problems(problems)
        if self.saw is not None:
            self.saw.show_problems(below("saw", problems))

    def _fill(self) -> None:
        if self._project is None or self.saw is None:
            return
        self.saw.set_units(self._units)
        self.saw.show_values(self._project.saw)
        for panel in self.panels:
            panel.show_project(self._project, self._units)

    def _first_bar(self, _project: Project) -> StockBar:
        section, material = self._common()
        return StockBar(section=section, material=material)

    def _first_piece(self, _project: Project) -> OwnPiece:
        section, material = self._common()
        return OwnPiece(section=section or ANY_SECTION, material=material)
