"""From patterns to bars: every piece at its place, in the order in which it is cut, and what is left behind the last cut."""

from __future__ import annotations

import math

from core.cuts.answer import CutBar, CutPiece, PlacedPiece
from core.cuts.problem import LEFT, Pattern, Problem, Solution
from core.cuts.stock import Bars
from core.machine.saw import Saw

LEAST_REST = 1e-6  # m; nothing is left behind a last cut nearer to the end than this


def lay_out(
    solution: Solution,
    problem: Problem,
    waiting: dict[int, list[CutPiece]],
    bars: tuple[Bars, ...],
    saw: Saw,
    first: int,
) -> tuple[tuple[CutBar, ...], tuple[CutPiece, ...]]:
    """Bars, those on hand first, and the pieces for which there is no bar. `waiting` holds the pieces by size; it is emptied."""
    found: list[tuple[Bars, list[CutPiece]]] = []
    left: list[CutPiece] = []
    patterns = sorted(solution.cuts, key=lambda cut: _order(problem, cut[0]))
    for pattern, times in patterns:
        for _ in range(times):
            taken = [
                waiting[size].pop(0)
                for size, count in zip(problem.sizes, pattern.counts, strict=True)
                for _ in range(count)
            ]
            if pattern.stock == LEFT:
                left += taken
            else:
                found.append((bars[pattern.stock], taken))
    made = (_bar(number, kind, pieces, saw) for number, (kind, pieces) in enumerate(found, start=first))
    return tuple(made), tuple(left)


def _order(problem: Problem, pattern: Pattern) -> tuple[bool, bool, int, tuple[int, ...]]:
    """On hand before ordered before bought, then the bars with the longest pieces."""
    bought = pattern.stock == LEFT or problem.stocks[pattern.stock].bought
    ordered = not bought and problem.stocks[pattern.stock].paid
    return bought, ordered, pattern.stock, tuple(-count for count in pattern.counts)


def _bar(number: int, kind: Bars, pieces: list[CutPiece], saw: Saw) -> CutBar:
    """A bar with its pieces: square ones first, long before short, mitred ones last, equal lengths together."""
    placed: list[PlacedPiece] = []
    at = kind.trim
    for piece in sorted(pieces, key=lambda p: (p.mitre > 0.0, -p.length)):
        end = at + piece.length
        kerf = min(saw.kerf / math.cos(piece.mitre), max(0.0, kind.length - end))
        placed.append(PlacedPiece(piece, at, end, kerf))
        at = end + kerf
    rest = kind.length - at
    rest = rest if rest > LEAST_REST else 0.0
    return CutBar(
        number=number,
        source="bought" if kind.count is None else "ordered" if kind.ordered else "on hand",
        row=kind.row,
        length=kind.length,
        trim=kind.trim,
        pieces=tuple(placed),
        offcut=rest,
        kept=rest > 0.0 and rest >= saw.least_offcut - 1e-9,
        price=kind.price,
    )
