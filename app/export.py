"""Tables and pictures of the plan into a folder that the user picks."""

from __future__ import annotations

from pathlib import Path

from app.answers import Answer
from app.widgets.picture import save_bytes
from app.widgets.picture_menu import Pictured
from core.report import all_tables, csv_text


def save_tables(folder: Path, answer: Answer) -> list[Path]:
    """Write every table as CSV and return the files. Raises CannotSave."""
    files = []
    for name, table in all_tables(answer.plan, answer.study, answer.findings).items():
        file = folder / f"{name}.csv"
        save_bytes(file, csv_text(table).encode("utf-8"))
        files.append(file)
    return files


def save_pictures(folder: Path, pictures: dict[str, Pictured], kind: str = "svg") -> list[Path]:
    """Write each picture under its name and return the files. Raises CannotSave."""
    files = []
    for name, source in pictures.items():
        file = folder / f"{name}.{kind}"
        save_bytes(file, source.picture(kind))
        files.append(file)
    return files
