"""Tables and pictures of the plan into a folder that the user picks."""

from __future__ import annotations

from pathlib import Path

from app.answers import Answer
from app.share_pdf import pdf_bytes
from app.widgets.picture import save_bytes
from app.widgets.picture_menu import Pictured
from core.report import all_tables, csv_text
from core.report.bill_tables import bill_table
from core.report.share import html_text, markdown_text, share_content, workbook_bytes

SHARED = {
    "csv": ("CSV", "csv"),
    "markdown": ("Markdown", "md"),
    "html": ("Web page", "html"),
    "xlsx": ("Spreadsheet", "xlsx"),
    "pdf": ("PDF", "pdf"),
}
"""Formats of the list to share: words and suffix."""


def shared_bytes(kind: str, answer: Answer) -> bytes:
    """The bill of parts as the content of a file; `kind` is a key of `SHARED`."""
    bill, project = answer.plan.bill, answer.project
    assert bill is not None  # only a plan made by hand has none
    if kind == "csv":
        return csv_text(bill_table(bill, project.units)).encode("utf-8")
    if kind == "xlsx":
        return workbook_bytes(project, bill)
    content = share_content(project, bill)
    if kind == "pdf":
        return pdf_bytes(content)
    return (html_text(content) if kind == "html" else markdown_text(content)).encode("utf-8")


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
