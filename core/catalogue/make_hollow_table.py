"""Writes the table of square and rectangular hollow sections: `python -m core.catalogue.make_hollow_table`.

Sizes and walls are those of the standards' tables as we remember them; a size that stands in a published table we have read is
marked so. All figures follow from size, wall and finish by the standards' own formulas (`core.sections.hollow`).
"""

from __future__ import annotations

import sys
from importlib.resources import files
from pathlib import Path

WALLS = {
    "cold formed": (2, 2.5, 3, 4, 5, 6, 6.3, 8, 10, 12, 12.5, 16),
    "hot finished": (3, 3.2, 4, 5, 6.3, 8, 10, 12.5, 16),
}
"""Wall thicknesses of the size tables, mm. Source: EN 10219-2 and EN 10210-2, from memory."""

STANDARD = {"cold formed": "EN 10219-2", "hot finished": "EN 10210-2"}

Sizes = dict[tuple[int, int], tuple[float, float]]

COLD: Sizes = {
    (40, 40): (2, 4), (50, 50): (2, 5), (60, 60): (2, 6.3), (70, 70): (2.5, 6.3), (80, 80): (3, 8), (90, 90): (3, 8),
    (100, 100): (3, 10), (120, 120): (3, 12.5), (140, 140): (4, 12.5), (150, 150): (4, 16), (160, 160): (4, 16),
    (180, 180): (5, 16), (200, 200): (5, 16), (220, 220): (6, 16), (250, 250): (6, 16), (260, 260): (6, 16),
    (300, 300): (6, 16), (350, 350): (8, 16),
    (50, 30): (2, 4), (60, 40): (2, 4), (70, 50): (2, 4), (80, 40): (2, 5), (80, 60): (2, 5), (90, 50): (2, 5),
    (100, 40): (2.5, 5), (100, 50): (2.5, 6.3), (100, 60): (2.5, 6.3), (100, 80): (2.5, 6.3), (120, 60): (2.5, 8),
    (120, 80): (3, 8), (140, 80): (4, 10), (150, 100): (4, 12.5), (160, 80): (4, 12.5), (180, 100): (4, 12.5),
    (200, 100): (4, 16), (200, 120): (4, 12.5), (250, 150): (5, 16), (260, 180): (5, 16), (300, 100): (6, 16),
    (300, 150): (6, 16), (300, 200): (6, 16), (350, 250): (6, 16), (400, 200): (6, 16),
}  # fmt: skip
"""Height and width, mm, with the thinnest and the thickest wall. Source: EN 10219-2, from memory."""

HOT: Sizes = {
    (40, 40): (3, 5), (50, 50): (3, 6.3), (60, 60): (3, 8), (70, 70): (3, 8), (80, 80): (3.2, 8), (90, 90): (4, 8),
    (100, 100): (4, 10), (120, 120): (5, 12.5), (140, 140): (5, 12.5), (150, 150): (5, 16), (160, 160): (5, 16),
    (180, 180): (5, 16), (200, 200): (5, 16), (220, 220): (6.3, 16), (250, 250): (6.3, 16), (260, 260): (6.3, 16),
    (300, 300): (6.3, 16), (350, 350): (8, 16),
    (50, 30): (3, 5), (60, 40): (3, 6.3), (80, 40): (3, 8), (90, 50): (3.2, 8), (100, 50): (3.2, 8), (100, 60): (3.2, 8),
    (120, 60): (4, 10), (120, 80): (4, 10), (140, 80): (4, 10), (150, 100): (4, 12.5), (160, 80): (4, 12.5),
    (180, 100): (4, 12.5), (200, 100): (5, 16), (200, 120): (5, 12.5), (250, 150): (6.3, 16), (260, 180): (6.3, 16),
    (300, 200): (6.3, 16), (350, 250): (6.3, 16), (400, 200): (8, 16),
}  # fmt: skip
"""The same. Source: EN 10210-2, from memory."""

FOUND = {
    (40, 40, 3), (50, 50, 3), (60, 60, 4), (80, 80, 4), (100, 100, 5), (80, 40, 3), (100, 50, 4), (120, 80, 5), (200, 100, 5),
}  # fmt: skip
"""Sizes of both finishes in tables that we have read; `tests/validation` holds their figures."""


def table_text() -> str:
    """The table as CSV, sizes in mm."""
    lines = ["height_mm,width_mm,wall_mm,finish,source,status"]
    for finish, sizes in (("cold formed", COLD), ("hot finished", HOT)):
        for (height, width), (thin, thick) in sizes.items():
            for wall in WALLS[finish]:
                if thin <= wall <= thick:
                    status = "found" if (height, width, wall) in FOUND else "memory medium"
                    row = (height, width, f"{wall:g}", finish, f"{STANDARD[finish]} size table", status)
                    lines.append(",".join(str(cell) for cell in row))
    return "\n".join(lines) + "\n"


def main() -> int:
    """Write the table."""
    table = Path(str(files("core.catalogue").joinpath("hollow.csv")))
    text = table_text()
    table.write_text(text, encoding="utf-8", newline="\n")
    sys.stdout.write(f"{text.count(chr(10)) - 1} sizes written.\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
