"""What a user wants of a beam, as ticks, lists and largest figures; nothing is solved anew for any of it."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QMenu,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.look.theme import Theme
from app.widgets.most_entry import MostEntry
from app.widgets.tick import Tick
from core.materials import material
from core.rank import RankAnswer, Wanted
from core.units import METRIC, UnitSet

ALL_KINDS, ALL_METALS = "All kinds", "Any material"
TICKS = (
    (
        "usable",
        "Usable as they are",
        "Only beams on which the X rails find hold as the machine is described.",
    ),
    (
        "holding",
        "Hold every limit",
        "Only beams with which every load case, sag and path error hold their limits.",
    ),
    (
        "clear",
        "Without a warning",
        "Only beams without a warning: of the X rails' screws and places, or of a joint that counts as full. "
        "Heat, joints and chatter are answered once a beam is in the machine.",
    ),
    ("slotted", "Slots under both rails", "Only T-slot profiles whose slots both X rails stand on."),
)
FIGURES = (
    ("height", "Height", "length", "The largest height of the beam as it stands."),
    ("beam_mass", "Beam", "mass", "The largest mass of the beam alone."),
    ("moving_mass", "All that moves", "mass", "The largest mass of the gantry with all that it carries."),
    ("price", "Price", "money", "The highest price. A beam without a price is then left out."),
)
WIDTHS = {"height": 84, "beam_mass": 84, "moving_mass": 84, "price": 84}


class _StayingMenu(QMenu):
    """Stays open while kinds are ticked."""

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        action = self.activeAction()
        if action is not None and action.isCheckable():
            action.trigger()
        else:
            super().mouseReleaseEvent(event)


class RankFilters(QWidget):
    """Two rows of filters.

    Signals:
        changed(): another wish.
    """

    changed = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.ticks = {key: Tick(theme, words, self) for key, words, _ in TICKS}
        for key, _, told in TICKS:
            self.ticks[key].setToolTip(told)
            self.ticks[key].toggled.connect(lambda _on: self.changed.emit())
        self.figures = {
            key: MostEntry(theme, quantity, f"{words} at most", told, parent=self)
            for key, words, quantity, told in FIGURES
        }
        self._labels = {key: QLabel(words, self) for key, words, _, _ in FIGURES}
        for key, entry in self.figures.items():
            entry.setFixedWidth(WIDTHS[key])
            entry.edited.connect(lambda _value: self.changed.emit())
        self.kinds = QToolButton(self)
        self.kinds.setProperty("segment", "true")
        self.kinds.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.kinds.setMenu(_StayingMenu(self.kinds))
        self.kinds.setText(ALL_KINDS)
        self.kinds.setToolTip("Which kinds of sections are shown.")
        self.metal = QComboBox(self)
        self.metal.setAccessibleName("Material")
        self.metal.addItem(ALL_METALS, "")
        self.metal.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.metal.currentIndexChanged.connect(lambda _row: self.changed.emit())
        self.clear = QPushButton("Show all usable", self)
        self.clear.setToolTip("Takes every filter off but the first.")
        self.clear.clicked.connect(self.reset)
        with QSignalBlocker(self.ticks["usable"]):
            self.ticks["usable"].setChecked(True)
        self._lay_out()

    def _lay_out(self) -> None:
        first, second = QHBoxLayout(), QHBoxLayout()
        for row in (first, second):
            row.setContentsMargins(0, 0, 0, 0)
            row.setSpacing(10)
        for tick in self.ticks.values():
            first.addWidget(tick)
        first.addSpacing(8)
        first.addWidget(self.kinds)
        first.addWidget(self.metal)
        first.addStretch(1)
        second.addWidget(QLabel("At most", self))
        for key, entry in self.figures.items():
            second.addSpacing(4)
            second.addWidget(self._labels[key])
            second.addWidget(entry)
        second.addSpacing(8)
        second.addWidget(self.clear)
        second.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addLayout(first)
        column.addLayout(second)

    def wanted(self) -> Wanted:
        """The wish as it stands."""
        ticks = {key: tick.isChecked() for key, tick in self.ticks.items()}
        figures = {key: entry.value() for key, entry in self.figures.items()}
        metal = self.metal.currentData()
        actions = self.kinds.menu().actions()
        kinds = frozenset(action.text() for action in actions if action.isChecked())
        return Wanted(
            **ticks, **figures, families=None if len(kinds) == len(actions) else kinds,
            materials=frozenset({metal}) if metal else None,
        )  # fmt: skip

    def reset(self) -> None:
        """Show every usable beam."""
        for key, tick in self.ticks.items():
            with QSignalBlocker(tick):
                tick.setChecked(key == "usable")
        for entry in self.figures.values():
            entry.set_value(None)
        for action in self.kinds.menu().actions():
            with QSignalBlocker(action):
                action.setChecked(True)
        with QSignalBlocker(self.metal):
            self.metal.setCurrentIndex(0)
        self._kinds_changed()

    def set_units(self, units: UnitSet = METRIC) -> None:
        """Show the largest figures in other units."""
        for entry in self.figures.values():
            entry.set_units(units)

    def show_choices(self, answer: RankAnswer) -> None:
        """Offer the kinds, materials and currency of these candidates; what was chosen stays where it can."""
        families = list(dict.fromkeys(one.family for one in answer.candidates))
        menu = self.kinds.menu()
        if families != [action.text() for action in menu.actions()]:
            off = {action.text() for action in menu.actions() if not action.isChecked()}
            menu.clear()
            for family in families:
                action = menu.addAction(family)
                action.setCheckable(True)
                action.setChecked(family not in off)
                action.toggled.connect(lambda _on: self._kinds_changed())
            self._say_kinds()
        metals = list(dict.fromkeys(one.beam.material for one in answer.candidates))
        if metals != [self.metal.itemData(row) for row in range(1, self.metal.count())]:
            kept = self.metal.currentData()
            with QSignalBlocker(self.metal):
                self.metal.clear()
                self.metal.addItem(ALL_METALS, "")
                for key in metals:
                    self.metal.addItem(material(key).name, key)
                self.metal.setCurrentIndex(max(0, self.metal.findData(kept)))
        currency = f", {answer.currency}" if answer.currency else ""
        self._labels["price"].setText(f"Price{currency}")

    def _kinds_changed(self) -> None:
        self._say_kinds()
        self.changed.emit()

    def _say_kinds(self) -> None:
        actions = self.kinds.menu().actions()
        ticked = [action.text() for action in actions if action.isChecked()]
        words = ALL_KINDS if len(ticked) == len(actions) else f"{len(ticked)} of {len(actions)} kinds"
        self.kinds.setText(ticked[0] if len(ticked) == 1 else words)
