"""Load, life and static safety of every carriage, from the forces in the machine's own solved frame."""

from core.guides.answer import GuidesAnswer, find_guides
from core.guides.life import cubic_mean, for_100_km, life, static_safety
from core.guides.names import Carriage, carriages
from core.guides.states import State

__all__ = [
    "Carriage",
    "GuidesAnswer",
    "State",
    "carriages",
    "cubic_mean",
    "find_guides",
    "for_100_km",
    "life",
    "static_safety",
]
