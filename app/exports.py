"""The window's ways to export (every table, every picture, parts, variants), and the one file that is read to compare with."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from app import export
from app.desk import Desk
from app.files import message
from app.pictures import pictures
from app.shell import VerdictBand
from app.widgets.picture import CannotSave, save_bytes
from core.storage import BadFile, load_project


class Exports:
    """Asks for a folder or a file and saves; what goes wrong is told in a box, what went well in the band."""

    def __init__(self, window: QWidget, desk: Desk, band: VerdictBand) -> None:
        self._window = window
        self._desk = desk
        self._band = band

    def tables(self) -> None:
        """Every table into a folder."""
        folder = self._ask_folder()
        if folder is not None:
            self._desk.with_everything(
                lambda answer: self._try_saving(lambda: export.save_tables(folder, answer))
            )

    def pictures(self) -> None:
        """Every drawing and plot into a folder."""
        self._desk.refresh_all()
        folder = self._ask_folder()
        if folder is not None:
            self._try_saving(lambda: export.save_pictures(folder, pictures(self._desk)))

    def parts(self, kind: str = "csv") -> None:
        """The bill of parts into a file, as a key of `export.SHARED` says."""
        words, suffix = export.SHARED[kind]
        answer = self._desk.results.answer
        if answer is None:
            return
        name, _ = QFileDialog.getSaveFileName(
            self._window, "Save the list", f"parts.{suffix}", f"{words} (*.{suffix})"
        )
        if name:
            self._desk.buying.with_bars(
                answer,
                lambda counted: self._try_saving(
                    lambda: save_bytes(Path(name), export.shared_bytes(kind, counted))
                ),
            )

    def variants(self) -> None:
        """The figures of all variants into a file."""
        name, _ = QFileDialog.getSaveFileName(
            self._window, "Save the comparison", "variants.csv", "CSV (*.csv)"
        )
        if name:
            text = self._desk.compare.csv()
            self._try_saving(lambda: save_bytes(Path(name), text.encode("utf-8")))

    def other_project(self) -> None:
        """Another project file, to be compared with as a variant."""
        name, _ = QFileDialog.getOpenFileName(
            self._window, "Compare with another project", "", "Gantrywright project (*.json)"
        )
        if not name:
            return
        try:
            other = load_project(name)
        except BadFile as error:
            box = message(self._window, "That file could not be opened.", str(error))
            box.exec()
            box.deleteLater()
        else:
            self._desk.comparing.take_what_differs(other, other.name)

    def _ask_folder(self) -> Path | None:
        folder = QFileDialog.getExistingDirectory(self._window, "Export into a folder")
        return Path(folder) if folder else None

    def _try_saving(self, save: Callable[[], object]) -> None:
        try:
            save()
        except CannotSave as error:
            box = message(self._window, "That did not work.", str(error))
            box.exec()
            box.deleteLater()
        else:
            self._band.note("Saved.")
