"""Drives: ball screw, rack and pinion, toothed belt, or a stiffness known to the user; and their stiffness.

Each kind asks for what its stiffness and its motion need; `core.drives` works out the motion. Parts in series add their
compliances.
"""

from __future__ import annotations

import math
from typing import Annotated, Literal

from core.errors import BadEntry
from core.fields import Band, Described, Spec, band

ShaftEnds = Literal["fixed-free", "fixed-supported", "fixed-fixed"]
LeadGrade = Literal["1", "3", "5", "7", "10"]


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
            "Riding mass",
            "Motor, gearbox and nut that travel with the gantry.",
        ),
    ] = 1.5
    travel: Annotated[
        float, Spec("length", 0.0005, 1.0, "Travel in one turn", "Of the drive's shaft, behind any gear.")
    ] = 0.005
    inertia: Annotated[
        float, Spec("inertia", 0.0, 10.0, "Inertia of what turns", "At the drive's shaft, without the motor.")
    ] = 2e-5
    efficiency: Annotated[
        Band, Spec("ratio", None, None, "Efficiency", "From the shaft's torque to the push (from memory).")
    ] = band(0.8, 0.9, 0.95)

    def check(self) -> None:
        check_efficiency(self.efficiency)

    @property
    def travel_per_turn(self) -> float:
        """Travel in one turn of the drive's shaft, m."""
        return self.travel

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
            "Root diameter",
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
            "Bearing stiffness",
            "The fixed bearing and its mount (typical, from memory).",
        ),
    ] = band(40e6, 80e6, 140e6)
    mass_each: Annotated[
        float,
        Spec("mass", 0.0, 100.0, "Riding mass", "Nut and bracket, or motor when the nut turns."),
    ] = 1.0
    nominal_diameter: Annotated[
        float | None,
        Spec("length", 0.006, 0.12, "Nominal diameter", "Automatic: root diameter divided by 0.875."),
    ] = None
    turns: Annotated[
        Literal["screw", "nut"],
        Spec("count", None, None, "What turns", "A screw that stands still does not whirl."),
    ] = "screw"
    nut_inertia: Annotated[
        float,
        Spec("inertia", 0.0, 10.0, "Turning nut's inertia", "With its pulley; only when the nut turns."),
    ] = 5e-4
    efficiency: Annotated[
        Band, Spec("ratio", None, None, "Efficiency", "Turning into pushing (from memory).")
    ] = band(0.85, 0.9, 0.95)
    grade: Annotated[
        LeadGrade,
        Spec("count", None, None, "Lead grade", "ISO 3408-3; 7 and 10 are usual for rolled screws."),
    ] = "7"

    def check(self) -> None:
        check_efficiency(self.efficiency)
        if self.nominal_diameter is not None and self.nominal_diameter < self.diameter:
            raise BadEntry(
                "nominal_diameter",
                f"{self.nominal_diameter * 1000:g} mm",
                "is below the root diameter",
                f"{self.diameter * 1000:g} mm or more",
            )

    @property
    def outer(self) -> float:
        """Nominal diameter used, m."""
        return self.nominal_diameter or self.diameter / 0.875

    @property
    def travel_per_turn(self) -> float:
        """Travel in one turn of the drive's shaft, m."""
        return self.lead

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
            "Gearbox stiffness",
            "In torsion, at the pinion (estimate, wide).",
        ),
    ] = band(3e3, 6e3, 12e3)
    mass_each: Annotated[float, Spec("mass", 0.0, 100.0, "Riding mass", "Motor, gearbox and pinion.")] = 3.0
    face_width: Annotated[float, Spec("length", 0.003, 0.1, "Pinion width", "For its inertia.")] = 0.017
    piece_length: Annotated[
        float, Spec("length", 0.05, 6.0, "Length of one rack", "As sold; it is cut at whole teeth.")
    ] = 1.0
    efficiency: Annotated[
        Band, Spec("ratio", None, None, "Efficiency", "Pinion and rack, without the gearbox (from memory).")
    ] = band(0.9, 0.95, 0.98)

    def check(self) -> None:
        check_efficiency(self.efficiency)

    @property
    def travel_per_turn(self) -> float:
        """Travel in one turn of the drive's shaft, m: teeth times the pitch pi m."""
        return math.pi * self.module * self.teeth

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
            "Specific stiffness",
            "Force for unit strain, from the belt's datasheet.",
        ),
    ] = band(0.4e6, 0.6e6, 0.8e6)
    mass_each: Annotated[float, Spec("mass", 0.0, 100.0, "Riding mass", "Motor and pulleys.")] = 2.0
    pitch: Annotated[float, Spec("length", 0.001, 0.025, "Belt pitch", "From tooth to tooth.")] = 0.005
    teeth: Annotated[int, Spec("count", 8, 200, "Pulley teeth")] = 20
    pulley_inertia: Annotated[
        float, Spec("inertia", 0.0, 1.0, "Pulleys' inertia", "All that turn with the belt, together.")
    ] = 4e-5
    linear_mass: Annotated[float, Spec("linear_density", 0.0, 5.0, "Belt mass on a length")] = 0.06
    pretension: Annotated[
        float,
        Spec(
            "force", 0.0, 1e5, "Pretension", "Pull in each strand at rest, as set with a gauge or by pitch."
        ),
    ] = 300.0
    efficiency: Annotated[
        Band, Spec("ratio", None, None, "Efficiency", "Belt and bearings (from memory).")
    ] = band(0.9, 0.95, 0.98)

    def check(self) -> None:
        check_efficiency(self.efficiency)

    @property
    def travel_per_turn(self) -> float:
        """Travel in one turn of the drive's shaft, m: pulley teeth times the belt's pitch."""
        return self.pitch * self.teeth

    def stiffness_at(self, distance: float, length: float) -> Band:
        """Stiffness in N/m of the two strands, c (1/a + 1/b), with the motor's pulley held (pretension kept)."""
        a = min(max(distance, 0.05 * length), 0.95 * length)
        return _times(self.specific_stiffness, 1.0 / a + 1.0 / (length - a))


Drive = KnownStiffness | BallScrew | RackPinion | ToothedBelt


def check_efficiency(efficiency: Band) -> None:
    """Raise BadEntry when a drive would give more than it takes."""
    if efficiency.high > 1.0:
        raise BadEntry("efficiency", f"{efficiency.high:g}", "gives more than it takes", "up to 1")


def series(*parts: Band) -> Band:
    """Springs in series: compliances add, low with low and high with high."""
    return band(*(1.0 / sum(1.0 / getattr(p, side) for p in parts) for side in ("low", "likely", "high")))


def _exact(value: float) -> Band:
    return band(value, value, value)


def _times(b: Band, factor: float) -> Band:
    return band(b.low * factor, b.likely * factor, b.high * factor)
