"""One straight uniform Timoshenko member in its local axes: stiffness, mass, shape functions, fixed-ended
interior.

End vectors have twelve entries: displacement and rotation at the start, then at the end. Positive rotations
follow the right hand, so that in the x-z plane the rotation about y is minus the slope. All functions
broadcast over leading axes. Source: Przemieniecki, Theory of Matrix Structural Analysis, ch. 5.6 and 11
(stiffness and mass with shear; from memory); the interior functions are the cantilever's, with the far end
brought back, derived here and checked by splitting members.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from core.frame.batch import combine, cross, together
from core.frame.checks import Floats

# Places of (displacement, rotation) of both ends, and the sign of the rotation, for each plane of bending.
_XY = (np.array([1, 5, 7, 11]), np.array([1.0, 1.0, 1.0, 1.0]))
_XZ = (np.array([2, 4, 8, 10]), np.array([1.0, -1.0, 1.0, -1.0]))


def local_axes(start: Floats, end: Floats, up: Floats) -> Floats:
    """Rows x, y, z of the local axes (..., 3, 3) from end points and `up`, each (..., 3)."""
    x = end - start
    x = x / np.linalg.norm(x, axis=-1, keepdims=True)
    y = cross(up, x)
    y = y / np.linalg.norm(y, axis=-1, keepdims=True)
    return np.stack([x, y, cross(x, y)], axis=-2)


def lever(centroid: ArrayLike, shear_centre: ArrayLike) -> Floats:
    """From the movement of a point of the axis to what the member feels there, (..., 6, 6), local axes.

    It feels the centroid's shift along x, the shear centre's shifts along y and z, and the turns: in these, pull, bending
    and torsion do not meddle with each other. Its inverse has the other entries' signs changed (`back_lever`).

    Args:
        centroid, shear_centre: (..., 2) local y and z from the axis, m.

    Source: Timoshenko, Strength of Materials (shear centre); Vlasov's coordinates, warping left free.
    """
    c, s = np.asarray(centroid, dtype=np.float64), np.asarray(shear_centre, dtype=np.float64)
    out = np.zeros((*np.broadcast_shapes(c.shape[:-1], s.shape[:-1]), 6, 6))
    out[..., range(6), range(6)] = 1.0
    out[..., 0, 4], out[..., 0, 5] = c[..., 1], -c[..., 0]
    out[..., 1, 3], out[..., 2, 3] = -s[..., 1], s[..., 0]
    return out


def back_lever(centroid: ArrayLike, shear_centre: ArrayLike) -> Floats:
    """The inverse of `lever`, (..., 6, 6)."""
    return lever(-np.asarray(centroid, dtype=np.float64), -np.asarray(shear_centre, dtype=np.float64))


def shear_ratio(E: ArrayLike, inertia: ArrayLike, G: ArrayLike, Av: ArrayLike, L: ArrayLike) -> Floats:
    """phi = 12 E I / (G Av L^2), the softness in shear against bending; 0 for an infinite shear area."""
    E, inertia, G, Av, L = (np.asarray(a, dtype=np.float64) for a in (E, inertia, G, Av, L))
    return np.asarray(12.0 * E * inertia / (G * Av * L**2), dtype=np.float64)


def stiffness_local(
    L: ArrayLike, E: ArrayLike, G: ArrayLike, A: ArrayLike, Iy: ArrayLike, Iz: ArrayLike,
    J: ArrayLike, Avy: ArrayLike, Avz: ArrayLike,
) -> Floats:  # fmt: skip
    """Exact stiffness (..., 12, 12); N/m, N and N m/rad. Arguments (...), SI: length, then see Members."""
    L, E, G, A, Iy, Iz, J, Avy, Avz = together(L, E, G, A, Iy, Iz, J, Avy, Avz)
    k = np.zeros((*L.shape, 12, 12))
    for place, value in ((0, E * A / L), (3, G * J / L)):
        k[..., place, place] = k[..., place + 6, place + 6] = value
        k[..., place, place + 6] = k[..., place + 6, place] = -value
    for (where, sign), inertia, shear_area in ((_XY, Iz, Avy), (_XZ, Iy, Avz)):
        plane = _plane_stiffness(L, E * inertia, shear_ratio(E, inertia, G, shear_area, L))
        k[..., where[:, None], where] = plane * np.outer(sign, sign)
    return k


def _plane_stiffness(L: Floats, EI: Floats, phi: Floats) -> Floats:
    """Bending stiffness (..., 4, 4) in one plane, for (v, slope) at both ends."""
    k = np.empty((*L.shape, 4, 4))
    unit = EI / (L**3 * (1.0 + phi))
    force, moment = 12.0 * unit, 6.0 * L * unit
    near, far = (4.0 + phi) * L**2 * unit, (2.0 - phi) * L**2 * unit
    rows = (
        (force, moment, -force, moment),
        (moment, near, -moment, far),
        (-force, -moment, force, -moment),
        (moment, far, -moment, near),
    )
    for a, row in enumerate(rows):
        for b, value in enumerate(row):
            k[..., a, b] = value
    return k


def shape_polynomials(L: ArrayLike, phi_y: ArrayLike, phi_z: ArrayLike) -> Floats:
    """Coefficients (..., 4, 6, 12) of 1, xi, xi^2, xi^3 in the exact shape functions.

    Args:
        L: (...) length, m.
        phi_y: (...) shear ratio of bending about y (moves along z; Iy with Avz).
        phi_z: (...) shear ratio of bending about z (moves along y; Iz with Avy).
    """
    L, phi_y, phi_z = together(L, phi_y, phi_z)
    out = np.zeros((*L.shape, 4, 6, 12))
    for place in (0, 3):
        out[..., 0, place, place] = 1.0
        out[..., 1, place, place], out[..., 1, place, place + 6] = -1.0, 1.0
    for (where, sign), phi in ((_XY, phi_z), (_XZ, phi_y)):
        plane = _plane_shapes(L, phi) * np.outer(sign[:2], sign)
        out[..., where[:2, None], where] = plane
    return out


def _plane_shapes(L: Floats, phi: Floats) -> Floats:
    """Coefficients (..., 4, 2, 4) in powers of xi: rows (v, slope), columns (v, slope) of both ends."""
    m = 1.0 / (1.0 + phi)
    half = 0.5 * phi
    nought, one = np.zeros_like(L), np.ones_like(L)
    table = (  # each: coefficients of 1, xi, xi^2, xi^3
        ((one, -phi * m, -3.0 * m, 2.0 * m), _by(L * m, (nought, 1.0 + half, -2.0 - half, one)),
         (nought, phi * m, 3.0 * m, -2.0 * m), _by(L * m, (nought, -half, half - 1.0, one))),
        ((nought, -6.0 * m / L, 6.0 * m / L, nought), (one, -(4.0 + phi) * m, 3.0 * m, nought),
         (nought, 6.0 * m / L, -6.0 * m / L, nought), (nought, (phi - 2.0) * m, 3.0 * m, nought)),
    )  # fmt: skip
    out = np.empty((*L.shape, 4, 2, 4))
    for row, entries in enumerate(table):
        for column, coefficients in enumerate(entries):
            for power, value in enumerate(coefficients):
                out[..., power, row, column] = value
    return out


def _by(factor: Floats, values: tuple[Floats, ...]) -> tuple[Floats, ...]:
    return tuple(factor * value for value in values)


def powers(xi: ArrayLike) -> Floats:
    """1, xi, xi^2, xi^3 along a new last axis."""
    xi = np.asarray(xi, dtype=np.float64)
    return np.stack([np.ones_like(xi), xi, xi**2, xi**3], axis=-1)


def shape_functions(xi: ArrayLike, L: ArrayLike, phi_y: ArrayLike = 0.0, phi_z: ArrayLike = 0.0) -> Floats:
    """Displacement and rotation (..., 6, 12) at xi in [0, 1], exact from those of the ends."""
    xi, L, phi_y, phi_z = together(xi, L, phi_y, phi_z)
    basis = shape_polynomials(L, phi_y, phi_z)
    flat = combine(powers(xi)[..., None, :], basis.reshape(*L.shape, 1, 4, 72))
    return flat.reshape(*L.shape, 6, 12)


def mass_local(
    L: ArrayLike,
    linear_weight: ArrayLike,
    phi_y: ArrayLike = 0.0,
    phi_z: ArrayLike = 0.0,
    turning: tuple[ArrayLike, ArrayLike, ArrayLike] = (0.0, 0.0, 0.0),
    apart: ArrayLike | None = None,
) -> Floats:
    """Consistent mass (..., 12, 12) with the exact static shapes.

    Args:
        L, phi_y, phi_z: as for shape_polynomials.
        linear_weight: (...) kg/m.
        turning: moments of inertia per length about local x, y, z (density times polar and second moments),
            kg m.
        apart: (..., 2) local y and z of the shear centre, across which the ends move (`lever`), from the centre of mass, m;
            None for one point.
    """
    L, mu, phi_y, phi_z, jx, jy, jz = together(L, linear_weight, phi_y, phi_z, *turning)
    xi, weight = np.polynomial.legendre.leggauss(4)  # exact to the seventh power; the products have the sixth
    shapes = shape_functions(0.5 * (xi + 1.0), L[..., None], phi_y[..., None], phi_z[..., None])
    if apart is not None:  # the centre of mass's movement, not the shear centre's
        shapes = back_lever((0.0, 0.0), apart)[..., None, :, :] @ shapes
    inertia = np.stack([mu, mu, mu, jx, jy, jz], axis=-1)
    scale = (0.5 * weight)[:, None] * (L[..., None] * inertia)[..., None, :]
    out: Floats = (np.swapaxes(shapes, -1, -2) @ (scale[..., None] * shapes)).sum(axis=-3)
    return out
