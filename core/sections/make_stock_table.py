"""Writes the table of the stock profiles' properties: `python -m core.sections.make_stock_table`.

To be run after any change to the outline of T-slot profiles or to their analysis; a test makes
part of it again.
"""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path

from core.sections.analysis import analyse
from core.sections.book import NUMBERS, key_of
from core.sections.properties import SectionProperties
from core.sections.t_slot import STOCK, TSlot

TABLE = Path(__file__).parent / "data" / "t_slot_stock.csv"
DIGITS = 8
"""Significant digits of a figure: more than the analysis is worth, few enough to be the same anywhere."""


def table_row(section: TSlot, properties: SectionProperties) -> dict[str, str]:
    """One row, keyed by column."""
    numbers = {name: f"{getattr(properties, name):.{DIGITS}g}" for name in NUMBERS}
    words = {"name": properties.name, "method": properties.method, "source": properties.source}
    return {"key": key_of(section), **words, **numbers}


def table_text(sections: tuple[TSlot, ...]) -> str:
    """The table as CSV; figures in m, m2 and m4."""
    out = io.StringIO()
    writer = csv.DictWriter(out, ["key", "name", *NUMBERS, "method", "source"], lineterminator="\n")
    writer.writeheader()
    for section in sections:
        writer.writerow(table_row(section, analyse(section)))
    return out.getvalue()


def main() -> int:
    """Analyse every stock profile and write the table."""
    text = table_text(STOCK)
    TABLE.parent.mkdir(exist_ok=True)
    TABLE.write_text(text, encoding="utf-8", newline="\n")
    sys.stdout.write(f"{len(STOCK)} profiles written.\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
