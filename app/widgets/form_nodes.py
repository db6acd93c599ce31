"""The parts a form is built of: a struct's rows, a kind selector with the rows of the kind chosen, and rows
of structs.

Every node knows its full dotted path and tells the form of the user's edits by it; leaves are entries.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import msgspec
from PySide6.QtWidgets import QFormLayout, QGroupBox, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.look.theme import Theme
from app.widgets.automatic_entry import AutomaticEntry
from app.widgets.band_entry import BandEntry
from app.widgets.entry import Entry
from app.widgets.flags_entry import FlagsEntry
from app.widgets.form_plan import FieldPlan, fresh, kind_words, plan_of
from app.widgets.maybe_entry import DayEntry, MaybeQuantityEntry
from app.widgets.quantity_entry import CountEntry, QuantityEntry
from app.widgets.simple_entries import ChoiceEntry, SwitchEntry, TextEntry
from core.units import METRIC, UnitSet

Choices = Sequence[tuple[Any, str]]


@dataclass
class FormContext:
    """What every node of one form shares.

    Attributes:
        tell, tell_left: called with a path (and a value) when the user edits or leaves an entry.
        choices: for text fields that take one of a list: by path ("beam.material") or by bare field name
            ("material").
        words: words for a kind in a selector, by struct type.
        skip: paths or bare field names that get no entry.
        make: gives the struct to begin with when the user picks a kind or adds a row: (type, old value).
    """

    theme: Theme
    tell: Callable[[str, Any], None]
    tell_left: Callable[[str], None]
    units: UnitSet = METRIC
    decimal: str | None = None
    choices: Mapping[str, Choices] = field(default_factory=dict)
    words: Mapping[type, str] = field(default_factory=dict)
    skip: frozenset[str] = frozenset()
    make: Callable[[type, Any], Any] = fresh

    def words_of(self, struct: type[msgspec.Struct]) -> str:
        return self.words.get(struct) or kind_words(struct)

    def choices_of(self, path: str, plan: FieldPlan) -> Choices | None:
        given = self.choices.get(path, self.choices.get(plan.name))
        return given if given is not None else (plan.choices or None)


class Node(QWidget):
    """A part of the form at a path."""

    def __init__(self, context: FormContext, path: str) -> None:
        super().__init__()
        self.path = path
        self._context = context

    def show_value(self, value: Any, derived: Mapping[str, Any]) -> None:
        """Show a value without telling of it; `derived` holds values of automatic fields by path."""
        raise NotImplementedError

    def leaves(self) -> Iterator[tuple[str, Entry]]:
        """Every entry below with its path."""
        raise NotImplementedError


def _below(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name


def make_entry(context: FormContext, path: str, plan: FieldPlan) -> Entry:
    """The entry for a leaf of the plan; its object name is the path."""
    theme, label, help_text = context.theme, plan.label, plan.help
    choices = context.choices_of(path, plan)
    entry: Entry
    if choices is not None and plan.kind == "flags":
        entry = FlagsEntry(theme, choices, label, help_text)
    elif choices is not None:
        entry = ChoiceEntry(theme, choices, label, help_text)
    elif plan.kind == "quantity" and plan.optional and plan.quantity in ("money", "unit_price"):
        entry = MaybeQuantityEntry(
            theme, plan.quantity, label, help_text, plan.low, plan.high, context.units, context.decimal
        )
        entry.hint("none")  # nothing is derived in its place
        entry.setObjectName(path)
        return entry
    elif plan.kind == "quantity":
        entry = QuantityEntry(
            theme, plan.quantity, label, help_text, plan.low, plan.high, context.units, context.decimal
        )
    elif plan.kind == "band":
        make = plan.structs[0]
        entry = BandEntry(
            theme, plan.quantity, make, label, help_text, plan.low, plan.high, context.units, context.decimal
        )
    elif plan.kind == "count":
        entry = CountEntry(theme, label, help_text, plan.low, plan.high)
    elif plan.kind == "switch":
        entry = SwitchEntry(theme, label, help_text)
    elif plan.quantity == "day":
        entry = DayEntry(theme, label, help_text)
    else:
        entry = TextEntry(theme, label, help_text)
    if plan.optional:
        entry = AutomaticEntry(theme, entry)
    entry.setObjectName(path)
    return entry


class StructNode(Node):
    """The rows of one struct: labels at the left, entries at the right, nested structs in boxes of their
    own.
    """

    def __init__(self, context: FormContext, path: str, struct: type[msgspec.Struct]) -> None:
        super().__init__(context, path)
        self.struct = struct
        self._parts: dict[str, Entry | Node] = {}
        rows = QFormLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setVerticalSpacing(4)
        rows.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        rows.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        for plan in plan_of(struct):
            below = _below(path, plan.name)
            if plan.name not in context.skip and below not in context.skip:
                self._add(rows, below, plan)

    def _add(self, rows: QFormLayout, path: str, plan: FieldPlan) -> None:
        part: Entry | Node
        if plan.kind in ("group", "union", "rows"):
            if plan.kind == "group":
                part = StructNode(self._context, path, plan.structs[0])
            elif plan.kind == "union":
                part = UnionNode(self._context, path, plan)
            else:
                part = RowsNode(self._context, path, plan)
            box = QGroupBox(plan.label)
            box.setToolTip(plan.help)
            inside = QVBoxLayout(box)
            inside.setContentsMargins(6, 4, 6, 4)
            inside.addWidget(part)
            rows.addRow(box)
        else:
            part = make_entry(self._context, path, plan)
            part.edited.connect(self._entry_edited)
            part.left.connect(self._entry_left)
            label = QLabel(plan.label)
            label.setToolTip(plan.help)
            label.setBuddy(part)
            rows.addRow(label, part)
        self._parts[plan.name] = part

    def _entry_edited(self, value: Any) -> None:
        self._context.tell(self.sender().objectName(), value)

    def _entry_left(self) -> None:
        self._context.tell_left(self.sender().objectName())

    def show_value(self, value: Any, derived: Mapping[str, Any]) -> None:
        for name, part in self._parts.items():
            inner = getattr(value, name)
            if isinstance(part, Node):
                part.show_value(inner, derived)
                continue
            if isinstance(part, AutomaticEntry):
                part.set_derived(derived.get(_below(self.path, name)))
            part.set_value(inner)

    def leaves(self) -> Iterator[tuple[str, Entry]]:
        for name, part in self._parts.items():
            if isinstance(part, Node):
                yield from part.leaves()
            else:
                yield _below(self.path, name), part


class UnionNode(Node):
    """A selector of kinds over the rows of the kind in use. A kind once left is remembered until the form
    closes.
    """

    def __init__(self, context: FormContext, path: str, plan: FieldPlan) -> None:
        super().__init__(context, path)
        kinds: list[tuple[Any, str]] = [(struct, context.words_of(struct)) for struct in plan.structs]
        if plan.optional:
            kinds.insert(0, (None, "None"))
        self._value: Any = None
        self._known: dict[Any, Any] = {}
        self._rows: StructNode | None = None
        self._selector = ChoiceEntry(context.theme, kinds, plan.label, plan.help)
        self._selector.setObjectName(f"{path}.kind")
        self._selector.edited.connect(self._picked)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addWidget(self._selector)

    def show_value(self, value: Any, derived: Mapping[str, Any]) -> None:
        kind = None if value is None else type(value)
        self._value = value
        self._selector.set_value(kind)
        if (self._rows.struct if self._rows is not None else None) is not kind:
            if self._rows is not None:
                self._column.removeWidget(self._rows)
                self._rows.hide()
                self._rows.deleteLater()
            self._rows = None if kind is None else StructNode(self._context, self.path, kind)
            if self._rows is not None:
                self._column.addWidget(self._rows)
        if self._rows is not None:
            self._known[kind] = value
            self._rows.show_value(value, derived)

    def leaves(self) -> Iterator[tuple[str, Entry]]:
        yield self.path, self._selector
        if self._rows is not None:
            yield from self._rows.leaves()

    def _picked(self, kind: Any) -> None:
        value = None
        if kind is not None:
            value = self._known.get(kind)
            if value is None:
                try:
                    value = self._context.make(kind, self._value)
                except (TypeError, ValueError) as error:
                    self._selector.set_value(None if self._value is None else type(self._value))
                    self._selector.set_problem(
                        f"{self._context.words_of(kind)} cannot be begun with: {error}"
                    )
                    return
        self._context.tell(self.path, value)
        self._context.tell_left(self.path)


class RowsNode(Node):
    """Structs one below the other, each with a button to remove it, and a button for one more."""

    def __init__(self, context: FormContext, path: str, plan: FieldPlan) -> None:
        super().__init__(context, path)
        self._structs = plan.structs
        self._value: tuple[Any, ...] = ()
        self._nodes: list[StructNode] = []
        self._boxes: list[QWidget] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        adding = QHBoxLayout()
        for number, struct in enumerate(plan.structs):
            words = f"Add {context.words_of(struct).lower()}" if len(plan.structs) > 1 else "Add one"
            button = QPushButton(words, self)
            button.setProperty("number", number)
            button.clicked.connect(self._add_one)
            adding.addWidget(button)
        adding.addStretch(1)
        self._column.addLayout(adding)

    def show_value(self, value: Any, derived: Mapping[str, Any]) -> None:
        self._value = tuple(value)
        if [node.struct for node in self._nodes] != [type(item) for item in self._value]:
            self._rebuild()
        for node, item in zip(self._nodes, self._value, strict=True):
            node.show_value(item, derived)

    def leaves(self) -> Iterator[tuple[str, Entry]]:
        for node in self._nodes:
            yield from node.leaves()

    def _rebuild(self) -> None:
        for box in self._boxes:
            self._column.removeWidget(box)
            box.hide()
            box.deleteLater()
        self._nodes, self._boxes = [], []
        for number, item in enumerate(self._value):
            node = StructNode(self._context, f"{self.path}.{number}", type(item))
            box = QGroupBox(getattr(item, "name", "") or f"{self._context.words_of(type(item))} {number + 1}")
            remove = QPushButton("Remove")
            remove.setProperty("number", number)
            remove.clicked.connect(self._remove)
            inside = QVBoxLayout(box)
            inside.addWidget(node)
            row = QHBoxLayout()
            row.addStretch(1)
            row.addWidget(remove)
            inside.addLayout(row)
            self._column.insertWidget(number, box)
            self._nodes.append(node)
            self._boxes.append(box)

    def _add_one(self) -> None:
        struct = self._structs[self.sender().property("number")]
        old = next((item for item in reversed(self._value) if isinstance(item, struct)), None)
        self._tell((*self._value, self._context.make(struct, old)))

    def _remove(self) -> None:
        number = self.sender().property("number")
        self._tell(self._value[:number] + self._value[number + 1 :])

    def _tell(self, value: tuple[Any, ...]) -> None:
        self._context.tell(self.path, value)
        self._context.tell_left(self.path)
