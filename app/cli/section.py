"""The section command: an outline out of a drawing, its properties as lines or as JSON."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from pathlib import Path

from app.cli.solving import with_sections
from app.reading import read_bytes
from core.bars.figures import BarFigure, bar_figures
from core.errors import BadEntry
from core.materials import material
from core.sections import SectionProperties, properties
from core.sections.dxf_reading import DrawnOutline, read_dxf
from core.storage import BadFile
from core.units import METRIC, show


def section(arguments: Namespace) -> int:
    """Print the properties of the outline in a drawing. Raises BadFile, which names the file and what is wrong."""
    file: Path = arguments.drawing
    try:
        drawn = read_dxf(read_bytes(file), file.stem, arguments.unit)
        metal = material(arguments.material)
    except BadEntry as error:
        told = " Tell it with --unit." if error.where == "unit" and arguments.unit is None else ""
        words = f"{error.where}: {error.value} {error.problem}. Accepted: {error.accepted}.{told}"
        raise BadFile(str(file), words) from error
    found = with_sections(lambda book: properties(drawn.outline, book))
    figures = bar_figures(found, found, None, metal)
    for note in drawn.notes():
        print(note, file=sys.stderr)
    if arguments.json:
        print(json.dumps(_json(drawn, figures, found), indent=2, allow_nan=False))
        return 0
    print(
        f"{drawn.outline.name}: {_size(drawn)}, drawn in {drawn.unit}, {_points(drawn)} points, {metal.name}"
    )
    wide = max(len(figure.words) for figure in figures)
    for figure in figures:
        print(f"  {figure.words:<{wide}}  {figure.symbol:<6} {show(figure.used, figure.quantity, METRIC)}")
    print(f"{found.method} Source: {found.source}.")
    return 0


SI = {
    "width": "m",
    "height": "m",
    "area": "m2",
    "iyy": "m4",
    "izz": "m4",
    "iyz": "m4",
    "it": "m4",
    "avy": "m2",
    "avz": "m2",
    "centroid_y": "m",
    "centroid_z": "m",
    "shear_centre_y": "m",
    "shear_centre_z": "m",
}


def _json(drawn: DrawnOutline, figures: tuple[BarFigure, ...], found: SectionProperties) -> dict[str, object]:
    moduli = {f"{f.key}_m3": f.used for f in figures if f.quantity == "section_modulus"}
    mass = next(f.used for f in figures if f.key == "linear_mass")
    return {
        "format": "gantrywright-section",
        "version": 1,
        "name": drawn.outline.name,
        "drawn_in": drawn.unit,
        "points": _points(drawn),
        "holes": len(drawn.outline.rings) - 1,
        **{f"{name}_{unit}": getattr(found, name) for name, unit in SI.items()},
        **moduli,
        "linear_mass_kg_per_m": mass,
        "method": found.method,
        "source": found.source,
        "notes": list(drawn.notes()),
    }


def _points(drawn: DrawnOutline) -> int:
    return sum(len(ring) for ring in drawn.outline.rings)


def _size(drawn: DrawnOutline) -> str:
    width, height = drawn.outline.size()
    return f"{show(width, 'length', METRIC)} wide, {show(height, 'length', METRIC)} high"
