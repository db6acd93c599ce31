"""In two or three words, how a figure of a section was found."""

from __future__ import annotations

from core.sections import (
    BUILT_UP,
    Angle,
    Channel,
    Datasheet,
    Outline,
    RectangularHollow,
    Section,
    TSlot,
)

_DERIVED = {
    "linear_mass": "area, density",
    "wely": "I, farthest fibre",
    "welz": "I, farthest fibre",
    "iu": "Mohr's circle",
    "iv": "Mohr's circle",
    "angle": "Mohr's circle",
}
_EXACT = frozenset({"area", "iyy", "izz", "centroid_y", "centroid_z"})


def how_found(section: Section, key: str) -> str:
    """The way to a computed figure of this section, by the figure's key."""
    if key in _DERIVED:
        return _DERIVED[key]
    exact, shear = key in _EXACT, key in ("avy", "avz")
    if isinstance(section, BUILT_UP):
        if getattr(section, "joint", "") == "unjoined":
            return "sum of the pieces" if key not in ("centroid_y", "centroid_z") else "parallel axes"
        return "parallel axes" if exact else "finite elements"
    if isinstance(section, Outline):
        return "drawn points" if exact else "finite elements"
    if isinstance(section, TSlot):
        return "finite elements"
    if isinstance(section, Datasheet):
        return "typed; A b / (b + h)" if shear and getattr(section, key) is None else "typed"
    if isinstance(section, Channel | Angle):
        return "exact" if exact else "wall strips" if key == "it" else "shear flow"
    if isinstance(section, RectangularHollow):
        return "Cowper (1966)" if shear else "EN annex"
    return "Cowper (1966)" if shear else "exact"  # flats, rounds and round tubes
