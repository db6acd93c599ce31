"""Where the pictures and fonts lie, and how fonts get in: the window looks the same on every machine that has them."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtGui import QFont, QFontDatabase

POINT_SIZE = 10


def assets_folder() -> Path:
    """The folder `assets` beside `app` and `core`."""
    return Path(__file__).resolve().parents[2] / "assets"


def load_fonts(folder: Path | None = None) -> list[str]:
    """Add every bundled font and return the family names; an empty or missing folder leaves the system's fonts."""
    folder = assets_folder() / "fonts" if folder is None else folder
    families: list[str] = []
    for file in sorted(folder.glob("*.ttf")) if folder.is_dir() else []:
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
