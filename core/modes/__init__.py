"""Modes of vibration of a frame: the verified eigen solve, and parts joined by springs from few modes of each.

Nothing here knows of machines; `core.vibration` asks the questions.
"""

from core.modes.joined import Joined, Joints, join
from core.modes.part import Part, make_part
from core.modes.solve import Modes, Pair, find_modes, modes_of, pair_of

__all__ = [
    "Joined",
    "Joints",
    "Modes",
    "Pair",
    "Part",
    "find_modes",
    "join",
    "make_part",
    "modes_of",
    "pair_of",
]
