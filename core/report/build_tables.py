"""What is built and bought as tables: rails with their fasteners, and parts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.report.tables import Cell, Column, Table, figure_column, number, text_column

if TYPE_CHECKING:
    from core.plan import Plan


def fasteners_table(plan: Plan) -> Table:
    """Rails with their holes, screws and nuts."""
    units = plan.project.units
    lengths = ("length", "pitch", "first", "last", "screw_length", "shortest", "longest", "engagement")
    rows: list[tuple[Cell, ...]] = []
    for rail in plan.rails:
        figures = {name: number(getattr(rail, name), "length", units) for name in lengths}
        slot = "" if rail.on_slot is None else ("on a slot" if rail.on_slot else "off the slots")
        rows.append(
            (
                rail.label,
                rail.size,
                *(figures[name] for name in ("length", "pitch", "first", "last")),
                rail.count,
                rail.screws,
                rail.nuts,
                rail.screw_text,
                *(figures[name] for name in ("screw_length", "shortest", "longest")),
                rail.hold,
                figures["engagement"],
                slot,
                rail.note,
            )
        )
    columns = (
        text_column("Rail"),
        Column("Size"),
        figure_column("Rail length", "length", units),
        figure_column("Hole pitch", "length", units),
        figure_column("First hole", "length", units),
        figure_column("Last hole to end", "length", units),
        Column("Holes"),
        Column("Screws"),
        Column("Nuts"),
        text_column("Screw"),
        figure_column("Screw length", "length", units),
        figure_column("Shortest usable screw", "length", units),
        figure_column("Longest usable screw", "length", units),
        text_column("Goes into"),
        figure_column("Thread engagement", "length", units),
        text_column("Slot"),
        text_column("Note"),
    )
    return Table("Rails and fasteners", columns, tuple(rows))


def parts_table(plan: Plan) -> Table:
    """Every part with quantity, length, mass, spares and packs."""
    units = plan.project.units
    rows = tuple(
        (
            part.group,
            part.what,
            part.spec,
            part.quantity,
            number(part.length, "length", units),
            number(part.mass_each, "mass", units),
            number(part.mass, "mass", units),
            *((part.spare, part.pack_size, part.packs) if part.pack_size else (None, None, None)),
            part.where,
        )
        for part in plan.parts
    )
    columns = (
        text_column("Group"),
        text_column("Part"),
        text_column("Specification"),
        Column("Quantity"),
        figure_column("Length of one", "length", units),
        figure_column("Mass of one", "mass", units),
        figure_column("Mass of all", "mass", units),
        Column("Spares"),
        Column("In a pack"),
        Column("Packs"),
        text_column("Where"),
    )
    return Table("Parts", columns, rows)
