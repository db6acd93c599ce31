"""Descriptions of cross-sections that need only closed formulas, and one typed in from a data sheet.

Height is along the vertical z, width along the horizontal y; lengths in m. T-slot profiles are in `t_slot`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from core.errors import BadEntry
from core.fields import Described, Spec

Height = Annotated[float, Spec("length", 0.001, 2.0, "Height", "Outer size along the vertical")]
Width = Annotated[float, Spec("length", 0.001, 3.0, "Width", "Outer size along the horizontal")]
Diameter = Annotated[float, Spec("length", 0.001, 1.0, "Diameter", "Outer diameter")]
Wall = Annotated[float, Spec("length", 0.0003, 0.1, "Wall thickness")]
Finish = Literal["cold formed", "hot finished"]

TOLERANCE = 1e-9
"""Lengths closer than this (m) count as equal, so that a 6 mm wall is 6 mm however it was typed."""


class RectangularHollow(
    Described,
    frozen=True,
    kw_only=True,
    forbid_unknown_fields=True,
    tag_field="kind",
    tag="rectangular_hollow",
):
    """Square or rectangular tube with the corner radii that its standard takes for calculation."""

    height: Height
    width: Width
    wall: Wall
    finish: Finish = "cold formed"

    def check(self) -> None:
        outer, inner = self.radii()
        least = max(2.0 * outer, 2.0 * (inner + self.wall))
        if min(self.height, self.width) < least - TOLERANCE:
            raise BadEntry(
                "wall",
                f"{self.wall * 1e3:g} mm",
                "leaves no room for the corner radii of this tube",
                f"a smaller side of at least {least * 1e3:g} mm for this wall, or a thinner wall",
            )

    def radii(self) -> tuple[float, float]:
        """Outer and inner corner radius for calculation, m. Source: annexes of EN 10219-2 and EN 10210-2."""
        if self.finish == "hot finished":
            return 1.5 * self.wall, 1.0 * self.wall
        if self.wall <= 0.006 + TOLERANCE:
            return 2.0 * self.wall, 1.0 * self.wall
        if self.wall <= 0.010 + TOLERANCE:
            return 2.5 * self.wall, 1.5 * self.wall
        return 3.0 * self.wall, 2.0 * self.wall


class FlatBar(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="flat_bar"
):
    """Solid rectangle: flat bar, plate or square bar."""

    height: Height
    width: Width


class RoundSolid(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="round_solid"
):
    """Solid round bar or shaft."""

    diameter: Diameter


class RoundTube(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="round_tube"
):
    """Round tube."""

    diameter: Diameter
    wall: Wall

    def check(self) -> None:
        _thinner("wall", self.wall, self.diameter / 2, "half the diameter")


class Channel(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="channel"
):
    """Channel with parallel flanges and sharp corners: web upright on the left, open to the right."""

    height: Height
    width: Width
    web: Annotated[float, Spec("length", 0.0003, 0.1, "Web thickness", "The upright wall")]
    flange: Annotated[float, Spec("length", 0.0003, 0.1, "Flange thickness", "The two level walls")]

    def check(self) -> None:
        _thinner("web", self.web, self.width, "the width")
        _thinner("flange", self.flange, self.height / 2, "half the height")


class Angle(Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="angle"):
    """Angle with sharp corners: one leg upright on the left, the other level at the bottom."""

    height: Height
    width: Width
    thickness: Annotated[float, Spec("length", 0.0003, 0.1, "Thickness", "Of both legs")]

    def check(self) -> None:
        _thinner("thickness", self.thickness, min(self.height, self.width), "the shorter leg")


class Datasheet(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="datasheet"
):
    """A section known only by its figures, typed in from the maker's data sheet."""

    name: str
    width: Width
    height: Height
    area: Annotated[float, Spec("area", 1e-7, 1.0, "Area", "Solid area of the section")]
    iyy: Annotated[float, Spec("second_moment", 1e-15, 1.0, "Iy", "Second moment that resists vertical load")]
    izz: Annotated[
        float, Spec("second_moment", 1e-15, 1.0, "Iz", "Second moment that resists horizontal load")
    ]
    it: Annotated[
        float | None,
        Spec("torsion_constant", None, 1.0, "It", "Torsion constant, not the polar second moment"),
    ] = None
    avy: Annotated[
        float | None, Spec("area", 1e-8, 1.0, "Shear area, horizontal", "Leave empty to have it estimated")
    ] = None
    avz: Annotated[
        float | None, Spec("area", 1e-8, 1.0, "Shear area, vertical", "Leave empty to have it estimated")
    ] = None
    wall: Annotated[
        float, Spec("length", 0.0, 0.1, "Wall", "Thinnest wall that a screw meets; 0 if not known")
    ] = 0.0

    def check(self) -> None:
        if not self.name.strip():
            raise BadEntry("name", repr(self.name), "is empty", "a name for the section")
        if self.it is None or self.it <= 0.0:
            raise BadEntry(
                "it",
                "nothing" if self.it is None else f"{self.it:g} m4",
                "is no torsion constant, and without one the twist of the beam cannot be found",
                "the torsion constant above zero, which data sheets list as It, J or torsional moment of "
                "inertia; if yours leaves it out, ask the maker or describe it as another kind",
            )
        _possible("area", self.area, self.width * self.height, "m2", "width times height")
        _possible(
            "iyy", self.iyy, self.area * (self.height / 2) ** 2, "m4", "area times half the height squared"
        )
        _possible(
            "izz", self.izz, self.area * (self.width / 2) ** 2, "m4", "area times half the width squared"
        )
        _possible("it", self.it, self.iyy + self.izz, "m4", "Iy plus Iz")
        for field, value in (("avy", self.avy), ("avz", self.avz)):
            if value is not None:
                _possible(field, value, self.area, "m2", "the area")
        _possible("wall", self.wall, min(self.width, self.height), "m", "the smaller side")


def _thinner(field: str, value: float, limit: float, limit_words: str) -> None:
    if value >= limit - TOLERANCE:
        raise BadEntry(
            field, f"{value * 1e3:g} mm", "is too thick", f"less than {limit_words}, {limit * 1e3:g} mm"
        )


def _possible(field: str, value: float, most: float, unit: str, most_words: str) -> None:
    """No section of these outer sizes can have more; a larger figure has the wrong unit or column."""
    if value > most * (1.0 + 1e-6):
        raise BadEntry(
            field,
            f"{value:g} {unit}",
            "is more than any section of this size can have; look at the unit and the column",
            f"up to {most_words}, {most:g} {unit}",
        )
