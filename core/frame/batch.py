"""Helpers for arrays with leading batch axes.

Broadcasting, vectors against columns, and products that avoid one small matrix product per design.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from core.errors import BadEntry
from core.frame.checks import Floats


def stack(values: Sequence[object], tail: tuple[int, ...]) -> Floats:
    """Stack entries (..., *tail), each with batch axes of its own, to (..., k, *tail)."""
    if not values:
        return np.zeros((0, *tail))
    try:  # without batch axes at once: building a frame is mostly this
        plain = np.array(values, dtype=np.float64)
    except ValueError:  # entries of several shapes
        plain = np.zeros(0)
    if plain.shape == (len(values), *tail):
        return plain
    arrays = [np.asarray(value, dtype=np.float64) for value in values]
    arrays = [np.broadcast_to(a, tail) if a.ndim < len(tail) else a for a in arrays]
    return np.stack(np.broadcast_arrays(*arrays), axis=-1 - len(tail))


def together(*values: ArrayLike) -> tuple[Floats, ...]:
    """The values as floats, broadcast against each other."""
    return tuple(np.broadcast_arrays(*(np.asarray(value, dtype=np.float64) for value in values)))


def skew(vector: Floats) -> Floats:
    """Matrices S (..., 3, 3) with S v = vector x v, from vectors (..., 3)."""
    out = np.zeros((*vector.shape, 3))
    x, y, z = vector[..., 0], vector[..., 1], vector[..., 2]
    out[..., 0, 1], out[..., 0, 2], out[..., 1, 2] = -z, y, -x
    out[..., 1, 0], out[..., 2, 0], out[..., 2, 1] = z, -y, x
    return out


def cross(a: Floats, b: Floats) -> Floats:
    """Cross products (..., 3); several times quicker than numpy's own for the few small vectors of a frame."""
    x = a[..., 1] * b[..., 2] - a[..., 2] * b[..., 1]
    y = a[..., 2] * b[..., 0] - a[..., 0] * b[..., 2]
    z = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    return np.stack([x, y, z], axis=-1)


def rigid_arm(arm: Floats) -> Floats:
    """Movement of a point from its node's movement, (..., 6, 6), for arms (..., 3) in global axes, m."""
    out = np.zeros((*arm.shape[:-1], 6, 6))
    out[..., range(6), range(6)] = 1.0
    out[..., :3, 3:] = -skew(arm)
    return out


def combine(weights: Floats, basis: Floats) -> Floats:
    """Weighted sums of basis arrays: weights (..., k, c) and basis (..., k, c, d) give (..., k, d).

    One large product per k when the basis carries no batch axes, which is the case of ten thousand places on
    one frame.
    """
    if basis.ndim == 3:
        lead = weights.shape[:-2]
        flat = np.moveaxis(weights.reshape(-1, *weights.shape[-2:]), 1, 0)
        return np.moveaxis(flat @ basis, 0, 1).reshape(*lead, basis.shape[0], basis.shape[-1])
    out: Floats = (weights[..., None, :] @ basis)[..., 0, :]
    return out


def as_columns(values: ArrayLike, dofs: int, batched: bool, columns: bool | None) -> tuple[Floats, bool]:
    """Loads or displacements as (..., dofs, r), and whether they came so (True) or as (..., dofs) (False).

    Args:
        values: (..., dofs) or (..., dofs, r).
        dofs: degrees of freedom, six per node.
        batched: whether the frame itself carries batch axes.
        columns: say it where the shape cannot (both last axes equal to dofs on a batched frame).

    Errors: BadEntry if neither shape fits, or if both fit on a batched frame and `columns` is None.
    """
    array = np.asarray(values, dtype=np.float64)
    as_vector = array.ndim >= 1 and array.shape[-1] == dofs
    as_matrix = array.ndim >= 2 and array.shape[-2] == dofs
    shape = f"an array of shape {array.shape}"
    if columns is None:
        if as_vector and as_matrix and batched:
            raise BadEntry("loads", shape, "can be read in two ways", "the argument columns, true or false")
        columns = as_matrix
    if not (as_matrix if columns else as_vector):
        raise BadEntry("loads", shape, "does not fit this frame", f"shape (..., {dofs}) or (..., {dofs}, r)")
    return (array, True) if columns else (array[..., None], False)
