"""Bars by their sections, as plain JSON (SI, the unit at the end of each key) and as tables."""

from __future__ import annotations

from typing import Any

from core.bars import Bar, BarFigure, BarsAnswer
from core.bars.how import how_found
from core.materials import material
from core.report.tables import Cell, Column, Table, number, text_column
from core.sections import SectionProperties
from core.units import UnitSet, unit_label

TYPED = "data sheet"
_UNITS = {
    "area": "m2",
    "second_moment": "m4",
    "torsion_constant": "m4",
    "section_modulus": "m3",
    "linear_density": "kg_per_m",
    "length": "m",
    "angle": "rad",
}


def bars_json(answer: BarsAnswer) -> dict[str, Any]:
    """Each bar with its figures: computed, typed (null where nothing is) and what counts."""
    return {"bars": [_bar(bar) for bar in answer.bars]}


def _bar(bar: Bar) -> dict[str, Any]:
    return {
        "key": bar.key,
        "label": bar.label,
        "section": bar.words,
        "material": bar.metal,
        "turned": bar.turned,
        "length_m": bar.length,
        "method": bar.used.method,
        "source": bar.used.source,
        "figures": [
            {
                "key": f.key,
                "what": f.words,
                f"computed_{_UNITS[f.quantity]}": f.computed,
                f"typed_{_UNITS[f.quantity]}": f.typed,
                f"used_{_UNITS[f.quantity]}": f.used,
                "difference": f.difference,
            }
            for f in bar.figures
        ],
        "unjoined": _bound(bar.low),
        "fully_joined": _bound(bar.high),
        "bow_along_width_for_10_K_m": bar.bow[0],
        "bow_along_height_for_10_K_m": bar.bow[1],
        "welds": [{"y_m": w.y, "z_m": w.z, "joins": w.joins} for w in bar.welds],
    }


def _bound(found: SectionProperties | None) -> dict[str, float] | None:
    return None if found is None else {"iyy_m4": found.iyy, "izz_m4": found.izz, "it_m4": found.it}


def figures_table(bar: Bar, units: UnitSet) -> Table:
    """A row for each figure of one bar, each in its own unit."""
    columns = (
        text_column("Figure"),
        text_column("Sign"),
        Column("Computed"),
        Column("Data sheet"),
        Column("Differs", "%", digits=3),
        Column("Counts"),
        text_column("Unit"),
        text_column("How"),
        text_column("Method and source"),
    )
    return Table(f"Section: {bar.label}", columns, tuple(_row(bar, f, units) for f in bar.figures))


def _row(bar: Bar, f: BarFigure, units: UnitSet) -> tuple[Cell, ...]:
    off = None if f.difference is None else 100.0 * f.difference
    shown = (number(v, f.quantity, units) for v in (f.computed, f.typed))
    used = number(f.used, f.quantity, units)
    return (
        f.words,
        f.symbol,
        *shown,
        off,
        used,
        unit_label(f.quantity, units),
        how_found(bar.section, f.key) if f.typed is None else TYPED,
        f.method,
    )


def bars_table(answer: BarsAnswer, units: UnitSet) -> Table:
    """Every figure of every bar, for files."""
    first = figures_table(answer.bars[0], units)
    columns = (text_column("Bar"), text_column("Section"), text_column("Material"), *first.columns)
    rows = tuple(
        (bar.label, bar.words, material(bar.metal).name, *row)
        for bar in answer.bars
        for row in figures_table(bar, units).rows
    )
    return Table("Sections", columns, rows)
