"""One cutting problem in whole numbers: sizes of pieces, how many of each, bars to cut them from.

Everything is in one small unit of length (a tenth of a millimetre or so). Pieces are rounded up to it and bars down, so
that a list that fits in these numbers fits in steel.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.errors import BadEntry

LEFT = -1
"""In place of a bar: a piece that is left over because no bar is there for it."""


@dataclass(frozen=True, slots=True)
class Stock:
    """Bars of one kind.

    Attributes:
        length: of a bar. trim: taken off each end. limit: how many there are; None for as many as are bought.
        paid: whether those that there are were bought whole for this list: as dear to use up as what is still to be bought.
    """

    length: int
    trim: int = 0
    limit: int | None = None
    paid: bool = False

    @property
    def bought(self) -> bool:
        return self.limit is None


@dataclass(frozen=True, slots=True)
class Problem:
    """What to cut from what.

    Attributes:
        sizes: length of each kind of piece with one saw cut, falling. demand: how many of each, at least one.
        stocks: kinds of bars. kerf: of a square cut. least: rests from this length on are kept.
    """

    sizes: tuple[int, ...]
    demand: tuple[int, ...]
    stocks: tuple[Stock, ...]
    kerf: int = 0
    least: int = 0

    def __post_init__(self) -> None:
        if len(self.sizes) != len(self.demand) or min(self.demand, default=1) < 1:
            raise BadEntry("demand", str(self.demand), "does not fit the sizes", "one or more of each size")
        if min(self.sizes, default=1) < 1 or list(self.sizes) != sorted(set(self.sizes), reverse=True):
            raise BadEntry("sizes", str(self.sizes), "cannot be cut", "different sizes above zero, falling")

    def room(self, stock: int) -> int:
        """Sum of sizes that a bar takes: the last piece needs no cut behind it. Negative when the trims eat the bar."""
        bar = self.stocks[stock]
        return bar.length - 2 * bar.trim + self.kerf

    def used_up(self, stock: int, total: int) -> int:
        """Length of a bar that is gone when sizes of this sum are cut from it: all of it but a rest that is kept, which
        counts without its untrimmed end.
        """
        return self.stocks[stock].length - max(0, self.kept(stock, total) - self.stocks[stock].trim)

    def weight(self, stock: int) -> int:
        """How dear a length of a bar is: metal that lies there already counts half of what is bought."""
        bar = self.stocks[stock]
        return 2 if bar.bought or bar.paid else 1

    def spent(self, stock: int, total: int) -> int:
        """Length used up of a bar, times its weight."""
        return self.weight(stock) * self.used_up(stock, total)

    def kept(self, stock: int, total: int) -> int:
        """Length of the rest behind the last cut, its untrimmed end included; zero when it is too short to keep."""
        bar = self.stocks[stock]
        rest = bar.length - bar.trim - total
        return rest if rest >= self.least else 0

    def total(self, counts: tuple[int, ...]) -> int:
        """Sum of sizes of a pattern."""
        return sum(count * size for count, size in zip(counts, self.sizes, strict=True))


@dataclass(frozen=True, slots=True)
class Pattern:
    """How one bar is cut: the kind of bar (or `LEFT`) and how many pieces of each size."""

    stock: int
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Goal:
    """How far one goal was reached. `bound` is what no solution can beat; `value` what the solution has."""

    value: int
    bound: int

    @property
    def proven(self) -> bool:
        return self.value <= self.bound


@dataclass(frozen=True, slots=True)
class Solution:
    """Patterns with how often each is cut, and how far each goal was reached.

    Attributes:
        bars: bars bought. length: their length together. spent: length of all bars that is gone, rests kept not counted,
            times the bars' weights.
        left: pieces for which there is no bar.
    """

    cuts: tuple[tuple[Pattern, int], ...]
    left: Goal
    bars: Goal
    length: Goal
    spent: Goal
