"""The frame of the window that needs Qt alone: the verdict band, and the style of the window's own parts.

It paints before the engine is loaded, so that the window is there at once.
"""

from __future__ import annotations

from typing import Literal

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QSizePolicy,
    QToolButton,
    QWidget,
)

from app.look.palette import Palette
from app.look.theme import Theme

State = Literal["wait", "good", "warning", "bad", "problem"]
_SIGNS = {
    "wait": ("note", "quiet", "Please wait"),
    "good": ("ok", "good", "Within the limits"),
    "warning": ("warning", "warn", "Take a look"),
    "bad": ("limit-broken", "bad", "Over the limit"),
    "problem": ("warning", "bad", "Entry to mend"),
}


class VerdictBand(QFrame):
    """The verdict across the window: a sign, a word of its own for it, and one or two sentences.

    Signals:
        stop_wanted(): the user gives up what the quiet word at the right tells of.
        findings_wanted(open): the user opens or closes the list of findings.
    """

    stop_wanted = Signal()
    findings_wanted = Signal(bool)

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
        self.look = QToolButton(self)
        self.look.setCheckable(True)
        self.look.setProperty("segment", "true")
        self.look.setToolTip("All findings in a list; each leads to its page and entry. (Ctrl+L)")
        self.look.setShortcut("Ctrl+L")
        self.look.clicked.connect(self.findings_wanted)
        self.look.hide()
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 4, 14, 4)
        row.setSpacing(10)
        row.addWidget(self._sign)
        row.addWidget(self._word)
        row.addWidget(self._words, 1)
        row.addWidget(self.look)
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

    def count_findings(self, grave: int, notes: int) -> None:
        """How many findings the list holds: those that want a look, and those for information."""
        number = grave or notes
        words = ("finding" if grave else "note") + ("s" if number > 1 else "")
        self.look.setText(f"Show {number} {words}")
        self.look.setVisible(number > 0)

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
    QFrame#pageList QToolButton {{ border: 0; border-left: 4px solid transparent; border-radius: 5px;
        padding: 1px 4px; color: {colours.text}; text-align: left; }}
    QFrame#pageList QLabel {{ color: {colours.quiet}; font-size: 8pt; padding: 1px 4px 0 4px; }}
    QFrame#pageList QToolButton:hover {{ background: {colours.grid}; }}
    QFrame#pageList QToolButton:checked {{ background: {colours.selection}; font-weight: bold;
        border-left: 4px solid {colours.accent}; }}
    QFrame#pageList QToolButton:focus {{ outline: none; border-bottom: 2px solid {colours.accent}; }}
    QFrame#rescue {{ background: {colours.selection}; border: 0; border-bottom: 1px solid {colours.line}; }}
    QFrame#findings {{ background: {colours.panel}; border: 1px solid {colours.line}; border-radius: 4px; }}
    QFrame#findings QListWidget {{ background: {colours.entry}; border: 1px solid {colours.grid}; color: {colours.text}; }}
    QFrame#findings QListWidget::item {{ padding: 4px; border-bottom: 1px solid {colours.grid}; }}
    QFrame#findings QListWidget::item:selected {{ background: {colours.selection}; color: {colours.text}; }}
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
    QListWidget {{ background: {colours.panel}; border: 1px solid {colours.grid}; color: {colours.text}; outline: none; }}
    QListWidget::item {{ padding: 4px 8px; }}
    QListWidget::item:selected {{ background: {colours.selection}; color: {colours.text}; }}
    QTextBrowser {{ border: 1px solid {colours.grid}; padding: 12px; background: {colours.entry}; }}
    """
