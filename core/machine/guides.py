"""Profiled rails and their carriages (bearing blocks): size, number, spread and stiffness.

Stiffness defaults by size are typical figures from memory and carry a wide band; a maker's datasheet wins.
"""

from __future__ import annotations

from typing import Annotated, Literal

from core.errors import BadEntry
from core.fields import Band, Described, Spec, band
from core.machine.rail_pieces import RailPieces
from core.machine.rating import TYPICAL_RATINGS, CarriageRating

RailSize = Literal[15, 20, 25, 30, 35, 45]


class RailData(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Main dimensions of one rail size (ISO 12090-1 series; widths, pitches, screws from memory, high)."""

    size: int
    rail_width: float
    rail_height: float
    hole_pitch: float
    screw: str
    hole_diameter: float
    counterbore_diameter: float
    counterbore_depth: float
    assembly_height: float
    carriage_width: float
    carriage_length: float
    linear_mass: float
    carriage_mass: float


def _rail(size: int, mm: tuple[float, ...], screw: str, linear_mass: float, carriage_mass: float) -> RailData:
    names = [
        "rail_width",
        "rail_height",
        "hole_pitch",
        "hole_diameter",
        "counterbore_diameter",
        "counterbore_depth",
        "assembly_height",
        "carriage_width",
        "carriage_length",
    ]
    values = {name: value / 1000.0 for name, value in zip(names, mm, strict=True)}
    return RailData(size=size, screw=screw, linear_mass=linear_mass, carriage_mass=carriage_mass, **values)


# Source: ISO 12090-1 for the series; widths, pitches and screws memory high; bores, heights, lengths and masses
# memory medium (typical of the trade; rail mass from width x height x 7850 kg/m3 less the grooves).
RAILS: dict[int, RailData] = {
    15: _rail(15, (15, 14, 60, 4.5, 7.5, 5.3, 24, 47, 58), "M4", 1.4, 0.20),
    20: _rail(20, (20, 17, 60, 6.0, 9.5, 8.5, 30, 63, 75), "M5", 2.2, 0.40),
    25: _rail(25, (23, 21, 60, 7.0, 11.0, 9.0, 36, 70, 84), "M6", 3.1, 0.60),
    30: _rail(30, (28, 25, 80, 9.0, 14.0, 12.0, 42, 90, 98), "M8", 4.4, 1.10),
    35: _rail(35, (34, 28, 80, 9.0, 14.0, 12.0, 48, 100, 110), "M8", 6.2, 1.60),
    45: _rail(45, (45, 36, 105, 14.0, 20.0, 17.0, 60, 120, 139), "M12", 10.0, 3.00),
}

# Normal stiffness of one lightly preloaded carriage, N/m: typical of the trade, from memory, low certainty.
TYPICAL_STIFFNESS: dict[int, Band] = {
    15: band(80e6, 140e6, 220e6),
    20: band(120e6, 210e6, 330e6),
    25: band(160e6, 290e6, 450e6),
    30: band(220e6, 380e6, 600e6),
    35: band(280e6, 480e6, 750e6),
    45: band(400e6, 680e6, 1050e6),
}


class Guides(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The rails and carriages of one axis.

    `spread` is the distance between the outermost carriage middles of one rail, along the travel. `rail_spacing` is the
    distance between the two rail middles across it (for Y it follows from the side beams and is not used).
    """

    size: Annotated[
        RailSize,
        Spec("count", 15, 45, "Rail size", "Nominal size of the profiled rail (ISO 12090-1 series)."),
    ] = 20
    carriages: Annotated[
        int, Spec("count", 1, 4, "Carriages on each rail", "Two or more hold pitch and yaw.")
    ] = 2
    spread: Annotated[
        float,
        Spec(
            "length",
            0.0,
            3.0,
            "Carriage spread",
            "Between the outermost carriage middles on one rail, along the travel.",
        ),
    ] = 0.2
    rail_spacing: Annotated[
        float,
        Spec("length", 0.02, 2.0, "Rail spacing", "Between the middles of the two rails, across the travel."),
    ] = 0.12
    normal_stiffness: Annotated[
        Band | None,
        Spec(
            "stiffness",
            None,
            None,
            "Normal stiffness of a carriage",
            "Pressing on or pulling off the rail. Automatic: typical of the size, from memory; a datasheet is better.",
        ),
    ] = None
    lateral_stiffness: Annotated[
        Band | None,
        Spec(
            "stiffness",
            None,
            None,
            "Lateral stiffness of a carriage",
            "Sideways on the rail. Automatic: 0.7 of the normal stiffness (from memory).",
        ),
    ] = None
    end_distance: Annotated[
        float | None,
        Spec("length", 0.004, 0.2, "First hole from the rail's end", "Automatic: the same at both ends."),
    ] = None
    rail_length: Annotated[
        float | None,
        Spec("length", 0.05, 12.0, "Rail length", "Automatic: travel, spread, carriage and a margin."),
    ] = None
    minimum_end_distance: Annotated[
        float,
        Spec(
            "length",
            0.004,
            0.1,
            "Smallest end distance",
            "Shortest distance from the rail's end to its first hole that the rail allows (common practice).",
        ),
    ] = 0.02
    rating: Annotated[CarriageRating, Spec("count", None, None, "Carriage ratings")] = CarriageRating()
    pieces: Annotated[RailPieces, Spec("count", None, None, "Rails in pieces")] = RailPieces()

    def check(self) -> None:
        if self.carriages == 1 and self.spread > 0.0:
            raise BadEntry(
                "spread",
                f"{self.spread:g} m",
                "cannot be with one carriage on a rail",
                "0, or two or more carriages",
            )
        if self.carriages > 1 and self.spread < 0.9 * self.data.carriage_length * (self.carriages - 1):
            least = 0.9 * self.data.carriage_length * (self.carriages - 1)
            raise BadEntry(
                "spread",
                f"{self.spread * 1000:g} mm",
                "lets the carriages overlap",
                f"{least * 1000:.4g} mm or more for {self.carriages} carriages of size {self.size}",
            )

    @property
    def data(self) -> RailData:
        """Main dimensions of the rail size."""
        return RAILS[self.size]

    @property
    def normal(self) -> Band:
        """Normal stiffness of one carriage, N/m."""
        return self.normal_stiffness or TYPICAL_STIFFNESS[self.size]

    @property
    def lateral(self) -> Band:
        """Lateral stiffness of one carriage, N/m."""
        if self.lateral_stiffness is not None:
            return self.lateral_stiffness
        n = self.normal
        return band(0.7 * n.low, 0.7 * n.likely, 0.7 * n.high)

    @property
    def dynamic_rating(self) -> float:
        """Dynamic load rating of one carriage as stated, N (for the distance in `rating.rated_for`)."""
        own = self.rating.dynamic
        if own is not None:
            return own
        typical = TYPICAL_RATINGS[self.size][0]  # for 100 km
        return typical * 2.0 ** (1.0 / 3.0) if self.rating.rated_for == "50 km" else typical

    @property
    def static_rating(self) -> float:
        """Static load rating of one carriage, N."""
        own = self.rating.static
        return TYPICAL_RATINGS[self.size][1] if own is None else own

    def places(self) -> tuple[float, ...]:
        """Carriage middles along the travel, relative to their common middle, m."""
        if self.carriages == 1:
            return (0.0,)
        step = self.spread / (self.carriages - 1)
        return tuple(-self.spread / 2 + k * step for k in range(self.carriages))
