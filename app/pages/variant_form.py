"""One variant to be edited: its name, the entries that it lists, each with its own small form, and more to choose from."""

from __future__ import annotations

from functools import partial
from typing import Any

import msgspec
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QMenu, QPushButton, QToolButton, QVBoxLayout, QWidget

from app.look.theme import Theme
from app.pages.beginnings import make
from app.pages.entries import CHOICES, below
from app.pages.kinds import KIND_WORDS
from app.pages.page import quiet
from app.widgets.form import Form
from core.comparison import entry_groups, entry_words, value_words
from core.machine.project import Project
from core.machine.variants import Variant, apply_variant
from core.units import UnitSet

OWN = frozenset({"changes"})


class VariantForm(QWidget):
    """The entries of one variant.

    Signals:
        named(field, value): its name or note was edited.
        changed(path, value): an entry was edited, or listed with the machine's value, in this variant only.
        dropped(path): an entry goes back to what the machine has.
        left(path): the user is done with an entry.
    """

    named = Signal(str, object)
    changed = Signal(str, object)
    dropped = Signal(str)
    left = Signal(str)

    def __init__(self, theme: Theme, units: UnitSet, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._units = units
        self._project: Project | None = None
        self._paths: tuple[tuple[str, type | None], ...] = ()
        self._blocks: list[Block] = []
        self.own = Form(theme, Variant, units, skip=OWN)
        self.own.edited.connect(self.named)
        self.own.left.connect(self.left)
        self.add = QToolButton(self)
        self.add.setText("Add an entry that differs")
        self.add.setProperty("segment", "true")
        self.add.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.add.setToolTip(
            "Lists an entry of the machine here, so that this variant has a value of its own."
        )
        self.add.setMenu(QMenu(self))
        self.add.menu().aboutToShow.connect(self._fill)
        self.words = quiet("Lists nothing yet: the same as the machine.")
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(8, 0, 4, 6)
        self._column.addWidget(self.own)
        self._column.addWidget(self.words)
        self._column.addWidget(self.add, 0, Qt.AlignmentFlag.AlignLeft)
        self._column.addStretch(1)

    def blocks(self) -> list[Block]:
        """What stands for each listed entry."""
        return self._blocks

    def show_variant(self, project: Project, variant: Variant, units: UnitSet) -> None:
        if units != self._units:
            self.own.set_units(units)
        self._project = project
        self.own.show_values(variant)
        applied = apply_variant(project, variant)
        faults = {fault.path for fault in applied.faults}
        paths = tuple(
            (change.path, None if change.path in faults else _struct_above(applied.project, change.path))
            for change in variant.changes
        )
        if paths != self._paths or units != self._units:
            self._units = units
            self._paths = paths
            self._make(project)
        for block in self._blocks:
            block.show_values(applied.project, project)
        self.words.setVisible(not paths)

    def show_problems(self, problems: dict[str, str]) -> None:
        """Sentences by path of an entry of the machine, or by row of the list ("changes.2.value")."""
        rows = {f"changes.{row}.value": path for row, (path, _) in enumerate(self._paths)}
        told = {rows.get(path, path): text for path, text in problems.items()}
        for block in self._blocks:
            block.show_problems({path: text for path, text in told.items() if path.startswith(block.path)})
        self.own.show_problems({path: text for path, text in told.items() if path in ("name", "note")})

    def _make(self, project: Project) -> None:
        for block in self._blocks:
            self._column.removeWidget(block)
            block.hide()
            block.deleteLater()
        self._blocks = []
        for path, struct in self._paths:
            block = Block(self._theme, self._units, path, struct, entry_words(project, path), self)
            block.edited.connect(self.changed)
            block.left.connect(self.left)
            block.dropped.connect(self.dropped)
            self._column.insertWidget(1 + len(self._blocks), block)
            self._blocks.append(block)

    def _fill(self) -> None:
        """All entries by part; those already listed cannot be chosen."""
        menu, project = self.add.menu(), self._project
        menu.clear()
        if project is None:
            return
        listed = {path for path, _ in self._paths}
        for group, rows in entry_groups(project).items():
            inside = menu.addMenu(group)
            for path, words in rows:
                action = inside.addAction(words, partial(self._list, path))
                action.setEnabled(path not in listed)

    def _list(self, path: str) -> None:
        if self._project is not None:
            self.changed.emit(path, _at(self._project, path))


class Block(QWidget):
    """One listed entry: its words, what the machine has, a form of this entry alone, and a button that drops it.

    Signals:
        edited(path, value), left(path): with full paths. dropped(path).
    """

    edited = Signal(str, object)
    left = Signal(str)
    dropped = Signal(str)

    def __init__(
        self,
        theme: Theme,
        units: UnitSet,
        path: str,
        struct: type[msgspec.Struct] | None,
        words: str,
        parent: QWidget,
    ) -> None:
        super().__init__(parent)
        self.path = path
        self._above, _, field = path.rpartition(".")
        title = QLabel(words, self)
        title.setWordWrap(True)
        title.setTextFormat(Qt.TextFormat.PlainText)
        self.machine = quiet()
        self.machine.setTextFormat(Qt.TextFormat.PlainText)
        self.problem = QLabel(self)
        self.problem.setProperty("tone", "problem")
        self.problem.setWordWrap(True)
        self.problem.setTextFormat(Qt.TextFormat.PlainText)
        self.problem.hide()
        self.drop = QPushButton("Drop", self)
        self.drop.setToolTip("Takes this entry from the list: the variant then has what the machine has.")
        self.drop.setAccessibleName(f"Drop {words}")
        self.drop.clicked.connect(lambda: self.dropped.emit(self.path))
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(title, 1)
        row.addWidget(self.drop, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 6, 0, 2)
        column.setSpacing(2)
        column.addLayout(row)
        column.addWidget(self.machine)
        column.addWidget(self.problem)
        self.form: Form | None = None
        if struct is not None:
            others = frozenset(struct.__struct_fields__) - {field}
            self.form = Form(theme, struct, units, skip=others, choices=CHOICES, words=KIND_WORDS, make=make)
            self.form.edited.connect(lambda inner, value: self.edited.emit(f"{self._above}.{inner}", value))
            self.form.left.connect(lambda inner: self.left.emit(f"{self._above}.{inner}"))
            column.addWidget(self.form)

    def show_values(self, changed: Project, machine: Project) -> None:
        self.machine.setText(f"In the machine: {value_words(machine, self.path)}")
        if self.form is not None:
            self.form.show_values(_at(changed, self._above))

    def show_problems(self, problems: dict[str, str]) -> None:
        inside = below(self._above, problems)
        if self.form is None:
            self.problem.setText(" ".join(inside.values()))
            self.problem.setVisible(bool(inside))
        else:
            self.form.show_problems(inside)


def _at(project: Project, path: str) -> Any:
    here: Any = project
    for step in path.split("."):
        here = here[int(step)] if isinstance(here, tuple) else getattr(here, step)
    return here


def _struct_above(project: Project, path: str) -> type[msgspec.Struct] | None:
    """The type of what holds an entry; None when it holds no entries of its own."""
    try:
        above = _at(project, path.rpartition(".")[0])
    except (AttributeError, IndexError, ValueError):
        return None
    return type(above) if isinstance(above, msgspec.Struct) else None
