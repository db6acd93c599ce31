"""Writes the table of the stock profiles' properties: `python -m core.sections.make_stock_table`.

To be run after any change to the outline of T-slot profiles or to their analysis; a test makes
part of it again.
"""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path

from core.sections.analysis import analyse, analyse_shape
from core.sections.book import NUMBERS, PLACES, key_of
from core.sections.properties import SectionProperties
from core.sections.shape import Shape
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


def shape_row(shape: Shape) -> dict[str, str]:
    """One row of the table of built-up shapes, keyed by column."""
    found = analyse_shape(shape)
    numbers = {name: f"{getattr(found, name):.{DIGITS}g}" for name in NUMBERS}
    # Symmetric shapes have none of these; what the mesh leaves would only be noise.
    least = {name: 1e-6 * max(found.width, found.height) for name in PLACES} | {"iyz": 1e-6 * found.iyy}
    places = {
        name: f"{v:.{DIGITS}g}" if abs(v := getattr(found, name)) > least[name] else "0" for name in PLACES
    }
    return {
        "key": shape.key,
        "name": found.name,
        "method": found.method,
        "source": found.source,
        **numbers,
        **places,
    }


def shape_table_text(shapes: tuple[Shape, ...]) -> str:
    """The table of built-up shapes as CSV; figures in m, m2 and m4."""
    out = io.StringIO()
    columns = ["key", "name", *NUMBERS, *PLACES, "method", "source"]
    writer = csv.DictWriter(out, columns, lineterminator="\n")
    writer.writeheader()
    for shape in shapes:
        writer.writerow(shape_row(shape))
    return out.getvalue()


def main() -> int:
    """Analyse every stock profile and write the table; that of built-up sections is made by the catalogue."""
    text = table_text(STOCK)
    TABLE.parent.mkdir(exist_ok=True)
    TABLE.write_text(text, encoding="utf-8", newline="\n")
    sys.stdout.write(f"{len(STOCK)} profiles written.\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
