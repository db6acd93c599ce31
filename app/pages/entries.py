"""The entries of the machine in groups that fold: one form for each part, made when its group is opened."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from operator import attrgetter
from typing import Any

import msgspec
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from app.look.theme import Theme
from app.pages.beginnings import make
from app.pages.choices import WORKPIECE_CHOICES
from app.pages.fold import Fold
from app.pages.kinds import KIND_WORDS
from app.pages.stock import StockButton
from app.widgets.form import Form
from core.machine.base import Base
from core.machine.gantry import FootPlate, GantryBeam, Upright
from core.machine.guides import Guides
from core.machine.head import Cutter, Head, Saddle
from core.machine.loads import Limits, LoadCase
from core.machine.project import COMPONENTS, Machine, Project, WorkArea
from core.materials import materials
from core.units import UnitSet

_ALL = frozenset(Machine.__struct_fields__)


class CasesAndLimits(msgspec.Struct, frozen=True):
    """The two fields of a project that one group shows together."""

    cases: tuple[LoadCase, ...]
    limits: Limits


def _cases_and_limits(project: Project) -> CasesAndLimits:
    return CasesAndLimits(cases=project.cases, limits=project.limits)


@dataclass(frozen=True, slots=True)
class Group:
    """A foldable group: which struct at which path, and fields left out.

    `pick` gives the struct out of a project; by default what stands at the path. `stock` names the field
    that may take a section out of the catalogue.
    """

    title: str
    path: str
    struct: type[msgspec.Struct]
    skip: frozenset[str] = frozenset()
    pick: Callable[[Project], Any] | None = None
    stock: str = ""

    def value(self, project: Project) -> Any:
        if self.pick is not None:
            return self.pick(project)
        return attrgetter(self.path)(project) if self.path else project


RATING = frozenset({"rating", "pieces"})  # entries on the pages of carriages and of rails
NUTS = frozenset({"nut_kind", "closed_ends", "parked_nuts"})  # entries on the page of rails

GROUPS: tuple[Group, ...] = (
    Group("Work area", "machine.work", WorkArea),
    Group("Gantry beam", "machine.gantry.beam", GantryBeam, NUTS, stock="section"),
    Group("Uprights", "machine.gantry.upright", Upright, stock="section"),
    Group("Foot plates", "machine.gantry.foot_plate", FootPlate),
    Group("Guides along X", "machine.x_guides", Guides, RATING),
    Group("Guides along Y", "machine.y_guides", Guides, RATING),
    Group("Saddle", "machine.saddle", Saddle),
    Group("Head", "machine.head", Head, RATING | NUTS),
    Group("Cutter", "machine.cutter", Cutter),
    Group("Drives", "machine", Machine, _ALL - {"x_drive", "y_drive"}),
    Group("Base", "machine.base", Base, NUTS, stock="section"),
    Group("Load cases and limits", "", CasesAndLimits, pick=_cases_and_limits),
    Group("Conditions of the answers", "machine", Machine, _ALL - {"tip_height", "temperature", "rigid"}),
    Group("Project", "", Project, frozenset(Project.__struct_fields__) - {"name", "note"}),
)

MATERIAL_CHOICES = tuple((material.key, material.name) for material in materials())
CHOICES: dict[str, Any] = {
    "material": MATERIAL_CHOICES,
    "cross_material": MATERIAL_CHOICES,
    "workpiece": WORKPIECE_CHOICES,
    "rigid": tuple(COMPONENTS.items()),
}


def below(prefix: str, values: Mapping[str, Any]) -> dict[str, Any]:
    """Those of the values whose path lies under the prefix, by the rest of the path."""
    if not prefix:
        return dict(values)
    start = prefix + "."
    return {path[len(start) :]: value for path, value in values.items() if path.startswith(start)}


class Entries(QScrollArea):
    """All groups below each other.

    Signals:
        edited(path, value), left(path): as of a form, with full paths.
    """

    edited = Signal(str, object)
    left = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._project: Project | None = None
        self._units: UnitSet | None = None
        self._derived: dict[str, Any] = {}
        self._problems: dict[str, str] = {}
        self.folds: dict[str, Fold] = {}
        self._forms: dict[str, tuple[Group, Form]] = {}
        self._behind: set[str] = set()
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Entries of the machine")
        inside = QWidget(self)
        column = QVBoxLayout(inside)
        column.setContentsMargins(6, 6, 8, 6)
        column.setSpacing(4)
        for group in GROUPS:
            fold = Fold(group.title, lambda group=group: self._make_form(group), inside)
            fold.opened.connect(lambda group=group: self._catch_up(group))
            self.folds[group.title] = fold
            column.addWidget(fold)
        column.addStretch(1)
        self.setWidget(inside)

    def open_group(self, title: str) -> None:
        self.folds[title].set_open(True)

    def prepare_group(self, title: str) -> None:
        """Make a group's form without opening it: the longer half of opening it for the first time."""
        self.folds[title].prepare()

    def form_of(self, path: str) -> tuple[Form, str]:
        """The form that holds the entry at a full path (its group is opened) and the path within it."""
        for title, fold in self.folds.items():
            group = next(g for g in GROUPS if g.title == title)
            rest = path[len(group.path) + 1 :] if group.path else path
            if group.path and not path.startswith(group.path + "."):
                continue
            if (
                rest.partition(".")[0] in group.skip
                or rest.partition(".")[0] not in group.struct.__struct_fields__
            ):
                continue
            fold.set_open(True)
            return self._forms[title][1], rest
        raise KeyError(path)

    def show_project(self, project: Project, units: UnitSet) -> None:
        new_units = units != self._units
        self._project, self._units = project, units
        for group, form in self._forms.values():
            if new_units:
                form.set_units(units)
            self._fill_soon(group, form)

    def show_derived(self, derived: Mapping[str, Any]) -> None:
        """Values of automatic entries in SI, by full path."""
        if derived == self._derived:
            return
        self._derived = dict(derived)
        for group, form in self._forms.values():
            self._fill_soon(group, form)

    def show_problems(self, problems: Mapping[str, str]) -> None:
        """Mark these entries and no others."""
        self._problems = dict(problems)
        for group, form in self._forms.values():
            self._mark(group, form)

    def _make_form(self, group: Group) -> Form:
        assert self._units is not None
        words: dict[str, Any] = {"choices": CHOICES, "words": KIND_WORDS}
        form = Form(self._theme, group.struct, self._units, skip=group.skip, make=make, **words)
        form.setContentsMargins(8, 0, 0, 6)
        prefix = f"{group.path}." if group.path else ""
        form.edited.connect(lambda path, value: self.edited.emit(prefix + path, value))
        form.left.connect(lambda path: self.left.emit(prefix + path))
        if group.stock:
            button = StockButton(form)
            button.taken.connect(lambda section: self._take(prefix + group.stock, section))
            form.layout().insertWidget(0, button, 0, Qt.AlignmentFlag.AlignLeft)
        self._forms[group.title] = (group, form)
        self._fill(group, form)
        self._mark(group, form)
        return form

    def _take(self, path: str, section: Any) -> None:
        self.edited.emit(path, section)
        self.left.emit(path)

    def _fill_soon(self, group: Group, form: Form) -> None:
        """At once when it is in view, else when it is next opened: a keystroke pays for what can be seen."""
        if self.folds[group.title].is_open():
            self._fill(group, form)
        else:
            self._behind.add(group.title)

    def _catch_up(self, group: Group) -> None:
        if group.title in self._behind and group.title in self._forms:
            self._fill(*self._forms[group.title])

    def _fill(self, group: Group, form: Form) -> None:
        self._behind.discard(group.title)
        if self._project is not None:
            form.show_values(group.value(self._project), below(group.path, self._derived))

    def _mark(self, group: Group, form: Form) -> None:
        own = below(group.path, self._problems)
        fields = set(group.struct.__struct_fields__) - group.skip
        form.show_problems({path: text for path, text in own.items() if path.partition(".")[0] in fields})
