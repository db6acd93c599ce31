"""What every entry has in common: a value, a signal, and a problem marked beside it by a sign and a sentence.

A form treats all entries alike: `value()`, `set_value(v)` (never emits), `edited` (only the user's doing) and
`set_problem`.
"""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QEvent, QObject, QPointF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from app.look.theme import Theme
from app.widgets.remark import in_view, is_grave

MARK = 16


class ProblemMark(QWidget):
    """A warning triangle in the theme's colour; keeps its room when there is nothing to say, so nothing
    jumps.
    """

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._shown = False
        self._grave = True
        self.setFixedSize(QSize(MARK, MARK))
        theme.changed.connect(self.update)

    def show_mark(self, shown: bool, grave: bool = True) -> None:
        self._shown, self._grave = shown, grave
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self._shown:
            return
        with QPainter(self) as p:
            p.setRenderHint(QPainter.RenderHint.Antialiasing)
            colour = QColor(self._theme.palette.bad if self._grave else self._theme.palette.warn)
            p.setPen(
                QPen(colour, 1.6, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
            )
            p.drawPolygon([QPointF(8, 2), QPointF(14.5, 14), QPointF(1.5, 14)])
            p.drawLine(8, 6, 8, 9)
            p.drawPoint(8, 12)


class Sentence(QLabel):
    """Plain words that wrap, always as tall as they need at the width they get."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)

    def setText(self, words: str) -> None:
        super().setText(words)
        if self.isVisible():  # before, its width is not the one it gets
            self._keep()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._keep()

    def _keep(self) -> None:
        # Nested layouts ask for the height at another width than they give, and would cut the last lines.
        self.setMinimumHeight(self.heightForWidth(self.width()) if self.text() else 0)


class Entry(QWidget):
    """An editor with a problem mark at its side and, when there is a problem, a sentence under it.

    Signals:
        edited(value): the user changed the value to another good one.
        left(): the user is done with this entry for now, so the next keystroke begins a new undo step.
        problem_changed(): the sentence in view is another one.
    """

    edited = Signal(object)
    left = Signal()
    problem_changed = Signal()

    def __init__(
        self, theme: Theme, label: str = "", help_text: str = "", parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._theme = theme
        self._help = help_text
        self._compact = False
        self._shown_problem: str | None = None
        self._shown_grave = False
        self._own_problem: str | None = None
        self._other_problem: str | None = None
        self.setAccessibleName(label)
        self.setToolTip(help_text)
        self._mark = ProblemMark(theme, self)
        self._sentence: Sentence | None = None  # most entries never need one
        self._row = QHBoxLayout()
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(4)
        self._row.addWidget(self._mark)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(1)
        column.addLayout(self._row)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)

    def help_text(self) -> str:
        """What the entry means, in a sentence or two."""
        return self._help

    def value(self) -> Any:
        """The last good value, in SI."""
        raise NotImplementedError

    def set_value(self, value: Any) -> None:
        """Show a value without emitting; leaves the user's keystrokes alone when they mean the same value."""
        raise NotImplementedError

    def set_units(self, units: Any) -> None:
        """Show values in other units; entries without units have nothing to do."""

    def set_problem(self, text: str | None) -> None:
        """Mark a problem found elsewhere (a finding, a rule across entries); None takes the mark off."""
        self._other_problem = text or None
        self._refresh_problem()

    def problem(self) -> str | None:
        """The sentence in view: the entry's own problem first, then one from elsewhere."""
        return self._own_problem or self._other_problem

    def set_compact(self) -> None:
        """Leave the sign and the sentence to the widget around this one; only the border and the tooltip
        tell.
        """
        self._compact = True
        self._mark.hide()

    def _add_editor(self, editor: QWidget, stretch: int = 1) -> None:
        editor.setAccessibleName(self.accessibleName())
        self._row.insertWidget(self._row.count() - 1, editor, stretch)
        if self.focusProxy() is None:
            self.setFocusProxy(editor)

    def _set_own_problem(self, text: str | None) -> None:
        self._own_problem = text or None
        self._refresh_problem()

    def _editors(self) -> list[QLineEdit]:
        return self.findChildren(QLineEdit)

    def _refresh_problem(self) -> None:
        text = self.problem()
        grave = text is not None and is_grave(text)
        if text == self._shown_problem and grave == self._shown_grave:
            return
        self._shown_problem, self._shown_grave = text, grave
        if not self._compact:
            self._show_sentence(text)
            self._mark.show_mark(text is not None, grave)
        shown = text or self._help
        self.setToolTip(shown)
        self._mark.setToolTip(text or "")
        self.setAccessibleDescription(shown)
        for editor in self._editors():
            editor.setAccessibleDescription(shown)
            editor.setProperty("problem", "false" if not text else "true" if grave else "warn")
            editor.style().unpolish(editor)
            editor.style().polish(editor)
        self.problem_changed.emit()

    def _show_sentence(self, text: str | None) -> None:
        if self._sentence is None:
            self._sentence = Sentence(self)
            self.layout().addWidget(self._sentence)
        tone = "problem" if self._shown_grave else "warn"
        if self._sentence.property("tone") != tone:
            self._sentence.setProperty("tone", tone)
            self._sentence.style().polish(self._sentence)
        self._sentence.setText(in_view(text or ""))
        self._sentence.setToolTip(text or "")
        self._sentence.setVisible(text is not None)


def show_in_view(entry: QWidget) -> None:
    """Scroll every area that the entry lies in so that it can be seen."""
    above = entry.parentWidget()
    while above is not None:
        if isinstance(above, QScrollArea):
            above.ensureWidgetVisible(entry)
        above = above.parentWidget()


class TypedEntry(Entry):
    """An entry typed as text. Subclasses say how text is read (`_read`) and how a value is written
    (`_write`).

    The value is kept beside the text: what is shown may be rounded, the value never is. Text that cannot be
    read is
    marked and left standing, while `value()` stays at the last good one. Escape goes back to the value at the
    start of
    this visit; leaving tidies the text.
    """

    def __init__(
        self, theme: Theme, label: str = "", help_text: str = "", parent: QWidget | None = None
    ) -> None:
        super().__init__(theme, label, help_text, parent)
        self._value: Any = None
        self._shown_text = ""
        self._shown_value: Any = None
        self._start_value: Any = None
        self._line = QLineEdit(self)
        self._line.textEdited.connect(self._typed)
        self._line.editingFinished.connect(self._finish)
        self._line.installEventFilter(self)
        self._add_editor(self._line)

    def _read(self, text: str) -> Any:
        """The value that the text means; raises ValueError with a sentence saying what is accepted."""
        raise NotImplementedError

    def _write(self, value: Any) -> str:
        """The text for a value."""
        raise NotImplementedError

    def value(self) -> Any:
        return self._value

    def text(self) -> str:
        """The text in view, good or not."""
        return self._line.text()

    def set_value(self, value: Any) -> None:
        typing = self._line.hasFocus() and self._line.text() != self._shown_text
        if typing and value == self._value:
            return
        self._value = self._start_value = value
        self._show_value()

    def set_read_only(self, fixed: bool) -> None:
        """Show without letting the user type (a derived value)."""
        self._line.setEnabled(not fixed)

    def _show_value(self) -> None:
        text = "" if self._value is None else self._write(self._value)
        self._shown_text, self._shown_value = text, self._value
        if self._line.text() != text:
            at = self._line.cursorPosition()
            self._line.setText(text)
            self._line.setCursorPosition(min(at, len(text)))
        self._set_own_problem(None)

    def _typed(self, text: str) -> None:
        if text == self._shown_text and self._shown_value is not None:
            value = self._shown_value
        else:
            try:
                value = self._read(text)
            except ValueError as error:
                self._set_own_problem(self._with_last_good(str(error)))
                return
        self._set_own_problem(None)
        if value != self._value:
            self._value = value
            self.edited.emit(value)

    def _with_last_good(self, sentence: str) -> str:
        if self._value is None:
            return sentence
        return f"{sentence} Until then {self._write(self._value)} stays in use."

    def _finish(self) -> None:
        """Tidy good text; bad text stays in view with its mark, so the user sees what to mend."""
        if self._own_problem is None:
            self._show_value()
            self._start_value = self._value
        self.left.emit()

    def _restore(self) -> bool:
        """Back to the value at the start of this visit; False when there was nothing to take back."""
        if (
            self._line.text() == self._shown_text
            and self._value == self._start_value
            and not self._own_problem
        ):
            return False
        changed = self._value != self._start_value
        self._value = self._start_value
        self._show_value()
        if changed:
            self.edited.emit(self._value)
        return True

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._line:
            if event.type() == QEvent.Type.ShortcutOverride and self._undoes(event):
                event.ignore()
                return True
            if isinstance(event, QFocusEvent) and event.gotFocus():
                if self._own_problem is None:
                    self._start_value = self._value
            elif isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
                return self._key(event)
        return super().eventFilter(watched, event)

    @staticmethod
    def _undoes(event: QEvent) -> bool:
        """Undo and redo belong to the whole project; the line must not keep those keys for its own text."""
        keys = (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo)
        return isinstance(event, QKeyEvent) and any(event.matches(key) for key in keys)

    def _key(self, event: QKeyEvent) -> bool:
        """Handle a key before the line sees it; True when it is used up."""
        return event.key() == Qt.Key.Key_Escape and self._restore()
