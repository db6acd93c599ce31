"""How rails are held: into T-slots, a tapped wall, a tapped bar inside, rivet nuts or through bolts; and spares.

The count and the screw lengths follow in `core.fasteners`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from core.fields import Described, Spec

HoldKind = Literal["T-nut", "tapped wall", "tapped bar", "rivet nut", "through bolt"]
PropertyClass = Literal["8.8", "10.9", "12.9"]
NutKind = Literal["slide-in", "roll-in", "swivel"]
ClosedEnds = Literal["automatic", "neither", "start", "end", "both"]


class RailFastening(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a rail's screws go into."""

    hold: Annotated[
        HoldKind,
        Spec(
            "count",
            None,
            None,
            "Screws go into",
            "T-nuts want a slotted profile; the others want a wall to drill.",
        ),
    ] = "tapped wall"
    property_class: Annotated[
        PropertyClass,
        Spec("count", None, None, "Property class", "Of the socket head cap screws, ISO 898-1."),
    ] = "8.8"
    under_rail: Annotated[
        float,
        Spec("length", 0.0, 0.05, "Packing under the rail", "Shim, epoxy or a strip between rail and beam."),
    ] = 0.0
    bar_thickness: Annotated[
        float,
        Spec(
            "length",
            0.003,
            0.05,
            "Tapped bar thickness",
            "Bar inside the tube that the screws are threaded into.",
        ),
    ] = 0.012
    nut_thread: Annotated[
        float,
        Spec(
            "length",
            0.002,
            0.03,
            "Thread length in the T-nut or rivet nut",
            "Measure the nut: slots of building profiles are not standardised.",
        ),
    ] = 0.006
    spare_share: Annotated[
        float,
        Spec("share", 0.0, 1.0, "Spares", "Share of the count that is bought on top; 10 % is one in ten."),
    ] = 0.1
    pack_size: Annotated[int, Spec("count", 1, 10000, "Screws in a pack")] = 50
    nut_pack_size: Annotated[int, Spec("count", 1, 10000, "Nuts in a pack")] = 50
    nut_kind: Annotated[
        NutKind,
        Spec(
            "count",
            None,
            None,
            "Kind of T-nut",
            "Slide-in goes in from a slot's end, roll-in through the slot's opening, swivel turns across as it is tightened.",
        ),
    ] = "slide-in"
    closed_ends: Annotated[
        ClosedEnds,
        Spec(
            "count",
            None,
            None,
            "Slot ends closed by parts",
            "Start is the left or front end. Automatic: both where the beam sits between the uprights.",
        ),
    ] = "automatic"
    parked_nuts: Annotated[
        int,
        Spec(
            "count",
            0,
            200,
            "Spare nuts parked in each slot",
            "For whatever is added later; they are counted.",
        ),
    ] = 0


_MINUTES = "Common practice with hand tools, an estimate; time your own."


class HoleWork(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Minutes of work on each hole of a rail, its screw set and tightened."""

    t_nut: Annotated[float, Spec("ratio", 0.0, 600.0, "Minutes for a T-nut", _MINUTES)] = 1.5
    tapped: Annotated[
        float,
        Spec(
            "ratio", 0.0, 600.0, "Minutes for a tapped hole", f"Marked, drilled, tapped, cleaned. {_MINUTES}"
        ),
    ] = 5.0
    rivet_nut: Annotated[
        float,
        Spec("ratio", 0.0, 600.0, "Minutes for a rivet nut", f"Marked, drilled, cleaned, set. {_MINUTES}"),
    ] = 4.0
    through: Annotated[
        float,
        Spec(
            "ratio",
            0.0,
            600.0,
            "Minutes for a through bolt",
            f"Drilled from both sides, sleeve if need be. {_MINUTES}",
        ),
    ] = 6.0

    def minutes(self, hold: HoldKind) -> float:
        """Minutes for one hole with this hold."""
        return {"T-nut": self.t_nut, "rivet nut": self.rivet_nut, "through bolt": self.through}.get(
            hold, self.tapped
        )
