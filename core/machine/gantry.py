"""The gantry: its beam, the uprights that carry it, the foot plates they stand on and the joints between.

Lengths that follow from travels and spreads are None here ("automatic") and are found in `core.machine.layout`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from core.fields import Band, Described, Spec, band
from core.machine.fastening import RailFastening
from core.sections import FlatBar, RectangularHollow, Section

SeatKind = Literal["on top", "in front", "between"]
RailFace = Literal["front", "top"]


class GantryBeam(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The beam that spans the table and carries the head."""

    section: Annotated[Section, Spec("length", None, None, "Section")] = RectangularHollow(
        height=0.12, width=0.08, wall=0.005, finish="cold formed"
    )
    turned: Annotated[
        bool,
        Spec(
            "count",
            None,
            None,
            "Turned by 90 degrees",
            "Lays a standing section flat, or stands a flat one up.",
        ),
    ] = False
    material: Annotated[str, Spec("count", None, None, "Material")] = "s235"
    length: Annotated[
        float | None,
        Spec(
            "length",
            0.1,
            12.0,
            "Beam length",
            "Automatic: distance between the uprights and the overhang at both ends.",
        ),
    ] = None
    overhang: Annotated[
        float,
        Spec(
            "length",
            0.0,
            1.0,
            "Overhang beyond the uprights",
            "From the upright's middle to the beam's end, each side.",
        ),
    ] = 0.05
    rail_face: Annotated[
        RailFace, Spec("count", None, None, "Rails sit on", "Which face of the beam carries the X rails.")
    ] = "front"
    rail_fastening: Annotated[RailFastening, Spec("count", None, None, "Rail fastening")] = RailFastening()
    extra_mass: Annotated[
        float,
        Spec(
            "mass",
            0.0,
            500.0,
            "Other mass on the beam",
            "Screw, chain, covers, spread evenly along the beam.",
        ),
    ] = 3.0


class Upright(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The two uprights. The section's height lies along Y, its width along X, unless turned."""

    section: Annotated[
        Section, Spec("length", None, None, "Section", "Height along the travel Y, width along X.")
    ] = FlatBar(height=0.2, width=0.02)
    turned: Annotated[bool, Spec("count", None, None, "Turned by 90 degrees")] = False
    material: Annotated[str, Spec("count", None, None, "Material")] = "en_aw_6082_t6"
    height: Annotated[
        float | None,
        Spec("length", 0.01, 3.0, "Upright height", "Automatic: from the foot plate to the beam's seat."),
    ] = None
    seat: Annotated[
        SeatKind,
        Spec(
            "count",
            None,
            None,
            "The beam sits",
            "On top of the uprights, on their front face, or between them.",
        ),
    ] = "on top"
    joint_stiffness: Annotated[
        Band,
        Spec(
            "stiffness",
            None,
            None,
            "Beam joint, shifting",
            "Bolted joint of beam and upright, each direction (estimate, wide).",
        ),
    ] = band(150e6, 400e6, 1000e6)
    joint_turning: Annotated[
        Band,
        Spec(
            "rotational_stiffness",
            None,
            None,
            "Beam joint, turning",
            "Bolted joint of beam and upright, about each axis (estimate, wide).",
        ),
    ] = band(150e3, 400e3, 1200e3)


class FootPlate(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The plate under each upright that lies on the Y carriages."""

    thickness: Annotated[float, Spec("length", 0.003, 0.2, "Foot plate thickness")] = 0.02
    width: Annotated[float, Spec("length", 0.02, 1.0, "Foot plate width", "Along X.")] = 0.1
    length: Annotated[
        float | None,
        Spec(
            "length", 0.03, 3.0, "Foot plate length", "Along Y. Automatic: carriage spread and one carriage."
        ),
    ] = None
    material: Annotated[str, Spec("count", None, None, "Material")] = "en_aw_6082_t6"
    upright_place: Annotated[
        float,
        Spec(
            "length",
            -1.0,
            1.0,
            "Upright's place on the plate",
            "From the middle of the carriages, positive towards +Y.",
        ),
    ] = 0.0


class Gantry(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Beam, uprights and foot plates."""

    beam: Annotated[GantryBeam, Spec("count", None, None, "Gantry beam")] = GantryBeam()
    upright: Annotated[Upright, Spec("count", None, None, "Uprights")] = Upright()
    foot_plate: Annotated[FootPlate, Spec("count", None, None, "Foot plates")] = FootPlate()
