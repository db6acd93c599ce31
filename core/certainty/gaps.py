"""What changed springs do to an answer, exactly and for thousands of samples at once.

A spring that becomes softer gives way by a little more, as if a gap had been put in series with it. Gaps e change the spring
forces to f = f0 - R e, and e = dc f with dc the springs' added compliance; so every movement of the structure is

    Y = Y0 + L^T dc (1 + R dc)^-1 F,

with L and F the springs' forces under the unit load that reads the movement and under the load. R has as many directions as
the structure holds forces more than statics asks for, few, so each sample is one small solve, and none at all where statics
alone fixes the forces.
Source: force method with initial gaps and Maxwell-Betti reciprocity (structural mechanics, any textbook).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
LEAST = 1e-9
"""Directions of R smaller than this, of 1 at most, are rounding."""
LEFT_OUT = 1e-5
"""Directions of the sampled solutions smaller than this, of the largest, are left out by `narrowed`."""


@dataclass(frozen=True, slots=True)
class Gaps:
    """One structure's springs, scaled by the square root of their likely stiffness (all arrays without units but `forces`).

    Attributes:
        start: (c, c) movements at the likely stiffness, one for each pair of loads.
        linear: (p, c, c) change by input p as statics alone would have it.
        mixed: (p, r, c), redundant: (p, r, r): what the forces' redistribution takes away.
    """

    start: Floats
    linear: Floats
    mixed: Floats
    redundant: Floats

    @property
    def slopes(self) -> Floats:
        """(p, c, c): derivative of the movements by each input's relative added compliance, at likely, exactly."""
        return self.linear

    def respond(self, softer: Floats, loads: slice = slice(None)) -> Floats:
        """Movements (n, c, l) for samples.

        Args:
            softer: (n, p) relative added compliance of each input, likely / value - 1. loads: which l of the c loads.
        """
        p, r, c = self.mixed.shape
        n = softer.shape[0]
        found = self.start + (softer @ self.linear.reshape(p, c * c)).reshape(n, c, c)
        found = found[:, :, loads]
        if r:
            mixed, system = self._system(softer)
            found = found - np.swapaxes(mixed, -1, -2) @ np.linalg.solve(system, mixed[:, :, loads])
        return np.asarray(found)

    def narrowed(self, softer: Floats) -> Gaps:
        """The same with fewer directions: those that the solutions at a few samples (k, p) take.

        The equations are symmetric, so what is left out costs the square of `LEFT_OUT` only.
        """
        p, r, c = self.mixed.shape
        if r <= c or not p:
            return self
        mixed, system = self._system(softer)
        found = np.linalg.solve(system, mixed)
        both = np.concatenate([found, mixed]).transpose(1, 0, 2).reshape(r, -1)
        left, sizes, _ = np.linalg.svd(both, full_matrices=False)
        basis = left[:, sizes > LEFT_OUT * sizes[0]]
        return replace(self, mixed=basis.T @ self.mixed, redundant=basis.T @ self.redundant @ basis)

    def _system(self, softer: Floats) -> tuple[Floats, Floats]:
        p, r, c = self.mixed.shape
        n = softer.shape[0]
        mixed = (softer @ self.mixed.reshape(p, r * c)).reshape(n, r, c)
        system = (softer @ self.redundant.reshape(p, r * r)).reshape(n, r, r)
        system[:, np.arange(r), np.arange(r)] += 1.0
        return mixed, system


def make_gaps(start: Floats, forces: Floats, redundancy: Floats, shares: Floats) -> Gaps:
    """Prepare a structure.

    Args:
        start: (c, c) movements under c loads, read by the same c unit loads.
        forces: (s, c) spring forces under the loads over the square root of the springs' stiffness.
        redundancy: (s, s) R, scaled on both sides by the same roots; its eigenvalues lie from 0 to 1.
        shares: (s, p) part of each spring's compliance that goes with input p.
    """
    values, vectors = np.linalg.eigh(0.5 * (redundancy + redundancy.T))
    kept = values > LEAST
    basis = vectors[:, kept] * np.sqrt(values[kept])
    by_input = shares.T[:, :, None]
    linear = forces.T @ (by_input * forces)
    mixed = basis.T @ (by_input * forces)
    return Gaps(start, linear, mixed, basis.T @ (by_input * basis))
