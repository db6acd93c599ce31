"""Base, uprights, beams and heads with only the movements that a machine's first mode needs.

Every part keeps the nodes where it meets others and, where they can swing by themselves, its slowest modes with these held
(Craig and Bampton, AIAA Journal 6 (1968) 1313-1319, from memory); uprights follow their ends by their static shapes alone.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.sparse.linalg import splu

from core.frame import Frame, FrameBuilder
from core.frame.assemble import stiffness
from core.frame.batch import rigid_arm
from core.frame.mass import mass
from core.frame.sparse import Sparse, stiffness_and_mass
from core.frame.subdivide import subdivide
from core.model.base import SIDES, add_base
from core.model.contact import x_contacts, y_contacts
from core.model.gantry import add_beam, add_foot, foot_places
from core.model.head import add_head
from core.model.masses import with_lumps
from core.model.setting import Setting, point
from core.model.vibrating import pieces_for
from core.model.whole import join
from core.modes.slowest import factor, slowest
from core.rank.portals import ENDS, add_posts, dofs_of, feet_of

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
BASE, HEAD = 8, 8
"""Kept modes."""
SEEN = 32
"""Modes of the base of which those are kept that push the feet most."""


@dataclass(frozen=True, eq=False, slots=True)
class Below:
    """Base, Y carriages and foot plates seen from the foot plates' nodes under the uprights, the tool at y = 0.

    Attributes:
        stiffness, mass: (k + 12, k + 12) of k modes with these nodes held, then of the nodes.
        whole: stiffness and mass of all its n movements. kept: (12,) numbers of these nodes' movements. modes: (n, k).
    """

    stiffness: Floats
    mass: Floats
    whole: tuple[Sparse, Sparse]
    kept: Ints
    modes: Floats

    def about(self, frequency: float) -> Below:
        """The same with shapes that are exact at this frequency, Hz, in place of the static ones."""
        k, m = self.whole
        still = (k - (2.0 * np.pi * frequency) ** 2 * m).tocsc()
        return _seen(self.whole, self.kept, _follow(still, self.kept), self.modes)


def find_below(setting: Setting) -> Below:
    """Reduce what is the same for all designs; `setting` is that of any of them."""
    datum = setting.layout.gantry_y(0.0)
    along = y_contacts(setting, datum)
    builder = FrameBuilder()
    base_nodes = add_base(setting, builder, sorted({c.at for c in along}))
    for side, sign in SIDES:
        add_foot(setting, builder, datum, side, sign)
    _, foot_nodes = foot_places(setting)
    for c in along:
        join(
            builder, c, f"{c.side} side beam {base_nodes[c.at]}", f"{c.side} foot plate {foot_nodes[c.rides]}"
        )
    whole = builder.build()
    frame = subdivide(whole, pieces_for(whole))
    k, m = stiffness_and_mass(frame)
    kept = dofs_of(frame, feet_of(setting))
    rest = np.setdiff1d(np.arange(frame.dofs), kept)
    held, heavy = k[rest][:, rest].tocsc(), m[rest][:, rest].tocsc()
    inverse, found = slowest(factor(held), held, heavy, min(SEEN, rest.size))
    static = _follow(k, kept)
    carried = m @ static
    push = (carried[rest].T @ found) / np.sqrt(np.diag(static.T @ carried))[:, None]
    felt = np.sort(np.argsort(-(push**2).sum(axis=0) * inverse)[:BASE])
    modes = np.zeros((frame.dofs, felt.size))
    modes[rest] = found[:, felt]
    return _seen((k, m), kept, static, modes)


def _follow(k: Sparse, kept: Ints) -> Floats:
    """(n, 12) movements of all by unit movements of the kept ones."""
    rest = np.setdiff1d(np.arange(k.shape[0]), kept)
    shapes = np.zeros((k.shape[0], kept.size))
    shapes[kept] = np.eye(kept.size)
    shapes[rest] = -splu(k[rest][:, rest].tocsc()).solve(k[rest][:, kept].toarray())
    return shapes


def _seen(whole: tuple[Sparse, Sparse], kept: Ints, follow: Floats, modes: Floats) -> Below:
    k, m = whole
    shapes = np.concatenate([modes, follow], axis=1)
    return Below(_even(shapes.T @ (k @ shapes)), _even(shapes.T @ (m @ shapes)), whole, kept, modes)


def reduced_posts(setting: Setting) -> tuple[Floats, Floats]:
    """Stiffness and mass (d, 24, 24) of uprights with the beam's joints: feet, then joints."""
    builder = FrameBuilder()
    add_posts(setting, builder)
    frame = builder.build()
    kept = dofs_of(frame, (*feet_of(setting), *ENDS))
    return _reduced(frame, kept, _alone(stiffness(frame)), _alone(mass(frame)), 0)


def reduced_heads(setting: Setting) -> tuple[Floats, Floats]:
    """Stiffness and mass (d, 6 + k, 6 + k) of saddle and head: the saddle's node, then k modes."""
    builder = FrameBuilder()
    add_head(setting, builder, 0.0, 0.0)
    frame, lumps = with_lumps(setting, builder.build())
    kept = dofs_of(frame, ("saddle",))
    return _reduced(frame, kept, _alone(stiffness(frame)), _alone(mass(frame, lumps)), HEAD)


def reduced_beams(setting: Setting) -> tuple[Floats, Floats]:
    """Stiffness and mass (d, n, n) of beams with the carriages and drive on them, the tool at x = 0: joints, the nodes under
    the carriages, the saddle's node. What juts out beyond a joint is carried rigidly."""
    builder = FrameBuilder()
    across = x_contacts(setting, 0.0, 0.0)
    names = add_beam(setting, builder, 0.0, sorted({c.at for c in across}))
    builder.add_node("saddle", point(0.0, setting.layout.saddle_y, setting.layout.saddle_z))
    for c in across:
        join(builder, c, names[c.at], "saddle")
    frame = builder.build()
    beyond = [f"beam at {k}" for k in (0, len(frame.node_names) - 2) if f"beam at {k}" in frame.node_names]
    inner = [name for name in frame.node_names if name not in (*ENDS, *beyond, "saddle")]
    kept = dofs_of(frame, (*ENDS, *inner, "saddle"))
    carried = [(name, ENDS[k]) for k, name in enumerate(beyond)]
    return _carrying(frame, carried, kept, _alone(stiffness(frame))), _carrying(
        frame, carried, kept, _alone(mass(frame))
    )


def _carrying(frame: Frame, carried: list[tuple[str, str]], kept: Ints, matrix: Floats) -> Floats:
    """The matrix (d, k, k) of the kept movements; nodes that others carry rigidly (by name) follow these."""
    matrix = np.array(matrix)
    for name, other in carried:
        far, near = (slice(6 * frame.node(one), 6 * frame.node(one) + 6) for one in (name, other))
        arm = rigid_arm(frame.nodes[..., frame.node(name), :] - frame.nodes[..., frame.node(other), :])
        arm = arm.reshape(-1, 6, 6)
        matrix[:, :, near] += matrix[:, :, far] @ arm
        matrix[:, near] += np.swapaxes(arm, -1, -2) @ matrix[:, far]
    return _even(matrix[:, kept[:, None], kept])


def _reduced(frame: Frame, kept: Ints, k: Floats, m: Floats, count: int) -> tuple[Floats, Floats]:
    """Matrices of the kept degrees of freedom by static shapes, and of `count` modes with these held."""
    rest = np.setdiff1d(np.arange(frame.dofs), kept)
    held = k[:, rest[:, None], rest]
    follow = -np.linalg.solve(held, k[:, rest[:, None], kept])
    count = min(count, rest.size)
    shapes = np.zeros((k.shape[0], frame.dofs, kept.size + count))
    shapes[:, kept, np.arange(kept.size)] = 1.0
    shapes[:, rest, : kept.size] = follow
    if count:
        lower = np.linalg.inv(np.linalg.cholesky(_even(held)))
        _, vectors = np.linalg.eigh(_even(lower @ m[:, rest[:, None], rest] @ np.swapaxes(lower, -1, -2)))
        shapes[:, rest, kept.size :] = np.swapaxes(lower, -1, -2) @ vectors[..., : -count - 1 : -1]
    back = np.swapaxes(shapes, -1, -2)
    return _even(back @ k @ shapes), _even(back @ m @ shapes)


def _alone(matrix: Floats) -> Floats:
    """(d, n, n) from (d, 1, n, n), or from (n, n) of what is the same for all designs."""
    return matrix[None] if matrix.ndim == 2 else matrix[:, 0]


def _even(matrix: Floats) -> Floats:
    return np.asarray(0.5 * (matrix + np.swapaxes(matrix, -1, -2)))
