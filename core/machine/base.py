"""The base: side beams that carry the Y rails, on legs with cross members or bolted to the floor or a bench."""

from __future__ import annotations

from typing import Annotated, Literal

from core.fields import Band, Described, Spec, band
from core.machine.fastening import RailFastening
from core.sections import RectangularHollow, Section


class Diagonals(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Diagonals in the bays between the legs, welded or bolted stiffly at both ends."""

    section: Annotated[Section, Spec("count", None, None, "Diagonals' section")] = RectangularHollow(
        height=0.04, width=0.04, wall=0.003, finish="cold formed"
    )
    material: Annotated[str, Spec("count", None, None, "Diagonals' material")] = "s235"
    along: Annotated[
        Literal["none", "end bays", "every bay"],
        Spec("count", None, None, "Along the table", "Between neighbouring legs of each side."),
    ] = "end bays"
    across: Annotated[
        Literal["none", "end frames", "every frame"],
        Spec("count", None, None, "Across the table", "Between the left and the right leg of a frame."),
    ] = "end frames"
    crossed: Annotated[
        bool,
        Spec(
            "count",
            None,
            None,
            "Crossed",
            "Two in each bay; they are taken as passing each other without a joint.",
        ),
    ] = False


class UnevenFoot(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One foot or support under which the floor is not at the height of the others."""

    side: Annotated[Literal["left", "right"], Spec("count", None, None, "Side")] = "left"
    number: Annotated[int, Spec("count", 1, 8, "Foot", "Counted from the front, the smallest Y.")] = 1
    gap: Annotated[
        float,
        Spec(
            "deflection",
            -0.05,
            0.05,
            "Floor too low by",
            "Negative when the floor, or a shim, is too high there.",
        ),
    ] = 0.001


class Legs(Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="legs"):
    """A table on legs: a leg under each support of the side beams, tied across by cross members."""

    section: Annotated[Section, Spec("count", None, None, "Leg section")] = RectangularHollow(
        height=0.08, width=0.08, wall=0.004, finish="cold formed"
    )
    material: Annotated[str, Spec("count", None, None, "Leg material")] = "s235"
    height: Annotated[
        float, Spec("length", 0.05, 2.0, "Leg height", "From the floor to the side beam's underside.")
    ] = 0.6
    cross_section: Annotated[Section, Spec("count", None, None, "Cross member section")] = RectangularHollow(
        height=0.08, width=0.04, wall=0.003, finish="cold formed"
    )
    cross_material: Annotated[str, Spec("count", None, None, "Cross member material")] = "s235"
    low_cross: Annotated[
        float,
        Spec("share", 0.0, 0.9, "Lower cross member's height", "As a share of the leg height; 0 for none."),
    ] = 0.25
    low_rails: Annotated[
        bool,
        Spec(
            "count",
            None,
            None,
            "Lower rails along the table",
            "Ties each leg to the next at the lower cross member's height.",
        ),
    ] = True
    diagonals: Annotated[
        Diagonals | None,
        Spec("count", None, None, "Diagonals", "They stiffen the legs against racking."),
    ] = None
    foot_stiffness: Annotated[
        Band,
        Spec(
            "stiffness", None, None, "Stiffness of a foot", "Foot and floor, each direction (estimate, wide)."
        ),
    ] = band(20e6, 60e6, 200e6)


class Floor(Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="floor"):
    """Side beams bolted down to a floor, a wall plate or a stiff bench at every support."""

    support_stiffness: Annotated[
        Band, Spec("stiffness", None, None, "Stiffness of a support", "Each direction (estimate, wide).")
    ] = band(50e6, 150e6, 500e6)
    support_turning: Annotated[
        Band,
        Spec(
            "rotational_stiffness",
            None,
            None,
            "Turning stiffness of a support",
            "About each axis (estimate, wide).",
        ),
    ] = band(50e3, 150e3, 500e3)


Stand = Legs | Floor


class Base(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The two side beams and what carries them."""

    section: Annotated[Section, Spec("count", None, None, "Side beam section")] = RectangularHollow(
        height=0.1, width=0.1, wall=0.005, finish="cold formed"
    )
    turned: Annotated[bool, Spec("count", None, None, "Turned by 90 degrees")] = False
    material: Annotated[str, Spec("count", None, None, "Material")] = "s235"
    length: Annotated[
        float | None, Spec("length", 0.1, 24.0, "Side beam length", "Automatic: the Y rail's length.")
    ] = None
    top: Annotated[
        float,
        Spec(
            "length",
            -1.5,
            1.0,
            "Side beam's top above the table",
            "Negative when the side beams lie below the table's surface.",
        ),
    ] = -0.05
    rail_face: Annotated[
        Literal["top", "outside"],
        Spec("count", None, None, "Y rails sit on", "The top of the side beams, or their outer sides."),
    ] = "top"
    supports: Annotated[
        int,
        Spec(
            "count", 2, 8, "Supports under each side beam", "Evenly spread, the first and last near the ends."
        ),
    ] = 3
    support_inset: Annotated[float, Spec("length", 0.0, 2.0, "First support from the beam's end")] = 0.1
    stand: Annotated[Stand, Spec("count", None, None, "The base stands on")] = Legs()
    uneven: Annotated[
        tuple[UnevenFoot, ...],
        Spec(
            "count",
            None,
            None,
            "Uneven feet",
            "Feet or supports under which the floor is too low or too high.",
        ),
    ] = ()
    rail_fastening: Annotated[RailFastening, Spec("count", None, None, "Y rail fastening")] = RailFastening()
