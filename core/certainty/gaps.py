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

from core.frame import NotTrustworthy

Floats = npt.NDArray[np.float64]
LEAST = 1e-9
"""Directions of R smaller than this, of 1 at most, are rounding."""
LEFT_OUT = 3e-4
"""Directions that move the sampled answers by less than the square of this, of the answers themselves, are left out by
`narrowed`; tests hold the answers within 1e-6 of those with all directions."""


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
        """Movements (n, l, l) for samples.

        Args:
            softer: (n, p) relative added compliance of each input, likely / value - 1. loads: which l of the c loads.

        Errors: NotTrustworthy when a sample has no answer.
        """
        linear, mixed = self.linear[:, loads, loads], self.mixed[:, :, loads]
        p, r, c = mixed.shape
        m, n = r + c, softer.shape[0]
        form = np.zeros((p, m, m))
        form[:, :r, :r], form[:, :r, r:], form[:, r:, r:] = self.redundant, mixed, linear
        corner = np.triu_indices(m)
        every = (
            form[:, corner[0], corner[1]].T @ softer.T
        )  # the upper triangle, row by row, all samples side by side
        first = [m * i - i * (i - 1) // 2 for i in range(m + 1)]
        rows = [every[first[i] : first[i + 1]] for i in range(m)]
        for i in range(r):
            rows[i][0] += 1.0
        for i in range(c):
            rows[r + i] += self.start[loads, loads][i, i:, None]
        _eliminate(rows, r)
        found = np.empty((n, c, c))
        for i in range(c):
            found[:, i, i:] = found[:, i:, i] = rows[r + i].T
        return found

    def narrowed(self, softer: Floats, loads: slice = slice(None)) -> Gaps:
        """The same with fewer directions, those that the solutions at a few samples (k, p) take, and with some loads only.

        The equations are symmetric, so what is left out costs the square of `LEFT_OUT` only.
        """
        start, linear = self.start[loads, loads], self.linear[:, loads, loads]
        mixed = self.mixed[:, :, loads]
        few = Gaps(start, linear, mixed, self.redundant)
        p, r, c = mixed.shape
        if r <= c or not p:
            return few
        system = np.eye(r) + (softer @ self.redundant.reshape(p, r * r)).reshape(-1, r, r)
        found = np.linalg.solve(system, (softer @ mixed.reshape(p, r * c)).reshape(-1, r, c))
        # Each load by what it moves; one whose own movement is not asked for by the size of its solutions.
        size = np.sqrt(np.abs(np.diag(start)))
        size = np.where(size > 0.0, size, np.linalg.norm(found, axis=(0, 1)))
        scaled = found / np.where(size > 0.0, size, 1.0)
        left, sizes, _ = np.linalg.svd(scaled.transpose(1, 0, 2).reshape(r, -1), full_matrices=False)
        basis = left[:, sizes > LEFT_OUT]
        return replace(few, mixed=basis.T @ mixed, redundant=basis.T @ self.redundant @ basis)


def _eliminate(rows: list[Floats], count: int) -> None:
    """Gauss's elimination of the first `count` unknowns of symmetric systems, side by side and in place.

    Args:
        rows: of the upper triangle, (m - i, n) each. What stays in the last rows is what the unknowns have given to them.
    """
    product = np.empty_like(rows[0]) if rows else np.empty((0, 0))
    for j in range(count):
        row = rows[j]
        if not row[0].min() > 0.0:  # a NaN counts too
            raise NotTrustworthy("a sample of the bands has no answer")
        share = row[1:] / row[0]
        for i in range(j + 1, len(rows)):
            part = product[: len(rows) - i]
            np.multiply(share[i - j - 1], row[i - j :], out=part)
            rows[i] -= part


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
