"""Drives: ball screw, rack and pinion, toothed belt, or a stiffness known to the user; and their stiffness.

Each kind asks just for what its stiffness needs. Parts in series add their compliances.
"""

from __future__ import annotations

import math
from typing import Annotated, Literal

from core.fields import Band, Described, Spec, band

ShaftEnds = Literal["fixed-free", "fixed-supported", "fixed-fixed"]


class KnownStiffness(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="known_stiffness"
):
    """A drive whose stiffness along its travel the user knows or has measured."""

    stiffness: Annotated[
        Band,
        Spec(
            "stiffness",
            None,
            None,
            "Drive stiffness",
            "Along the travel, from the motor held still to the carriage.",
        ),
    ] = band(15e6, 25e6, 40e6)
    mass_each: Annotated[
        float,
        Spec(
            "mass",
            0.0,
            100.0,
            "Mass riding on the gantry",
            "Motor, gearbox and nut that travel with the gantry.",
        ),
    ] = 1.5

    def stiffness_at(self, distance: float, length: float) -> Band:
        """Stiffness in N/m; place and length do not matter here."""
        return self.stiffness


class BallScrew(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="ball_screw"
):
    """A ball screw held by a fixed bearing, with the nut on the moving part."""

    diameter: Annotated[
        float,
        Spec(
            "length",
            0.006,
            0.1,
            "Screw root diameter",
            "Bottom of the thread; the nominal diameter less the groove.",
        ),
    ] = 0.0175
    lead: Annotated[float, Spec("length", 0.001, 0.06, "Lead", "Travel in one turn.")] = 0.01
    ends: Annotated[
        ShaftEnds, Spec("count", None, None, "Screw ends", "How the bearings hold the screw.")
    ] = "fixed-supported"
    nut_stiffness: Annotated[
        Band, Spec("stiffness", None, None, "Nut stiffness", "Typical, from memory; the datasheet is better.")
    ] = band(80e6, 150e6, 250e6)
    bearing_stiffness: Annotated[
        Band,
        Spec(
            "stiffness",
            None,
            None,
            "Fixed bearing stiffness",
            "The bearing and its mount (typical, from memory).",
        ),
    ] = band(40e6, 80e6, 140e6)
    mass_each: Annotated[
        float,
        Spec(
            "mass", 0.0, 100.0, "Mass riding on the gantry", "Nut and bracket, or motor when the nut turns."
        ),
    ] = 1.0

    def stiffness_at(self, distance: float, length: float) -> Band:
        """Stiffness in N/m with the nut at `distance` from the fixed bearing of a screw of `length` (m).

        Source: axial stiffness A E / x, both ends fixed A E L / (a b) (handbook); nut and bearing in series.
        """
        rigid = 210e9 * math.pi * self.diameter**2 / 4.0
        reach = min(max(distance, 0.05 * length), 0.95 * length)
        shaft = rigid / reach if self.ends != "fixed-fixed" else rigid * length / (reach * (length - reach))
        bearings = 2.0 if self.ends == "fixed-fixed" else 1.0
        return series(_exact(shaft), self.nut_stiffness, _times(self.bearing_stiffness, bearings))


class RackPinion(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="rack_pinion"
):
    """A pinion that rolls along a rack fixed beside the travel."""

    module: Annotated[float, Spec("length", 0.0005, 0.01, "Module", "Pitch divided by pi.")] = 0.0015
    teeth: Annotated[int, Spec("count", 10, 120, "Pinion teeth")] = 24
    mesh_stiffness: Annotated[
        Band,
        Spec(
            "stiffness",
            None,
            None,
            "Mesh stiffness",
            "Tooth contact with its spring preload and the rack's fixing (estimate, wide).",
        ),
    ] = band(20e6, 40e6, 80e6)
    gearbox_stiffness: Annotated[
        Band,
        Spec(
            "rotational_stiffness",
            None,
            None,
            "Gearbox torsional stiffness",
            "At the pinion (estimate, wide).",
        ),
    ] = band(3e3, 6e3, 12e3)
    mass_each: Annotated[
        float, Spec("mass", 0.0, 100.0, "Mass riding on the gantry", "Motor, gearbox and pinion.")
    ] = 3.0

    def stiffness_at(self, distance: float, length: float) -> Band:
        """Stiffness in N/m: mesh in series with the gearbox's torsion divided by the pitch radius squared."""
        radius = self.module * self.teeth / 2.0
        return series(self.mesh_stiffness, _times(self.gearbox_stiffness, 1.0 / radius**2))


class ToothedBelt(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="toothed_belt"
):
    """An open toothed belt clamped at both ends, or a closed loop: two strands share the pull."""

    specific_stiffness: Annotated[
        Band,
        Spec(
            "specific_stiffness",
            None,
            None,
            "Specific belt stiffness",
            "Force for unit strain, from the belt's datasheet.",
        ),
    ] = band(0.4e6, 0.6e6, 0.8e6)
    mass_each: Annotated[
        float, Spec("mass", 0.0, 100.0, "Mass riding on the gantry", "Motor and pulleys.")
    ] = 2.0

    def stiffness_at(self, distance: float, length: float) -> Band:
        """Stiffness in N/m of the two strands, c (1/a + 1/b), with the motor's pulley held (pretension kept)."""
        a = min(max(distance, 0.05 * length), 0.95 * length)
        return _times(self.specific_stiffness, 1.0 / a + 1.0 / (length - a))


Drive = KnownStiffness | BallScrew | RackPinion | ToothedBelt


def series(*parts: Band) -> Band:
    """Springs in series: compliances add, low with low and high with high."""
    return band(*(1.0 / sum(1.0 / getattr(p, side) for p in parts) for side in ("low", "likely", "high")))


def _exact(value: float) -> Band:
    return band(value, value, value)


def _times(b: Band, factor: float) -> Band:
    return band(b.low * factor, b.likely * factor, b.high * factor)
