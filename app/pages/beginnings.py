"""What an entry begins with when the user picks another kind or adds a row: sensible sizes of the trade."""

from __future__ import annotations

from typing import Any

import msgspec

from app.widgets.form_plan import fresh
from core.machine.loads import DirectForce, LoadCase
from core.sections import Angle, Channel, FlatBar, RectangularHollow, RoundSolid, RoundTube


def _size_of(old: Any) -> tuple[float, float]:
    """Height and width to take over from the section before, m."""
    height = getattr(old, "height", None) or getattr(old, "diameter", None) or 0.1
    return float(height), float(getattr(old, "width", None) or height)


def _section(kind: type, old: Any) -> Any:
    height, width = _size_of(old)
    if kind is RectangularHollow:
        return RectangularHollow(height=0.12, width=0.08, wall=0.005, finish="cold formed")
    if kind is FlatBar:
        return FlatBar(height=height, width=min(width, 0.02))
    if kind is RoundSolid:
        return RoundSolid(diameter=min(height, width))
    if kind is RoundTube:
        return RoundTube(diameter=height, wall=0.05 * height)
    if kind is Channel:
        return Channel(height=0.12, width=0.055, web=0.007, flange=0.009)
    if kind is Angle:
        return Angle(height=0.08, width=0.08, thickness=0.008)
    return None


def make(kind: type[msgspec.Struct], old: Any) -> Any:
    """The thing of that kind to begin with; see `app.widgets.form.Form`."""
    if kind is LoadCase:
        if old is None:
            return LoadCase(name="Load case", load=DirectForce(x=50.0))
        return msgspec.structs.replace(old, name=f"{old.name} copy")
    try:
        made = _section(kind, old)
    except (TypeError, ValueError):
        made = None
    return made if made is not None else fresh(kind, old)
