"""The files opened last, and the window's other memories between two starts."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings

MOST = 8


class Memory:
    """What is remembered on this computer: recent files, theme, the window's place."""

    def __init__(self) -> None:
        self._settings = QSettings("gantrywright", "gantrywright")

    def recent(self) -> list[Path]:
        """Files opened or saved last that still exist, the newest first."""
        kept = self._settings.value("recent", [])
        names = [kept] if isinstance(kept, str) else list(kept or [])
        return [Path(name) for name in names if Path(name).is_file()]

    def remember(self, path: Path) -> None:
        """Put a file at the top of the recent ones."""
        whole = str(path.resolve())
        names = [whole] + [str(name) for name in self.recent() if str(name) != whole]
        self._settings.setValue("recent", names[:MOST])

    def theme(self) -> str:
        return str(self._settings.value("theme", "system"))

    def set_theme(self, choice: str) -> None:
        self._settings.setValue("theme", choice)

    def geometry(self) -> QByteArray | None:
        kept = self._settings.value("geometry")
        return kept if isinstance(kept, QByteArray) else None

    def set_geometry(self, geometry: QByteArray) -> None:
        self._settings.setValue("geometry", geometry)
