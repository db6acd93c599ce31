"""The user's guide, opened at the page that belongs to what is on screen."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QUrl
from PySide6.QtGui import QTextDocument
from PySide6.QtWidgets import QHBoxLayout, QTextBrowser, QToolButton, QVBoxLayout, QWidget

from app import paths
from app.look.theme import Theme
from app.page_list import PAGES
from app.pages.page import Page

NAMES = {
    "machine": ("machine",),
    "bend": ("deflection", "bend"),
    "stiffen": ("stiffen",),
    "base": ("base",),
    "cutting": ("cutting",),
    "vibration": ("vibration",),
    "guides": ("carriages",),
    "drives": ("drives",),
    "heat": ("heat",),
    "form": ("form",),
    "rails": ("rails", "fasteners"),
    "parts": ("parts",),
    "money": ("money",),
    "section": ("section",),
    "compare": ("compare", "beams"),
    "guide": ("index",),
}
"""File names tried for a page's key, the first that exists."""
TITLES = {"index": "Start"}


class GuidePage(Page):
    """Markdown pages with their links, and a button for each page."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.browser = QTextBrowser(self)
        self.browser.setOpenExternalLinks(False)
        self.browser.setAccessibleName("Guide")
        self._row = QHBoxLayout()
        self._row.setSpacing(6)
        for file in self.files():
            button = QToolButton(self)
            button.setText(TITLES.get(file.stem, file.stem.replace("-", " ").capitalize()))
            button.setProperty("segment", "true")
            button.clicked.connect(lambda _checked=False, file=file: self.open_file(file))
            self._row.addWidget(button)
        self._row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        column.addLayout(self._row)
        column.addWidget(self.browser, 1)
        theme.changed.connect(self._dress)
        self.open_for("guide")

    @staticmethod
    def files() -> list[Path]:
        """The guide's files: the start, then in the order of the side bar, then what has no page of its own."""
        try:
            found = sorted(paths.guide().glob("*.md"))
        except FileNotFoundError:
            return []
        order = ["index", *(name for key, _, _ in PAGES for name in NAMES.get(key, (key,)))]
        return sorted(found, key=lambda file: order.index(file.stem) if file.stem in order else len(order))

    def open_for(self, key: str) -> None:
        """Open what belongs to the page of that key, else the start."""
        by_name = {file.stem: file for file in self.files()}
        for name in (*NAMES.get(key, ()), "index"):
            if name in by_name:
                self.open_file(by_name[name])
                return
        self.browser.setPlainText("The guide that comes with the program is missing.")

    def open_file(self, file: Path) -> None:
        self.browser.setSource(QUrl.fromLocalFile(str(file)), QTextDocument.ResourceType.MarkdownResource)

    def _dress(self) -> None:
        source = self.browser.source()
        if not source.isEmpty():
            self.browser.setSource(source, QTextDocument.ResourceType.MarkdownResource)
            self.browser.reload()
