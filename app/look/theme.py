"""The theme in use: follows the system's light or dark scheme until the user chooses one.

One `Theme` is made with the window and handed to every widget that paints; widgets repaint on its `changed`
signal.
"""

from __future__ import annotations

from typing import Literal

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QGuiApplication, QIcon, QPalette
from PySide6.QtWidgets import QApplication, QWidget

from app.look.icons import icon
from app.look.palette import DARK, LIGHT, Palette

Choice = Literal["system", "light", "dark"]
CHOICES: tuple[Choice, ...] = ("system", "light", "dark")


class Theme(QObject):
    """Palette in use, with the choice behind it.

    Signals:
        changed: the palette is another one; repaint.
    """

    changed = Signal()

    def __init__(self, choice: Choice = "system", parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._choice: Choice = choice
        self._palette = self._wanted()
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._system_changed)

    @property
    def choice(self) -> Choice:
        return self._choice

    @property
    def palette(self) -> Palette:
        return self._palette

    def choose(self, choice: Choice) -> None:
        """Follow the system, or stay light or dark."""
        if choice not in CHOICES:
            raise ValueError(f"{choice!r} is no choice of theme; use one of {', '.join(CHOICES)}.")
        self._choice = choice
        self._refresh()

    def icon(self, name: str, ink: str = "text") -> QIcon:
        """The icon `name` in the colours in use."""
        return icon(name, self._palette, ink)

    def apply(self, target: QApplication | QWidget) -> None:
        """Dress the application, or one window, in the palette in use; called again by the window on
        `changed`.
        """
        target.setPalette(qt_palette(self._palette))
        target.setStyleSheet(style_sheet(self._palette))

    def _system_changed(self, _scheme: object = None) -> None:
        self._refresh()

    def _wanted(self) -> Palette:
        if self._choice == "system":
            dark = QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark
        else:
            dark = self._choice == "dark"
        return DARK if dark else LIGHT

    def _refresh(self) -> None:
        wanted = self._wanted()
        if wanted is not self._palette:
            self._palette = wanted
            self.changed.emit()


def qt_palette(colours: Palette) -> QPalette:
    """The colours as Qt's own widgets want them."""
    roles = {
        QPalette.ColorRole.Window: colours.window,
        QPalette.ColorRole.WindowText: colours.text,
        QPalette.ColorRole.Base: colours.entry,
        QPalette.ColorRole.AlternateBase: colours.panel,
        QPalette.ColorRole.Text: colours.text,
        QPalette.ColorRole.PlaceholderText: colours.quiet,
        QPalette.ColorRole.Button: colours.panel,
        QPalette.ColorRole.ButtonText: colours.text,
        QPalette.ColorRole.BrightText: colours.bad,
        QPalette.ColorRole.Highlight: colours.selection,
        QPalette.ColorRole.HighlightedText: colours.text,
        QPalette.ColorRole.Link: colours.accent,
        QPalette.ColorRole.LinkVisited: colours.accent,
        QPalette.ColorRole.ToolTipBase: colours.panel,
        QPalette.ColorRole.ToolTipText: colours.text,
        QPalette.ColorRole.Accent: colours.accent,
        QPalette.ColorRole.Light: colours.entry,
        QPalette.ColorRole.Midlight: colours.panel,
        QPalette.ColorRole.Mid: colours.line,
        QPalette.ColorRole.Dark: colours.line,
        QPalette.ColorRole.Shadow: colours.line,
    }
    made = QPalette()
    for role, colour in roles.items():
        made.setColor(role, QColor(colour))
    for role in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, role, QColor(colours.quiet))
    return made


def style_sheet(colours: Palette) -> str:
    """The few things the palette cannot say: quiet borders, a focus ring, entries with a problem."""
    return f"""
    QToolTip {{ color: {colours.text}; background: {colours.panel}; border: 1px solid {colours.line}; padding:
    3px; }}
    QLineEdit {{ background: {colours.entry}; color: {colours.text}; border: 1px solid {colours.line};
        border-radius: 3px; padding: 2px 5px; min-height: 18px; }}
    QLineEdit:focus {{ border: 2px solid {colours.accent}; padding: 1px 4px; }}
    QLineEdit:disabled {{ background: {colours.panel}; color: {colours.quiet}; }}
    QLineEdit[problem="true"] {{ border: 2px dashed {colours.bad}; padding: 1px 4px; }}
    QLineEdit[problem="warn"] {{ border: 2px dashed {colours.warn}; padding: 1px 4px; }}
    QLabel[tone="quiet"] {{ color: {colours.quiet}; }}
    QLabel[tone="problem"] {{ color: {colours.bad}; }}
    QLabel[tone="warn"] {{ color: {colours.warn}; }}
    QLabel[tone="good"] {{ color: {colours.good}; }}
    QGroupBox {{ border: 1px solid {colours.grid}; border-radius: 4px; margin-top: 16px; padding: 6px 4px 4px
    4px; }}
    QGroupBox::title {{ subcontrol-origin: margin; left: 6px; color: {colours.quiet}; }}
    QTabBar::tab {{ border: 1px solid {colours.line}; border-radius: 3px; padding: 4px 14px; margin: 0 6px 4px 0;
        color: {colours.text}; background: {colours.panel}; }}
    QTabBar::tab:hover, QTabBar::tab:focus {{ border-color: {colours.accent}; }}
    QTabBar::tab:selected {{ background: {colours.selection}; font-weight: bold;
        border: 2px solid {colours.accent}; padding: 3px 13px; }}
    QTabWidget::pane {{ border: 0; }}
    QTabBar {{ qproperty-drawBase: 0; }}
    QTableView::item {{ padding: 2px 6px; }}
    QHeaderView {{ background: {colours.panel}; }}
    QHeaderView::section {{ background: {colours.panel}; color: {colours.text}; border: 0;
        border-bottom: 1px solid {colours.line}; padding: 3px 9px; }}
    """
