"""Any section of the machine: drawn to scale, its figures with method and source, and the data sheet's beside them."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import msgspec
from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.answers import Answer
from app.look.theme import Theme
from app.pages.beginnings import make
from app.pages.entries import CHOICES, below
from app.pages.form_column import FormColumn
from app.pages.kinds import KIND_WORDS
from app.pages.page import Page, heading, quiet, two_columns
from app.pages.section_words import bar_words, told
from app.pages.stock import StockButton
from app.pages.tables import ReportTable
from app.reading import read_bytes
from app.widgets.drawing_view import DrawingView
from app.widgets.form import Form
from core.bars import Bar, BarsAnswer
from core.drawing.views import section_drawing
from core.errors import BadEntry
from core.fields import Spec
from core.machine.project import Project
from core.machine.sheet import FIGURES, SheetValues
from core.report.study.bars import figures_table
from core.sections import BoltedPlate, Section, TwoProfiles
from core.sections.built_up import share_band
from core.sections.dxf_reading import read_dxf
from core.storage import BadFile
from core.units import METRIC, UnitSet

SHEET_NOTE = (
    "Ticked automatic: the computed figure counts. Your own figure counts wherever just this section stands, as described "
    "above and before turning; change the section and it waits."
)
UNIT_WORDS = (
    ("", "as the drawing says"),
    ("mm", "millimetres"),
    ("cm", "centimetres"),
    ("m", "metres"),
    ("in", "inches"),
    ("ft", "feet"),
)


class OneSection(msgspec.Struct, frozen=True, kw_only=True):
    """The only field of the form: the section of the bar in view."""

    section: Annotated[Section, Spec("count", None, None, "Section")]


class SectionPage(Page):
    """Chooser, the section's entries, import and data sheet at the left; drawing, words and figures at the right."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._project: Project | None = None
        self._units: UnitSet = METRIC
        self._bars: tuple[Bar, ...] = ()
        self._key = "beam"
        self._problems: dict[str, str] = {}
        self._imported: object = None  # the section that the words below the button go with
        self.chooser = QComboBox(self)
        self.chooser.setAccessibleName("Bar")
        self.chooser.activated.connect(lambda row: self.choose(self.chooser.itemData(row)))
        self.stock = StockButton(self)
        self.stock.taken.connect(self._take)
        self.form = Form(theme, OneSection, METRIC, choices=CHOICES, words=KIND_WORDS, make=make)
        self.form.edited.connect(lambda path, value: self.edited.emit(self._full(path), value))
        self.form.left.connect(lambda path: self.left.emit(self._full(path)))
        self.unit = QComboBox(self)
        self.unit.setAccessibleName("Unit of the drawing")
        self.unit.setToolTip("A unit chosen here wins over what the drawing says.")
        for key, words in UNIT_WORDS:
            self.unit.addItem(words, key)
        self.opener = QPushButton("Import an outline…", self)
        self.opener.setToolTip(
            "A closed outline out of a DXF drawing; loops inside it are holes. It can be undone."
        )
        self.opener.clicked.connect(self._ask)
        self.said = quiet()
        self.said.hide()
        self.sheet = Form(theme, SheetValues, METRIC, skip=frozenset({"section"}))
        self.sheet.edited.connect(self._sheet_edited)
        self.sheet.left.connect(lambda _path: self.left.emit("machine.datasheet"))
        self.view = DrawingView(theme, self)
        self.words = quiet()
        self.table = ReportTable("Figures of the section", self)
        self.table.stretch("Figure")
        self._lay_out()

    def _lay_out(self) -> None:
        self.entries = QWidget(self)
        column = QVBoxLayout(self.entries)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.stock, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.form)
        column.addLayout(_row(QLabel("Drawn in"), self.unit, self.opener))
        column.addWidget(self.said)
        column.addWidget(heading("Off the data sheet"))
        column.addWidget(self.sheet)
        column.addWidget(quiet(SHEET_NOTE))
        chooser = QWidget(self)
        chooser.setLayout(_row(QLabel("Bar"), self.chooser))
        left = FormColumn(self, chooser, self.entries)
        right = QWidget(self)
        inside = QVBoxLayout(right)
        inside.setContentsMargins(6, 10, 12, 8)
        inside.addWidget(self.view, 8)
        inside.addWidget(self.words)
        inside.addWidget(self.table, 5)
        two_columns(self, left, right, (left.minimumWidth(), 800))

    def show_project(self, project: Project, units: UnitSet) -> None:
        if units != self._units:
            self._units = units
            self.form.set_units(units)
            self.sheet.set_units(units)
        self._project = project
        self._fill()

    def show_study(self, answer: Answer, study: Any) -> None:
        found: BarsAnswer | None = study.bars
        if found is None:
            return
        keys = [bar.key for bar in self._bars]
        self._bars = found.bars
        if keys != [bar.key for bar in found.bars] or self._labels() != [bar.label for bar in found.bars]:
            with QSignalBlocker(self.chooser):
                self.chooser.clear()
                for bar in found.bars:
                    self.chooser.addItem(bar.label, bar.key)
        if self._key not in [bar.key for bar in found.bars]:
            self._key = found.bars[0].key
        with QSignalBlocker(self.chooser):
            self.chooser.setCurrentIndex([bar.key for bar in found.bars].index(self._key))
        self._fill()
        self._show_bar()

    def show_problems(self, problems: dict[str, str]) -> None:
        self._problems = problems
        bar = self._bar()
        if bar is None:
            return
        own = below(bar.path.rpartition(".")[0], problems) if bar.path else {}
        last = bar.path.rpartition(".")[2]
        mine = {p: text for p, text in own.items() if p.partition(".")[0] == last}
        self.form.show_problems({"section" + p[len(last) :]: text for p, text in mine.items()})
        row = self._sheet_row()
        self.sheet.show_problems({} if row is None else below(f"machine.datasheet.{row}", problems))

    def choose(self, key: str) -> None:
        """Show this bar."""
        self._key = key
        self.said.hide()
        self._fill()
        self._show_bar()
        self.view.fit()
        self.show_problems(self._problems)

    def import_drawing(self, file: Path, unit: str) -> None:
        """Put the outline in a drawing in the place of the section; what is wrong with it is said on the page."""
        bar = self._bar()
        if bar is None or not bar.path:
            return
        self._imported = self._section()
        try:
            drawn = read_dxf(read_bytes(file), file.stem, unit or None)
        except BadEntry as error:
            self._say(told(error), "problem")
            return
        except BadFile as error:
            self._say(str(error), "problem")
            return
        self._say(" ".join((f"{file.name}, drawn in {drawn.unit}.", *drawn.notes())), "quiet")
        self._imported = drawn.outline
        self._take(drawn.outline)

    def _ask(self) -> None:
        name, _ = QFileDialog.getOpenFileName(self, "Import an outline", "", "DXF (*.dxf)")
        if name:
            self.import_drawing(Path(name), self.unit.currentData())

    def _say(self, words: str, tone: str) -> None:
        self.said.setText(words)
        self.said.setProperty("tone", tone)
        self.said.style().polish(self.said)
        self.said.show()

    def _take(self, section: Any) -> None:
        bar = self._bar()
        if bar is not None and bar.path:
            self.left.emit(bar.path)
            self.edited.emit(bar.path, section)
            self.left.emit(bar.path)

    def _bar(self) -> Bar | None:
        return next((bar for bar in self._bars if bar.key == self._key), None)

    def _labels(self) -> list[str]:
        return [self.chooser.itemText(row) for row in range(self.chooser.count())]

    def _full(self, path: str) -> str:
        """The path in the project of an entry of the form."""
        bar = self._bar()
        return (bar.path if bar is not None else "machine.gantry.beam.section") + path[len("section") :]

    def _section(self) -> Any:
        """The section as it stands in the project, which may be ahead of the figures."""
        bar, project = self._bar(), self._project
        if project is None:
            return None
        if bar is None or not bar.path:
            return bar.section if bar is not None else project.machine.gantry.beam.section
        at: Any = project
        for name in bar.path.split("."):
            at = getattr(at, name, None)
        return at

    def _sheet_row(self) -> int | None:
        """Number of the row of typed values that is about the section in view."""
        section, project = self._section(), self._project
        rows = () if project is None else project.machine.datasheet
        return next((number for number, row in enumerate(rows) if row.section == section), None)

    def _fill(self) -> None:
        section, bar, row = self._section(), self._bar(), self._sheet_row()
        if section is None or self._project is None:
            return
        if self._imported is not None and section != self._imported:
            self._imported = None
            self.said.hide()
        derived = {}
        if isinstance(section, TwoProfiles | BoltedPlate):
            low, _, high = share_band(section)
            derived = {"section.share_low": low, "section.share_high": high}
        self.form.show_values(OneSection(section=section), derived)
        for widget in (self.form, self.stock, self.opener, self.unit):
            widget.setEnabled(bar is None or bool(bar.path))
        values = SheetValues(section=section) if row is None else self._project.machine.datasheet[row]
        known = bar is not None and bar.section == section
        computed = (
            {f.key: f.computed for f in bar.figures if f.key in FIGURES} if known and bar is not None else {}
        )
        self.sheet.show_values(values, computed)

    def _sheet_edited(self, path: str, value: Any) -> None:
        section, project, row = self._section(), self._project, self._sheet_row()
        if project is None or section is None:
            return
        if row is not None:
            self.edited.emit(f"machine.datasheet.{row}.{path}", value)
            return
        try:
            new = SheetValues(section=section, **{path: value})
        except BadEntry as error:
            self.sheet.show_problems({path: told(error)})
            return
        self.edited.emit("machine.datasheet", (*project.machine.datasheet, new))

    def _show_bar(self) -> None:
        bar = self._bar()
        if bar is None:
            return
        units = self._units
        self.view.set_drawing(section_drawing(bar.section, False, units, bar.used, bar.metal, bar.welds))
        self.words.setText(bar_words(bar, units))
        self.table.show_table(figures_table(bar, units), frozenset({"Method and source"}))
        self.table.setToolTip(f"{bar.used.method}\nSource: {bar.used.source}.")


def _row(*widgets: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setContentsMargins(0, 0, 0, 0)
    for widget in widgets:
        row.addWidget(widget, 1 if isinstance(widget, QComboBox) else 0)
    return row
