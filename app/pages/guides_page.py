"""Carriages: what each one carries, how long it lasts, which is the tightest; their ratings entered at the left."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QHBoxLayout, QTabWidget, QVBoxLayout, QWidget

from app.answers import Answer
from app.look.theme import Theme
from app.pages.entries import below
from app.pages.fold import Fold
from app.pages.form_column import ScrolledColumn
from app.pages.headline import HeadlineBar, say
from app.pages.page import Page, heading, quiet, two_columns
from app.pages.tables import ReportTable
from app.widgets.bar_plot import BarPlot, Share
from app.widgets.drawing_view import DrawingView
from app.widgets.form import Form
from core.drawing.primitives import Drawing
from core.drawing.views.carriages import carriages_drawing
from core.guides import GuidesAnswer
from core.guides.names import PATHS
from core.machine.project import Project
from core.machine.rating import CarriageRating
from core.report import csv_text
from core.report.headlines import Headline, guides_headline
from core.report.study.guides import carriages_table, loads_table, one_carriage_table
from core.units import METRIC, UnitSet, show, tell

ENTRIES_WIDTH = 400
ON_DEMAND = frozenset(
    {
        "Tightest",
        "Mean load for the life",
        "Largest load when",
        "Preload gone at",
        "C for 100 km",
        "C0",
        "Ratings from",
    }
)
"""Columns of the CSV that the page leaves out: drawing, hover and entries say the same."""
LONGEST = 1.0e8
ABOUT = (
    "Load over the load at which the wanted life or the wanted static safety would just be met, whichever is nearer; "
    "100 % is the limit. ISO 14728-1 and -2; the load on a carriage is |normal| + |lateral| (common practice)."
)
ABOUT_LOADS = (
    "From the springs of the whole machine in balance, each carriage with the tool where it is worst for it. Equivalent load: "
    "|normal| + |lateral| (common practice)."
)
CAUTION = (
    "A planning aid with the machine's own springs, straight and true rails. Dirt, dry balls and rails out of line end most "
    "carriages sooner than their load. Fit stops: a carriage that runs off its rail drops the gantry and spills its balls."
)
NOTHING = (
    "The machine cannot carry load as described, so there are no forces on carriages; the findings say why."
)


class GuidesPage(Page):
    """Ratings at the left; drawing, bars and tables of all carriages at the right."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._project: Project | None = None
        self._units: UnitSet = METRIC
        self._problems: dict[str, str] = {}
        self._found: GuidesAnswer | None = None
        self._picked = ""
        self.forms: dict[str, Form] = {}
        self.folds: dict[str, Fold] = {}
        self.travel = quiet()
        self.view = DrawingView(theme, self)
        self.view.picked.connect(self.pick)
        self.bars = BarPlot(theme, "Share of what is allowed", self)
        self.bars.set_about(ABOUT)
        self.words = quiet()
        self.headline = HeadlineBar(theme, self)
        self.table = ReportTable("Life and safety of carriages", self)
        self.table.set_about(ABOUT, "Largest load when", "Ratings from")
        self.table.clicked.connect(lambda index: self._pick_row(index.row()))
        self.loads = ReportTable("Loads of carriages in each state", self)
        self.one = ReportTable("Forces on one carriage", self)
        for table in (self.loads, self.one):
            table.set_about(ABOUT_LOADS)
        self.tabs = QTabWidget(self)
        self.tabs.setDocumentMode(True)
        self.tabs.addTab(self.table, "Life and safety")
        self.tabs.addTab(self.loads, "Loads in each state")
        self.tabs.addTab(self.one, "One carriage")
        self._lay_out()

    def _lay_out(self) -> None:
        inside = QWidget(self)
        column = QVBoxLayout(inside)
        column.setContentsMargins(8, 8, 8, 8)
        column.setSpacing(4)
        column.addWidget(heading("Ratings and wishes"))
        for axis in PATHS:
            fold = Fold(f"Carriages along {axis}", lambda axis=axis: self._make_form(axis), inside)
            self.folds[axis] = fold
            column.addWidget(fold)
        column.addWidget(heading("Travel"))
        column.addWidget(self.travel)
        column.addStretch(1)
        scroll = ScrolledColumn(inside, ENTRIES_WIDTH)
        pictures = QWidget(self)
        row = QHBoxLayout(pictures)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.view, 3)
        row.addWidget(self.bars, 2)
        right = QWidget(self)
        rows = QVBoxLayout(right)
        rows.setContentsMargins(6, 10, 12, 8)
        rows.addWidget(self.headline)
        rows.addWidget(pictures, 5)
        rows.addWidget(self.words)
        rows.addWidget(self.tabs, 5)
        rows.addWidget(quiet(CAUTION))
        two_columns(self, scroll, right, (ENTRIES_WIDTH, 860))

    def pick(self, name: str) -> None:
        """Show the forces on the carriage of this name."""
        if self._found is not None and name in {c.name for c in self._found.carriages}:
            self._picked = name
            self._show_one()
            self.tabs.setCurrentWidget(self.one)

    def show_project(self, project: Project, units: UnitSet) -> None:
        if units != self._units:
            for form in self.forms.values():
                form.set_units(units)
        self._project, self._units = project, units
        for axis in self.forms:
            self._fill(axis)
        if not self.folds["X"].is_open() and not self.forms:
            self.folds["X"].set_open(True)

    def show_study(self, answer: Answer, study: Any) -> None:
        found: GuidesAnswer | None = study.guides
        self._found, self._units = found, answer.units
        self.bars.setVisible(found is not None)
        self.tabs.setVisible(found is not None)
        if found is None:
            self.view.set_drawing(Drawing())
            self.headline.say(Headline(NOTHING, "bad"))
            say(self.words, "")
            self.travel.setText("")
            return
        units = answer.units
        self.view.set_drawing(carriages_drawing(answer.project, answer.plan.layout, found, units))
        self.bars.set_shares([_share(found, k, units) for k in range(len(found.carriages))])
        self.bars.set_numbers(lambda: csv_text(carriages_table(found, units)))
        self.table.show_table(carriages_table(found, units), ON_DEMAND)
        self.loads.show_table(loads_table(found, units))
        self._show_one()
        self.travel.setText(_travel(answer.project, found))
        self.headline.say(guides_headline(found))
        say(
            self.words,
            " ".join([_tightest(found, units), *(f.message for f in found.findings)]),
            found.findings,
        )

    def show_problems(self, problems: dict[str, str]) -> None:
        self._problems = dict(problems)
        for axis, form in self.forms.items():
            form.show_problems(below(_path(axis), problems))

    def _make_form(self, axis: str) -> Form:
        form = Form(self.theme, CarriageRating, self._units)
        form.setContentsMargins(8, 0, 0, 6)
        form.edited.connect(lambda path, value: self.edited.emit(f"{_path(axis)}.{path}", value))
        form.left.connect(lambda path: self.left.emit(f"{_path(axis)}.{path}"))
        self.forms[axis] = form
        self._fill(axis)
        form.show_problems(below(_path(axis), self._problems))
        return form

    def _fill(self, axis: str) -> None:
        if self._project is None:
            return
        machine = self._project.machine
        guides = {"X": machine.x_guides, "Y": machine.y_guides, "Z": machine.head.guides}[axis]
        derived = {"dynamic": guides.dynamic_rating, "static": guides.static_rating}
        self.forms[axis].show_values(guides.rating, derived)

    def _pick_row(self, row: int) -> None:
        if self._found is not None:
            self._picked = str(self.table.model().index(row, 0).data())
            self._show_one()

    def _show_one(self) -> None:
        found = self._found
        if found is None:
            return
        names = [c.name for c in found.carriages]
        number = names.index(self._picked) if self._picked in names else found.tightest
        self.one.show_table(one_carriage_table(found, number, self._units))
        self.tabs.setTabText(2, f"Carriage {names[number]}")


def _path(axis: str) -> str:
    return f"{PATHS[axis]}.rating"


def _share(found: GuidesAnswer, k: int, units: UnitSet) -> Share:
    name, tightest = found.carriages[k].name, k == found.tightest
    hint = (
        f"{name}: largest load {tell(float(found.largest[k]), 'force', units)} ({found.largest_state[k]}); "
        f"C0 {show(float(found.static[k]), 'force', units)}, static safety {found.safety[k]:.3g} (ISO 14728-2); "
        f"C {show(float(found.dynamic[k]), 'force', units)}, life {_life(float(found.life[k]), units)} "
        "(ISO 14728-1)" + ("; ratings from memory" if found.typical[k] else "")
    )
    label = f"{name} (tightest)" if tightest else name
    return Share(label, float(found.use[k]), hint, "2" if tightest else "1", hatched=tightest)


def _travel(project: Project, found: GuidesAnswer) -> str:
    parts = [
        f"{case.name} {100 * share:.0f} %" for case, share in zip(project.cases, found.shares, strict=False)
    ]
    motion = project.machine.motion
    steps = ", ".join(
        f"{axis.upper()} {show(getattr(motion, axis).acceleration, 'acceleration', project.units)}"
        for axis in "xyz"
    )
    return (
        f"Shares of all travel: {'; '.join(parts)}; moving without cutting {100 * found.shares[-1]:.0f} %. "
        f"They stand with the load cases on the page Machine. Acceleration: {steps}."
    )


def _tightest(found: GuidesAnswer, units: UnitSet) -> str:
    k = found.tightest
    memory = " Ratings are low figures from memory: enter the datasheet's." if found.typical[k] else ""
    return (
        f"{found.carriages[k].name}: static safety "
        f"{found.safety[k]:.3g} (wanted {found.wanted_safety[k]:.3g}), life {_life(float(found.life[k]), units)} (wanted "
        f"{show(float(found.wanted_life[k]), 'distance_run', units)}).{memory}"
    )


def _life(life: float, units: UnitSet) -> str:
    """A life in words; beyond a hundred thousand kilometres other things end a carriage."""
    if life > LONGEST:
        return f"over {tell(LONGEST, 'distance_run', units, 1)}"
    return tell(life, "distance_run", units)
