"""What has arrived: counts of screws and nuts, which holes are filled for now, and what may be moved meanwhile."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QSplitter, QVBoxLayout, QWidget

from app.answers import Answer
from app.look.theme import Theme
from app.pages.entry_row import EntryRow
from app.pages.form_column import FormColumn
from app.pages.headline import HeadlineBar
from app.pages.page import heading, quiet
from app.pages.tables import ReportTable
from app.widgets.drawing_view import DrawingView
from app.widgets.quantity_entry import CountEntry
from core.drawing.primitives import Drawing
from core.drawing.views.fitting import fitting_drawing
from core.fasteners import RailAnswer
from core.fasteners.interim import InterimAnswer, Kind
from core.machine.interim import InterimWork
from core.machine.ordering import MOST_PIECES, StockRow
from core.machine.project import Project
from core.report.study.interim import (
    axes_table,
    interim_headline,
    interim_table,
    offers_table,
    offers_words,
    runs,
)
from core.units import METRIC, UnitSet

ABOUT = (
    "Ends of every piece first, then always the widest gap; what arrives later only carries on. Margins are for the screw that "
    "gets most, with low friction and low preload: torque and preload by VDI 2230 for the weakest partner; friction and "
    "tightening are those of the joints."
)
CAUTION = (
    "An interim state, never done: no spindle, no cutting, nobody under a beam or in the gantry's way, a helper at the switch. "
    "These are estimates and no promise that anything is safe; what is not listed here is not to be moved."
)
SHOWN_LESS = frozenset(
    {
        "Holes to fill now",
        "The same, likely",
        "The same, high",
        "Still to fit",
        "Open under a resting carriage",
    }
)
"""Columns that the page leaves out: the sentence above the table tells the holes of the rail in view."""
OFFERS_LESS = frozenset({"If rails took none", "Shared with rails", "Left by the rails"})
"""Columns of what joints are offered that the page leaves out."""
FIELDS = ("margin", "hand_push", "most_give", "rest_x", "rest_y")
COUNTS = ("on_hand", "arrived")


class KindRows(QWidget):
    """A row for each kind of screw and nut, with entries of what is on hand and what has arrived.

    Signals:
        recorded(key, field, value, words): a count of the record. left(): the user is done with it.
    """

    recorded = Signal(str, str, object, str)
    left = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._kinds: tuple[str, ...] = ()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(2)
        self._grid.setColumnStretch(0, 1)
        self.entries: dict[tuple[str, str], CountEntry] = {}
        self._figures: dict[str, tuple[QLabel, QLabel]] = {}

    def show_kinds(self, kinds: tuple[Kind, ...], project: Project) -> None:
        if tuple(kind.key for kind in kinds) != self._kinds:
            self._make(kinds)
        records = {row.part: row for row in project.stock}
        for kind in kinds:
            needed, missing = self._figures[kind.key]
            needed.setText(str(kind.needed))
            missing.setText(str(kind.missing) if kind.missing else "none")
            record = records.get(kind.key, StockRow(part=kind.key))
            for field in COUNTS:
                self.entries[kind.key, field].set_value(getattr(record, field))

    def _make(self, kinds: tuple[Kind, ...]) -> None:
        while self._grid.count():
            widget = self._grid.takeAt(0).widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.entries, self._figures = {}, {}
        self._kinds = tuple(kind.key for kind in kinds)
        for column, words in enumerate(("", "Needed", "On hand", "Arrived", "Missing")):
            self._grid.addWidget(quiet(words), 0, column)
        for row, kind in enumerate(kinds, start=1):
            name = QLabel(kind.spec if kind.spec.startswith("ISO") else f"{kind.what} {kind.spec}", self)
            name.setToolTip(f"{kind.what} {kind.spec}")
            name.setWordWrap(True)
            self._grid.addWidget(name, row, 0)
            figures = (QLabel(self), QLabel(self))
            self._figures[kind.key] = figures
            for column, label in ((1, figures[0]), (4, figures[1])):
                label.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
                self._grid.addWidget(label, row, column)
            for column, field in enumerate(COUNTS, start=2):
                words = f"{kind.what} {kind.spec}, {field.replace('_', ' ')}"
                entry = CountEntry(self._theme, words, "Pieces, fitted ones among them.", 0, MOST_PIECES)
                entry.setFixedWidth(86)
                entry.edited.connect(
                    lambda value, key=kind.key, field=field, what=kind.what: self.recorded.emit(
                        key, field, value, what
                    )
                )
                entry.left.connect(self.left)
                self.entries[kind.key, field] = entry
                self._grid.addWidget(entry, row, column)


class ArrivedPanel(QWidget):
    """Signals: edited(path, value), left(path) as of a page; recorded as of `KindRows`."""

    edited = Signal(str, object)
    left = Signal(str)
    recorded = Signal(str, str, object, str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._key = "x_low"
        self._units: UnitSet = METRIC
        self._found: InterimAnswer | None = None
        self._rails: tuple[RailAnswer, ...] = ()
        self.kinds = KindRows(theme, self)
        self.kinds.recorded.connect(self.recorded)
        self.kinds.left.connect(lambda: self.left.emit("stock"))
        self.entries = EntryRow(theme, InterimWork, FIELDS, 2, parent=self)
        self.entries.edited.connect(lambda name, value: self.edited.emit(f"interim.{name}", value))
        self.entries.left.connect(lambda name: self.left.emit(f"interim.{name}"))
        self.headline = HeadlineBar(theme, self)
        self.view = DrawingView(theme, self)
        self.view.setFixedHeight(120)
        self.words = quiet()
        self.axes = ReportTable("What may be moved meanwhile", self)
        self.axes.stretch("Why")
        self.axes.keep_height(230)
        self.table = ReportTable("Interim fitting plan", self)
        self.offer_words = quiet()
        self.offers = ReportTable("What the rails leave for joints", self)
        self.offers.keep_height(215)
        self.offers_heading = heading("Joints, after the rails")
        column = FormColumn(
            self,
            heading("Screws and nuts that are here"),
            self.kinds,
            heading("Taken for granted"),
            self.entries,
            self.offers_heading,
            self.offer_words,
            self.offers,
        )
        right = QWidget(self)
        rows = QVBoxLayout(right)
        rows.setContentsMargins(8, 0, 0, 0)
        rows.setSpacing(6)
        for widget in (self.headline, self.axes, self.view, self.words):
            rows.addWidget(widget)
        rows.addWidget(self.table, 1)
        rows.addWidget(quiet(ABOUT))
        rows.addWidget(quiet(CAUTION))
        across = QSplitter(self)
        across.addWidget(column)
        across.addWidget(right)
        across.setStretchFactor(1, 1)
        across.setSizes([column.minimumWidth(), 760])
        across.setChildrenCollapsible(False)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 6, 0, 0)
        whole.addWidget(across)

    def show_project(self, project: Project, units: UnitSet) -> None:
        self._units = units
        self.entries.show_values(project.interim, units)
        if self._found is not None:
            self.kinds.show_kinds(self._found.kinds, project)

    def show_rail(self, key: str) -> None:
        """Draw this rail."""
        self._key = key
        self._show_rail()

    def show_found(self, answer: Answer, found: InterimAnswer | None) -> None:
        self._found, self._units, self._rails = found, answer.units, answer.plan.rails
        if found is None:
            return
        self.kinds.show_kinds(found.kinds, answer.project)
        self.headline.say(interim_headline(found))
        self.axes.setVisible(bool(found.axes))
        if found.axes:
            self.axes.show_table(axes_table(found, answer.units))
        self.table.show_table(interim_table(found, answer.units), SHOWN_LESS)
        for widget in (self.offers_heading, self.offer_words, self.offers):
            widget.setVisible(found.recorded and bool(found.offers))
        if found.recorded and found.offers:
            self.offer_words.setText(offers_words(found))
            self.offers.show_table(offers_table(found, answer.units), OFFERS_LESS)
        self._show_rail()

    def show_problems(self, problems: dict[str, str]) -> None:
        start = "interim."
        self.entries.show_problems(
            {p.removeprefix(start): w for p, w in problems.items() if p.startswith(start)}
        )

    def _show_rail(self) -> None:
        found = self._found
        rail = next((r for r in self._rails if r.key == self._key), None)
        plan = next((r for r in found.rails if r.key == self._key), None) if found is not None else None
        if rail is None or plan is None:
            self.view.set_drawing(Drawing())
            return
        self.view.set_drawing(fitting_drawing(rail, plan, self._units))
        if not plan.now:
            self.words.setText(f"{rail.label}: no screw with what it goes into is here.")
        elif not plan.still:
            self.words.setText(f"{rail.label}: every hole can be filled.")
        else:
            order = ", ".join(str(number) for number in plan.now[:12]) + (
                " ..." if len(plan.now) > 12 else ""
            )
            first = f"{rail.label}: fill {len(plan.now)} of {plan.holes} now, in this order: {order}."
            self.words.setText(f"{first} Still to fit: {runs(plan.still)}.")
