"""Strain energy of members and springs, and the share of each component in the whole.

In a linear system the energy is half the work of the loads, so the shares of the components in a deflection
under its own load add up to one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from core.frame.assemble import (
    member_dofs,
    member_lengths,
    member_stiffness,
    spring_dofs,
    spring_gradients,
    transform,
)
from core.frame.batch import as_columns, rigid_arm
from core.frame.checks import Floats
from core.frame.frame import Frame
from core.frame.station import Station, station_interior


def member_ends(frame: Frame, displacements: ArrayLike, columns: bool | None = None) -> Floats:
    """Movements of the members' ends in local axes, (..., m, 12[, r]), m and rad."""
    u, many = as_columns(displacements, frame.dofs, bool(frame.batch), columns)
    local = transform(frame) @ u[..., member_dofs(frame), :]
    return np.asarray(local if many else local[..., 0])


def member_forces(frame: Frame, displacements: ArrayLike, columns: bool | None = None) -> Floats:
    """Forces on the members' ends in local axes, (..., m, 12[, r]), without those of loads inside them."""
    u, many = as_columns(displacements, frame.dofs, bool(frame.batch), columns)
    forces = member_stiffness(frame) @ member_ends(frame, u, columns=True)
    return np.asarray(forces if many else forces[..., 0])


def member_energy(frame: Frame, displacements: ArrayLike, columns: bool | None = None) -> Floats:
    """Strain energy of each member, (..., m[, r]), J, from the nodes' displacements (..., 6n[, r])."""
    u, many = as_columns(displacements, frame.dofs, bool(frame.batch), columns)
    ends = member_ends(frame, u, columns=True)
    length = member_lengths(frame)
    along = np.stack([length, np.zeros_like(length), np.zeros_like(length)], axis=-1)
    # What the far end moves beyond where the near end would carry it rigidly: keeps digits where a stiff
    # member moves much.
    strained = ends[..., 6:, :] - rigid_arm(along) @ ends[..., :6, :]
    energy = 0.5 * np.sum(strained * (member_stiffness(frame)[..., 6:, 6:] @ strained), axis=-2)
    return np.asarray(energy if many else energy[..., 0])


def spring_stretch(frame: Frame, displacements: ArrayLike, columns: bool | None = None) -> Floats:
    """Elongation (m) or turn (rad) of each spring, (..., s[, r])."""
    u, many = as_columns(displacements, frame.dofs, bool(frame.batch), columns)
    stretch = (spring_gradients(frame)[..., None, :] @ u[..., spring_dofs(frame), :])[..., 0, :]
    return np.asarray(stretch if many else stretch[..., 0])


def spring_energy(frame: Frame, displacements: ArrayLike, columns: bool | None = None) -> Floats:
    """Strain energy of each spring, (..., s[, r]), J."""
    u, many = as_columns(displacements, frame.dofs, bool(frame.batch), columns)
    energy = 0.5 * frame.springs.stiffness[..., None] * spring_stretch(frame, u, columns=True) ** 2
    return np.asarray(energy if many else energy[..., 0])


def interior_energy(frame: Frame, stations: Station, forces: ArrayLike) -> Floats:
    """Energy (..., m), J, that loads (..., 6k) at stations store in their members beyond what the ends'
    movements tell.

    Add it to member_energy of the solution under the loads' equivalents on the nodes, station_matrix^T
    forces.
    """
    p = np.asarray(forces, dtype=np.float64)
    moved = (station_interior(frame, stations) @ p[..., None])[..., 0]
    work = 0.5 * p * moved
    each = work.reshape(*work.shape[:-1], stations.member.size, 6).sum(axis=-1)
    out = np.zeros((*each.shape[:-1], len(frame.members.names)))
    for number, member in enumerate(stations.member):
        out[..., member] += each[..., number]
    return out


@dataclass(frozen=True, eq=False)
class Shares:
    """Energy by component: names (c,), energy (..., c) in J, fraction (..., c) of the whole or zero."""

    components: tuple[str, ...]
    energy: Floats
    fraction: Floats


def shares(frame: Frame, members: Floats, springs: Floats) -> Shares:
    """Gather energies (..., m) of members and (..., s) of springs by component, in order of appearance."""
    labels = (*frame.members.component, *frame.springs.component)
    components = tuple(dict.fromkeys(labels))
    belongs = np.array([[label == name for name in components] for label in labels], dtype=np.float64)
    belongs = belongs.reshape(len(labels), len(components))
    split = len(frame.members.names)
    energy = members @ belongs[:split] + springs @ belongs[split:]
    whole = energy.sum(axis=-1, keepdims=True)
    fraction = np.divide(energy, whole, out=np.zeros_like(energy), where=whole > 0.0)
    return Shares(components, energy, fraction)
