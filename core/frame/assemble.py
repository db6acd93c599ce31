"""From members and springs to the stiffness matrix and the self-weight of the whole frame.

The loops here run over members and springs, a few dozen, never over designs: every step treats the whole
batch.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from core.frame.batch import cross
from core.frame.checks import Floats, Ints
from core.frame.element import stiffness_local
from core.frame.frame import Frame
from core.frame.interior import fixed_end_forces

GRAVITY = (0.0, 0.0, -9.80665)
"""Standard gravity, m/s2, downwards. Source: ISO 80000-3 (exact by convention)."""


def node_dofs(nodes: Ints) -> Ints:
    """The six degrees of freedom of each node (..., 6)."""
    return 6 * np.asarray(nodes, dtype=np.int64)[..., None] + np.arange(6)


def member_dofs(frame: Frame) -> Ints:
    """The twelve degrees of freedom (m, 12) of each member's two nodes."""
    return np.concatenate([node_dofs(frame.members.i), node_dofs(frame.members.j)], axis=-1)


def member_axes(frame: Frame) -> Floats:
    """Rows x, y, z of each member's local axes, (..., m, 3, 3)."""
    return frame.axes


def member_lengths(frame: Frame) -> Floats:
    """(..., m), m."""
    return frame.lengths


def transform(frame: Frame) -> Floats:
    """Members' end movements in local axes from their nodes' movements in global axes, (..., m, 12, 12)."""
    return frame.transform


def member_stiffness(frame: Frame) -> Floats:
    """Members' stiffness in local axes, (..., m, 12, 12)."""
    m = frame.members
    return stiffness_local(member_lengths(frame), m.young, m.shear, m.area, m.iyy, m.izz, m.it, m.avy, m.avz)


def spring_gradients(frame: Frame) -> Floats:
    """Elongation of each spring by the six movements of nodes i and j, (..., s, 12)."""
    springs = frame.springs
    d = springs.direction
    turning = springs.turning[:, None]
    moves = np.where(turning, 0.0, d)
    turns_i = np.where(turning, d, cross(springs.arm_i, d))
    turns_j = np.where(turning, d, cross(springs.arm_j, d))
    far = np.where(springs.j[:, None] < 0, 0.0, 1.0)
    parts = np.broadcast_arrays(-moves, -turns_i, far * moves, far * turns_j)
    return np.concatenate(parts, axis=-1)


def spring_dofs(frame: Frame) -> Ints:
    """Degrees of freedom (s, 12) of each spring's nodes; the ground repeats node i and meets zeros only."""
    springs = frame.springs
    return np.concatenate(
        [node_dofs(springs.i), node_dofs(np.where(springs.j < 0, springs.i, springs.j))], axis=-1
    )


def stiffness(frame: Frame) -> Floats:
    """Stiffness matrix (..., 6n, 6n), supports not yet applied; N/m, N, N m/rad."""
    turn = transform(frame)
    members = np.swapaxes(turn, -1, -2) @ member_stiffness(frame) @ turn
    row = spring_gradients(frame)  # a spring to the ground has zeros where its other node would stand
    springs = (frame.springs.stiffness[..., None] * row)[..., :, None] * row[..., None, :]
    out = gather(frame, members, member_dofs(frame)) + gather(frame, springs, spring_dofs(frame))
    return 0.5 * (out + np.swapaxes(out, -1, -2))


def gather(frame: Frame, blocks: Floats, dofs: Ints) -> Floats:
    """Matrix (..., 6n, 6n) of blocks (..., k, 12, 12) that each stand at degrees of freedom (k, 12)."""
    if blocks.ndim == 3:
        flat = (frame.dofs * dofs[:, :, None] + dofs[:, None, :]).ravel()
        summed = np.bincount(flat, weights=blocks.ravel(), minlength=frame.dofs**2)
        one = np.asarray(summed, dtype=np.float64).reshape(frame.dofs, frame.dofs)
        return np.broadcast_to(one, (*frame.batch, *one.shape))
    out = np.zeros((*frame.batch, frame.dofs, frame.dofs))
    for number, where in enumerate(dofs):
        for a, b in ((a, b) for a in (slice(6), slice(6, 12)) for b in (slice(6), slice(6, 12))):
            # Halves apart: the ground's springs name their node twice, and a sum into repeated places keeps only one.
            out[..., where[a, None], where[b]] += blocks[..., number, a, b]
    return out


def torque_about_shear_centre(frame: Frame, local: Floats) -> Floats:
    """Torque (..., m), N m/m, of line loads (..., m, 3) along the centroids about the shear centres, local axes."""
    m = frame.members
    apart = m.centroid - m.shear_centre
    return np.asarray(apart[..., 0] * local[..., 2] - apart[..., 1] * local[..., 1])


def line_loads(frame: Frame, line_load: Floats) -> Floats:
    """Loads on the nodes (..., 6n) from uniform line loads on the members (..., m, 3), N/m, global axes.

    They act along the centroids, as weight does.
    """
    local = (member_axes(frame) @ line_load[..., None])[..., 0]
    ends = fixed_end_forces(local, member_lengths(frame), torque_about_shear_centre(frame, local))
    loads = (np.swapaxes(transform(frame), -1, -2) @ ends[..., None])[..., 0]
    out = np.zeros((*loads.shape[:-2], frame.dofs))
    for number, dofs in enumerate(member_dofs(frame)):
        out[..., dofs] += loads[..., number, :]
    return out


def weight_per_length(frame: Frame, gravity: ArrayLike = GRAVITY) -> Floats:
    """The members' own weight as line loads (..., m, 3), N/m, global axes."""
    return frame.members.linear_weight[..., None] * np.asarray(gravity, dtype=np.float64)


def self_weight(frame: Frame, gravity: ArrayLike = GRAVITY) -> Floats:
    """Loads on the nodes (..., 6n) from the weight of members and lumped masses, moments of the rigid arms
    included.

    Args:
        gravity: (3,) m/s2.
    """
    spread = line_loads(frame, weight_per_length(frame, gravity))
    lumped = np.zeros((*frame.node_mass.shape, 6))
    lumped[..., :3] = frame.node_mass[..., None] * np.asarray(gravity, dtype=np.float64)
    return spread + lumped.reshape(*lumped.shape[:-2], frame.dofs)
