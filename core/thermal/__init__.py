"""Heat: growth, the bow of beams that carry rails of another metal, the tool tip's path and the scale of the axes."""

from __future__ import annotations

from core.thermal.answer import find_heat
from core.thermal.bimetal import Bar, Pair
from core.thermal.lines import bow_line
from core.thermal.results import Bow, Growth, HeatAnswer, HeatPath, HeldScrew, Scale

__all__ = [
    "Bar",
    "Bow",
    "Growth",
    "HeatAnswer",
    "HeatPath",
    "HeldScrew",
    "Pair",
    "Scale",
    "bow_line",
    "find_heat",
]
