"""The shared list as one HTML page: no outside files, columns sorted by a few lines of script, totals that stay below."""

from __future__ import annotations

import html

from core.report.csv_text import safe
from core.report.links import good_link
from core.report.share.content import Part, Sharing
from core.report.tables import Cell, Column

_STYLE = """
body { font: 15px/1.4 system-ui, sans-serif; margin: 1.5rem; color: #1c1f24; background: #ffffff; }
table { border-collapse: collapse; margin: 0.5rem 0 1.5rem; font-size: 13px; }
th, td { border: 1px solid #b9bfc9; padding: 3px 7px; text-align: left; vertical-align: top; }
td:not(.right) { min-width: 5rem; }
th { background: #eceff3; vertical-align: bottom; }
th button { all: unset; cursor: pointer; font-weight: bold; }
th button:focus-visible { outline: 2px solid #0b5cad; }
.right { text-align: right; }
td.right { white-space: nowrap; }
tfoot td { font-weight: bold; background: #f5f6f8; }
@media (prefers-color-scheme: dark) {
  body { color: #e6e8eb; background: #17191d; } th { background: #2a2e35; } tfoot td { background: #22262c; }
  th, td { border-color: #4a515c; } a { color: #8fc1f5; }
}
@media print { body { margin: 0; font-size: 10px; } table { font-size: 9px; } thead { display: table-header-group; } }
"""
_SCRIPT = """
for (const button of document.querySelectorAll("th button")) button.addEventListener("click", () => {
  const head = button.parentElement, body = head.closest("table").tBodies[0], column = head.cellIndex;
  const down = head.getAttribute("aria-sort") === "ascending";
  for (const other of head.parentElement.cells) other.removeAttribute("aria-sort");
  head.setAttribute("aria-sort", down ? "descending" : "ascending");
  const key = row => row.cells[column].dataset.v;
  const order = (a, b) => {
    const x = key(a), y = key(b);
    if (x === "" || y === "") return (x === "") - (y === "");
    const both = x - y;
    return (down ? -1 : 1) * (Number.isNaN(both) ? x.localeCompare(y) : both);
  };
  body.append(...[...body.rows].sort(order));
});
"""
WIDE, WIDEST = 9, 24
"""More columns than the first share the whole width of a printed page; words want no more letters than the second."""
_POLICY = "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'"


def html_text(sharing: Sharing, script: bool = True) -> str:
    """The whole page; without `script` for what prints it."""
    title = html.escape(sharing.title)
    words = "".join(f"<p>{html.escape(safe(text))}</p>\n" for text in sharing.words)
    tables = "".join(_table(part, script) for part in sharing.parts)
    behind = f"<script>{_SCRIPT}</script>\n" if script else ""
    policy = f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">\n' if script else ""
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n{policy}'
        f"<title>{title}</title>\n<style>{_STYLE if script else ''}</style>\n</head>\n<body>\n<h1>{title}</h1>\n"
        f"{words}{tables}<p>{html.escape(sharing.end)}</p>\n{behind}</body>\n</html>\n"
    )


def _table(part: Part, sorts: bool) -> str:
    columns = part.table.columns
    widths = [""] * len(columns) if sorts else _widths(part)
    heads = "".join(_head(column, sorts, width) for column, width in zip(columns, widths, strict=True))
    body = "".join(_row(columns, row) for row in part.table.rows)
    foot = "" if part.totals is None else f"<tfoot>{_row(columns, part.totals)}</tfoot>\n"
    title = html.escape(part.table.title)
    wide = ' width="100%"' if len(columns) > WIDE else ""
    attributes = "" if sorts else f' border="1" cellspacing="0" cellpadding="2"{wide}'
    return (
        f"<h2>{title}</h2>\n<table{attributes}>\n<thead><tr>{heads}</tr></thead>\n<tbody>\n{body}</tbody>\n"
        f"{foot}</table>\n"
    )


def _widths(part: Part) -> list[str]:
    """Shares of the width for what prints the page and does not share it out by itself; none for a narrow table."""
    columns = part.table.columns
    if len(columns) <= WIDE:
        return [""] * len(columns)
    wanted = []
    for k, column in enumerate(columns):
        texts = [column.text(row[k]) for row in part.table.rows]
        longest = max((len(text) for text in texts), default=0)
        word = 1.5 * max(len(word) for word in column.header.split())
        wanted.append(max(word, min(0.7 * longest, WIDEST) if column.align == "left" else longest) + 2.0)
    return [f' width="{100.0 * width / sum(wanted):.1f}%"' for width in wanted]


def _head(column: Column, sorts: bool, width: str = "") -> str:
    words = html.escape(f"{column.header}, {column.unit}" if column.unit else column.header)
    side = ' class="right"' if column.align == "right" else ""
    return f"<th{side}{width}>{f'<button>{words}</button>' if sorts else words}</th>"


def _row(columns: tuple[Column, ...], row: tuple[Cell, ...]) -> str:
    return f"<tr>{''.join(_cell(c, v) for c, v in zip(columns, row, strict=True))}</tr>\n"


def _cell(column: Column, value: Cell) -> str:
    shown = column.text(value)
    words = html.escape(safe(shown) if isinstance(value, str) else shown)
    if column.header == "Link" and isinstance(value, str) and good_link(value):
        words = f'<a href="{html.escape(value, quote=True)}" rel="noopener noreferrer nofollow">{html.escape(value)}</a>'
    side = ' class="right" align="right"' if column.align == "right" else ""
    return f'<td{side} data-v="{_sorted_by(column, value)}">{words}</td>'


def _sorted_by(column: Column, value: Cell) -> str:
    """What the script sorts a cell by; the empty text comes last, and so does what has no price."""
    if value is None or (column.money and isinstance(value, str)):
        return ""
    return html.escape(value, quote=True) if isinstance(value, str) else str(value)
