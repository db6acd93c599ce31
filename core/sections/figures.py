"""Area and moments of polygons, exact by Green's theorem, and the parallel-axis sum of several bodies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.sections.outlines import Ring


@dataclass(frozen=True, slots=True)
class Moments:
    """Area (m2), centroid (m) and second moments about it (m4); weighted sums carry the weights in all of them."""

    area: float
    y: float
    z: float
    iyy: float
    izz: float
    iyz: float = 0.0

    def moved(self, dy: float, dz: float) -> Moments:
        """The same body elsewhere."""
        return Moments(self.area, self.y + dy, self.z + dz, self.iyy, self.izz, self.iyz)

    def weighted(self, weight: float) -> Moments:
        """Everything times a weight but the place: the transformed body."""
        return Moments(
            weight * self.area, self.y, self.z, weight * self.iyy, weight * self.izz, weight * self.iyz
        )


def together(bodies: Sequence[Moments]) -> Moments:
    """Bodies joined without slip, by the parallel-axis theorem. Source: Timoshenko, Strength of Materials."""
    area = sum(b.area for b in bodies)
    y = sum(b.area * b.y for b in bodies) / area
    z = sum(b.area * b.z for b in bodies) / area
    return Moments(
        area,
        y,
        z,
        sum(b.iyy + b.area * (b.z - z) ** 2 for b in bodies),
        sum(b.izz + b.area * (b.y - y) ** 2 for b in bodies),
        sum(b.iyz + b.area * (b.y - y) * (b.z - z) for b in bodies),
    )


def moments_of(rings: Sequence[Ring]) -> Moments:
    """Moments of a region bounded by rings: outer ones anticlockwise, holes clockwise."""
    area = y_area = z_area = zz = yy = yz = 0.0
    for ring in rings:
        y, z = np.array(ring).T
        y1, z1 = np.roll(y, -1), np.roll(z, -1)
        cross = y * z1 - y1 * z
        area += float(cross.sum()) / 2
        y_area += float(cross @ (y + y1)) / 6
        z_area += float(cross @ (z + z1)) / 6
        zz += float(cross @ (z * z + z * z1 + z1 * z1)) / 12
        yy += float(cross @ (y * y + y * y1 + y1 * y1)) / 12
        yz += float(cross @ (y * z1 + 2 * y * z + 2 * y1 * z1 + y1 * z)) / 24
    cy, cz = y_area / area, z_area / area
    return Moments(area, cy, cz, zz - area * cz**2, yy - area * cy**2, yz - area * cy * cz)


def perimeter(rings: Sequence[Ring]) -> float:
    """Length of all rings, m."""
    total = 0.0
    for ring in rings:
        points = np.array(ring)
        total += float(np.linalg.norm(points - np.roll(points, 1, axis=0), axis=1).sum())
    return total
