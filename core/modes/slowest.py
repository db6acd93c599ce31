"""The slowest modes of a sparse pair of matrices by ARPACK, shifted and inverted.

Works for stiffness that is positive; degrees of freedom without mass are allowed. That no mode was missed (equal ones
hide behind each other) is counted by the pivots of K - value M (Sturm); the rest is verified by the callers.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import scipy.linalg
from scipy.sparse.linalg import ArpackError, LinearOperator, eigsh, splu

from core.frame.checks import Floats
from core.frame.sparse import Sparse

SMALL = 150
"""Up to so many degrees of freedom a dense solve of all is as quick (measured)."""
SOFT = 1e-10
"""Smallest pivot of the stiffness, scaled to a diagonal of ones, that counts as resistance without a second look."""

SETTLED = 1e-12
"""Accuracy of 1/value, relative, that the iteration is asked for."""
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
    try:
        values, vectors = _iterated(factored, k, m, count)
    except ArpackError:  # too little mass to iterate with, or it does not settle
        return _dense(k, m, count)
    highest = values[-1] * (1.0 - NEAR)
    if not np.all(values > 0.0) or number_below(k, m, highest) != int(np.sum(values < highest)):
        return _dense(k, m, count)
    return 1.0 / values, vectors


def _iterated(factored: Factored, k: Sparse, m: Sparse, count: int) -> tuple[Floats, Floats]:
    """The modes in rising order of value. Raises ArpackError."""
    size = k.shape[0]
    start = np.random.default_rng(7).standard_normal(size)
    for _ in range(2):  # twice, so that nothing of the motions without mass is left
        start = factored.solve(m @ start)
    inverted = LinearOperator(k.shape, matvec=factored.solve, dtype=np.float64)
    values, vectors = eigsh(k, count, m, sigma=0.0, OPinv=inverted, v0=start, tol=SETTLED)
    return np.asarray(values), np.asarray(vectors)


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
