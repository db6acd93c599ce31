"""One part of a structure reduced to its slowest modes and, exactly at a reference frequency, all the rest.

A part may float freely: everything is worked out for K + shift M, which is never singular as long as the part has
mass. What the kept modes leave out acts as a soft spring in series with each joint (residual flexibility).
Source: MacNeal, Computers & Structures 1 (1971) 581-601; Rubin, AIAA Journal 13 (1975) 995-1006 (from memory);
checked against the full solve in the tests.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.frame import Frame, NotTrustworthy, solve
from core.frame.checks import Floats
from core.frame.mass import Lumps, rigid_motions
from core.frame.sparse import Sparse, stiffness_and_mass
from core.modes.slowest import Factored, factor, slowest
from core.modes.solve import verify

SHIFT = (2.0 * np.pi * 30.0) ** 2
"""Shift of the spectrum, 1/s2: about where machines of this size begin to swing; any positive one serves."""


@dataclass(frozen=True, eq=False)
class Part:
    """A reduced part with n degrees of freedom and k kept modes.

    Attributes:
        frame, mass (n, n) sparse: as built.
        modes: (n, k) shapes normalised to a modal mass of one.
        squares: (k,) their angular frequencies squared plus SHIFT, 1/s2.
        factored: K + SHIFT M.
        pull: (k, 3) mass of each mode that follows shifts of the ground along X, Y, Z. weight: kg of the whole part.
    """

    frame: Frame
    mass: Sparse
    modes: Floats
    squares: Floats
    factored: Factored
    pull: Floats
    weight: float

    def residual(self, rows: Floats) -> Floats:
        """Movement (n, s) by unit forces along `rows` (s, n) that the kept modes do not tell, m/N."""
        columns = np.ascontiguousarray(rows.T)
        told = self.modes @ ((self.modes.T @ columns) / self.squares[:, None])
        return np.asarray(self.factored.solve(columns) - told)


def make_part(frame: Frame, count: int, lumps: Lumps | None = None) -> Part:
    """Reduce a frame without held degrees of freedom to its `count` slowest modes, rigid ones included.

    Errors: Mechanism or NotTrustworthy when some of it has neither mass nor stiffness, or a mode fails its check.
    """
    stiff, m = stiffness_and_mass(frame, lumps)
    k = (stiff + SHIFT * m).tocsc()
    factored = factor(k)
    if not factored.pivot > 0.0:
        solve(frame, np.zeros(frame.dofs))
        raise NotTrustworthy("a part has neither mass nor stiffness somewhere")
    heavy = int(np.sum(m.diagonal() > 0.0))
    inverse, shapes = slowest(factored, k, m, min(count, heavy, frame.dofs))
    kept = inverse > 1e-9 * inverse[0]
    inverse, shapes = inverse[kept], shapes[:, kept]
    verify(k, m, 1.0 / inverse, shapes)
    rigid = rigid_motions(frame)[:, :3]
    carried = m @ rigid
    weight = float(rigid[:, 0] @ carried[:, 0])
    return Part(frame, m, shapes, 1.0 / inverse, factored, shapes.T @ carried, weight)
