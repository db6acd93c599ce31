"""While screws are missing: which holes are filled now, what is left of the slip margin, and what may be moved meanwhile."""

from __future__ import annotations

from core.fasteners.interim.answer import STATE_WORDS, AxisInterim, InterimAnswer, RailInterim, State
from core.fasteners.interim.find import find_interim
from core.fasteners.interim.offers import Offer
from core.fasteners.interim.order import fitting_order, longest_stretch
from core.fasteners.interim.supply import Kind

__all__ = [
    "STATE_WORDS",
    "AxisInterim",
    "InterimAnswer",
    "Kind",
    "Offer",
    "RailInterim",
    "State",
    "find_interim",
    "fitting_order",
    "longest_stretch",
]
