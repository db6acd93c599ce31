"""A table file as rows of text: CSV with comma, semicolon or tab, or the first sheet of an XLSX workbook."""

from __future__ import annotations

import csv
import io
import warnings
import zipfile
import zlib
from dataclasses import dataclass
from datetime import date as Date
from datetime import datetime
from typing import Any

from core.errors import GantrywrightError
from core.report.csv_text import FORMULA_STARTS

MOST_BYTES = 5_000_000
MOST_UNPACKED = 60_000_000
MOST_ROWS = 20_000
MOST_COLUMNS = 120
# What the reader of workbooks ends in when a file is damaged: it checks little by itself.
_DAMAGED = (
    zipfile.BadZipFile, zlib.error, SyntaxError, OSError, EOFError, RuntimeError,
    ValueError, TypeError, AttributeError, LookupError, ArithmeticError, AssertionError,
)  # fmt: skip


class BadTable(GantrywrightError):
    """A file that is no table that can be read; the text says what would be."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """Rows of text with the number of each row in its file (from 1); all rows are equally long, the first holds the names.

    `decimal` is the decimal mark that its figures use, where the kind of file tells.
    """

    name: str
    rows: tuple[tuple[str, ...], ...]
    numbers: tuple[int, ...]
    decimal: str | None = None


def read_sheet(data: bytes, name: str) -> Sheet:
    """The table in a file's content; rows without any text are left out.

    Args:
        name: the file's name, for sentences.

    Raises:
        BadTable: too large, no table, nothing in it.
    """
    if len(data) > MOST_BYTES:
        raise BadTable(f"{name} is larger than {MOST_BYTES // 1_000_000} MB, too large for a list of parts.")
    decimal: str | None = "."
    if data.startswith(b"PK"):
        rows = _workbook(data, name)
    else:
        rows, decimal = _csv(data, name)
    kept = [(number, row) for number, row in enumerate(rows, start=1) if any(cell.strip() for cell in row)]
    if len(kept) < 2:
        raise BadTable(f"{name} holds no rows below its names of columns.")
    if len(kept) > MOST_ROWS:
        raise BadTable(f"{name} holds too many rows; up to {MOST_ROWS} are read.")
    width = max(max(k for k, cell in enumerate(row, start=1) if cell.strip()) for _, row in kept)
    if width > MOST_COLUMNS:
        raise BadTable(f"{name} has too many columns; up to {MOST_COLUMNS} are read.")
    filled = tuple(_padded(row, width) for _, row in kept)
    return Sheet(name, filled, tuple(number for number, _ in kept), decimal)


def _padded(row: list[str], width: int) -> tuple[str, ...]:
    cells = [plain_cell(cell) for cell in row[:width]]
    return (*cells, *[""] * (width - len(cells)))


def plain_cell(text: str) -> str:
    """The text without the apostrophe that keeps a spreadsheet from taking it for a formula."""
    inner = text[1:]
    guarded = text.startswith("'") and (
        inner.startswith(FORMULA_STARTS) or inner.lstrip().startswith(FORMULA_STARTS)
    )
    return inner if guarded else text


def _csv(data: bytes, name: str) -> tuple[list[list[str]], str | None]:
    if b"\0" in data[:4096] and not data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise BadTable(f"{name} is no table. Accepted: CSV text, or an XLSX workbook.")
    try:
        wide = data.startswith((b"\xff\xfe", b"\xfe\xff"))
        text = data.decode("utf-16" if wide else "utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("cp1252", errors="replace")  # what older spreadsheets write
    mark = _separator(text)
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=mark))
    except csv.Error as error:
        raise BadTable(f"{name} cannot be read as CSV: {error}.") from error
    return rows, "," if mark == ";" else None


def _separator(text: str) -> str:
    """The mark that parts the names of the columns."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    outside = "".join(first.split('"')[::2])
    counts = {mark: outside.count(mark) for mark in (",", ";", "\t")}
    return max(counts, key=lambda mark: counts[mark])


def _workbook(data: bytes, name: str) -> list[list[str]]:
    from openpyxl import load_workbook

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            if sum(entry.file_size for entry in packed.infolist()) > MOST_UNPACKED:
                raise BadTable(f"{name} unpacks to more than {MOST_UNPACKED // 1_000_000} MB.")
        with warnings.catch_warnings():
            warnings.simplefilter(
                "ignore"
            )  # of validation and drawings in the file, which are of no concern here
            book = load_workbook(io.BytesIO(data), read_only=True, data_only=True)
            rows = _first_sheet(book)
            book.close()
    except _DAMAGED as error:
        raise BadTable(f"{name} cannot be read as an XLSX workbook.") from error
    return rows


def _first_sheet(book: Any) -> list[list[str]]:
    rows: list[list[str]] = []
    for row in book.worksheets[0].iter_rows(values_only=True):
        if len(rows) > MOST_ROWS:
            break  # the caller says that there are too many
        rows.append([_text(cell) for cell in row[: MOST_COLUMNS + 1]])
    return rows


def _text(cell: Any) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, datetime):
        return cell.date().isoformat()
    if isinstance(cell, Date):
        return cell.isoformat()
    if isinstance(cell, float):
        return repr(int(cell)) if cell.is_integer() and abs(cell) < 1e15 else repr(cell)
    return str(cell)
