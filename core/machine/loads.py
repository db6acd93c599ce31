"""Cutting load cases: forces given directly, or found from the material and the cut; and the limits to hold.

Forces from a cut are planning figures with a wide band; the mean tangential force is used.
"""

from __future__ import annotations

from typing import Annotated

from core.errors import BadEntry
from core.fields import Band, Described, Spec, band
from core.materials.workpieces import metal


class DirectForce(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="force"
):
    """A force on the tool tip."""

    x: Annotated[float, Spec("force", -1e5, 1e5, "Force along X")] = 0.0
    y: Annotated[float, Spec("force", -1e5, 1e5, "Force along Y")] = 0.0
    z: Annotated[float, Spec("force", -1e5, 1e5, "Force along Z", "Positive lifts the tool.")] = 0.0

    def check(self) -> None:
        if self.x == self.y == self.z == 0.0:
            raise BadEntry("force", "0, 0, 0 N", "loads nothing", "at least one force other than zero")


class CutForce(Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="cut"):
    """A force found from material and cut: specific cutting pressure times the mean chip's cross-section."""

    workpiece: Annotated[
        str,
        Spec(
            "count",
            None,
            None,
            "Workpiece",
            "A metal's pressure follows from the chip's thickness (Kienzle); all else goes by the pressure below.",
        ),
    ] = ""
    pressure: Annotated[
        Band,
        Spec(
            "cutting_pressure",
            None,
            None,
            "Cutting pressure",
            "Specific pressure, used when no metal is chosen. Sheet materials vary widely; defaults are from memory.",
        ),
    ] = band(15e6, 30e6, 50e6)
    diameter: Annotated[float, Spec("length", 0.0005, 0.1, "Cutter diameter")] = 0.006
    teeth: Annotated[int, Spec("count", 1, 12, "Teeth")] = 2
    speed: Annotated[float, Spec("rotation_speed", 1.0, 1500.0, "Spindle speed")] = 300.0
    feed: Annotated[float, Spec("speed", 0.0001, 2.0, "Feed")] = 0.05
    depth: Annotated[float, Spec("length", 0.00005, 0.2, "Depth of cut")] = 0.006
    width: Annotated[
        float, Spec("length", 0.00005, 0.1, "Width of cut", "The cutter's diameter for a full slot.")
    ] = 0.006
    radial_share: Annotated[
        float,
        Spec(
            "share", 0.0, 2.0, "Radial force share", "Of the tangential force; 30 to 50 % is common practice."
        ),
    ] = 0.4
    axial_share: Annotated[
        float,
        Spec(
            "share",
            -1.0,
            1.0,
            "Axial force share",
            "Of the tangential force; positive lifts the tool (spiral up-cut).",
        ),
    ] = 0.25
    climb: Annotated[
        bool,
        Spec(
            "count",
            None,
            None,
            "Climb milling",
            "The edge enters where the chip is thickest. No difference in a full slot.",
        ),
    ] = False
    helix: Annotated[
        float,
        Spec(
            "angle",
            0.0,
            1.2,
            "Helix angle",
            "Of the cutter; spreads each tooth's bite over the turn; 0 for straight edges, the harder blow.",
        ),
    ] = 0.0
    plunge_feed: Annotated[
        float | None,
        Spec(
            "speed",
            0.00001,
            2.0,
            "Feed straight down",
            "Automatic: a third of the feed (common practice).",
        ),
    ] = None
    thinnest_chip: Annotated[
        float | None,
        Spec(
            "length",
            0.0,
            0.005,
            "Thinnest chip",
            "Below it the edge rubs. Automatic: 0.01 mm for metals, 0.03 mm for all else (common practice).",
        ),
    ] = None
    thickest_chip: Annotated[
        float | None,
        Spec(
            "length",
            0.000001,
            0.02,
            "Thickest chip",
            "What the cutter bears. Automatic: 2 % of the cutter's diameter for metals, 6 % for all else (common practice).",
        ),
    ] = None

    def check(self) -> None:
        if self.workpiece:
            metal(self.workpiece)
        if self.width > self.diameter:
            raise BadEntry(
                "width",
                f"{self.width * 1000:g} mm",
                "is wider than the cutter",
                f"up to {self.diameter * 1000:g} mm",
            )


Load = DirectForce | CutForce


class LoadCase(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A named load on the tool tip and the deflection that may not be passed."""

    name: Annotated[str, Spec("count", None, None, "Name")]
    load: Annotated[Load, Spec("count", None, None, "Load")] = DirectForce(x=50.0)
    any_direction: Annotated[
        bool,
        Spec(
            "count",
            None,
            None,
            "Any horizontal direction",
            "Turns the horizontal force to its worst direction, as a cutter's path does.",
        ),
    ] = True
    duty: Annotated[
        float | None,
        Spec(
            "share",
            0.0,
            1.0,
            "Share of the travel",
            "Of all distance run, for the life of carriages. Automatic: what is left of 60 %, shared alike (an assumption).",
        ),
    ] = None
    limit: Annotated[float, Spec("deflection", 1e-7, 0.1, "Largest deflection at the tip")] = 0.0002

    def check(self) -> None:
        if not self.name.strip():
            raise BadEntry("name", "an empty text", "names nothing", "a name of at least one letter")


class Limits(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Limits of the machine as a whole."""

    path_error: Annotated[
        float,
        Spec(
            "deflection",
            1e-7,
            0.1,
            "Largest path error",
            "What weight leaves after the best line is removed, over the X travel.",
        ),
    ] = 0.0001
    sag: Annotated[
        float,
        Spec("deflection", 1e-7, 0.1, "Largest sag of the beam", "Of the beam's own line, before any shim."),
    ] = 0.0005
    rail_level: Annotated[
        float,
        Spec(
            "deflection",
            1e-7,
            0.1,
            "Largest error of the rails' level",
            "Change of height between the two rails, and of each from its best line, as the gantry travels.",
        ),
    ] = 0.0002
