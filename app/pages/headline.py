"""The sentence at the head of a page: a sign for how things stand, and what matters most in bold."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QWidget

from app.look.theme import Theme
from core.findings import Finding
from core.report.headlines import Headline, State

SIGN = 22
_SIGNS: dict[State, tuple[str, str, str]] = {
    "good": ("ok", "good", "Holds"),
    "warning": ("warning", "warn", "Take a look"),
    "bad": ("limit-broken", "bad", "Over a limit"),
    "note": ("note", "quiet", "For information"),
}


class HeadlineBar(QWidget):
    """A sign with its words; empty until there is something to say."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._state: State | None = None
        self._sign = QLabel(self)
        self._sign.setFixedSize(SIGN, SIGN)
        self._words = QLabel(self)
        self._words.setProperty("heading", "true")
        self._words.setWordWrap(True)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 2)
        row.setSpacing(8)
        row.addWidget(self._sign, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self._words, 1)
        theme.changed.connect(self._dress)
        self.hide()

    def say(self, headline: Headline | None) -> None:
        """Show a headline; None takes it away."""
        self.setVisible(headline is not None)
        if headline is None:
            return
        other, self._state = headline.state != self._state, headline.state
        self._words.setText(headline.words)
        self.setAccessibleName(f"{_SIGNS[headline.state][2]}: {headline.words}")
        if other:
            self._dress()

    def text(self) -> str:
        return self._words.text()

    @property
    def state(self) -> State | None:
        return self._state

    def _dress(self) -> None:
        if self._state is not None:
            name, ink, words = _SIGNS[self._state]
            self._sign.setPixmap(self._theme.icon(name, ink).pixmap(SIGN, SIGN))
            self._sign.setToolTip(words)


def say(label: QLabel, words: str, findings: tuple[Finding, ...] | list[Finding] = ()) -> None:
    """Words in the colour of the gravest of the findings that they tell of; quiet when there are none."""
    grave = {finding.severity for finding in findings}
    tone = "problem" if "limit" in grave else "warn" if "warning" in grave else "quiet"
    label.setText(words)
    if label.property("tone") != tone:
        label.setProperty("tone", tone)
        label.style().polish(label)
