"""What happens inside a member whose both ends are held: flexibility between any two places, and uniform
load.

Added to the movement that the ends pass on by the shape functions, it gives the exact movement anywhere on a
loaded member. Source: beam theory as in Roark's Formulas, table 8.1; derived here, checked by splitting
    members into pieces.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from core.frame.batch import together
from core.frame.checks import Floats
from core.frame.element import shear_ratio

# Local 6x6 places of the ten numbers of interior_terms: axial, torsion, then force-force, force-moment,
# moment-force, moment-moment in the x-y plane (v, turn about z) and in the x-z plane (w, turn about y).
TERM_PLACES = ((0, 0), (3, 3), (1, 1), (1, 5), (5, 1), (5, 5), (2, 2), (2, 4), (4, 2), (4, 4))
TERM_SIGNS = (1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, -1.0, -1.0, 1.0)


def interior_terms(
    xi: ArrayLike, eta: ArrayLike, L: ArrayLike, E: ArrayLike, G: ArrayLike, A: ArrayLike,
    Iy: ArrayLike, Iz: ArrayLike, J: ArrayLike, Avy: ArrayLike, Avz: ArrayLike,
) -> Floats:  # fmt: skip
    """The ten numbers (..., 10) that fill interior_flexibility; their places are TERM_PLACES."""
    xi, eta, L, E, G, A, Iy, Iz, J, Avy, Avz = together(xi, eta, L, E, G, A, Iy, Iz, J, Avy, Avz)
    out = np.empty((*xi.shape, 10))
    # Of two places, the smaller share from the start times the smaller share from the end.
    held = L * np.minimum(xi, eta) * (1.0 - np.maximum(xi, eta))
    out[..., 0] = held / (E * A)
    out[..., 1] = held / (G * J)
    for first, inertia, shear_area in ((2, Iz, Avy), (6, Iy, Avz)):
        phi = shear_ratio(E, inertia, G, shear_area, L)
        for place, value in enumerate(_plane(xi, eta, L, E * inertia, phi)):
            out[..., first + place] = value
    return out


def _plane(
    xi: Floats, eta: Floats, L: Floats, EI: Floats, phi: Floats
) -> tuple[Floats, Floats, Floats, Floats]:
    """Movement at xi from a unit load at eta in one plane: (v of force, v of moment, slope of force, slope of
    moment).

    A cantilever from the start, whose far end is then brought back by the shape functions of the far end.
    """
    shear = phi / 12.0
    near, far = np.minimum(xi, eta), np.maximum(xi, eta)
    half = 0.5 * near**2
    cantilever = (half * (far - near / 3.0) + shear * near, xi * near - half, eta * near - half, near)
    end_force = (
        0.5 * eta**2 * (1.0 - eta / 3.0) + shear * eta,
        eta * eta - 0.5 * eta**2,
    )  # v, slope at the end
    end_moment = (eta - 0.5 * eta**2, eta)
    m = 1.0 / (1.0 + phi)
    # The far end's shapes, lengths counted in L: v and slope from the end's v and from its slope.
    v_v, v_t = m * (3.0 * xi**2 - 2.0 * xi**3 + phi * xi), m * (xi**3 - xi**2 - 0.5 * phi * (xi - xi**2))
    t_v, t_t = 6.0 * m * (xi - xi**2), m * (3.0 * xi**2 - 2.0 * xi + phi * xi)
    vf = cantilever[0] - v_v * end_force[0] - v_t * end_force[1]
    vm = cantilever[1] - v_v * end_moment[0] - v_t * end_moment[1]
    tf = cantilever[2] - t_v * end_force[0] - t_t * end_force[1]
    tm = cantilever[3] - t_v * end_moment[0] - t_t * end_moment[1]
    return vf * (L**3 / EI), vm * (L**2 / EI), tf * (L**2 / EI), tm * (L / EI)


def interior_flexibility(
    xi: ArrayLike, eta: ArrayLike, L: ArrayLike, E: ArrayLike, G: ArrayLike, A: ArrayLike,
    Iy: ArrayLike, Iz: ArrayLike, J: ArrayLike, Avy: ArrayLike, Avz: ArrayLike,
) -> Floats:  # fmt: skip
    """Movement (..., 6) at xi of the member with both ends held, for each unit force and moment at eta: (...,
    6, 6).

    Local axes; m/N, 1/N and rad/(N m); xi, eta in [0, 1]; the other arguments as for stiffness_local.
    """
    terms = interior_terms(xi, eta, L, E, G, A, Iy, Iz, J, Avy, Avz)
    out = np.zeros((*terms.shape[:-1], 6, 6))
    for term, ((row, column), sign) in enumerate(zip(TERM_PLACES, TERM_SIGNS, strict=True)):
        out[..., row, column] = sign * terms[..., term]
    return out


def fixed_end_forces(q_local: ArrayLike, L: ArrayLike, torque: ArrayLike = 0.0) -> Floats:
    """What held ends receive from a uniform line load: end forces and moments (..., 12), N and N m, local
    axes.

    They are the loads to put on the nodes; the reactions of the holds are their opposite. Shear softness does
    not alter them, by symmetry.

    Args:
        q_local: (..., 3) N/m along local x, y, z.
        L: (...) m.
        torque: (...) N m/m about the member's own line, of a load that does not act there.
    """
    q = np.asarray(q_local, dtype=np.float64)
    L = np.asarray(L, dtype=np.float64)
    torque = np.asarray(torque, dtype=np.float64)
    out = np.zeros((*np.broadcast_shapes(q.shape[:-1], L.shape, torque.shape), 12))
    out[..., 0:3] = out[..., 6:9] = 0.5 * q * L[..., None]
    out[..., 3] = out[..., 9] = 0.5 * torque * L
    moment = q * L[..., None] ** 2 / 12.0
    out[..., 5], out[..., 11] = moment[..., 1], -moment[..., 1]
    out[..., 4], out[..., 10] = -moment[..., 2], moment[..., 2]
    return out


def interior_deflection_uniform(
    xi: ArrayLike, q_local: ArrayLike, L: ArrayLike, E: ArrayLike, G: ArrayLike, A: ArrayLike, Iy: ArrayLike,
    Iz: ArrayLike, Avy: ArrayLike, Avz: ArrayLike, *, J: ArrayLike = np.inf, torque: ArrayLike = 0.0,
) -> Floats:  # fmt: skip
    """Movement (..., 6) at xi of the member with both ends held under a line load (..., 3), N/m, and a torque (...), N m/m,
    local axes."""
    xi, L, E, G, A, Iy, Iz, Avy, Avz, J, torque = together(xi, L, E, G, A, Iy, Iz, Avy, Avz, J, torque)
    q = np.asarray(q_local, dtype=np.float64)
    both = xi * (1.0 - xi)
    out = np.zeros((*np.broadcast_shapes(q.shape[:-1], xi.shape), 6))
    out[..., 0] = q[..., 0] * L**2 * both / (2.0 * E * A)
    out[..., 3] = torque * L**2 * both / (2.0 * G * J)
    for place, turn, sign, inertia, shear_area in ((1, 5, 1.0, Iz, Avy), (2, 4, -1.0, Iy, Avz)):
        bending = L**4 * both**2 / (24.0 * E * inertia)
        out[..., place] = q[..., place] * (bending + L**2 * both / (2.0 * G * shear_area))
        out[..., turn] = sign * q[..., place] * L**3 * both * (1.0 - 2.0 * xi) / (12.0 * E * inertia)
    return out
