"""Form: how straight things arrive against what the rails want, what welds add, and the shims for measured heights."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from PySide6.QtWidgets import QSplitter, QTabWidget, QVBoxLayout, QWidget

from app.answers import Answer
from app.look.theme import Theme
from app.pages.beginnings import make
from app.pages.entries import below
from app.pages.form_column import FormColumn
from app.pages.headline import HeadlineBar, say
from app.pages.page import Page, heading, quiet
from app.pages.shims_panel import ShimsPanel
from app.pages.tables import ReportTable
from app.widgets.bar_plot import BarPlot, Share
from app.widgets.form import Form
from app.widgets.if_room import IfRoom
from app.widgets.plot_engine import PlotEngine
from core.form import FormAnswer
from core.machine.form import Straightness
from core.machine.project import Project
from core.report import csv_text
from core.report.headlines import form_headline
from core.report.study.form import delivery_table, weld_table
from core.units import METRIC, UnitSet

ABOUT = (
    "What a standard allows is the worst that may be delivered, not what will come: most pieces are better. Rails screwed "
    "to a crooked seat take on its shape. Sight along a piece, or measure it, before it is drilled. Rest the pointer on a row "
    "for the standard it is from."
)
WELDING = (
    "Bow = 0.005 Aw L² d / I (Blodgett), an estimate for steel. Welding blinds, burns and sets fires, its fume harms lungs, "
    "and a weld that fails drops the beam: mask, gloves, air, nothing that burns nearby, a fire watch afterwards, zinc and "
    "paint off first, and a competent welder for what carries load. Follow the local rules."
)

MOST_ROWS = 376
"""Height in pixels beyond which the table of what is delivered scrolls."""
SOURCE = frozenset({"Source"})
"""Column told when the pointer rests on a row, so that the figures keep their room."""

CLASSES = {
    "machined_lengths": (("f", "f, fine"), ("m", "m, medium"), ("c", "c, coarse"), ("v", "v, very coarse")),
}
"""Words for classes whose letters are small in the standard."""


class FormPage(Page):
    """Wishes and welds at the left; delivery, welds and shims at the right."""

    def __init__(self, theme: Theme, engine: PlotEngine, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._units: UnitSet = METRIC
        self._automatic: dict[str, float] = {}
        self._project: Project | None = None
        skip = frozenset({"x_heights", "y_heights"})
        self.form = Form(theme, Straightness, METRIC, skip=skip, choices=CLASSES, make=make)
        self.form.edited.connect(lambda path, value: self.edited.emit(f"straightness.{path}", value))
        self.form.left.connect(lambda path: self.left.emit(f"straightness.{path}"))
        self.delivery = ReportTable("Form as delivered", self)
        self.delivery.stretch("What")
        self.delivery.set_about("", "Source")
        self.headline = HeadlineBar(theme, self)
        self.welds = ReportTable("Bow by welding", self)
        self.welds.stretch("Welds")
        self.welds.set_about(
            "Bow = 0.005 Aw L² d / I, an estimate for steel. Source: Blodgett, Design of Weldments."
        )
        self.weld_words = quiet()
        self.bars = BarPlot(
            theme, "At its worst, times what the rails want", self, say=lambda part: f"{part:.3g}"
        )
        self.bars.set_about(ABOUT)
        self.bars_room = IfRoom(self.bars, self)
        self.shims = ShimsPanel(theme, engine, self)
        self.shims.hide()
        self.shims.edited.connect(self.edited)
        self.shims.left.connect(self.left)
        self.tabs = QTabWidget(self)
        self.tabs.setDocumentMode(True)
        self.tabs.addTab(self._both(), "Delivery and welds")
        across = QSplitter(self)
        left = FormColumn(self, heading("Straightness"), self.form)
        across.addWidget(left)
        right = QWidget(self)
        inside = QVBoxLayout(right)
        inside.setContentsMargins(6, 8, 12, 8)
        inside.addWidget(self.headline)
        inside.addWidget(self.tabs, 1)
        across.addWidget(right)
        across.setStretchFactor(1, 1)
        across.setSizes([left.minimumWidth(), 800])
        across.setChildrenCollapsible(False)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(across)

    def make_entries(self) -> Iterator[None]:
        """The second tab joins the page by itself: laying it out takes a third of the page's time."""
        self.tabs.addTab(self.shims, "Shims for measured heights")
        yield

    def _both(self) -> QWidget:
        """What is delivered, and below it what welds add."""
        panel = QWidget(self)
        column = QVBoxLayout(panel)
        column.setContentsMargins(0, 6, 0, 0)
        for widget in (
            self.delivery,
            quiet(ABOUT),
            heading("Welds"),
            self.welds,
            self.weld_words,
            quiet(WELDING),
        ):
            column.addWidget(widget)
        column.addWidget(self.bars_room, 1)
        self.delivery.keep_height(MOST_ROWS)
        self.welds.keep_height(MOST_ROWS // 2)
        return panel

    def show_project(self, project: Project, units: UnitSet) -> None:
        if units != self._units:
            self._units = units
            self.form.set_units(units)
        self._project = project
        self.form.show_values(project.straightness, self._automatic)
        self.shims.show_project(project, units)

    def show_study(self, answer: Answer, study: Any) -> None:
        found: FormAnswer | None = study.form
        if found is None:
            return
        units = answer.units
        if found.automatic != self._automatic:
            self._automatic = dict(found.automatic)
            if self._project is not None:
                self.form.show_values(self._project.straightness, self._automatic)
        self.headline.say(form_headline(found, units))
        self.delivery.show_table(delivery_table(found, units), SOURCE)
        self.bars.set_shares(_shares(found))
        self.bars.set_numbers(lambda: csv_text(delivery_table(found, units)))
        self.bars_room.look_again()
        self.welds.show_table(weld_table(found, units))
        self.welds.setVisible(bool(found.welds))
        bows = [f for f in found.findings if f.code == "weld-bow"]
        nothing = "The planned welds bow no more than the rails take." if found.welds else NO_WELDS
        say(self.weld_words, "\n".join(f.message for f in bows) or nothing, bows)
        self.shims.show_form(found, units)

    def show_problems(self, problems: dict[str, str]) -> None:
        self.form.show_problems(below("straightness", problems))


def _shares(found: FormAnswer) -> list[Share]:
    """A bar for each thing that the rails ask for; hatched where it is out at its worst."""
    return [
        Share(
            f"{d.part[:1].upper()}{d.part[1:]}, {d.what}",
            d.ratio,
            f"{d.standard} ({d.status})" if d.status else d.standard,
            "2" if d.ratio > 1.0 else "1",
            hatched=d.ratio > 1.0,
        )
        for d in found.deviations
        if d.ratio is not None
    ]


NO_WELDS = (
    "No welds are entered. Add rows at the left, under Welds: leg, number, how far off the beam's middle line. Welds on "
    "opposite sides balance."
)
