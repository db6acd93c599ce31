"""First lists that fit, found quickly: bar after bar filled as full as the pieces that are left allow.

The fullest filling of a bar is a sum of sizes nearest below its room; sums are marked as bits of one long whole number, so
that all of them are looked at at once. Source: the minimum bin slack rule, J. N. D. Gupta, J. C. Ho, A new heuristic algorithm
for the one-dimensional bin-packing problem, Production Planning & Control 10 (1999) 598-603 (from memory).
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence

from core.cuts.problem import LEFT, Pattern, Problem
from core.cuts.tables import step_of

Cut = dict[Pattern, int]
VARIANTS = 150
SHUFFLE = 0.12
"""By how much the order in which sizes are preferred is shaken, as a share of their length."""
OTHER = 0.2
"""Share of bars that need not be of the longest kind."""


def fillings(problem: Problem) -> Iterator[Cut]:
    """Lists that fit, each with every piece: longest first, then by fullest bars with the sizes preferred in several orders."""
    kinds = range(len(problem.sizes))
    yield _longest_first(problem)
    chance = random.Random(1)  # the same lists every time
    mixed = sum(bar.bought for bar in problem.stocks) > 1
    for variant in range(VARIANTS):
        shake = SHUFFLE * (variant / VARIANTS)
        order = sorted(kinds, key=lambda i: problem.sizes[i] * (1.0 + shake * chance.uniform(-1.0, 1.0)))
        yield _fullest(problem, order, chance if mixed and variant % 2 else None)


def _collect(problem: Problem, bars: Sequence[tuple[int, list[int]]], left: Sequence[int]) -> Cut:
    kinds = range(len(problem.sizes))
    found: Cut = {}
    lone = [(LEFT, [int(i == j) for j in kinds]) for i in kinds for _ in range(left[i])]
    for stock, counts in (*((_shortest(problem, k, counts), counts) for k, counts in bars), *lone):
        pattern = Pattern(stock, tuple(counts))
        found[pattern] = found.get(pattern, 0) + 1
    return found


def _shortest(problem: Problem, stock: int, counts: Sequence[int]) -> int:
    """The shortest bar that is sold and takes what a bought bar holds."""
    if not problem.stocks[stock].bought:
        return stock
    total = problem.total(tuple(counts))
    bars = [k for k, bar in enumerate(problem.stocks) if bar.bought and problem.room(k) >= total]
    return min(bars, key=lambda k: problem.stocks[k].length)


def _longest_first(problem: Problem) -> Cut:
    """Longest pieces first, each into the fullest bar that still takes it."""
    bars: list[tuple[int, list[int]]] = []
    rooms: list[int] = []
    there = _there(problem)
    left = [0] * len(problem.sizes)
    for i, (size, count) in enumerate(zip(problem.sizes, problem.demand, strict=True)):
        for _ in range(count):
            fitting = [k for k, room in enumerate(rooms) if room >= size]
            if fitting:
                k = min(fitting, key=rooms.__getitem__)
            else:
                stock = _next_bar(problem, size, there)
                if stock is None:
                    left[i] += 1
                    continue
                k = len(bars)
                bars.append((stock, [0] * len(left)))
                rooms.append(problem.room(stock))
            bars[k][1][i] += 1
            rooms[k] -= size
    return _collect(problem, bars, left)


def _fullest(problem: Problem, order: Sequence[int], chance: random.Random | None) -> Cut:
    """The longest piece left begins a bar, which is then filled as full as can be; sizes late in `order` are preferred.

    With `chance`, one bar in so many is of another length that is sold than the longest.
    """
    step = step_of(problem.sizes)
    remaining = list(problem.demand)
    there = _there(problem)
    left = [0] * len(remaining)
    bars: list[tuple[int, list[int]]] = []
    for i, size in enumerate(problem.sizes):
        while remaining[i]:
            remaining[i] -= 1
            other = chance is not None and chance.random() < OTHER
            stock = _next_bar(problem, size, there, chance if other else None)
            if stock is None:
                left[i] += 1
                continue
            counts = _filling(problem, order, remaining, (problem.room(stock) - size) // step, step)
            remaining = [n - c for n, c in zip(remaining, counts, strict=True)]
            counts[i] += 1
            bars.append((stock, counts))
    return _collect(problem, bars, left)


def _filling(
    problem: Problem, order: Sequence[int], remaining: Sequence[int], room: int, step: int
) -> list[int]:
    """Counts of the pieces whose sizes come nearest below `room` steps."""
    mask = (1 << (room + 1)) - 1
    single = [
        (i, problem.sizes[i] // step)
        for i in order
        for _ in range(min(remaining[i], room * step // problem.sizes[i]))
    ]
    sums = [1]
    for _, size in single:
        sums.append(sums[-1] | ((sums[-1] << size) & mask))
    counts = [0] * len(remaining)
    at = sums[-1].bit_length() - 1
    for k in range(len(single) - 1, -1, -1):
        i, size = single[k]
        if at >= size and (sums[k] >> (at - size)) & 1:
            counts[i] += 1
            at -= size
    return counts


def _there(problem: Problem) -> dict[int, int]:
    return {k: bar.limit for k, bar in enumerate(problem.stocks) if bar.limit is not None}


def _next_bar(
    problem: Problem, size: int, there: dict[int, int], chance: random.Random | None = None
) -> int | None:
    """The shortest bar on hand that takes the size, else the longest that is sold, or any with `chance`."""
    fits = [k for k in range(len(problem.stocks)) if problem.room(k) >= size]
    on_hand = [k for k in fits if there.get(k, 0) > 0]
    if on_hand:
        k = min(on_hand, key=problem.room)
        there[k] -= 1
        return k
    sold = [k for k in fits if problem.stocks[k].bought]
    if sold and chance is not None:
        return chance.choice(sold)
    return max(sold, key=problem.room) if sold else None
