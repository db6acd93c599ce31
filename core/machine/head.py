"""What rides the gantry beam: saddle, head, spindle mount and cutter.

The saddle carries the X carriages on its back and the Z guides on its front; the head moves along Z.
"""

from __future__ import annotations

from typing import Annotated

from core.fields import Band, Described, Spec, band
from core.machine.drives import Drive, KnownStiffness
from core.machine.fastening import RailFastening
from core.machine.guides import Guides
from core.machine.spindle import Spindle


class Saddle(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The plate that rides the gantry beam."""

    width: Annotated[float, Spec("length", 0.04, 3.0, "Saddle width", "Along X.")] = 0.28
    height: Annotated[float, Spec("length", 0.04, 2.0, "Saddle height", "Along Z.")] = 0.24
    thickness: Annotated[float, Spec("length", 0.003, 0.2, "Saddle thickness")] = 0.02
    material: Annotated[str, Spec("count", None, None, "Material")] = "en_aw_6082_t6"
    extra_mass: Annotated[
        float,
        Spec(
            "mass",
            0.0,
            500.0,
            "Other mass on the saddle",
            "Motor and brackets; plate, carriages and drive are counted apart.",
        ),
    ] = 3.0


class Head(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The head (the Z assembly): its plate, guides, drive, spindle and how far in front the spindle stands."""

    travel: Annotated[float, Spec("length", 0.02, 1.0, "Travel along Z")] = 0.15
    plate_width: Annotated[float, Spec("length", 0.03, 1.0, "Head plate width", "Along X.")] = 0.16
    plate_thickness: Annotated[float, Spec("length", 0.003, 0.2, "Head plate thickness")] = 0.02
    material: Annotated[str, Spec("count", None, None, "Material")] = "en_aw_6082_t6"
    guides: Annotated[Guides, Spec("count", None, None, "Z guides")] = Guides(
        size=15, carriages=2, spread=0.1, rail_spacing=0.1
    )
    rail_fastening: Annotated[RailFastening, Spec("count", None, None, "Z rail fastening")] = RailFastening()
    drive: Annotated[Drive, Spec("count", None, None, "Z drive")] = KnownStiffness(
        stiffness=band(20e6, 40e6, 80e6), mass_each=0.0
    )
    carriages_above_table: Annotated[
        float,
        Spec(
            "length",
            0.02,
            2.0,
            "Z carriages above the table",
            "Height of the middle of the Z carriages (they are on the saddle).",
        ),
    ] = 0.24
    mount_above_tip: Annotated[
        float,
        Spec(
            "length",
            0.01,
            1.0,
            "Spindle mount above the tool tip",
            "From the tip to the middle of the clamp that holds the spindle.",
        ),
    ] = 0.16
    reach: Annotated[
        float,
        Spec(
            "length",
            0.0,
            1.0,
            "Spindle in front of the head plate",
            "From the plate's front face to the spindle's axis.",
        ),
    ] = 0.06
    mount_stiffness: Annotated[
        Band,
        Spec(
            "stiffness",
            None,
            None,
            "Spindle mount, shifting",
            "Clamp and spindle bearings, each direction (estimate, wide).",
        ),
    ] = band(30e6, 60e6, 120e6)
    mount_turning: Annotated[
        Band,
        Spec(
            "rotational_stiffness",
            None,
            None,
            "Spindle mount, turning",
            "Clamp and spindle bearings, about each axis (estimate, wide).",
        ),
    ] = band(60e3, 150e3, 400e3)
    mass: Annotated[
        float,
        Spec(
            "mass", 0.0, 500.0, "Mass of the head", "Plate, spindle, mount and rails: all that moves along Z."
        ),
    ] = 9.0
    spindle: Annotated[Spindle, Spec("count", None, None, "Spindle")] = Spindle()


class Cutter(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The cutter's shank between collet and tip, as a round cantilever."""

    diameter: Annotated[float, Spec("length", 0.0005, 0.06, "Shank diameter")] = 0.006
    stick_out: Annotated[float, Spec("length", 0.0, 0.3, "Stick-out below the collet")] = 0.03
    material: Annotated[str, Spec("count", None, None, "Material")] = "carbide"
