"""The figures of a cross-section that a beam needs, however they were found."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class SectionProperties:
    """Figures of one cross-section; y horizontal, z vertical, origin in the centroid.

    Attributes:
        name: the section in words.
        width, height: outer box along y and z, m.
        area: m2.
        iyy: second moment about the y-y axis, which resists vertical load, m4.
        izz: second moment about the z-z axis, which resists horizontal load, m4.
        it: St-Venant torsion constant, m4.
        avy, avz: shear areas for horizontal and vertical shear, m2.
        wall: thinnest wall that a screw meets, m; 0 where none is known.
        shear_centre_y, shear_centre_z: shear centre as seen from the centroid, m.
        centroid_y, centroid_z: centroid as seen from the middle of the outer box, m.
        iyz: product of inertia about the centroid, m4; zero when y or z is an axis of symmetry.
        other_mass: what the mass per length has beyond area times the density of the main material, kg/m; below zero
            where a second material weighs less than its modulus counts.
        method: how the figures were found and what they leave out.
        source: where the method or the figures come from.
    """

    name: str
    width: float
    height: float
    area: float
    iyy: float
    izz: float
    it: float
    avy: float
    avz: float
    wall: float
    shear_centre_y: float = 0.0
    shear_centre_z: float = 0.0
    centroid_y: float = 0.0
    centroid_z: float = 0.0
    iyz: float = 0.0
    other_mass: float = 0.0
    method: str = ""
    source: str = ""

    def turned(self) -> SectionProperties:
        """The same section turned a quarter turn anticlockwise: (y, z) becomes (-z, y)."""
        return replace(
            self,
            width=self.height,
            height=self.width,
            iyy=self.izz,
            izz=self.iyy,
            avy=self.avz,
            avz=self.avy,
            shear_centre_y=-self.shear_centre_z,
            shear_centre_z=self.shear_centre_y,
            centroid_y=-self.centroid_z,
            centroid_z=self.centroid_y,
            iyz=-self.iyz,
        )

    def linear_mass(self, density: float) -> float:
        """Mass per length, kg/m, with the main material's density in kg/m3."""
        return self.area * density + self.other_mass

    def principal(self) -> tuple[float, float, float]:
        """Largest and smallest second moment (m4), and the angle (rad) from the y axis to the axis of the largest."""
        middle, half = (self.iyy + self.izz) / 2.0, (self.iyy - self.izz) / 2.0
        reach = math.hypot(half, self.iyz)
        angle = 0.5 * math.atan2(-self.iyz, half) if reach > 1e-9 * middle else 0.0
        return middle + reach, middle - reach, angle
