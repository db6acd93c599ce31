"""The drilling and marking list as plain JSON (SI) and as tables in the user's units, from either end, of rail or beam."""

from __future__ import annotations

import itertools
from typing import Any

from core.fasteners.drilling import DrillAnswer, Mark, RailMarks
from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.units import UnitSet

KIND_WORDS = {"start": "start", "hole": "hole", "joint": "joint", "end": "end"}


def drilling_json(answer: DrillAnswer) -> dict[str, Any]:
    """One entry a rail with all its marks; places from the rail's start."""
    return {
        "holes_alike_on_both_rails": answer.alike,
        "rails": [
            {
                "key": rail.key,
                "label": rail.label,
                "beam": rail.beam,
                "length_m": rail.length,
                "beam_length_m": rail.beam_length,
                "beam_end_to_rail_m": rail.margin,
                "start": rail.ends[0],
                "end": rail.ends[1],
                "work": rail.work,
                "behind": [
                    {"from_m": part.start, "to_m": part.end, "what": part.what} for part in rail.behind
                ],
                "marks": [
                    {
                        "kind": mark.kind,
                        "number": mark.number,
                        "from_start_m": mark.place,
                        "piece": mark.piece,
                        "behind": mark.behind,
                    }
                    for mark in rail.marks
                ],
            }
            for rail in answer.rails
        ],
    }


def drilling_table(answer: DrillAnswer, units: UnitSet) -> Table:
    """All rails below each other, from their starts."""
    rows = [(rail.label, *row) for rail in answer.rails for row in rail_rows(rail, units)]
    return Table(
        "Drilling and marking list", (text_column("Rail"), *_columns(answer.rails, units)), tuple(rows)
    )


def rail_table(rail: RailMarks, units: UnitSet, *, from_end: bool = False) -> Table:
    """One rail, from its start or from its end."""
    return Table(
        f"Drilling list, {rail.label}",
        _columns((rail,), units, from_end),
        tuple(rail_rows(rail, units, from_end)),
    )


def _columns(rails: tuple[RailMarks, ...], units: UnitSet, from_end: bool = False) -> tuple[Column, ...]:
    end = rails[0].ends[from_end] if len(rails) == 1 else "start"
    return (
        text_column("Mark"),
        Column("Number"),
        figure_column(f"From the rail's {end}{'' if len(rails) > 1 else ' end'}", "length", units),
        figure_column("Step from the one before", "length", units),
        figure_column("From the beam's end", "length", units),
        Column("Piece"),
        figure_column("From the piece's start", "length", units),
        text_column("Behind it"),
    )


def rail_rows(rail: RailMarks, units: UnitSet, from_end: bool = False) -> list[tuple[Cell, ...]]:
    """Marks of a rail with running places and steps, rising from the chosen end."""
    marks = rail.marks[::-1] if from_end else rail.marks
    rows: list[tuple[Cell, ...]] = []
    before = 0.0
    for mark in marks:
        at = rail.length - mark.place if from_end else mark.place
        kind = {"start": "rail's end", "end": "rail's end"}.get(mark.kind, mark.kind)
        figures = (at, at - before, at + rail.margin)
        rows.append(
            (
                kind,
                mark.number or None,
                *(number(value, "length", units) for value in figures),
                mark.piece,
                number(at - _piece_start(rail, mark, from_end), "length", units),
                mark.behind,
            )
        )
        before = at
    return rows


def _piece_start(rail: RailMarks, mark: Mark, from_end: bool) -> float:
    """Where the mark's piece begins, seen from the chosen end."""
    joints = {m.number: m.place for m in rail.marks if m.kind == "joint"}
    if from_end:
        return rail.length - joints.get(mark.piece, rail.length)
    return joints.get(mark.piece - 1, 0.0)


def pieces_table(answer: DrillAnswer, units: UnitSet) -> Table:
    """Pieces of every rail: length, holes and both end distances."""
    rows: list[tuple[Cell, ...]] = []
    for rail in answer.rails:
        bounds = [0.0, *(m.place for m in rail.marks if m.kind == "joint"), rail.length]
        for piece, (start, end) in enumerate(itertools.pairwise(bounds), start=1):
            own = [mark for mark in rail.holes if mark.piece == piece]
            first, last = (own[0].place - start, end - own[-1].place) if own else (None, None)
            rows.append(
                (
                    rail.label,
                    piece,
                    number(end - start, "length", units),
                    len(own),
                    f"{own[0].number} to {own[-1].number}" if own else "none",
                    number(first, "length", units),
                    number(last, "length", units),
                    number(end, "length", units) if piece < len(bounds) - 1 else None,
                )
            )
    columns = (
        text_column("Rail"),
        Column("Piece"),
        figure_column("Length", "length", units),
        Column("Holes"),
        text_column("Numbers"),
        figure_column("First hole", "length", units),
        figure_column("Last hole to end", "length", units),
        figure_column("Joint after it, from the rail's start", "length", units),
    )
    return Table("Pieces of the rails", columns, tuple(rows))
