"""The distribution of an uncertain figure, the drawing of samples, and what is read off them.

A figure given as low, likely and high is taken as triangular in its logarithm, with the likely figure as its peak. That
choice is ours: stiffness and its inverse then have the same distribution, "half as stiff" is as far from likely as "twice
as stiff", and no figure comes out below zero.
Source: triangular distribution from least, most likely and largest value, and its use by Monte Carlo, JCGM 101:2008
(clause numbers from memory: 6.4, 7).
"""

from __future__ import annotations

from zlib import crc32

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
SEED = 20
LOWER, UPPER = 0.05, 0.95
"""The shares of the samples between which a band lies."""


def log_triangular(low: float, likely: float, high: float, chance: Floats) -> Floats:
    """Figures (n,) below which the shares `chance` (n,) of all lie; log-triangular with its peak at likely.

    Source: inverse of the triangular distribution function (any handbook of statistics), on the logarithms.
    """
    a, c, b = np.log([low, likely, high])
    if b <= a:
        return np.full(chance.shape, likely)
    turn = (c - a) / (b - a)
    below = a + np.sqrt(np.maximum(chance, 0.0) * (b - a) * (c - a))
    above = b - np.sqrt(np.maximum(1.0 - chance, 0.0) * (b - a) * (b - c))
    return np.asarray(np.clip(np.exp(np.where(chance < turn, below, above)), low, high))


def triangular(low: float, likely: float, high: float, chance: Floats) -> Floats:
    """The same of a figure from 0 to 1 that is triangular itself, 0 allowed: its power of e is log-triangular."""
    a, c, b = (float(np.exp(v)) for v in (low, likely, high))
    return np.asarray(np.clip(np.log(log_triangular(a, c, b, chance)), low, high))


def strata(path: str, count: int) -> Floats:
    """Chances (count,) between 0 and 1, one in each of `count` equal strata, in a random order that the path alone fixes.

    An input's draws so never change when others come or go. Source: Latin hypercube sampling (McKay, Beckman, Conover 1979).
    """
    rng = np.random.default_rng([SEED, crc32(path.encode())])
    return np.asarray((rng.permutation(count) + rng.random(count)) / count)


def band_of(values: Floats, likely: float | Floats) -> tuple[Floats, Floats]:
    """The 5 and 95 % quantiles of `values` (n, ...) over the samples, widened to take in the likely figure (...).

    A figure whose limits lie on one side of likely only would otherwise leave likely outside.
    """
    low, high = np.quantile(values, (LOWER, UPPER), axis=0)
    return np.minimum(low, likely), np.maximum(high, likely)


def ranks(values: Floats) -> Floats:
    """Ranks (n, k) down each column, from 0; values that are equal keep their order."""
    across = np.ascontiguousarray(values.T)
    order = np.argsort(across, axis=-1)
    in_order = np.take_along_axis(across, order, axis=-1)
    if np.any(in_order[:, 1:] == in_order[:, :-1]):  # the quick way would mix those
        order = np.argsort(across, axis=-1, kind="stable")
    found = np.empty(order.shape)
    np.put_along_axis(found, order, np.arange(order.shape[1], dtype=np.float64)[None], axis=-1)
    return found.T


def rank_correlation(inputs: Floats, output: Floats, ranked: Floats | None = None) -> Floats:
    """Spearman's rank correlation (k,) of each column of `inputs` (n, k) with `output` (n,); 0 where nothing varies.

    Args:
        ranked: `ranks(inputs)`, where they are known.

    Source: Spearman's rho as the linear correlation of ranks (any handbook of statistics).
    """
    if np.ptp(output) <= 1e-12 * np.abs(output).max(initial=1e-300):
        return np.zeros(inputs.shape[1])
    a, b = ranks(inputs) if ranked is None else ranked, ranks(output[:, None])[:, 0]
    a, b = a - a.mean(axis=0), b - b.mean()
    found = (a * b[:, None]).sum(axis=0) / np.sqrt((a**2).sum(axis=0) * (b**2).sum())
    return np.where(np.ptp(inputs, axis=0) > 0.0, found, 0.0)
