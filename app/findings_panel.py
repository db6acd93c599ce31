"""All findings in one list over the page, opened from the verdict; each leads to where it is seen and mended.

The panel stops nothing: the page under it goes on, and Escape or a second click on the verdict's button closes it.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.finding_places import page_of
from app.look.theme import Theme
from app.page_list import PAGES
from core.findings import Finding, ordered

WIDTH, MARGIN, SIGN = 860, 14, 18
_SIGNS = {"limit": ("limit-broken", "bad"), "warning": ("warning", "warn"), "note": ("note", "quiet")}
_WORDS = {"limit": "over a limit", "warning": "to look at", "note": "for information"}
_PAGE_WORDS = {key: words for key, words, _ in PAGES}


class FindingsPanel(QFrame):
    """The list of findings.

    Signals:
        chosen(finding): the user wants to go to this one.
        closed(): the panel is no longer in view.
    """

    chosen = Signal(object)
    closed = Signal()

    def __init__(self, theme: Theme, over: QWidget) -> None:
        super().__init__(over)
        self._theme = theme
        self._top = 0
        self._findings: tuple[Finding, ...] = ()
        self.setObjectName("findings")
        self.setAutoFillBackground(True)
        self._title = QLabel(self)
        self._title.setProperty("heading", "true")
        self._shut = QToolButton(self)
        self._shut.setText("Close")
        self._shut.setProperty("segment", "true")
        self._shut.setToolTip("Escape closes the list too.")
        self._shut.clicked.connect(self.close_list)
        self.list = QListWidget(self)
        self.list.setWordWrap(True)
        self.list.setIconSize(QSize(SIGN, SIGN))
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.list.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.list.setAccessibleName("Findings")
        self.list.setSpacing(2)
        self.list.itemActivated.connect(self._go)
        self.list.itemClicked.connect(self._go)
        top = QHBoxLayout()
        top.addWidget(self._title, 1)
        top.addWidget(self._shut)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 12)
        column.addLayout(top)
        column.addWidget(self.list, 1)
        over.installEventFilter(self)
        theme.changed.connect(self._fill)
        self.hide()

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        """The newest findings; nothing is painted until the list is open."""
        findings = ordered(findings)
        if findings == self._findings:
            return
        self._findings = findings
        if self.isVisible():
            self._fill()
            self._place()

    def open_list(self, top: int) -> None:
        """Show the list from this height of the window downwards."""
        self._top = top
        self._fill()
        self.show()
        self._place()
        self.raise_()
        self.list.setFocus()
        self.list.setCurrentRow(0)

    def close_list(self) -> None:
        if self.isVisible():
            self.hide()
            self.closed.emit()

    def _fill(self) -> None:
        row = self.list.currentRow()
        self.list.clear()
        counts = {grave: sum(f.severity == grave for f in self._findings) for grave in _WORDS}
        told = [f"{count} {_WORDS[grave]}" for grave, count in counts.items() if count]
        self._title.setText(", ".join(told) if told else "Nothing found")
        for finding in self._findings:
            name, ink = _SIGNS[finding.severity]
            words = f"{_PAGE_WORDS[page_of(finding)]}.  {finding.message}"
            item = QListWidgetItem(self._theme.icon(name, ink), words, self.list)
            item.setToolTip(
                f"{_WORDS[finding.severity].capitalize()}. A click leads to the page {_PAGE_WORDS[page_of(finding)]}."
            )
            item.setData(Qt.ItemDataRole.UserRole, finding.message)
        self.list.setCurrentRow(min(row, self.list.count() - 1))

    def _place(self) -> None:
        over = self.parentWidget()
        width = min(WIDTH, over.width() - 2 * MARGIN)
        room = max(over.height() - self._top - MARGIN, 120)
        self.setGeometry(over.width() - width - MARGIN, self._top, width, room)
        self.layout().activate()
        self.list.doItemsLayout()
        last = (
            self.list.visualItemRect(self.list.item(self.list.count() - 1)).bottom()
            if self.list.count()
            else 0
        )
        rows = last + self.list.verticalScrollBar().value() + 2 * self.list.spacing()
        wanted = rows + 2 * self.list.frameWidth() + self.height() - self.list.height()
        self.setGeometry(over.width() - width - MARGIN, self._top, width, min(wanted, room))

    def _go(self, item: QListWidgetItem) -> None:
        message = item.data(Qt.ItemDataRole.UserRole)
        finding = next((f for f in self._findings if f.message == message), None)
        self.close_list()
        if finding is not None:
            self.chosen.emit(finding)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.close_list()
        else:
            super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Resize and self.isVisible():
            self._place()
        return super().eventFilter(watched, event)
