"""Properties of channels and angles: exact area and second moments, thin walls for torsion and shear.

Shear areas come from the energy of the shear flow along the midline of the wall, exact for thin walls.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.sections.labels import closed_label
from core.sections.properties import SectionProperties
from core.sections.shapes import Angle, Channel

Floats = NDArray[np.float64]
Box = tuple[float, float, float, float]
"""A rectangle of solid: y from, y to, z from, z to."""


@dataclass(frozen=True, slots=True)
class WallFigures:
    """What the shear flow says: shear areas (m2) and the shear centre in the axes of the midline (m)."""

    avy: float
    avz: float
    centre_y: float
    centre_z: float


def channel_properties(section: Channel) -> SectionProperties:
    """Channel, web upright on the left. Source: Timoshenko, Strength of Materials."""
    h, b, tw, tf = section.height, section.width, section.web, section.flange
    boxes = [(0.0, tw, tf, h - tf), (0.0, b, 0.0, tf), (0.0, b, h - tf, h)]
    line = [(b, tf / 2), (tw / 2, tf / 2), (tw / 2, h - tf / 2), (b, h - tf / 2)]
    method = (
        "Sharp corners. Area and second moments exact; torsion constant by wall strips; shear areas and "
        "shear centre by the shear flow of thin walls. Warping stiffness is left out, on "
        "the soft side."
    )
    return _properties(section, boxes, line, [tf, tw, tf], method)


def angle_properties(section: Angle) -> SectionProperties:
    """Angle, legs on the left and at the bottom. Source: Timoshenko, Strength of Materials (thin walls)."""
    h, b, t = section.height, section.width, section.thickness
    boxes = [(0.0, t, t, h), (0.0, b, 0.0, t)]
    line = [(b, t / 2), (t / 2, t / 2), (t / 2, h)]
    method = (
        "Sharp corners. Second moments are about the axes along the legs; a free angle bends sideways too, and about one "
        "and a half times as far as these two say. Torsion by wall strips; shear areas and shear centre by the shear flow "
        "of thin walls."
    )
    return _properties(section, boxes, line, [t, t], method)


def _properties(
    section: Channel | Angle,
    boxes: list[Box],
    line: list[tuple[float, float]],
    thickness: list[float],
    method: str,
) -> SectionProperties:
    area, cy, cz, iyy, izz = box_moments(boxes)
    points, walls = np.array(line), np.array(thickness)
    lengths = np.linalg.norm(np.diff(points, axis=0), axis=1)
    flow = shear_flow(points, walls)
    return SectionProperties(
        name=closed_label(section),
        width=section.width,
        height=section.height,
        area=area,
        iyy=iyy,
        izz=izz,
        it=float(np.sum(lengths * walls**3) / 3),
        avy=flow.avy,
        avz=flow.avz,
        wall=min(thickness),
        shear_centre_y=flow.centre_y - cy,
        shear_centre_z=flow.centre_z - cz,
        centroid_y=cy - section.width / 2,
        centroid_z=cz - section.height / 2,
        iyz=box_product(boxes, cy, cz),
        method=method,
        source="Timoshenko, Strength of Materials; Roark's Formulas, Table 10.7",
    )


def box_moments(boxes: list[Box]) -> tuple[float, float, float, float, float]:
    """Area, centroid (y, z) and second moments (iyy, izz) about it, of rectangles that do not overlap."""
    y0, y1, z0, z1 = np.array(boxes).T
    areas = (y1 - y0) * (z1 - z0)
    area = float(areas.sum())
    cy = float(areas @ (y0 + y1) / 2 / area)
    cz = float(areas @ (z0 + z1) / 2 / area)
    iyy = float(areas @ ((z1 - z0) ** 2 / 12 + ((z0 + z1) / 2 - cz) ** 2))
    izz = float(areas @ ((y1 - y0) ** 2 / 12 + ((y0 + y1) / 2 - cy) ** 2))
    return area, cy, cz, iyy, izz


def box_product(boxes: list[Box], cy: float, cz: float) -> float:
    """Product of inertia of rectangles about the point (cy, cz), m4."""
    y0, y1, z0, z1 = np.array(boxes).T
    return float(np.sum((y1 - y0) * (z1 - z0) * ((y0 + y1) / 2 - cy) * ((z0 + z1) / 2 - cz)))


def shear_flow(points: Floats, walls: Floats) -> WallFigures:
    """Shear areas and shear centre of an open chain of thin walls.

    Args:
        points: (n + 1, 2) midline corners (y, z) from one free end to the other, m.
        walls: (n,) thicknesses, m.
    """
    start, step = points[:-1], np.diff(points, axis=0)
    lengths = np.linalg.norm(step, axis=1)
    weights = lengths * walls
    centroid = weights @ (start + step / 2) / weights.sum()
    # Three Gauss points per wall are exact for the square of the parabola that the flow follows.
    at, gauss = np.polynomial.legendre.leggauss(3)
    s = (at + 1) / 2
    here = start[:, None] - centroid + s[None, :, None] * step[:, None]
    inertia = np.einsum("i,j,ijk,ijl->kl", weights, gauss / 2, here, here)
    before = np.cumsum(weights[:, None] * (start + step / 2 - centroid), axis=0)
    before = np.vstack([np.zeros(2), before[:-1]])
    halfway = start[:, None] - centroid + s[None, :, None] * step[:, None] / 2
    static = before[:, None] + weights[:, None, None] * s[None, :, None] * halfway
    # flow[i, j, k]: shear flow at a point under a unit shear force along k, the product of inertia included;
    # its sign is such that the flow adds up to a force of -1.
    flow = static @ np.linalg.inv(inertia)
    energy = np.einsum("i,j,ijk->k", lengths / walls, gauss / 2, flow**2)
    arm = start[:, 0] * step[:, 1] - start[:, 1] * step[:, 0]
    moment = -np.einsum("i,j,ijk->k", arm, gauss / 2, flow)
    # A force along y at height z turns by -z, one along z at y turns by y.
    return WallFigures(1 / float(energy[0]), 1 / float(energy[1]), float(moment[1]), -float(moment[0]))
