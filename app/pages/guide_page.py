"""The user's guide, opened at the page that belongs to what is on screen."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSignalBlocker, Qt, QUrl
from PySide6.QtGui import QTextDocument
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QListWidgetItem, QTextBrowser, QWidget

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
    "joints": ("joints",),
    "parts": ("parts",),
    "cuts": ("cuts",),
    "money": ("money",),
    "rank": ("rank",),
    "section": ("section",),
    "compare": ("compare", "beams"),
    "guide": ("index",),
}
"""File names tried for a page's key, the first that exists."""
TITLES = {"index": "Start", "cuts": "Cut list", "rank": "Beams"}
READING_WIDTH = 900
"""Pixels beyond which lines are too long to be read with ease."""


def title_of(file: Path) -> str:
    """The words of a guide's file in the list."""
    return TITLES.get(file.stem, file.stem.replace("-", " ").capitalize())


class GuidePage(Page):
    """Markdown pages with their links, and a list of all of them."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.browser = QTextBrowser(self)
        self.browser.setOpenExternalLinks(False)
        self.browser.setAccessibleName("Guide")
        self.browser.setMaximumWidth(READING_WIDTH)
        self.contents = QListWidget(self)
        self.contents.setAccessibleName("Pages of the guide")
        self.contents.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for file in self.files():
            item = QListWidgetItem(title_of(file), self.contents)
            item.setData(Qt.ItemDataRole.UserRole, str(file))
        self.contents.setFixedWidth(self.contents.sizeHintForColumn(0) + 2 * self.contents.frameWidth() + 28)
        self.contents.currentItemChanged.connect(self._chosen)
        self.browser.sourceChanged.connect(self._mark)
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 10, 14, 10)
        row.setSpacing(10)
        row.addWidget(self.contents)
        row.addWidget(self.browser, 1)
        row.addStretch(0)
        theme.changed.connect(self._dress)
        self.open_for("guide")

    def _chosen(self, item: QListWidgetItem | None) -> None:
        if item is not None:
            self.open_file(Path(item.data(Qt.ItemDataRole.UserRole)))

    def _mark(self, source: QUrl) -> None:
        """Mark the page in view in the list, also when a link led there."""
        with QSignalBlocker(self.contents):
            for row in range(self.contents.count()):
                if Path(self.contents.item(row).data(Qt.ItemDataRole.UserRole)).name == source.fileName():
                    self.contents.setCurrentRow(row)

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
