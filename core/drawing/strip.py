"""A rail's marks at full size, cut into rows on pages that are glued end to end; every page carries a ruler to check the print.

Sizes are metres on paper, the origin at the page's lower left corner.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from core.drawing.primitives import Circle, Drawing, Line, Polyline, Shape, Text
from core.fasteners.drilling import RailMarks
from core.units import UnitSet, show

A4, LETTER = (0.297, 0.210), (0.2794, 0.2159)
"""Pages lying: ISO 216, and the North American sheet."""
MARGIN, HEAD, FOOT = 0.012, 0.020, 0.024
OVERLAP = 0.008
"""Repeated beyond each end of a row, so that the next one can be laid on the line."""
LETTERS = 0.013
"""Room for numbers above and running places below a row."""
CROSS = 0.004


@dataclass(frozen=True, slots=True)
class StripPage:
    """One page: its size on paper, m, the number of pages, and what is drawn."""

    width: float
    height: float
    number: int
    pages: int
    drawing: Drawing


@dataclass(frozen=True, slots=True)
class Tiling:
    """How a strip is cut: length of a row, rows on a page, starts of the rows, m."""

    row: float
    on_page: int
    starts: tuple[float, ...]

    @property
    def pages(self) -> int:
        return max(1, math.ceil(len(self.starts) / self.on_page))


def tile(length: float, width: float, page: tuple[float, float]) -> Tiling:
    """Rows of whole centimetres for a rail of this length and width on pages of this size, m."""
    row = math.floor((page[0] - 2.0 * (MARGIN + OVERLAP)) * 100.0 + 1e-9) / 100.0
    room = page[1] - 2.0 * MARGIN - HEAD - FOOT
    on_page = max(1, math.floor(room / (width + 2.0 * LETTERS) + 1e-9))
    count = max(1, math.ceil(length / row - 1e-9))
    return Tiling(row, on_page, tuple(k * row for k in range(count)))


def strip_pages(rail: RailMarks, units: UnitSet) -> tuple[StripPage, ...]:
    """The pages of one rail at full size, from its start."""
    page = LETTER if units.length == "in" else A4
    tiling = tile(rail.length, rail.width, page)
    made = []
    for number in range(tiling.pages):
        starts = tiling.starts[number * tiling.on_page : (number + 1) * tiling.on_page]
        items = [*_head(rail, page, number + 1, tiling.pages), *_ruler(units, page)]
        for row, start in enumerate(starts):
            pitch = rail.width + 2.0 * LETTERS
            middle = page[1] - MARGIN - HEAD - (row + 0.5) * pitch
            items += _row(rail, start, min(start + tiling.row, rail.length), middle, units)
        title = f"{rail.label}, full size, page {number + 1} of {tiling.pages}"
        made.append(StripPage(*page, number + 1, tiling.pages, Drawing(tuple(items), title)))
    return tuple(made)


def _head(rail: RailMarks, page: tuple[float, float], number: int, pages: int) -> Iterator[Shape]:
    lines = (
        f"{rail.label} at full size, page {number} of {pages}. Places run from its {rail.ends[0]} end. {rail.work}",
        "Check the ruler below, cut along the rail's edges, glue row to row on the dashed lines. Measure the whole before "
        "drilling: paper grows and shrinks, the list of figures counts.",
    )
    for k, words in enumerate(lines):
        yield Text(at=(MARGIN, page[1] - MARGIN - 0.004 - 0.006 * k), text=words, role="note")


def _ruler(units: UnitSet, page: tuple[float, float]) -> Iterator[Shape]:
    """A scale of 100 mm, or 4 inches, with ticks."""
    inches = units.length == "in"
    length, step, count = (0.1016, 0.0254 / 8.0, 32) if inches else (0.1, 0.001, 100)
    big, middling = (8, 4) if inches else (10, 5)
    y = MARGIN + 0.006
    yield Line(start=(MARGIN, y), end=(MARGIN + length, y), role="note", key="ruler")
    for k in range(count + 1):
        tall = 0.005 if k % big == 0 else 0.0035 if k % middling == 0 else 0.002
        x = MARGIN + k * step
        yield Line(start=(x, y), end=(x, y + tall), role="note", key="ruler tick")
    words = f"This line must measure {show(length, 'length', units)}. If not, print again at 100 %, without fitting to the page."
    yield Text(at=(MARGIN + length + 0.006, y + 0.002), text=words, role="note")


def _row(rail: RailMarks, start: float, end: float, middle: float, units: UnitSet) -> Iterator[Shape]:
    left, half = MARGIN + OVERLAP, rail.width / 2.0
    low = -OVERLAP if start > 0.0 else 0.0
    high = OVERLAP if end < rail.length - 1e-9 else 0.0

    def x(place: float) -> float:
        return left + place - start

    for edge in (middle - half, middle + half):
        yield Line(start=(x(start + low), edge), end=(x(end + high), edge), role="note", key="edge")
    for place, inner in ((start, start > 0.0), (end, end < rail.length - 1e-9)):
        ends = ((x(place), middle - half), (x(place), middle + half))
        yield Line(
            start=ends[0], end=ends[1], role="hidden" if inner else "note", key="glue" if inner else "end"
        )
        if inner:
            at = (x(place), middle - half - 0.010)
            yield Text(at=at, text=show(place, "length", units), anchor="centre", role="dimension")
    for mark in rail.marks:
        if not start + low - 1e-9 <= mark.place <= end + high + 1e-9:
            continue
        own = start - 1e-9 <= mark.place < end - 1e-9 or (mark.place >= end - 1e-9 and high == 0.0)
        if mark.kind == "hole":
            yield from _hole(rail, (x(mark.place), middle), f"hole {mark.number}" if own else "")
            if own:
                yield Text(
                    at=(x(mark.place), middle + half + 0.004),
                    text=str(mark.number),
                    anchor="centre",
                    role="note",
                )
                words = show(mark.place, "length", units)
                yield Text(
                    at=(x(mark.place), middle - half - 0.004), text=words, anchor="centre", role="dimension"
                )
        elif mark.kind == "joint":
            ends = ((x(mark.place), middle - half - 0.002), (x(mark.place), middle + half + 0.002))
            yield Line(start=ends[0], end=ends[1], role="finding", key=f"joint {mark.number}")
            if own:
                at = (x(mark.place), middle + half + 0.004)
                yield Text(
                    at=at, text=f"joint, {show(mark.place, 'length', units)}", anchor="centre", role="note"
                )


def _hole(rail: RailMarks, centre: tuple[float, float], key: str) -> Iterator[Shape]:
    (x, y), radius = centre, rail.hole / 2.0
    ring = tuple(
        (x + radius * math.cos(2.0 * math.pi * k / 48), y + radius * math.sin(2.0 * math.pi * k / 48))
        for k in range(49)
    )
    yield Polyline(vertices=ring, role="note", key="ring")
    reach = radius + CROSS
    yield Line(start=(x - reach, y), end=(x + reach, y), role="dimension", key="cross")
    yield Line(start=(x, y - reach), end=(x, y + reach), role="dimension", key="cross")
    yield Circle(centre=centre, radius=0.0003, role="screw", key=key)
