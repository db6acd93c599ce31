"""Where in a section a member bends and twists: centroid, shear centre and main axes, as seen from the middle of its box.

The model's nodes, joints and rails keep to the middle of the box; the member itself carries what lies beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
import numpy.typing as npt
from numpy.typing import ArrayLike

from core.frame.batch import cross
from core.sections import SectionProperties

Floats = npt.NDArray[np.float64]
LEAST_PLACE = 1.0e-4
"""Centres nearer to the middle than this share of the section's size are in it: a mesh of triangles is never quite even."""
LEAST_PRODUCT = 1.0e-9
"""The same for the product of inertia, of both second moments together."""


@dataclass(frozen=True, slots=True)
class Axis:
    """Main axes of a section and what lies where in them; every figure may be an array (d, 1) of designs.

    Attributes:
        centroid, shear_centre: (..., 2) along the main axes, from the middle of the box, m.
        iyy, izz, avy, avz: about and along the main axes. The shear areas' softness across each other is left out.
        turn: from the section's y axis to the main axis next to it, rad.
    """

    centroid: Floats
    shear_centre: Floats
    iyy: Any
    izz: Any
    avy: Any
    avz: Any
    turn: Floats

    def up(self, up: ArrayLike, along: Floats) -> ArrayLike:
        """The vector `up` (3,) of a member that runs along (..., 3), turned with the main axes."""
        if not np.any(self.turn):
            return up
        x = along / np.linalg.norm(along, axis=-1, keepdims=True)
        y = cross(np.asarray(up, dtype=np.float64), x)
        y = y / np.linalg.norm(y, axis=-1, keepdims=True)
        return np.asarray(np.cos(self.turn)[..., None] * cross(x, y) - np.sin(self.turn)[..., None] * y)


def find_axis(section: SectionProperties, mirrored: bool = False) -> Axis | None:
    """The axis of a section, left and right changed over if `mirrored`; None where all lies in the middle of the box."""
    designs = isinstance(section.area, np.ndarray)
    return _axis(section, mirrored) if designs else _axis_of_one(section, mirrored)


@lru_cache(maxsize=64)
def _axis_of_one(section: SectionProperties, mirrored: bool) -> Axis | None:
    """Found once for all members of a bar: a frame holds dozens of them, and a study many frames."""
    return _axis(section, mirrored)


def _axis(section: SectionProperties, mirrored: bool) -> Axis | None:
    side = -1.0 if mirrored else 1.0
    p = section
    size = np.maximum(p.width, p.height)
    centroid = _placed(side * np.asarray(p.centroid_y), np.asarray(p.centroid_z), size)
    across = side * (np.asarray(p.centroid_y) + p.shear_centre_y)
    shear_centre = _placed(across, np.asarray(p.centroid_z) + p.shear_centre_z, size)
    whole = np.asarray(p.iyy) + p.izz
    product = np.where(np.abs(p.iyz) > LEAST_PRODUCT * whole, side * np.asarray(p.iyz), 0.0)
    if not (np.any(centroid) or np.any(shear_centre) or np.any(product)):
        return None
    if not np.any(product):
        return Axis(centroid, shear_centre, p.iyy, p.izz, p.avy, p.avz, np.asarray(0.0))
    half = (np.asarray(p.iyy) - p.izz) / 2.0
    # To the nearer main axis, at most 45 degrees away, so that y and z stay what they were.
    turn = 0.5 * np.arctan2(-product * np.where(half < 0.0, -1.0, 1.0), np.abs(half))
    c, s = np.cos(turn), np.sin(turn)
    mixed = 2.0 * product * s * c
    soft_y, soft_z = 1.0 / np.asarray(p.avy), 1.0 / np.asarray(p.avz)
    return Axis(
        _turned(centroid, c, s), _turned(shear_centre, c, s), p.iyy * c**2 + p.izz * s**2 - mixed,
        p.izz * c**2 + p.iyy * s**2 + mixed, 1.0 / (soft_y * c**2 + soft_z * s**2),
        1.0 / (soft_y * s**2 + soft_z * c**2), turn,
    )  # fmt: skip


def _placed(y: Floats, z: Floats, size: Floats) -> Floats:
    both = np.stack(np.broadcast_arrays(y, z), axis=-1)
    return np.where(np.abs(both) > LEAST_PLACE * np.asarray(size)[..., None], both, 0.0)


def _turned(point: Floats, c: Floats, s: Floats) -> Floats:
    y, z = point[..., 0], point[..., 1]
    return np.stack([y * c + z * s, z * c - y * s], axis=-1)
