"""What an entry begins with when the user picks another kind or adds a row: sensible sizes of the trade."""

from __future__ import annotations

from typing import Any

import msgspec

from app.widgets.form_plan import fresh
from core.machine.loads import DirectForce, LoadCase
from core.sections import (
    BUILT_UP,
    Angle,
    BoltedPlate,
    Channel,
    Datasheet,
    FlatBar,
    Outline,
    PlatedTube,
    RectangularHollow,
    RoundSolid,
    RoundTube,
    TSlot,
    TwoProfiles,
    WeldedBox,
    label,
    solids,
)
from core.sections.t_slot import STOCK

TUBE = RectangularHollow(height=0.12, width=0.08, wall=0.005, finish="cold formed")
PIECES = (RectangularHollow, TSlot, Channel, FlatBar)


def _size_of(old: Any) -> tuple[float, float]:
    """Height and width to take over from the section before, m."""
    height = getattr(old, "height", None) or getattr(old, "diameter", None) or 0.1
    return float(height), float(getattr(old, "width", None) or height)


def _section(kind: type, old: Any) -> Any:
    height, width = _size_of(old)
    if kind is RectangularHollow:
        return TUBE
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
    if kind is TSlot:
        return STOCK[1]
    return _built_up(kind, old, height, width)


def _built_up(kind: type, old: Any, height: float, width: float) -> Any:
    """A built-up section that begins with the profile there was, where that can be built on."""
    piece = old if isinstance(old, PIECES) else TUBE
    tube = old if isinstance(old, RectangularHollow) else TUBE
    if kind is TwoProfiles:
        return TwoProfiles(first=piece, second=piece)
    if kind is PlatedTube:
        return PlatedTube(tube=tube, plate_width=tube.width, plate_thickness=0.008)
    if kind is BoltedPlate:
        return BoltedPlate(profile=piece, plate_width=piece.width, plate_thickness=0.01)
    if kind is WeldedBox:
        return WeldedBox(height=max(height, 0.05), width=max(width, 0.05), flange=0.008, web=0.006)
    if kind is Outline:
        begun = TUBE if old is None or isinstance(old, (Datasheet, *BUILT_UP)) else old
        return Outline(name=f"Outline of {label(begun)}", rings=solids(begun)[0])
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
