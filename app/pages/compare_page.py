"""Variants side by side: what differs first, curves over each other, budgets, and the picked variant's entries."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QMenu,
    QPushButton,
    QScrollArea,
    QSplitter,
    QTabWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.answers import Answer
from app.look.theme import Theme
from app.pages.compare_budgets import Budgets
from app.pages.compare_plots import show_overlaid, show_sags
from app.pages.compare_table import SideBySide
from app.pages.compare_waiting import Waiting
from app.pages.entries import below
from app.pages.fold import Fold
from app.pages.form_column import FormColumn
from app.pages.page import Page, heading
from app.pages.stock import StockButton
from app.pages.tables import ReportTable
from app.pages.variant_form import VariantForm
from app.widgets.form import Form
from app.widgets.plot import LinePlot
from app.widgets.plot_engine import PlotEngine
from core.comparison import ComparisonAnswer, sentences
from core.machine.fastening import HoleWork
from core.machine.project import Project
from core.report import csv_text
from core.report.study.comparison import screen_tables, variant_curves_table, variants_table
from core.report.study.cost_differences import costs_table
from core.study import Study
from core.units import METRIC, UnitSet

AHEAD = (
    "Ahead (behind) at both ends: the bands overlap, but most of what is uncertain is the same unknown in both machines, and "
    "with everything soft, likely or stiff alike the order is the same. Where it is not, there is no clear difference."
)
COST = "Everything new by your prices and net lengths, as the parts list has them; bars and their offcuts stand in the cut list."
NONE = "No variants yet. Add one, or set an extruded beam against a welded one."


class ComparePage(Page):
    """Tables, curves and budgets of all machines; the picked variant can be edited, used, moved or removed.

    Signals:
        beam_added(entry): a catalogue entry to compare. added(): a variant that lists nothing yet.
        builds_wanted(by): extruded against welded, with this held equal ("outer size" or "mass").
        file_wanted(), saved_wanted(): what another project file has otherwise; what changed since this one was saved.
        copied(row), used(row), removed(row), moved(row, to): of the variants, counted from 0.
        changed(row, path, value), dropped(row, path): an entry of a variant.
        compare_wanted(yes): work the variants out, or give it up.
        export_wanted(): the figures as a CSV file.
    """

    beam_added = Signal(object)
    added = Signal()
    builds_wanted = Signal(str)
    file_wanted = Signal()
    saved_wanted = Signal()
    copied = Signal(int)
    used = Signal(int)
    removed = Signal(int)
    moved = Signal(int, int)
    changed = Signal(int, str, object)
    dropped = Signal(int, str)
    compare_wanted = Signal(bool)
    export_wanted = Signal()

    def __init__(self, theme: Theme, engine: PlotEngine, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._project: Project | None = None
        self._units: UnitSet = METRIC
        self._answer: Answer | None = None
        self._problems: dict[str, str] = {}
        self._row = -1
        self._make_buttons()
        self._make_picking()
        self._make_figures()
        self._make_curves(engine)
        self.budgets = Budgets(theme, self)
        self.tabs = QTabWidget(self)
        self.tabs.addTab(self._figures, "Figures")
        self.tabs.addTab(self._curves, "Curves")
        self.tabs.addTab(self.budgets, "Budgets")
        self.costs = ReportTable("What the variants cost otherwise", self)
        self.costs.stretch("Line")
        self.costs.set_about(COST)
        self.tabs.addTab(self.costs, "Cost")
        self.tabs.addTab(self._said, "In words")
        left = QWidget(self)
        inside = QVBoxLayout(left)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addWidget(self.words)
        inside.addWidget(self.waiting)
        inside.addWidget(self.tabs, 1)
        across = QSplitter(self)
        across.addWidget(left)
        across.addWidget(self._make_form())
        across.setStretchFactor(0, 1)
        across.setStretchFactor(1, 0)
        across.setChildrenCollapsible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 8, 8)
        column.addLayout(self._top)
        column.addLayout(self._picking)
        column.addWidget(across, 1)
        self._enable()

    def _make_buttons(self) -> None:
        self.add = self._menu("Add a variant", "Adds a variant of this machine.")
        menu = self.add.menu()
        menu.addAction("The machine, to be edited here", self.added.emit)
        self._copy = menu.addAction("A copy of the picked one", lambda: self.copied.emit(self._row))
        menu.addAction("What differs in another project file…", self.file_wanted.emit)
        menu.addAction("What changed since this file was saved", self.saved_wanted.emit)
        self.stock = StockButton(self, "Add a beam")
        self.stock.setToolTip(
            "Adds a variant with a beam from the catalogue, in its usual metal and fastening."
        )
        self.stock.taken_entry.connect(self.beam_added)
        self.builds = self._menu(
            "Extruded against welded",
            "Adds two variants: a slotted profile and a steel tube, each with its own fastening, form and welds.",
        )
        for by in ("outer size", "mass"):
            self.builds.menu().addAction(f"Of near equal {by}", lambda by=by: self.builds_wanted.emit(by))
        self.save = QPushButton("Save as CSV…", self)
        self.save.clicked.connect(self.export_wanted)
        self.against = QComboBox(self)
        self.against.setAccessibleName("Compared with")
        self.against.setMaximumWidth(220)
        self.against.currentIndexChanged.connect(lambda _row: self._say())
        self._top = QHBoxLayout()
        self._top.addWidget(heading("Variants side by side"))
        self._top.addStretch(1)
        for button in (self.add, self.stock, self.builds, self.save):
            self._top.addWidget(button)

    def _menu(self, words: str, help_words: str) -> QToolButton:
        button = QToolButton(self)
        button.setText(words)
        button.setProperty("segment", "true")
        button.setToolTip(help_words)
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        button.setMenu(QMenu(button))
        return button

    def _make_figures(self) -> None:
        self.words, self.all_words = self._label(NONE), self._label("")
        self._said = QScrollArea(self)
        self._said.setWidgetResizable(True)
        self._said.setFrameShape(QScrollArea.Shape.NoFrame)
        self._said.setWidget(self.all_words)
        self.waiting = Waiting(self)
        self.waiting.asked.connect(self.compare_wanted)
        self.table = self._make_table("What differs")
        self.same = self._make_table("What is the same")
        self.same.hide()  # until it is unfolded
        self.fold = Fold("The same in all", lambda: self.same, self)
        self._minutes: Form | None = None
        self.minutes = Fold("Your minutes on each hole", self._make_minutes, self)
        self._figures = QScrollArea(self)
        self._figures.setWidgetResizable(True)
        self._figures.setFrameShape(QScrollArea.Shape.NoFrame)
        self._figures.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        inside = QWidget(self)
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 4, 4, 0)
        column.addWidget(self.table)
        column.addWidget(self.fold)
        column.addWidget(self.minutes)
        column.addStretch(1)
        self._figures.setWidget(inside)

    def _make_minutes(self) -> Form:
        form = self._minutes = Form(self.theme, HoleWork, self._units)
        form.edited.connect(lambda field, value: self.edited.emit(f"hole_work.{field}", value))
        form.left.connect(lambda field: self.left.emit(f"hole_work.{field}"))
        if self._project is not None:
            form.show_values(self._project.hole_work)
        return form

    def _label(self, words: str) -> QLabel:
        label = QLabel(words, self)
        label.setWordWrap(True)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        label.setAlignment(Qt.AlignmentFlag.AlignTop)
        return label

    def _make_table(self, name: str) -> SideBySide:
        table = SideBySide(name, self)
        table.clicked.connect(lambda index: self._clicked(index.column()))
        table.horizontalHeader().sectionClicked.connect(self._clicked)
        return table

    def _make_curves(self, engine: PlotEngine) -> None:
        self.along_x = LinePlot(self.theme, engine, "Tip deflection along X", "", "", from_zero=True)
        self.sag = LinePlot(self.theme, engine, "Sag of the beam", "", "")
        self.case = QComboBox(self)
        self.case.setAccessibleName("Load case")
        self.case.currentIndexChanged.connect(lambda _row: self._draw())
        self._curves = QWidget(self)
        column = QVBoxLayout(self._curves)
        column.setContentsMargins(0, 4, 4, 0)
        row = QHBoxLayout()
        row.addWidget(QLabel("Load case", self))
        row.addWidget(self.case)
        row.addStretch(1)
        column.addLayout(row)
        column.addWidget(self.along_x, 3)
        column.addWidget(self.sag, 2)

    def _make_picking(self) -> None:
        self.which = QComboBox(self)
        self.which.setAccessibleName("Variant to edit")
        self.which.setMaximumWidth(260)
        self.which.currentIndexChanged.connect(lambda row: self.pick(row - 1))
        self.earlier, self.later = QPushButton("◂", self), QPushButton("▸", self)
        for button, step, words in ((self.earlier, -1, "Move left"), (self.later, 1, "Move right")):
            button.setToolTip(words)
            button.setAccessibleName(words)
            button.setMaximumWidth(34)
            button.clicked.connect(lambda _on=False, step=step: self.moved.emit(self._row, self._row + step))
        self.use = QPushButton("Make it the machine", self)
        self.use.setToolTip(
            "Puts this variant in the machine's place; the machine as it was stays as a variant. Can be undone."
        )
        self.use.clicked.connect(lambda: self.used.emit(self._row))
        self.remove = QPushButton("Remove", self)
        self.remove.clicked.connect(lambda: self.removed.emit(self._row))
        self._picking = QHBoxLayout()
        self._picking.addWidget(QLabel("Edit", self))
        for widget in (self.which, self.earlier, self.later, self.use, self.remove):
            self._picking.addWidget(widget)
        self._picking.addStretch(1)
        self._picking.addWidget(QLabel("Against", self))
        self._picking.addWidget(self.against)

    def _make_form(self) -> FormColumn:
        self.form = VariantForm(self.theme, METRIC)
        self.form.named.connect(lambda field, value: self.edited.emit(f"variants.{self._row}.{field}", value))
        self.form.changed.connect(lambda path, value: self.changed.emit(self._row, path, value))
        self.form.dropped.connect(lambda path: self.dropped.emit(self._row, path))
        self.form.left.connect(self.left)
        self._column = FormColumn(self, self.form)
        self._column.hide()
        return self._column

    def wants(self) -> bool:
        """Whether variants are to be worked out while the page is in view."""
        return self.waiting.wants()

    def pick(self, row: int) -> None:
        """Edit the variant of this row; -1 is the machine itself, which is edited on its own pages."""
        self._row = row
        with QSignalBlocker(self.which):
            self.which.setCurrentIndex(row + 1)
        self._enable()
        self._show_form()
        self._say()

    def compare_with(self, row: int) -> None:
        """Compare with the variant of this row; -1 is the machine itself."""
        self.against.setCurrentIndex(row + 1)

    def picked(self) -> int:
        return self._row

    def show_project(self, project: Project, units: UnitSet) -> None:
        self._project, self._units = project, units
        self.waiting.set_count(len(project.variants))
        if self._minutes is not None:
            self._minutes.show_values(project.hole_work)
        names = ["This machine", *(variant.name for variant in project.variants)]
        for box in (self.which, self.against):
            if names != [box.itemText(row) for row in range(box.count())]:
                kept = box.currentIndex()
                with QSignalBlocker(box):
                    box.clear()
                    box.addItems(names)
                    box.setCurrentIndex(kept if 0 <= kept < len(names) else 0)
        cases = [case.name for case in project.cases]
        if cases != [self.case.itemText(row) for row in range(self.case.count())]:
            with QSignalBlocker(self.case):
                self.case.clear()
                self.case.addItems(cases)
        self.pick(self._row if self._row < len(project.variants) else -1)

    def show_study(self, answer: Answer, study: Study) -> None:
        if study.comparison is None:
            self._enable()
            return
        if self._answer is None or self._answer.wish.place.case != answer.wish.place.case:
            with QSignalBlocker(self.case):
                self.case.setCurrentIndex(answer.wish.place.case)
        self._answer = answer
        found = study.comparison
        apart, same = screen_tables(found, answer.units)
        self.table.show_machines(apart, found)
        self.same.show_machines(same, found)
        self.costs.show_table(costs_table(found))
        self.budgets.show_budgets(found, answer.units, self.case.currentIndex())
        self._say()
        self._draw()
        self._enable()
        self._mark_problems()

    def show_problems(self, problems: dict[str, str]) -> None:
        self._problems = problems
        if self._minutes is not None:
            self._minutes.show_problems(below("hole_work", problems))
        self._mark_problems()

    def csv(self) -> str:
        """The figures with their bands as CSV text; empty before there are any."""
        found = self._found()
        return "" if found is None else csv_text(variants_table(found, self._units))

    def _found(self) -> ComparisonAnswer | None:
        if self._answer is None or self._answer.study is None:
            return None
        return self._answer.study.comparison

    def _clicked(self, column: int) -> None:
        if column >= 1:
            self.pick(column - 2)

    def _say(self) -> None:
        """The picked machine's sentence above the tabs, all of them on their own."""
        found = self._found()
        if found is None:
            return
        against = min(max(self.against.currentIndex(), 0), len(found.machines) - 1)
        told = sentences(found, self._units, against)
        picked = min(self._row + 1, len(told) - 1)
        self.words.setText(told[picked] if len(told) > 1 else NONE)
        notes = [f"{machine.name}: {machine.note}" for machine in found.machines if machine.note]
        self.all_words.setText("\n\n".join([*told, *notes, AHEAD, *(f.message for f in found.findings)]))

    def _draw(self) -> None:
        found, case = self._found(), max(self.case.currentIndex(), 0)
        if found is None:
            return
        show_overlaid(self.along_x, found, case, self._units)
        show_sags(self.sag, found, self._units)
        self.costs.show_table(costs_table(found))
        self.budgets.show_budgets(found, self._units, case)
        for plot in (self.along_x, self.sag):
            plot.set_numbers(lambda: csv_text(variant_curves_table(found, self._units)))

    def _enable(self) -> None:
        count = 0 if self._project is None else len(self._project.variants)
        for widget in (self.use, self.remove):
            widget.setEnabled(self._row >= 0)
        self._copy.setEnabled(self._row >= 0)
        self.earlier.setEnabled(self._row > 0)
        self.later.setEnabled(0 <= self._row < count - 1)
        self.save.setEnabled(self._found() is not None)
        self.waiting.show_state()

    def _show_form(self) -> None:
        shown = self._project is not None and 0 <= self._row < len(self._project.variants)
        self._column.setVisible(shown)
        if shown and self._project is not None:
            self.form.show_variant(self._project, self._project.variants[self._row], self._units)
            self._mark_problems()

    def _mark_problems(self) -> None:
        """What was refused or does not fit, and what the variant's own findings say of its entries."""
        if self._row < 0:
            return
        told: dict[str, str] = {}
        found = self._found()
        if found is not None and self._row + 1 < len(found.machines):
            for finding in found.machines[self._row + 1].findings:
                if finding.severity != "note":
                    told.setdefault(finding.where.removeprefix(f"variants.{self._row}."), finding.message)
        self.form.show_problems(told | below(f"variants.{self._row}", self._problems))
