"""The exact integer program: fewest pieces left over, fewest bars bought, least length bought, least metal used up.

One goal after the other, each held while the next is sought. A goal is a sum over patterns (how one bar is cut). Its
linear relaxation is solved by column generation; the integer program over the patterns found gives a list; every pattern
that could still make it better is then listed by its reduced cost and the program solved once more, which proves the list
or mends it. Where time or the number of patterns does not suffice, the bound is kept and the gap can be told.
Source: P. C. Gilmore, R. E. Gomory, A linear programming approach to the cutting-stock problem, Operations Research 9
(1961) 849-859, for the patterns as columns; the integer programs are solved by HiGHS.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, linprog, milp

from core.cuts.filling import fillings
from core.cuts.problem import LEFT, Goal, Pattern, Problem, Solution
from core.cuts.tables import Tables, make_tables, step_of

Floats = NDArray[np.float64]
Cut = dict[Pattern, int]
GOALS = ("left", "bars", "length", "spent")
MOST_PATTERNS = 4_000
"""Patterns listed for the last step; more would take too long to choose from."""
RELAXED = 0.6
"""Share of the time that the relaxation of a goal may take."""
MOST_ROUNDS = 600
EPS = 1e-7
AT_ONCE = 24
"""Patterns added for each kind of bar in a round of column generation."""
LEAST_TIME = 0.05  # s; less is not worth beginning an integer program with


class Overtaken(Exception):
    """Nobody waits for the list any more."""


@dataclass(frozen=True, slots=True)
class _Relaxed:
    """The linear relaxation of one goal: its value, and the price of a piece, of a bar, of an earlier goal."""

    value: float
    pieces: Floats
    bars: dict[int, float]
    held: dict[str, float]
    complete: bool


@dataclass
class Search:
    """The work on one problem. `advance` goes on to the next goals; `solution` may be read at any time.

    Attributes:
        close: a difference in what is spent that is not worth proving.
    """

    problem: Problem
    stale: Callable[[], bool] = lambda: False
    close: int = 0
    best: Cut = field(init=False)
    reached: dict[str, Goal] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self._pool: dict[Pattern, None] = {}
        lists = list(fillings(self.problem))
        self.best = min(
            lists, key=lambda cut: (*(self._value(goal, cut) for goal in GOALS), *self._taste(cut))
        )
        self._add(self.best)
        kinds = range(len(self.problem.sizes))
        for i in kinds:
            one = tuple(int(i == j) for j in kinds)
            if self._only_on_hand(i):
                self._add([Pattern(LEFT, one)])
            fits = [
                k for k in range(len(self.problem.stocks)) if self.problem.room(k) >= self.problem.sizes[i]
            ]
            self._add(Pattern(k, one) for k in fits)

    def advance(self, goals: Iterable[str], until: float) -> None:
        """Seek these goals, in order, until a moment of `time.monotonic`. Raises Overtaken."""
        for goal in goals:
            self._check()
            self.reached[goal] = self._seek(goal, until) if self.problem.sizes else Goal(0, 0)

    def solution(self) -> Solution:
        """The best list so far."""
        goals = {name: self.reached.get(name) or Goal(self._value(name, self.best), 0) for name in GOALS}
        order = sorted(self.best.items(), key=lambda cut: (cut[0].stock, [-count for count in cut[0].counts]))
        return Solution(tuple(order), **goals)

    def _check(self) -> None:
        if self.stale():
            raise Overtaken

    def _only_on_hand(self, kind: int) -> bool:
        size = self.problem.sizes[kind]
        bars = enumerate(self.problem.stocks)
        return not any(bar.bought and self.problem.room(k) >= size for k, bar in bars)

    def _add(self, patterns: Iterable[Pattern]) -> None:
        self._pool.update(dict.fromkeys(patterns))

    def _cost(self, goal: str, pattern: Pattern) -> int:
        if pattern.stock == LEFT:
            return int(goal == "left")
        if goal == "spent":
            return self.problem.spent(pattern.stock, self.problem.total(pattern.counts))
        return self._bar_cost(goal, pattern.stock)

    def _bar_cost(self, goal: str, stock: int) -> int:
        bar = self.problem.stocks[stock]
        return {"left": 0, "bars": int(bar.bought), "length": bar.length * bar.bought}[goal]

    def _value(self, goal: str, cut: Cut) -> int:
        return sum(self._cost(goal, pattern) * times for pattern, times in cut.items())

    def _taste(self, cut: Cut) -> tuple[int, int]:
        """Of first lists that reach all goals alike the smallest goes first: most cut from bars on hand, then few long rests
        rather than many short ones.
        """
        problem = self.problem
        bars = [(p, n, problem.total(p.counts)) for p, n in cut.items() if p.stock != LEFT]
        there = sum(n * total for p, n, total in bars if not problem.stocks[p.stock].bought)
        return -there, -sum(n * problem.kept(p.stock, total) ** 2 for p, n, total in bars)

    def _seek(self, goal: str, until: float) -> Goal:
        value = self._value(goal, self.best)
        known = self._next_possible(goal, self._plain_bound(goal))
        if value <= known:
            return Goal(value, value)
        now = time.monotonic()
        relaxed = self._relax(goal, now + RELAXED * (until - now))
        bound = known
        if relaxed.complete:
            slack = 1e-5 if goal != "spent" else 0.05
            bound = max(known, self._next_possible(goal, relaxed.value - slack))
        if not self._done(goal, bound):
            self._choose(goal, list(self._pool), until)
        if not relaxed.complete or self._done(goal, bound):
            return self._goal(goal, bound)
        found, every = self._nearly_as_good(goal, relaxed, until)
        # With only some of them the program would take its time and prove nothing.
        if every and self._choose(goal, list({**self._pool, **dict.fromkeys(found)}), until):
            return Goal(self._value(goal, self.best), self._value(goal, self.best))
        return self._goal(goal, bound)

    def _goal(self, goal: str, bound: int) -> Goal:
        value = self._value(goal, self.best)
        return Goal(value, value if self._done(goal, bound) else bound)

    def _done(self, goal: str, bound: int) -> bool:
        return self._value(goal, self.best) <= bound + (self.close if goal == "spent" else 0)

    def _plain_bound(self, goal: str) -> int:
        """What follows from lengths alone: bars have to have room for all sizes together."""
        problem, wanted = self.problem, self.problem.total(self.problem.demand)
        if any(self._only_on_hand(i) for i in range(len(problem.sizes))):
            return 0  # pieces may stay left over
        sold = [k for k in self._fitting() if problem.stocks[k].bought]
        there = sum(max(0, problem.room(k)) * (problem.stocks[k].limit or 0) for k in self._fitting())
        if goal == "spent":
            return 2 * wanted - min(wanted, there) + self._least_loss()
        missing = wanted - there
        if goal == "left" or missing <= 0 or not sold:
            return 0
        rooms = [problem.room(k) for k in sold]
        if goal == "bars":
            return -(-missing // max(rooms))
        lengths = [problem.stocks[k].length for k in sold]
        return min(length * missing // room for length, room in zip(lengths, rooms, strict=True))

    def _least_loss(self) -> int:
        """What bars lose at the least beyond the sizes cut from them: their trims, less the cut that a last piece needs not."""
        problem = self.problem
        loss = [2 * bar.trim - problem.kerf for bar in problem.stocks]
        there = sum(min(0, loss[k]) * (problem.stocks[k].limit or 0) for k in self._limited())
        bought = [loss[k] for k, bar in enumerate(problem.stocks) if bar.bought]
        bars = self.reached.get("bars")
        if bars is None or not bought:
            return there
        return there + 2 * min(bought) * (bars.bound if min(bought) >= 0 else bars.value)

    def _next_possible(self, goal: str, value: float) -> int:
        """The least sum not below `value`: lengths bought differ by whole multiples of a step."""
        lengths = sorted({bar.length for bar in self.problem.stocks if bar.bought})
        if goal != "length" or not lengths or "bars" not in self.reached or not self.reached["bars"].proven:
            return math.ceil(value)
        step = math.gcd(*(length - lengths[0] for length in lengths)) or 1
        base = self.reached["bars"].value * lengths[0]
        return base + step * max(0, math.ceil((value - base) / step))

    def _relax(self, goal: str, until: float) -> _Relaxed:
        """Column generation: patterns are added until none can make the relaxation better."""
        for _ in range(MOST_ROUNDS):
            self._check()
            relaxed = self._linear(goal)
            if time.monotonic() > until:
                return relaxed
            tables = self._tables(goal, relaxed)
            enough = EPS * max(1.0, self._scale(goal))
            fresh = [
                Pattern(stock, counts)
                for stock in self._fitting()
                for counts in tables.best(self._ends(goal, relaxed, stock), enough, AT_ONCE)
            ]
            fresh = [pattern for pattern in fresh if pattern not in self._pool]
            if not fresh:
                return _Relaxed(relaxed.value, relaxed.pieces, relaxed.bars, relaxed.held, True)
            self._add(fresh)
        return relaxed

    def _scale(self, goal: str) -> float:
        return 1.0 if goal in ("left", "bars") else float(max(bar.length for bar in self.problem.stocks))

    def _held(self, goal: str) -> list[str]:
        return list(GOALS[: GOALS.index(goal)])

    def _rows(self, goal: str, pool: list[Pattern]) -> tuple[Floats, Floats, Floats, Floats]:
        """Costs; rows of bars on hand and of earlier goals; the most that each row may sum up to; pieces of each pattern."""
        stocks = np.array([p.stock for p in pool])
        limited = self._limited()
        rows = [(stocks == k).astype(float) for k in limited]
        limits = [float(self.problem.stocks[k].limit or 0) for k in limited]
        for name in self._held(goal):
            scale = self._scale(name)
            rows.append(np.array([self._cost(name, p) / scale for p in pool]))
            limits.append(self._value(name, self.best) / scale)
        costs = np.array([self._cost(goal, p) for p in pool], dtype=float) / self._scale(goal)
        upper = np.array(rows).reshape(len(rows), len(pool))
        return costs, upper, np.array(limits), np.array([p.counts for p in pool], dtype=float).T

    def _limited(self) -> list[int]:
        return [k for k, bar in enumerate(self.problem.stocks) if bar.limit is not None]

    def _least(self, goal: str, limits: Floats) -> Floats:
        """The least that each row may sum up to: an earlier goal that is proven cannot be beaten."""
        least = np.full(limits.shape, -np.inf)
        for n, name in enumerate(self._held(goal), start=len(self._limited())):
            if name in self.reached and self.reached[name].proven:
                least[n] = limits[n]
        return least

    def _linear(self, goal: str) -> _Relaxed:
        pool = list(self._pool)
        costs, rows, limits, pieces = self._rows(goal, pool)
        demand = np.array(self.problem.demand, dtype=float)
        fixed = self._least(goal, limits) == limits
        equal = [rows[fixed], pieces] if goal == "spent" else [rows[fixed], np.zeros((0, len(pool)))]
        upper = [rows[~fixed]] if goal == "spent" else [rows[~fixed], -pieces]
        wanted = np.concatenate((limits[fixed], demand if goal == "spent" else []))
        most = np.concatenate((limits[~fixed], [] if goal == "spent" else -demand))
        result = linprog(costs, np.vstack(upper), most, np.vstack(equal), wanted)
        if result.status != 0:  # the list in hand is always a solution
            raise ArithmeticError(f"The relaxation of the cut list was not solved: {result.message}")
        above, level = result.ineqlin.marginals, result.eqlin.marginals
        prices = np.zeros(limits.shape)
        prices[fixed], prices[~fixed] = level[: fixed.sum()], above[: (~fixed).sum()]
        own = level[fixed.sum() :] if goal == "spent" else -above[(~fixed).sum() :]
        limited = self._limited()
        bars = {k: float(prices[n]) for n, k in enumerate(limited)}
        held = {name: float(prices[len(limited) + n]) for n, name in enumerate(self._held(goal))}
        return _Relaxed(float(result.fun) * self._scale(goal), np.asarray(own), bars, held, False)

    def _fitting(self) -> list[int]:
        """Kinds of bars that take a piece at all."""
        return [k for k in range(len(self.problem.stocks)) if self.problem.room(k) >= self.problem.sizes[-1]]

    def _tables(self, goal: str, relaxed: _Relaxed) -> Tables:
        """Worth of pieces at the prices of the relaxation."""
        room = max(self.problem.room(stock) for stock in self._fitting())
        values = relaxed.pieces * self._scale(goal)
        return make_tables(self.problem.sizes, self.problem.demand, values, room)

    def _ends(self, goal: str, relaxed: _Relaxed, stock: int) -> Floats:
        """What a pattern of each sum costs in a bar, negative, at the prices of the relaxation."""
        step = step_of(self.problem.sizes)
        sums = np.arange(self.problem.room(stock) // step + 1) * step
        bar = self.problem.stocks[stock]
        if goal == "spent":
            rest = bar.length - bar.trim - sums
            kept = np.where(rest >= self.problem.least, np.maximum(0, rest - bar.trim), 0)
            cost = (bar.length - kept) * self.problem.weight(stock)
        else:
            cost = np.full(sums.shape, self._bar_cost(goal, stock))
        paid = relaxed.bars.get(stock, 0.0)
        paid += sum(
            price * self._bar_cost(name, stock) / self._scale(name) for name, price in relaxed.held.items()
        )
        return np.asarray(paid * self._scale(goal) - cost, dtype=float)

    def _nearly_as_good(self, goal: str, relaxed: _Relaxed, until: float) -> tuple[list[Pattern], bool]:
        """Every pattern that a better list than the one in hand may hold, and whether these are all."""
        better = 1 if goal != "spent" else self.close + 1
        gap = self._value(goal, self.best) - better - relaxed.value
        tables = self._tables(goal, relaxed)
        least = -gap - 1e-6 * self._scale(goal)
        found: list[Pattern] = []
        for stock in self._fitting():
            for counts in tables.all(self._ends(goal, relaxed, stock), least):
                found.append(Pattern(stock, counts))
                if len(found) % 500 == 0:
                    self._check()
                    if len(found) >= MOST_PATTERNS or time.monotonic() > until:
                        return found, False
        return found, True

    def _choose(self, goal: str, pool: list[Pattern], until: float) -> bool:
        """The integer program over these patterns; takes its list when it is better. True when it was solved to the end."""
        self._check()
        room = until - time.monotonic()
        if room < LEAST_TIME:
            return False
        costs, upper, limits, pieces = self._rows(goal, pool)
        demand = np.array(self.problem.demand, dtype=float)
        most = demand if goal == "spent" else np.inf
        rules = [LinearConstraint(pieces, demand, most)]
        if upper.size:
            rules.append(LinearConstraint(upper, self._least(goal, limits) - 1e-9, limits + 1e-9))
        result = milp(
            costs,
            integrality=np.ones(len(pool)),
            bounds=Bounds(0.0, np.inf),
            constraints=rules,
            options={"time_limit": room, "mip_rel_gap": 0.0},
        )
        if result.x is not None:
            self._take(goal, pool, result.x)
        return bool(result.status == 0)

    def _take(self, goal: str, pool: list[Pattern], x: Floats) -> None:
        """Make the list of a program's answer, in whole numbers, and keep it if it holds and is no worse."""
        counts = {p: round(float(n)) for p, n in zip(pool, x, strict=True) if round(float(n)) > 0}
        cut = self._without_surplus(counts)
        if cut is None or any(
            self._value(name, cut) > self._value(name, self.best) for name in self._held(goal)
        ):
            return
        if self._value(goal, cut) < self._value(goal, self.best):
            self.best = cut
            self._add(cut)

    def _without_surplus(self, cut: Cut) -> Cut | None:
        """The list with every piece exactly as often as wanted; None when a piece or a bar is wanting."""
        over = [-wanted for wanted in self.problem.demand]
        used = [0] * len(self.problem.stocks)
        for pattern, times in cut.items():
            over = [n + times * count for n, count in zip(over, pattern.counts, strict=True)]
            if pattern.stock != LEFT:
                used[pattern.stock] += times
        there = all(b.limit is None or n <= b.limit for b, n in zip(self.problem.stocks, used, strict=True))
        if min(over, default=0) < 0 or not there:
            return None
        found: Cut = {}
        for pattern, times in cut.items():
            for _ in range(times):
                drop = [min(n, count) for n, count in zip(over, pattern.counts, strict=True)]
                over = [n - d for n, d in zip(over, drop, strict=True)]
                counts = tuple(count - d for count, d in zip(pattern.counts, drop, strict=True))
                if any(counts):
                    smaller = Pattern(pattern.stock, counts)
                    found[smaller] = found.get(smaller, 0) + 1
        return found


def solve(
    problem: Problem, seconds: float = 10.0, stale: Callable[[], bool] = lambda: False, close: int = 0
) -> Solution:
    """The best list of a problem. Raises Overtaken."""
    search = Search(problem, stale, close)
    search.advance(GOALS, time.monotonic() + seconds)
    return search.solution()
