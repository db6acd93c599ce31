"""What is built and bought as tables: rails with their fasteners, parts, and beams side by side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from core.report.tables import Cell, Column, Table, figure_column, number, text_column

if TYPE_CHECKING:
    from core.findings import Finding
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


def alternatives_table(plan: Plan) -> Table:
    """The machine's own beam and those to compare, side by side."""
    units = plan.project.units
    cases = plan.project.cases
    rows: list[tuple[Cell, ...]] = []
    for beam in plan.alternatives:
        worst = [number(value, "deflection", units) for value in beam.worst]
        rows.append(
            (
                beam.name,
                beam.section_label,
                beam.material_name,
                holds_words(beam.findings, [case.name for case in cases]),
                number(beam.rail_spacing, "length", units),
                number(beam.beam_mass, "mass", units),
                number(beam.moving_mass, "mass", units),
                *worst,
                *[None] * (len(cases) - len(worst)),
                *(number(value, "stiffness", units) for value in beam.stiffness),
                number(beam.sag, "deflection", units),
                number(beam.path_error, "deflection", units),
                100.0 * float(dict(beam.shares).get("beam", 0.0)),
                beam.screws,
                beam.nuts,
            )
        )
    columns = (
        text_column("Beam"),
        text_column("Section"),
        text_column("Material"),
        text_column("Holds every limit"),
        figure_column("X rail spacing", "length", units),
        figure_column("Beam mass", "mass", units),
        figure_column("Moving mass", "mass", units),
        *(figure_column(f"Worst deflection, {case.name}", "deflection", units, 3) for case in cases),
        *(figure_column(f"Stiffness along {axis}", "stiffness", units, 3) for axis in "XYZ"),
        figure_column("Sag", "deflection", units, 3),
        figure_column("Path error", "deflection", units, 3),
        Column("Beam's share of the deflection", "%", digits=3),
        Column("Screws"),
        Column("Nuts"),
    )
    return Table("Beams side by side", columns, tuple(rows))


def holds_words(findings: Sequence[Finding], cases: Sequence[str]) -> str:
    """Yes, or no with what is over its limit or cannot be built, in a word or two each."""
    broken: list[str] = []
    for finding in findings:
        if finding.severity == "limit":
            words = finding.code.removesuffix("-limit").replace("-", " ")
            place = finding.where.split(".")
            if place[0] == "cases" and place[1:2] and place[1].isdigit() and int(place[1]) < len(cases):
                words = f"{words}, {cases[int(place[1])]}"
            if words not in broken:
                broken.append(words)
    return f"no: {'; '.join(broken)}" if broken else "yes"
