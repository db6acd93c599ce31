"""The next section: taller, wider or thicker, from the catalogue where it has one, else by a usual step.

Sizes are taken as the section stands in the machine, so a turned section's "taller" grows its width.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Literal

import msgspec

from core.catalogue import entries
from core.errors import BadEntry
from core.sections import FlatBar, RectangularHollow, RoundTube, Section, TSlot

Way = Literal["taller", "wider", "thicker"]
# Plate thicknesses that the trade keeps (common practice), m.
PLATES = tuple(mm / 1e3 for mm in (5, 6, 8, 10, 12, 15, 20, 25, 30, 35, 40, 50, 60))
NEAR = 1e-6
USUAL_WALL = 0.005
"""Wall, m, that still takes a tapped thread for rail screws (common practice)."""


def next_plate(thickness: float) -> float | None:
    """The next plate thickness kept by the trade, m."""
    return next((t for t in PLATES if t > thickness + NEAR), None)


def bigger(section: Section, turned: bool, way: Way) -> tuple[Section, bool] | None:
    """The next section and whether it is turned, or None where there is no next one."""
    if isinstance(section, FlatBar):
        return _plate(section, turned, way)
    if isinstance(section, RoundTube):
        return _tube(section, turned, way)
    if not isinstance(section, (RectangularHollow, TSlot)):
        return None
    height, width = _stands(section, turned)
    found = []
    for entry in entries():
        other = entry.section
        if type(other) is not type(section) or not _same_kind(section, other):
            continue
        for lies in {turned, not turned}:
            h, w = _stands(other, lies)
            if _fits(way, (height, width, _wall(section)), (h, w, _wall(other))):
                rank = (
                    round(h - height + w - width, 6),
                    abs(_wall(other) - _wall(section)),
                    lies is not turned,
                )
                found.append((rank, other, lies))
    if found:
        _, best, lies = min(found, key=lambda row: row[0])
        return best, lies
    if isinstance(section, TSlot):
        return _other_module(section, turned) if way == "taller" else None
    return _stepped(section, turned, way)


def _other_module(section: TSlot, turned: bool) -> tuple[Section, bool] | None:
    """Where the sizes of a module end: the least profile of another one that is taller and nowhere smaller."""
    height, width = _stands(section, turned)
    found = []
    for entry in entries():
        if isinstance(entry.section, TSlot):
            for lies in (turned, not turned):
                h, w = _stands(entry.section, lies)
                if h > height + NEAR and w > width - NEAR:
                    found.append(
                        ((round(h - height + w - width, 6), lies is not turned), entry.section, lies)
                    )
    if not found:
        return None
    _, best, lies = min(found, key=lambda row: row[0])
    return best, lies


def nearest_tube(section: Section, turned: bool) -> tuple[RectangularHollow, bool] | None:
    """The catalogue's hollow section of steel nearest in outer size to a T-slot profile, and whether it is turned."""
    if not isinstance(section, TSlot):
        return None
    height, width = _stands(section, turned)
    found = []
    for entry in entries():
        tube = entry.section
        if isinstance(tube, RectangularHollow) and tube.finish == "cold formed":
            for lies in (False, True):
                h, w = _stands(tube, lies)
                away = round(abs(h - height) + abs(w - width), 6)
                found.append(((away, abs(tube.wall - USUAL_WALL), lies), tube, lies))
    _, best, lies = min(found, key=lambda row: row[0])
    return best, lies


def _fits(way: Way, own: tuple[float, float, float], other: tuple[float, float, float]) -> bool:
    (h, w, t), (h2, w2, t2) = own, other
    if way == "thicker":
        return abs(h2 - h) < NEAR and abs(w2 - w) < NEAR and t2 > t + NEAR
    if t2 < t - NEAR:
        return False
    grown = (h2 > h + NEAR and abs(w2 - w) < NEAR, abs(h2 - h) < NEAR and w2 > w + NEAR)
    return grown[0] if way == "taller" else grown[1]


def _stands(section: Any, turned: bool) -> tuple[float, float]:
    return (section.width, section.height) if turned else (section.height, section.width)


def _wall(section: Any) -> float:
    return float(section.wall)


def _same_kind(section: Any, other: Any) -> bool:
    if isinstance(section, RectangularHollow):
        return bool(section.finish == other.finish)
    return bool(
        abs(section.module - other.module) < NEAR and abs(section.slot_opening - other.slot_opening) < NEAR
    )


def _stepped(section: Section, turned: bool, way: Way) -> tuple[Section, bool] | None:
    """A tube of the same make, one usual step larger; profiles come in stock sizes only."""
    if not isinstance(section, RectangularHollow):
        return None
    side = "wall" if way == "thicker" else ("height" if (way == "taller") is not turned else "width")
    grow = 0.001 if side == "wall" else 0.02
    return _tried(lambda: (_with(section, **{side: getattr(section, side) + grow}), turned))


def _plate(section: FlatBar, turned: bool, way: Way) -> tuple[Section, bool] | None:
    thin, broad = ("width", "height") if section.width <= section.height else ("height", "width")
    if way == "thicker":
        new = next_plate(getattr(section, thin))
        return None if new is None else (_with(section, **{thin: new}), turned)
    if way == "wider":
        grown = round(1.25 * getattr(section, broad), 2)
        return _tried(lambda: (_with(section, **{broad: grown}), turned))
    return None


def _tube(section: RoundTube, turned: bool, way: Way) -> tuple[Section, bool] | None:
    others = [e.section for e in entries() if isinstance(e.section, RoundTube)]
    if way == "taller":
        larger = [o for o in others if o.diameter > section.diameter + NEAR and o.wall >= section.wall - NEAR]
        return (min(larger, key=lambda o: (o.diameter, o.wall)), turned) if larger else None
    if way == "thicker":
        same = [
            o for o in others if abs(o.diameter - section.diameter) < NEAR and o.wall > section.wall + NEAR
        ]
        return (min(same, key=lambda o: o.wall), turned) if same else None
    return None


def _with(section: Any, **new: float) -> Section:
    made = msgspec.structs.replace(section, **new)
    made.__post_init__()  # replace() does not check by itself
    return made  # type: ignore[no-any-return]


def _tried(make: Callable[[], tuple[Section, bool]]) -> tuple[Section, bool] | None:
    try:
        return make()
    except BadEntry:
        return None
