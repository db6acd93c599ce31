"""The cut list: pieces of the machine and the user's own, cut from the fewest bars with the least waste."""

from __future__ import annotations

from core.cuts.answer import BarKind, CutAnswer, CutBar, CutGroup, CutPiece, PlacedPiece
from core.cuts.find import SECONDS, find_cuts

__all__ = [
    "SECONDS",
    "BarKind",
    "CutAnswer",
    "CutBar",
    "CutGroup",
    "CutPiece",
    "PlacedPiece",
    "find_cuts",
]
