"""Deflection of the tip under a force, and the worst direction of its horizontal part."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
DIRECTIONS = 180  # steps of 2 degrees: the worst deflection found is at most 0.02 % too small


def deflection(compliance: Floats, force: Floats, any_direction: bool) -> tuple[Floats, Floats]:
    """Deflection vectors (..., 3) in m and the direction (...) in rad of the horizontal force, from X towards Y.

    Args:
        compliance: (..., 3, 3) m/N.
        force: (3,) N.
        any_direction: whether the horizontal force may turn; the direction with the largest deflection is taken.
    """
    if not any_direction or not np.any(force[:2]):
        direction = np.full(compliance.shape[:-2], np.arctan2(force[1], force[0]))
        return compliance @ force, direction
    angles = np.linspace(0.0, 2.0 * np.pi, DIRECTIONS, endpoint=False)
    size = float(np.hypot(force[0], force[1]))
    turned = np.stack([size * np.cos(angles), size * np.sin(angles), np.full_like(angles, force[2])])
    moved = compliance @ turned
    best = np.argmax(np.einsum("...ij,...ij->...j", moved, moved), axis=-1)
    vectors = np.take_along_axis(moved, best[..., None, None], axis=-1)[..., 0]
    return vectors, angles[best]


def worst_force(force: Floats, direction: float, any_direction: bool) -> Floats:
    """The force (3,) turned to a horizontal direction."""
    if not any_direction:
        return force
    size = float(np.hypot(force[0], force[1]))
    return np.array([size * np.cos(direction), size * np.sin(direction), force[2]])
