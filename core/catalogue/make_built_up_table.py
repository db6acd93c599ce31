"""Writes the table of the built-up sections' analysed shapes: `python -m core.catalogue.make_built_up_table`.

To be run after any change to the candidates, to how pieces are laid, or to the analysis; a test makes part of it again.
"""

from __future__ import annotations

import sys
from importlib.resources import files
from pathlib import Path

from core.catalogue.built_up import candidates
from core.sections import BUILT_UP
from core.sections.built_up_properties import shape_of
from core.sections.make_stock_table import shape_table_text
from core.sections.shape import Shape


def shapes() -> tuple[Shape, ...]:
    """What has to be analysed, once each; unjoined sections need nothing."""
    found = {}
    for _, section, metal in candidates():
        if isinstance(section, BUILT_UP) and getattr(section, "joint", "fully joined") != "unjoined":
            shape = shape_of(section, metal)
            found[shape.key] = shape
    return tuple(found.values())


def main() -> int:
    """Analyse every shape and write the table."""
    table = Path(str(files("core.sections").joinpath("data/built_up_stock.csv")))
    made = shapes()
    table.write_text(shape_table_text(made), encoding="utf-8", newline="\n")
    sys.stdout.write(f"{len(made)} shapes written.\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
