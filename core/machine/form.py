"""How straight things arrive and how straight the rails want them: tolerance classes, planned welds, measured heights.

None stands for "as the delivery standard of the product allows", which `core.form` looks up.
"""

from __future__ import annotations

from typing import Annotated, Literal

from core.errors import BadEntry
from core.fields import Described, Spec

WeldedPart = Literal["gantry beam", "side beam"]
Direction = Literal["up and down", "front and back"]
Across = Literal["keep the tilt", "one height"]


class Weld(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Fillet welds along a beam, all alike and at the same distance from its middle."""

    name: Annotated[str, Spec("count", None, None, "Name")] = "Weld"
    part: Annotated[WeldedPart, Spec("count", None, None, "On the")] = "gantry beam"
    leg: Annotated[
        float,
        Spec("length", 0.001, 0.03, "Leg of the fillet", "Its cross-section counts as leg squared / 2."),
    ] = 0.005
    count: Annotated[int, Spec("count", 1, 50, "Welds alike", "At the same distance from the middle.")] = 2
    length: Annotated[
        float | None,
        Spec("length", 0.01, 24.0, "Length along the beam", "From first to last. Automatic: the whole beam."),
    ] = None
    filled: Annotated[
        float, Spec("share", 0.01, 1.0, "Share that is welded", "Less than all for a broken weld.")
    ] = 1.0
    direction: Annotated[
        Direction,
        Spec("count", None, None, "It bends the beam", "Away from the side on which the weld lies."),
    ] = "up and down"
    offset: Annotated[
        float,
        Spec(
            "length",
            -1.0,
            1.0,
            "Distance from the middle",
            "Positive above (or behind) the beam's middle line; welds on both sides balance.",
        ),
    ] = 0.045


class Reading(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One measured height of a rail's seat: at a hole of the rail (counted from 1) or at a place from the rail's start."""

    height: Annotated[float, Spec("deflection", -0.1, 0.1, "Height", "Positive sticks out.")]
    hole: Annotated[int | None, Spec("count", 1, 10000, "Hole")] = None
    place: Annotated[float | None, Spec("length", 0.0, 24.0, "Place", "From the rail's start.")] = None

    def check(self) -> None:
        if (self.hole is None) == (self.place is None):
            raise BadEntry("reading", "hole and place", "do not name one spot", "either a hole or a place")


class Heights(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Measured heights under the two rails of an axis: lower or front or left first, upper or back or right second."""

    first: tuple[Reading, ...] = ()
    second: tuple[Reading, ...] = ()


class Straightness(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What is delivered, what the rails want, what is welded and what was measured."""

    beam_straightness: Annotated[
        float | None,
        Spec(
            "deflection",
            0.0,
            0.1,
            "Bow of the gantry beam",
            "Over its length. Automatic: what the delivery standard allows.",
        ),
    ] = None
    beam_twist: Annotated[
        float | None,
        Spec(
            "deflection",
            0.0,
            0.1,
            "Twist of the gantry beam",
            "At its edge, end to end. Automatic: what the standard allows.",
        ),
    ] = None
    side_straightness: Annotated[
        float | None,
        Spec("deflection", 0.0, 0.1, "Bow of a side beam", "Automatic: what the delivery standard allows."),
    ] = None
    side_twist: Annotated[
        float | None,
        Spec("deflection", 0.0, 0.1, "Twist of a side beam", "Automatic: what the delivery standard allows."),
    ] = None
    rail_straightness: Annotated[
        float,
        Spec(
            "deflection",
            1e-6,
            0.01,
            "Straightness the rails want",
            "Of their seat over its length. The default is common practice; the rail's datasheet is better.",
        ),
    ] = 0.0001
    rail_twist: Annotated[
        float,
        Spec(
            "deflection",
            1e-6,
            0.01,
            "Twist the rails allow",
            "Change of height between the two rails, end to end. The default is common practice.",
        ),
    ] = 0.0001
    welded_flatness: Annotated[
        Literal["E", "F", "G", "H"],
        Spec(
            "count", None, None, "Welded frame, flatness", "Class of ISO 13920; F is usual (common practice)."
        ),
    ] = "F"
    welded_lengths: Annotated[
        Literal["A", "B", "C", "D"],
        Spec(
            "count", None, None, "Welded frame, lengths", "Class of ISO 13920; B is usual (common practice)."
        ),
    ] = "B"
    machined_lengths: Annotated[
        Literal["f", "m", "c", "v"],
        Spec(
            "count", None, None, "Cut plates, lengths", "Class of ISO 2768-1; m is usual (common practice)."
        ),
    ] = "m"
    machined_flatness: Annotated[
        Literal["H", "K", "L"],
        Spec(
            "count",
            None,
            None,
            "Cut plates, flatness",
            "Class of ISO 2768-2, withdrawn in 2021, still in use.",
        ),
    ] = "K"
    shim_step: Annotated[
        float, Spec("deflection", 1e-6, 0.002, "Step of the shims", "Thinnest shim at hand.")
    ] = 0.00005
    shim_most: Annotated[
        float,
        Spec(
            "deflection", 1e-5, 0.02, "Thickest shim", "Beyond it a bed of epoxy is better (common practice)."
        ),
    ] = 0.0005
    bed_most: Annotated[
        float,
        Spec(
            "deflection", 1e-5, 0.05, "Thickest bed", "Of filled epoxy; beyond it machine (common practice)."
        ),
    ] = 0.003
    across: Annotated[
        Across,
        Spec(
            "count",
            None,
            None,
            "Shims across the rails",
            "Keep the tilt: both rails parallel. One height: level across too, when both were measured from one level.",
        ),
    ] = "keep the tilt"
    x_heights: Heights = Heights()
    y_heights: Heights = Heights()
    welds: Annotated[tuple[Weld, ...], Spec("count", None, None, "Welds")] = ()
