"""Stiffness and mass of one large frame as sparse matrices: what modes of a finely cut frame are worked out from."""

from __future__ import annotations

from typing import Any, TypeAlias

import numpy as np
import scipy.sparse

from core.frame.assemble import (
    member_dofs,
    member_stiffness,
    spring_dofs,
    spring_gradients,
    transform,
)
from core.frame.checks import Floats, Ints
from core.frame.frame import Frame
from core.frame.mass import Lumps, lump_mass, member_mass

Sparse: TypeAlias = Any  # scipy brings no types
"""A sparse matrix by columns."""


def stiffness_and_mass(frame: Frame, lumps: Lumps | None = None) -> tuple[Sparse, Sparse]:
    """K and M (6n, 6n) of one frame, supports not yet applied; the same figures as `stiffness` and `mass`."""
    turn = transform(frame)
    back = np.swapaxes(turn, -1, -2)
    dofs = member_dofs(frame)
    gradients = spring_gradients(frame)
    springs = frame.springs.stiffness[:, None, None] * gradients[:, :, None] * gradients[:, None, :]
    stiff = [(dofs, back @ member_stiffness(frame) @ turn), (spring_dofs(frame), springs)]
    heavy = [(dofs, back @ member_mass(frame) @ turn)]
    points = np.zeros((len(frame.node_names), 6, 6))
    points[:, range(3), range(3)] = frame.node_mass[:, None]
    if lumps is not None:
        np.add.at(points, lumps.node, lump_mass(lumps))
    heavy.append((np.arange(frame.dofs).reshape(-1, 6), points))
    return _gather(stiff, frame.dofs), _gather(heavy, frame.dofs)


def _gather(blocks: list[tuple[Ints, Floats]], size: int) -> Sparse:
    """Sum of square blocks at their degrees of freedom."""
    rows, columns, values = [], [], []
    for dofs, block in blocks:
        both = np.broadcast_to(dofs[:, :, None], block.shape)
        rows.append(both.ravel())
        columns.append(np.swapaxes(both, -1, -2).ravel())
        values.append((0.5 * (block + np.swapaxes(block, -1, -2))).ravel())
    where = (np.concatenate(rows), np.concatenate(columns))
    return scipy.sparse.csc_matrix((np.concatenate(values), where), shape=(size, size))
