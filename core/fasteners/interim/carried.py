"""An axis is held by more than its rails: what may be moved also waits for the joints that carry it and that drive it.

A joint counts as screwed when what is here is enough for all of its kind after the rails; welded ones are not looked at.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from core.fasteners.interim.answer import AxisInterim, State
from core.fasteners.interim.offers import Offer

GANTRY = ("foot", "angle", "cap", "seat", "y_blocks")
BASE = ("legs", "feet", "cross", "low_cross", "low_rails", "diagonals")
CARRY = {"y": (*GANTRY, *BASE), "x": ("x_blocks", *GANTRY), "z": ("z_blocks", "mount", "x_blocks")}
"""Joints that come apart, or let something drop, when the axis is moved without their screws."""
DRIVE = ("nut", "ends", "rack", "motor")
"""Joints of an axis that its motor pushes through."""
WHERE = "What is here of them is entered on the page Parts."
NAMED = 3
"""Joints named in a reason; more are counted."""


def held_by_joints(axis: AxisInterim, offers: Sequence[Offer]) -> AxisInterim:
    """The state of an axis with the joints that carry and drive it looked at too; never a freer one."""
    open_ = {offer.key: offer for offer in offers if offer.can < offer.count}
    carry = [open_[key] for key in CARRY[axis.axis] if key in open_]
    if carry and axis.state != "refused":
        text = f"Screws for what carries it are not all here: {_named(carry)}. {WHERE}"
        return replace(axis, state="refused", reason=text, acceleration=None)
    drive = [open_[key] for part in DRIVE if (key := f"{axis.axis}_{part}") in open_]
    freer: tuple[State, ...] = ("slow jog", "all here")
    if drive and axis.state in freer:
        text = f"Screws for its drive are not all here: {_named(drive)}. {WHERE} {_beware(axis.reason)}"
        return replace(axis, state="by hand", reason=text.strip(), acceleration=None)
    return axis


def _named(offers: Sequence[Offer]) -> str:
    first = ", ".join(f"{offer.label} ({offer.can} of {offer.count})" for offer in offers[:NAMED])
    more = len(offers) - NAMED
    return f"{first} and {more} more" if more > 0 else first


def _beware(reason: str) -> str:
    """What a reason says of rails that nothing may ride on; it holds by hand too."""
    _, found, rest = reason.partition("Nothing may ride")
    return found + rest
