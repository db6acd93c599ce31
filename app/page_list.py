"""The list of pages at the window's left: what there is, in the order in which a builder needs it.

It needs Qt alone, so it is painted before the engine is loaded.
"""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QShortcut
from PySide6.QtWidgets import QButtonGroup, QFrame, QLabel, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from app.look.theme import Theme

PAGES: tuple[tuple[str, str, str], ...] = (
    ("machine", "Machine", "Entries, drawing and live answers."),
    ("bend", "Deflection", "Deflection, sag and compliance budget in full."),
    ("stiffen", "Stiffen", "How sure the figures are, and what to stiffen first."),
    ("base", "Base", "Force on every foot, level and twist of the rails, the base's share."),
    ("cutting", "Cutting", "Chip, forces over a turn and power of each cut."),
    ("vibration", "Vibration", "Modes, speeds to avoid, and the depth of cut without chatter."),
    ("guides", "Carriages", "Load, life and static safety of every carriage."),
    ("drives", "Drives", "Screws, racks, belts, motors, and the gantry between two of them."),
    ("heat", "Heat", "Growth, bow and travel error between a cold and a warm shop."),
    ("form", "Form", "Straightness as delivered and welded; shims for measured heights."),
    ("rails", "Rails", "Holes, pieces, drilling list, T-nuts, and what may be done while screws are short."),
    ("joints", "Joints", "Screws, torque and margins of every joint; the clamp stack drawn."),
    ("parts", "Parts", "The bill: needed, ordered, arrived, fitted; import and share."),
    ("cuts", "Cut list", "Bars to buy and how each is cut: fewest bars, least waste."),
    ("money", "Money", "Running cost against the budget, cost by group, prices."),
    ("rank", "Beams", "Every beam of the catalogue in this machine, and which of them nothing beats."),
    ("section", "Section", "Any section to scale, its figures, the data sheet beside them."),
    ("compare", "Compare", "Variants side by side: what differs, extruded against welded."),
    ("guide", "Guide", "What the answers mean and rest on."),
)
"""Key (also the icon's name), words and what the page is for."""

CAPTIONS = {
    "machine": "Describe",
    "bend": "How it bends",
    "cutting": "How it runs",
    "form": "Build it",
    "rank": "Which beam",
    "guide": "Read",
}
"""Words above the first page of each group."""
DIGITS = 9
"""Pages that a digit opens; Ctrl with Page Down and Page Up reaches all."""


class PageList(QFrame):
    """Icons with words, one for each page; Ctrl and a digit open the first ones too.

    Signals:
        chosen(key): the user wants this page.
    """

    chosen = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.setObjectName("pageList")
        self.setAccessibleName("Pages")
        self._group = QButtonGroup(self)
        self._buttons: dict[str, QToolButton] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 4, 4, 4)
        column.setSpacing(0)
        for number, (key, words, help_text) in enumerate(PAGES, start=1):
            if key in CAPTIONS:
                column.addSpacing(3)
                column.addWidget(self._caption(CAPTIONS[key]))
            column.addWidget(self._button(number, key, words, help_text))
        column.addStretch(1)
        widest = max(self.fontMetrics().horizontalAdvance(words) for _, words, _ in PAGES)
        self.setFixedWidth(max(116, widest + 50))
        for keys, step in (("Ctrl+PgDown", 1), ("Ctrl+PgUp", -1)):
            QShortcut(keys, self).activated.connect(lambda step=step: self._move(step))
        theme.changed.connect(self._dress)
        self._dress()

    def _caption(self, words: str) -> QLabel:
        label = QLabel(words, self)
        label.setProperty("caption", "true")
        return label

    def _button(self, number: int, key: str, words: str, help_text: str) -> QToolButton:
        button = QToolButton(self)
        button.setText(words)
        button.setCheckable(True)
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        button.setIconSize(QSize(18, 18))
        button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        button.setMinimumHeight(24)
        button.setMaximumHeight(38)
        button.clicked.connect(lambda _checked=False: self.chosen.emit(key))
        if number <= DIGITS:
            help_text = f"{help_text} (Ctrl+{number})"
            QShortcut(f"Ctrl+{number}", self).activated.connect(lambda: self.chosen.emit(key))
        button.setToolTip(help_text)
        self._group.addButton(button)
        self._buttons[key] = button
        return button

    def _move(self, step: int) -> None:
        keys = list(self._buttons)
        now = next((k for k, key in enumerate(keys) if self._buttons[key].isChecked()), 0)
        self.chosen.emit(keys[(now + step) % len(keys)])

    def show_chosen(self, key: str) -> None:
        self._buttons[key].setChecked(True)

    def button(self, key: str) -> QToolButton:
        return self._buttons[key]

    def _dress(self) -> None:
        for key, button in self._buttons.items():
            button.setIcon(self._theme.icon(key))
