"""Menus and their actions: made with the window, enabled when the engine is there."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu

from app.look.theme import CHOICES, Theme

Key = QKeySequence.StandardKey


class Actions:
    """Every action of the window by name; `wire` joins them to their deeds."""

    def __init__(self, window: QMainWindow, theme: Theme) -> None:
        self._window = window
        self._theme = theme
        self._icons: dict[str, QAction] = {}
        self._menu("&File")
        self.new = self._add("&New", Key.New)
        self.demos = self.menu.addMenu("Open a &demo")
        self.open = self._add("&Open…", Key.Open, "open")
        self.recent = self.menu.addMenu("Open &recent")
        self.menu.addSeparator()
        self.save = self._add("&Save", Key.Save, "save")
        self.save_as = self._add("Save &as…", "Ctrl+Shift+S", "save-as")
        self.menu.addSeparator()
        self.export_tables = self._add("Export &tables as CSV…", "Ctrl+E", "export")
        self.export_pictures = self._add("Export drawings and &plots…", "Ctrl+Shift+E")
        self.menu.addSeparator()
        self.quit = self._add("&Quit", "Ctrl+Q")
        self._menu("&Edit")
        self.undo = self._add("&Undo", Key.Undo, "undo")
        self.redo = self._add("&Redo", Key.Redo, "redo")
        self._menu("&View")
        self.pages: QMenu = self.menu
        self.menu.addSeparator()
        self.length = self._choice(self.menu.addMenu("&Lengths in"), {"mm": "Millimetres", "in": "Inches"})
        self.force = self._choice(self.menu.addMenu("&Forces in"), {"N": "Newtons", "lbf": "Pounds-force"})
        words = {"system": "As the system", "light": "Light", "dark": "Dark"}
        self.theme = self._choice(self.menu.addMenu("&Colours"), {key: words[key] for key in CHOICES})
        self._menu("&Help")
        self.help = self._add("&Guide to this page", Key.HelpContents, "guide")
        theme.changed.connect(self._dress)
        self._dress()
        self.enable(False)

    def enable(self, ready: bool) -> None:
        """Everything but quitting waits for the engine."""
        for action in self._window.findChildren(QAction):
            action.setEnabled(ready or action is self.quit)

    def wire(self, deeds: dict[QAction, Callable[[], object]]) -> None:
        for action, deed in deeds.items():
            action.triggered.connect(lambda _checked=False, deed=deed: deed())

    def fill(self, menu: QMenu, files: list[Path], open_file: Callable[[Path], object], empty: str) -> None:
        """List files in a submenu."""
        menu.clear()
        for file in files:
            words = (
                file.stem.replace("_", " ").replace("-", " ").capitalize()
                if menu is self.demos
                else file.name
            )
            action = menu.addAction(words.replace("&", "&&"), lambda file=file: open_file(file))
            action.setToolTip(str(file))
        if not files:
            menu.addAction(empty).setEnabled(False)

    def show_steps(self, undo: str, redo: str) -> None:
        """What undo and redo would do, in words; empty disables them."""
        for action, verb, words in ((self.undo, "&Undo", undo), (self.redo, "&Redo", redo)):
            action.setEnabled(bool(words))
            action.setText(f"{verb}: {words.replace('&', '&&')}" if words else verb)

    def _menu(self, title: str) -> None:
        self.menu = self._window.menuBar().addMenu(title)

    def _add(self, words: str, keys: Key | str, icon: str = "") -> QAction:
        action = QAction(words, self._window)
        if isinstance(keys, str):
            action.setShortcut(QKeySequence(keys))
        else:
            action.setShortcuts(keys)
        self.menu.addAction(action)
        if icon:
            self._icons[icon] = action
        return action

    def _choice(self, menu: QMenu, words: dict[str, str]) -> dict[str, QAction]:
        group = QActionGroup(self._window)
        made = {}
        for key, text in words.items():
            action = QAction(text, self._window)
            action.setCheckable(True)
            group.addAction(action)
            menu.addAction(action)
            made[key] = action
        return made

    def _dress(self) -> None:
        for name, action in self._icons.items():
            action.setIcon(self._theme.icon(name))
