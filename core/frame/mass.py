"""The mass of a frame: members with their rotary inertia, and lumps of matter held rigidly by nodes.

Members spread their mass with the exact static shapes (consistent mass), shear included. What is neither along a
member nor in a node is a lump: a body with its own inertia at the end of a rigid arm.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.frame import checks
from core.frame.assemble import member_dofs, member_lengths, transform
from core.frame.batch import rigid_arm
from core.frame.checks import Floats, Ints
from core.frame.element import mass_local, shear_ratio
from core.frame.frame import Frame


@dataclass(frozen=True, eq=False)
class Lumps:
    """Rigid bodies carried by nodes.

    Args:
        node: (l,) node numbers.
        arm: (..., l, 3) from the node to the body's centre of mass, global axes, m.
        mass: (l,) kg.
        inertia: (l, 3, 3) about the body's own centre, global axes, kg m2.
        names: (l,) each once.

    Errors: BadEntry for a wrong shape, a value that is not finite, a mass below zero, a name met twice.
    """

    node: Ints
    arm: Floats
    mass: Floats
    inertia: Floats
    names: tuple[str, ...]

    def __post_init__(self) -> None:
        count = len(self.names)
        keep = object.__setattr__
        keep(self, "names", checks.unique_names("lump names", self.names, count))
        keep(self, "node", checks.whole_numbers("lumps.node", self.node, count, 0))
        keep(self, "arm", checks.numbers("lumps.arm", self.arm, (count, 3)))
        checks.finite_vectors("lumps.arm", self.arm, self.names)
        keep(self, "mass", checks.numbers("lumps.mass", self.mass, (count,)))
        checks.in_range("lumps.mass", self.mass, self.names, zero=True)
        keep(self, "inertia", checks.numbers("lumps.inertia", self.inertia, (count, 3, 3)))
        fit = np.asarray(np.isfinite(self.inertia).all(axis=(-2, -1)))
        checks.require("lumps.inertia", self.inertia, fit, self.names, "is not finite", "finite numbers")

    @staticmethod
    def none() -> Lumps:
        """No lumps."""
        return Lumps(np.zeros(0, np.int64), np.zeros((0, 3)), np.zeros(0), np.zeros((0, 3, 3)), ())


def box_inertia(mass: float, sizes: tuple[float, float, float]) -> Floats:
    """Inertia (3, 3) of a uniform box about its centre, kg m2; sizes along X, Y, Z in m."""
    x, y, z = (size * size for size in sizes)
    return np.diag([y + z, x + z, x + y]) * (mass / 12.0)


def rod_inertia(mass: float, diameter: float, length: float) -> Floats:
    """Inertia (3, 3) of a uniform upright cylinder (axis Z) about its centre, kg m2; m."""
    across = mass * (diameter**2 / 16.0 + length**2 / 12.0)
    return np.diag([across, across, mass * diameter**2 / 8.0])


def member_mass(frame: Frame) -> Floats:
    """Members' mass in local axes, (..., m, 12, 12).

    The radius of gyration of the section holds for all that rides on the member too: exact for a bare member, a
    little small for rails on its outside.
    """
    m, length = frame.members, member_lengths(frame)
    phi_y = shear_ratio(m.young, m.iyy, m.shear, m.avz, length)
    phi_z = shear_ratio(m.young, m.izz, m.shear, m.avy, length)
    dense = m.linear_weight / m.area
    turning = (dense * (m.iyy + m.izz), dense * m.iyy, dense * m.izz)
    apart = m.shear_centre - m.centroid if m.off_axis else None
    return mass_local(length, m.linear_weight, phi_y, phi_z, turning, apart)


def lump_mass(lumps: Lumps) -> Floats:
    """(..., l, 6, 6) mass of each lump about its node."""
    body = np.zeros((len(lumps.names), 6, 6))
    body[:, range(3), range(3)] = lumps.mass[:, None]
    body[:, 3:, 3:] = lumps.inertia
    arm = rigid_arm(lumps.arm)
    return np.asarray(np.swapaxes(arm, -1, -2) @ body @ arm)


def mass(frame: Frame, lumps: Lumps | None = None) -> Floats:
    """Mass matrix (..., 6n, 6n) of members, of the nodes' own masses and of the lumps; kg, kg m, kg m2."""
    out = np.zeros((*frame.batch, frame.dofs, frame.dofs))
    if frame.members.names:
        turn = transform(frame)
        blocks = np.swapaxes(turn, -1, -2) @ member_mass(frame) @ turn
        for number, dofs in enumerate(member_dofs(frame)):
            out[..., dofs[:, None], dofs] += blocks[..., number, :, :]
    shift = 6 * np.arange(len(frame.node_names))[:, None] + np.arange(3)
    out[..., shift, shift] += frame.node_mass[..., None]
    if lumps is not None:
        checks.whole_numbers("lumps.node", lumps.node, len(lumps.names), 0, len(frame.node_names))
        blocks = lump_mass(lumps)
        for number, node in enumerate(lumps.node):
            out[..., 6 * node : 6 * node + 6, 6 * node : 6 * node + 6] += blocks[..., number, :, :]
    return np.asarray(0.5 * (out + np.swapaxes(out, -1, -2)))


def rigid_motions(frame: Frame) -> Floats:
    """The frame's six rigid motions (..., 6n, 6): unit shifts along X, Y, Z and turns about them at the origin."""
    out = rigid_arm(frame.nodes)
    return out.reshape(*out.shape[:-3], frame.dofs, 6)
