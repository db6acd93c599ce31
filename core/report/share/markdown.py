"""The shared list as Markdown with tables, readable as plain text too."""

from __future__ import annotations

import re

from core.report.csv_text import safe
from core.report.share.content import Part, Sharing
from core.report.tables import Cell, Column


def markdown_text(sharing: Sharing) -> str:
    """The whole list; text of the user's cannot make headings, links or cells of its own."""
    lines = [f"# {_plain(sharing.title)}", ""]
    for words in sharing.words:
        lines += [_plain(words), ""]
    for part in sharing.parts:
        lines += [f"## {part.table.title}", "", *_table(part), ""]
    return "\n".join([*lines, sharing.end, ""])


def _table(part: Part) -> list[str]:
    columns = part.table.columns
    heads = [f"{c.header}, {c.unit}" if c.unit else c.header for c in columns]
    lines = [
        f"| {' | '.join(map(_plain, heads))} |",
        f"| {' | '.join('---:' if c.align == 'right' else '---' for c in columns)} |",
    ]
    for row in part.table.rows:
        lines.append(f"| {' | '.join(_cell(c, v) for c, v in zip(columns, row, strict=True))} |")
    if part.totals is not None:
        cells = [_cell(c, v) for c, v in zip(columns, part.totals, strict=True)]
        lines.append(f"| {' | '.join(f'**{cell}**' if cell else '' for cell in cells)} |")
    return lines


def _cell(column: Column, value: Cell) -> str:
    shown = column.text(value)
    return _plain(shown) if isinstance(value, str) else shown


def _plain(text: str) -> str:
    """One line in which nothing is marked up and nothing begins like a formula."""
    flat = " ".join(safe(text).split())
    return re.sub(r"([\\`*_\[\]<>#|~])", r"\\\1", flat)
