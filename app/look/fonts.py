"""How the bundled fonts get in, so that the window looks the same on every machine, even without fonts."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from PySide6.QtGui import QFont, QFontDatabase

from app import paths

POINT_SIZE = 10


def load_fonts(files: Iterable[Path] | None = None) -> list[str]:
    """Add the bundled fonts and return their family names; without any, the system's fonts stay in use."""
    if files is None:
        try:
            files = paths.fonts()
        except FileNotFoundError:
            files = ()
    families: list[str] = []
    for file in files:
        number = QFontDatabase.addApplicationFont(str(file))
        for family in QFontDatabase.applicationFontFamilies(number) if number >= 0 else []:
            if family not in families:
                families.append(family)
    return families


def window_font(families: list[str]) -> QFont:
    """The window's font: the plainest bundled family, else the system's own."""
    font = QFont()
    plain = [name for name in families if "mono" not in name.lower()]
    if plain:
        font.setFamily(min(plain, key=len))
    font.setPointSize(POINT_SIZE)
    return font
