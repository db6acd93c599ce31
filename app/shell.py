"""The frame of the window that needs Qt alone: the list of pages, the verdict band and their style.

It paints before the engine is loaded, so that the window is there at once.
"""

from __future__ import annotations

from typing import Literal

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QShortcut
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QLabel,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.look.palette import Palette
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
    ("rails", "Rails", "Holes, screws and nuts of each rail."),
    ("parts", "Parts", "Everything to buy or cut, with masses."),
    ("compare", "Compare", "Beams side by side."),
    ("guide", "Guide", "What the answers mean and rest on."),
)
"""Key (also the icon's name), words and what the page is for."""

State = Literal["wait", "good", "warning", "bad", "problem"]
_SIGNS = {
    "wait": ("note", "quiet", "Please wait"),
    "good": ("ok", "good", "Within the limits"),
    "warning": ("warning", "warn", "Take a look"),
    "bad": ("limit-broken", "bad", "Over the limit"),
    "problem": ("warning", "bad", "Entry to mend"),
}


class PageList(QFrame):
    """Icons with words, one for each page; Ctrl and a digit open them too.

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
        column.setContentsMargins(6, 8, 6, 8)
        column.setSpacing(4)
        for number, (key, words, help_text) in enumerate(PAGES, start=1):
            button = QToolButton(self)
            button.setText(words)
            button.setCheckable(True)
            button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
            button.setIconSize(QSize(24, 24))
            button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            button.setMinimumHeight(58)
            button.setToolTip(f"{help_text} (Ctrl+{number})")
            button.clicked.connect(lambda _checked=False, key=key: self.chosen.emit(key))
            shortcut = QShortcut(f"Ctrl+{number}", self)
            shortcut.activated.connect(lambda key=key: self.chosen.emit(key))
            self._group.addButton(button)
            self._buttons[key] = button
            column.addWidget(button)
        column.addStretch(1)
        self.setFixedWidth(max(96, self.fontMetrics().horizontalAdvance("Deflection") + 34))
        theme.changed.connect(self._dress)
        self._dress()

    def show_chosen(self, key: str) -> None:
        self._buttons[key].setChecked(True)

    def button(self, key: str) -> QToolButton:
        return self._buttons[key]

    def _dress(self) -> None:
        for key, button in self._buttons.items():
            button.setIcon(self._theme.icon(key))


class VerdictBand(QFrame):
    """The verdict across the window: a sign, a word of its own for it, and one or two sentences.

    Signals:
        stop_wanted(): the user gives up what the quiet word at the right tells of.
    """

    stop_wanted = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._state: State = "wait"
        self.setObjectName("verdict")
        self._sign = QLabel(self)
        self._sign.setFixedSize(28, 28)
        self._word = QLabel(self)
        self._word.setObjectName("verdictWord")
        self._words = QLabel(self)
        self._words.setWordWrap(True)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self._aside = QLabel(self)
        self._aside.setProperty("tone", "quiet")
        self._aside.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._aside.setMinimumWidth(self.fontMetrics().horizontalAdvance("Analysing the section… 99 s") + 12)
        self._stop = QToolButton(self)
        self._stop.setText("Stop")
        self._stop.setProperty("segment", "true")
        self._stop.setToolTip("Give up the analysis of this section.")
        self._stop.clicked.connect(self.stop_wanted)
        self._stop.hide()
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 4, 14, 4)
        row.setSpacing(10)
        row.addWidget(self._sign)
        row.addWidget(self._word)
        row.addWidget(self._words, 1)
        row.addWidget(self._aside)
        row.addWidget(self._stop)
        self.setFixedHeight(2 * self.fontMetrics().lineSpacing() + 16)
        theme.changed.connect(self._dress)
        self._dress()
        self.say("wait", "The window is being made ready.")

    @property
    def state(self) -> State:
        return self._state

    def text(self) -> str:
        return self._words.text()

    def say(self, state: State, sentence: str) -> None:
        """Show a state with its sentence."""
        other, self._state = state != self._state, state
        self._words.setText(sentence)
        self._words.setToolTip(sentence)
        self.setAccessibleName(f"{_SIGNS[state][2]}: {sentence}")
        if other:
            self._dress()

    def note(self, words: str) -> None:
        """A quiet word at the right ("Working…"); empty takes it away."""
        self._aside.setText(words)

    def show_stop(self, shown: bool) -> None:
        """Whether what goes on can be given up."""
        self._stop.setVisible(shown)

    def stop_button(self) -> QToolButton:
        return self._stop

    def aside(self) -> str:
        return self._aside.text()

    def _dress(self) -> None:
        name, ink, word = _SIGNS[self._state]
        self._sign.setPixmap(self._theme.icon(name, ink).pixmap(28, 28))
        self._word.setText(word)
        self._word.setStyleSheet(f"color: {getattr(self._theme.palette, ink)}; font-weight: bold;")


def shell_sheet(colours: Palette) -> str:
    """The window's own style on top of the theme's."""
    return f"""
    QMainWindow, QWidget#middle {{ background: {colours.window}; }}
    QFrame#pageList {{ background: {colours.panel}; border: 0; border-right: 1px solid {colours.grid}; }}
    QFrame#pageList QToolButton {{ border: 0; border-radius: 6px; padding: 4px 2px; color: {colours.text}; }}
    QFrame#pageList QToolButton:hover {{ background: {colours.grid}; }}
    QFrame#pageList QToolButton:checked {{ background: {colours.selection}; font-weight: bold;
        border-left: 4px solid {colours.accent}; }}
    QFrame#pageList QToolButton:focus {{ outline: none; border-bottom: 2px solid {colours.accent}; }}
    QFrame#verdict {{ background: {colours.panel}; border: 0; border-bottom: 1px solid {colours.line}; }}
    QToolButton[fold="true"] {{ border: 0; border-radius: 4px; padding: 6px 4px; font-weight: bold;
        text-align: left; background: {colours.panel}; color: {colours.text}; }}
    QToolButton[fold="true"]:hover, QToolButton[fold="true"]:focus {{ background: {colours.selection}; }}
    QToolButton[segment="true"] {{ border: 1px solid {colours.line}; border-radius: 3px; padding: 3px 12px;
        color: {colours.text}; background: {colours.panel}; }}
    QToolButton[segment="true"]:hover, QToolButton[segment="true"]:focus {{ border-color: {colours.accent}; }}
    QToolButton[segment="true"]:checked {{ background: {colours.selection}; font-weight: bold;
        border: 2px solid {colours.accent}; padding: 2px 11px; }}
    QTableView {{ background: {colours.entry}; border: 1px solid {colours.grid}; }}
    QScrollArea {{ border: 0; }}
    QLabel[heading="true"] {{ font-weight: bold; font-size: 11pt; }}
    QTextBrowser {{ border: 1px solid {colours.grid}; padding: 12px; background: {colours.entry}; }}
    """
