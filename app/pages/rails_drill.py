"""Rails in pieces and where to drill: both rails of an axis drawn, the pieces, and every hole and joint from one end."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QFileDialog,
    QHBoxLayout,
    QMenu,
    QSplitter,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.answers import Answer
from app.look.theme import Theme
from app.pages.entry_row import EntryRow
from app.pages.page import heading, quiet
from app.pages.tables import ReportTable
from app.strip_print import strip_svg, strips_pdf
from app.widgets.drawing_view import DrawingView
from app.widgets.picture import CannotSave, save_bytes
from core.drawing.strip import strip_pages
from core.drawing.views.rail_pair import rail_pair_drawing
from core.fasteners import RailAnswer
from core.fasteners.behind import stretches_in_words
from core.fasteners.drilling import DrillAnswer, RailMarks
from core.machine.guides import Guides
from core.machine.project import Project
from core.machine.rail_pieces import RailPieces
from core.report import csv_text
from core.report.drill_dxf import drill_dxf
from core.report.study.drilling import drilling_table, pieces_table, rail_table
from core.units import METRIC, UnitSet, show

FILES = {
    "csv": "The list of all rails as CSV…",
    "dxf": "A drawing of all rails as DXF…",
    "pdf": "Strips of this rail at full size as PDF…",
    "svg": "Strips of this rail at full size as SVG…",
}
LESS = frozenset({"Numbers", "Joint after it, from the rail's start"})
"""Columns of the pieces that the drilling list tells too."""
PATHS = {"x": "machine.x_guides", "y": "machine.y_guides", "z": "machine.head.guides"}
CAUTION = "Centre-punch every mark; clamp the work and wear glasses: chips fly, and a drill that grabs turns the work."


def guides_of(project: Project, axis: str) -> Guides:
    """The guides of an axis."""
    machine = project.machine
    return {"x": machine.x_guides, "y": machine.y_guides, "z": machine.head.guides}[axis]


class DrillPanel(QWidget):
    """Signals: edited(path, value), left(path) as of a page; troubled(sentence): a file could not be written."""

    edited = Signal(str, object)
    left = Signal(str)
    troubled = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._key = "x_low"
        self._project: Project | None = None
        self._units: UnitSet = METRIC
        self._found: DrillAnswer | None = None
        self._rails: tuple[RailAnswer, ...] = ()
        self.entries = EntryRow(theme, RailPieces, ("longest", "stagger", "first", "second"), parent=self)
        self.entries.edited.connect(lambda name, value: self.edited.emit(f"{self._path()}.{name}", value))
        self.entries.left.connect(lambda name: self.left.emit(f"{self._path()}.{name}"))
        self.view = DrawingView(theme, self)
        self.view.setFixedHeight(150)
        self.words = quiet()
        self.pieces = ReportTable("Pieces of the rails", self)
        self.places = ReportTable("Drilling and marking list", self)
        self.from_end = QCheckBox("Count from the other end", self)
        self.from_end.toggled.connect(lambda _on: self._show_places())
        self.save = QToolButton(self)
        self.save.setText("Save as…")
        self.save.setProperty("segment", "true")
        self.save.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(self.save)
        for kind, words in FILES.items():
            menu.addAction(words, lambda kind=kind: self._ask(kind))
        self.save.setMenu(menu)
        self.title = heading("Drilling and marking list")
        self._lay_out()

    def _lay_out(self) -> None:
        left, right = QWidget(self), QWidget(self)
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 6, 0)
        column.addWidget(heading("Pieces of both rails"))
        column.addWidget(self.pieces, 1)
        beside = QVBoxLayout(right)
        beside.setContentsMargins(6, 0, 0, 0)
        row = QHBoxLayout()
        row.addWidget(self.title)
        row.addStretch(1)
        row.addWidget(self.from_end)
        row.addWidget(self.save)
        beside.addLayout(row)
        beside.addWidget(self.places, 1)
        across = QSplitter(Qt.Orientation.Horizontal, self)
        across.addWidget(left)
        across.addWidget(right)
        across.setSizes([505, 705])
        across.setStretchFactor(1, 1)
        across.setChildrenCollapsible(False)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 6, 0, 0)
        whole.setSpacing(6)
        whole.addWidget(self.entries)
        whole.addWidget(self.view)
        whole.addWidget(self.words)
        whole.addWidget(across, 1)
        whole.addWidget(quiet(CAUTION))

    def _axis(self) -> str:
        return self._key[0]

    def _path(self) -> str:
        return f"{PATHS[self._axis()]}.pieces"

    def show_project(self, project: Project, units: UnitSet) -> None:
        self._project, self._units = project, units
        self._show_entries()

    def show_rail(self, key: str) -> None:
        """Look at this rail and its pair."""
        self._key = key
        self._show_entries()
        self._show()

    def show_found(self, answer: Answer, found: DrillAnswer | None) -> None:
        self._found, self._units = found, answer.units
        self._rails = answer.plan.rails
        self._show()

    def show_problems(self, problems: dict[str, str]) -> None:
        start = self._path()
        own = {
            path.removeprefix(f"{start}."): words
            for path, words in problems.items()
            if path.startswith(f"{start}.")
        }
        if start in problems:
            own.setdefault("first", problems[start])
        self.entries.show_problems(own)

    def marks(self) -> RailMarks | None:
        """The marks of the rail in view."""
        rails = self._found.rails if self._found is not None else ()
        return next((rail for rail in rails if rail.key == self._key), None)

    def save_file(self, kind: str, path: Path) -> None:
        """Write the list, the drawing or the strips; several SVG pages get a number each. Raises CannotSave."""
        rail = self.marks()
        if rail is None or self._found is None:
            return
        found, units = self._found, self._units
        makers: dict[str, Callable[[], bytes]] = {
            "csv": lambda: csv_text(drilling_table(found, units)).encode("utf-8"),
            "dxf": lambda: drill_dxf(found.rails, units),
            "pdf": lambda: strips_pdf(strip_pages(rail, units), rail.label),
        }
        if kind != "svg":
            save_bytes(path, makers[kind]())
            return
        for page in strip_pages(rail, self._units):
            name = path if page.pages == 1 else path.with_name(f"{path.stem}-{page.number}{path.suffix}")
            save_bytes(name, strip_svg(page))

    def _ask(self, kind: str) -> None:
        stem = "drilling-list" if kind in ("csv", "dxf") else f"strips-{self._key.replace('_', '-')}"
        name, _ = QFileDialog.getSaveFileName(
            self, FILES[kind], f"{stem}.{kind}", f"{kind.upper()} (*.{kind})"
        )
        if not name:
            return
        try:
            self.save_file(kind, Path(name))
        except CannotSave as error:
            self.troubled.emit(str(error))

    def _show_entries(self) -> None:
        if self._project is not None:
            guides = guides_of(self._project, self._axis())
            derived = {"stagger": guides.data.carriage_length}
            self.entries.show_values(guides.pieces, self._units, derived)

    def _show(self) -> None:
        rail, found = self.marks(), self._found
        if rail is None or found is None:
            return
        axis = self._axis()
        pair = [r for r in self._rails if r.axis == axis]
        self.view.set_drawing(rail_pair_drawing(pair, rail.behind, self._units))
        own = DrillAnswer(tuple(r for r in found.rails if r.axis == axis), found.alike, ())
        self.pieces.show_table(pieces_table(own, self._units), LESS)
        self.words.setText(_words(rail, found.alike.get(axis, False), self._units))
        self._show_places()

    def _show_places(self) -> None:
        rail = self.marks()
        if rail is None:
            return
        table = rail_table(rail, self._units, from_end=self.from_end.isChecked())
        self.title.setText(f"{table.title}, from its {rail.ends[self.from_end.isChecked()]} end")
        hidden = {"Piece", "From the piece's start"} if _single(rail) else set()
        if abs(rail.margin) < 5e-7:  # the same figures once more
            hidden.add("From the beam's end")
        self.places.show_table(table, frozenset(hidden))


def _single(rail: RailMarks) -> bool:
    return not any(mark.kind == "joint" for mark in rail.marks)


def _words(rail: RailMarks, alike: bool, units: UnitSet) -> str:
    same = (
        "Both rails have their holes at the same places." if alike else "The two rails differ in their holes."
    )
    margin = (
        f"The rail's end lies {show(rail.margin, 'length', units)} inside the {rail.beam}'s."
        if rail.margin > 5e-7
        else ""
    )
    return " ".join(
        word for word in (rail.work, same, margin, stretches_in_words(rail.behind, units)) if word
    )
