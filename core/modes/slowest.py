"""The slowest modes of a sparse pair of matrices by the shifted and inverted Lanczos method, four vectors at a time.

Works for stiffness that is positive; degrees of freedom without mass are allowed. That no mode was missed (equal ones
hide behind each other) is counted by the pivots of K - value M (Sturm); the rest is verified by the callers.
Source: block Lanczos method with full reorthogonalisation (Grimes, Lewis, Simon, SIAM J. Matrix Anal. 15 (1994) 228-272,
from memory); checked against the dense solve in the tests.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import scipy.linalg
from scipy.sparse.linalg import splu

from core.frame.checks import Floats
from core.frame.sparse import Sparse

SMALL = 150
"""Up to so many degrees of freedom a dense solve of all is as quick (measured)."""
SOFT = 1e-10
"""Smallest pivot of the stiffness, scaled to a diagonal of ones, that counts as resistance without a second look."""

BLOCK, ROUNDS = 4, 8
"""Vectors at a time, and looks before all is solved."""
SETTLED = 1e-10
"""Largest residual of a mode, relative to the mode itself, at which the method stops; its frequency then is exact."""
NEAR = 1e-6
"""Modes nearer to the last one than this share may belong to a group that is cut off; they are not counted."""
SYMMETRIC = {"SymmetricMode": True}


@dataclass(frozen=True, eq=False)
class Factored:
    """A factored stiffness: `solve(columns)` and its smallest pivot after scaling (0 when it has none)."""

    solve: Callable[[Floats], Floats]
    pivot: float


def factor(k: Sparse) -> Factored:
    """Factor a symmetric positive matrix, scaled to a diagonal of ones."""
    diagonal = k.diagonal()
    scale = 1.0 / np.sqrt(np.where(diagonal > 0.0, diagonal, 1.0))
    scaled = k.tocsc(copy=True)
    scaled.data *= scale[scaled.indices] * np.repeat(scale, np.diff(scaled.indptr))
    try:
        lu = splu(scaled, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options=SYMMETRIC)
    except RuntimeError:  # exactly singular
        return Factored(lambda columns: columns, 0.0)

    def solve(columns: Floats) -> Floats:
        ones = scale if columns.ndim == 1 else scale[:, None]
        return np.asarray(ones * lu.solve(ones * columns))

    return Factored(solve, float(lu.U.diagonal().min()))


def slowest(factored: Factored, k: Sparse, m: Sparse, count: int) -> tuple[Floats, Floats]:
    """1/value (count,) in falling order and vectors (n, count) of K v = value M v, with v' M v = 1."""
    size = k.shape[0]
    if size <= max(SMALL, 3 * count):
        return _dense(k, m, count)
    found = _lanczos(factored, m, count)
    if found is None:
        return _dense(k, m, count)
    inverse, vectors = found
    values = 1.0 / inverse
    highest = values[-1] * (1.0 - NEAR)
    if not np.all(values > 0.0) or number_below(k, m, highest) != int(np.sum(values < highest)):
        return _dense(k, m, count)
    return inverse, vectors


def _lanczos(factored: Factored, m: Sparse, count: int) -> tuple[Floats, Floats] | None:
    """The modes once their residuals are SETTLED; None when they do not settle, or no mass is left to iterate with."""
    # So many vectors settle the modes of machines at the first look (measured).
    size, wanted = m.shape[0], -(-(7 * count // 3 + 24) // BLOCK) * BLOCK
    most = min(wanted + ROUNDS * BLOCK, size // BLOCK * BLOCK)
    basis, carried = np.empty((size, most), order="F"), np.empty((size, most), order="F")
    inner = np.zeros((most, most))
    block = np.ascontiguousarray(np.random.default_rng(7).standard_normal((size, BLOCK)))
    for _ in range(2):  # twice, so that nothing of the motions without mass is left
        block = factored.solve(m @ block)
    for done in range(0, most + 1, BLOCK):
        coupling = np.eye(BLOCK)
        for _ in range(2):
            block = block - basis[:, :done] @ (carried[:, :done].T @ block)
            heavy = m @ block
            try:
                lower = np.linalg.cholesky(block.T @ heavy)
            except np.linalg.LinAlgError:
                return None
            turn = np.linalg.inv(lower).T
            block, heavy, coupling = block @ turn, heavy @ turn, lower.T @ coupling
        if done >= min(wanted, most):
            values, vectors = np.linalg.eigh(inner[:done, :done])
            values, vectors = values[: -count - 1 : -1], vectors[:, : -count - 1 : -1]
            left = np.linalg.norm(coupling @ vectors[-BLOCK:], axis=0)
            if np.all(left <= SETTLED * values):
                return values, basis[:, :done] @ vectors
            if done == most:
                return None
        step = slice(done, done + BLOCK)
        basis[:, step], carried[:, step] = block, heavy
        block = factored.solve(np.ascontiguousarray(heavy))
        across = carried[:, : step.stop].T @ block
        inner[: step.stop, step] = across
        inner[step, : step.stop] = across.T
    return None


def _dense(k: Sparse, m: Sparse, count: int) -> tuple[Floats, Floats]:
    size = k.shape[0]
    inverse, vectors = scipy.linalg.eigh(
        m.toarray(), k.toarray(), subset_by_index=[size - count, size - 1], check_finite=False
    )
    inverse, vectors = inverse[::-1], vectors[:, ::-1]
    return np.asarray(inverse), np.asarray(vectors / np.sqrt(np.maximum(inverse, 1e-300)))


def number_below(k: Sparse, m: Sparse, value: float) -> int:
    """How many eigenvalues lie below a value, by the signs of the pivots; -1 when they cannot tell."""
    try:
        lu = splu(
            (k - value * m).tocsc(), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options=SYMMETRIC
        )
    except RuntimeError:
        return -1
    return int(np.sum(lu.U.diagonal() < 0.0)) if np.array_equal(lu.perm_r, lu.perm_c) else -1
