"""The lowest modes of a whole frame, through one entry that verifies them.

Frequencies are undamped. A frame that moves freely is refused in the same words as in statics.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.errors import BadEntry
from core.frame import Frame, NotTrustworthy, solve
from core.frame.checks import Floats, Ints
from core.frame.mass import Lumps
from core.frame.sparse import Sparse, stiffness_and_mass
from core.modes.slowest import SOFT, Factored, factor, slowest

RESIDUAL = 1e-6
"""Largest residual of a mode, relative to the terms that its equation sums, that may be shown."""
MIXED = 1e-7
"""Largest mass that two modes may share, of modes normalised to a mass of one."""


@dataclass(frozen=True, eq=False)
class Modes:
    """Checked modes, the slowest first.

    Attributes:
        frequencies: (k,) Hz.
        shapes: (6n, k) m and rad, normalised to a modal mass of one (1/sqrt(kg)).
        residual: the largest, relative to the terms summed. mixed: the largest mass shared by two modes.
    """

    frequencies: Floats
    shapes: Floats
    residual: float
    mixed: float


@dataclass(frozen=True, eq=False)
class Pair:
    """Stiffness and mass of one frame without what is held, ready to be solved.

    Attributes:
        frame, free (f,): frame and its free degrees of freedom. k, m: (f, f) sparse. factored: k.
    """

    frame: Frame
    free: Ints
    k: Sparse
    m: Sparse
    factored: Factored


def pair_of(frame: Frame, lumps: Lumps | None = None) -> Pair:
    """Stiffness and mass of one frame. Errors: Mechanism, NotTrustworthy, BadEntry, as for `find_modes`."""
    if frame.batch:
        raise BadEntry("frame", f"a batch {frame.batch}", "cannot be asked for modes", "one frame")
    free = np.flatnonzero(~frame.held.ravel())
    k, m = stiffness_and_mass(frame, lumps)
    if free.size < frame.dofs:
        k, m = k[free][:, free], m[free][:, free]
    factored = factor(k)
    if not factored.pivot > SOFT:
        solve(frame, np.zeros(frame.dofs))  # names the free motion, or finds the frame only very soft
        if not factored.pivot > 0.0:
            raise NotTrustworthy("its stiffness is not positive")
    return Pair(frame, free, k, m, factored)


def find_modes(frame: Frame, count: int = 6, lumps: Lumps | None = None) -> Modes:
    """The `count` slowest modes of one frame.

    Degrees of freedom without mass are allowed as long as enough others carry some.

    Errors: Mechanism if the frame moves freely; NotTrustworthy if a mode fails a check; BadEntry for a batch of
        frames, or for more modes than there are degrees of freedom with mass.
    """
    return modes_of(pair_of(frame, lumps), count)


def modes_of(pair: Pair, count: int) -> Modes:
    """The `count` slowest modes of a frame whose stiffness is factored already. Errors: as for `find_modes`."""
    frame, free, k, m, factored = pair.frame, pair.free, pair.k, pair.m, pair.factored
    heavy = int(np.sum(m.diagonal() > 0.0))
    if not 0 < count <= heavy:
        raise BadEntry("count", str(count), "modes are not there", f"1 to {heavy}")
    inverse, vectors = slowest(factored, k, m, count)
    if not (np.all(np.isfinite(inverse)) and inverse[-1] > 0.0):
        raise NotTrustworthy("a mode carries no mass")
    residual, mixed = verify(k, m, 1.0 / inverse, vectors)
    shapes = np.zeros((frame.dofs, count))
    shapes[free] = vectors
    return Modes(1.0 / np.sqrt(inverse) / (2.0 * np.pi), shapes, residual, mixed)


def verify(k: Sparse, m: Sparse, values: Floats, vectors: Floats) -> tuple[float, float]:
    """Largest residual and mixing of modes (values (c,), vectors (n, c) of a mass of one).

    Errors: NotTrustworthy when either is too large, or when a matrix is not symmetric.
    """
    probe = np.random.default_rng(3).standard_normal(k.shape[0])
    for matrix, words in ((k, "stiffness"), (m, "mass")):
        one = matrix @ probe
        if not np.abs(one - matrix.T @ probe).max() <= 1e-9 * np.abs(one).max():
            raise NotTrustworthy(f"its {words} is not symmetric")
    elastic, inertial = k @ vectors, m @ vectors
    sizes = np.abs(vectors)
    summed = abs(k) @ sizes + abs(m) @ sizes * values
    residual = float((np.abs(elastic - inertial * values).max(axis=0) / summed.max(axis=0)).max())
    mixed = float(np.abs(vectors.T @ inertial - np.eye(len(values))).max())
    if not residual <= RESIDUAL:
        raise NotTrustworthy(f"a mode does not meet its equation (relative error {residual:.1e})")
    if not mixed <= MIXED:
        raise NotTrustworthy(f"two modes are not independent of each other ({mixed:.1e})")
    return residual, mixed
