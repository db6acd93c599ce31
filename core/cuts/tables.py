"""The knapsack behind a pattern: which pieces out of one bar are worth most, by exact dynamic programming.

One set of tables serves bars of every length, and lists every pattern that is nearly as good as the best without looking at
any other.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Counts = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Tables:
    """`worth[i][c]` is the most that the first i kinds of pieces are worth when their sizes sum up to c; minus infinity when
    none do. Sizes and c are counted in `step`.
    """

    step: int
    sizes: Counts
    most: Counts
    values: tuple[float, ...]
    worth: tuple[Floats, ...]

    def gains(self, ends: Floats) -> Floats:
        """Worth of the best pattern of each sum, for a bar with this worth of its ends (one for each sum that it takes)."""
        return self.worth[-1][: ends.shape[0]] + ends

    def best(self, ends: Floats, least: float, count: int) -> list[Counts]:
        """Up to so many patterns worth more than `least`, of different sums, the best among them; not the empty one."""
        gains = self.gains(ends)
        gains[0] = -np.inf
        good = np.flatnonzero(gains > least)
        if good.size > count:
            good = good[np.argpartition(-gains[good], count - 1)[:count]]
        return [self._walk(int(c)) for c in good]

    def _walk(self, at: int) -> Counts:
        """Counts of the best pattern of a sum."""
        counts: list[int] = []
        for i in range(len(self.sizes) - 1, -1, -1):
            size, value, before = self.sizes[i], self.values[i], self.worth[i]
            tries = [
                n * value + float(before[at - n * size]) for n in range(min(self.most[i], at // size) + 1)
            ]
            n = max(range(len(tries)), key=tries.__getitem__)
            counts.append(n)
            at -= n * size
        return tuple(counts[::-1])

    def all(self, ends: Floats, least: float) -> Iterator[Counts]:
        """Every pattern worth at least so much, but for the empty one. It goes straight to each of them."""
        gains = self.gains(ends)
        gains[0] = -np.inf
        for c in np.flatnonzero(gains >= least):
            stack: list[tuple[int, int, float, Counts]] = [(len(self.sizes) - 1, int(c), float(ends[c]), ())]
            while stack:
                i, at, sofar, counts = stack.pop()
                if i < 0:
                    yield counts
                    continue
                size, value, before = self.sizes[i], self.values[i], self.worth[i]
                for n in range(min(self.most[i], at // size) + 1):
                    worth = sofar + n * value
                    if worth + before[at - n * size] >= least:
                        stack.append((i - 1, at - n * size, worth, (n, *counts)))


def step_of(sizes: Counts) -> int:
    """The coarsest step that all sizes are multiples of."""
    return math.gcd(*sizes) if sizes else 1


def make_tables(sizes: Counts, demand: Counts, values: Floats, room: int) -> Tables:
    """Tables for bars that take sums up to `room`.

    Args:
        sizes: of the pieces. demand: the most of each. values: worth of one piece.
    """
    step = step_of(sizes)
    small, wide = tuple(size // step for size in sizes), room // step
    most = tuple(min(count, wide // size) for count, size in zip(demand, small, strict=True))
    first = np.full(wide + 1, -np.inf)
    first[0] = 0.0
    worth = [first]
    for size, count, value in zip(small, most, values, strict=True):
        before = worth[-1]
        best = before.copy()
        for n in range(1, count + 1):
            np.maximum(best[n * size :], before[: wide + 1 - n * size] + n * value, out=best[n * size :])
        worth.append(best)
    return Tables(step, small, most, tuple(float(v) for v in values), tuple(worth))
