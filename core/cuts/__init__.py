"""The cut list: pieces of the machine and the user's own, cut from the fewest bars with the least waste."""

from __future__ import annotations

from core.cuts.answer import BarKind, CutAnswer, CutBar, CutGroup, CutPiece, PlacedPiece
from core.cuts.asked import still_answers
from core.cuts.find import SECONDS, find_cuts
from core.cuts.pieces import own_lines

__all__ = [
    "SECONDS",
    "BarKind",
    "CutAnswer",
    "CutBar",
    "CutGroup",
    "CutPiece",
    "PlacedPiece",
    "find_cuts",
    "own_lines",
    "still_answers",
]
