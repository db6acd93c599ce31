"""The exact search: fewest pieces left over, fewest bars bought, least length bought, least metal spent.

One goal after the other, each held while the next is sought. The relaxation of a goal is solved by column generation; the
integer program over the patterns found gives a list; every pattern that could still make it better is then listed by its
reduced cost and the program solved once more, which proves the list or mends it. Where time or the number of patterns does
not suffice, the bound is kept and the gap can be told.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from core.cuts.filling import fillings
from core.cuts.goals import GOALS, Judge, held
from core.cuts.problem import LEFT, Goal, Pattern, Problem, Solution
from core.cuts.relaxation import Floats, Program, Relaxed, choose, make_program, relax

__all__ = ["GOALS", "Overtaken", "Search", "solve"]

MOST_PATTERNS = 4_000
"""Patterns listed for the last step; more would take too long to choose from."""
RELAXED = 0.6
"""Share of the time that the relaxation of a goal may take."""
MOST_ROUNDS = 600
EPS = 1e-7
AT_ONCE = 24
"""Patterns added for each kind of bar in a round of column generation."""
LEAST_TIME = 0.05  # s; less is not worth beginning an integer program with
TOLERANCE = {"left": 1e-5, "bars": 1e-5, "length": 1e-5, "spent": 0.05}
"""How far the solver's value of a goal may lie above the true one, in the problem's whole numbers."""


class Overtaken(Exception):
    """Nobody waits for the list any more."""


@dataclass
class Search:
    """The work on one problem. `advance` goes on to the next goals; `solution` may be read at any time.

    Attributes:
        close: a difference in what is spent that is not worth proving.
    """

    problem: Problem
    stale: Callable[[], bool] = lambda: False
    close: int = 0
    best: dict[Pattern, int] = field(init=False)
    reached: dict[str, Goal] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self._judge = Judge(self.problem)
        self._pool: dict[Pattern, None] = {}
        self.best = min(fillings(self.problem), key=self._judge.rank)
        self._add(self.best)
        kinds = range(len(self.problem.sizes))
        for i in kinds:
            one = tuple(int(i == j) for j in kinds)
            if self._judge.only_on_hand(i):
                self._add([Pattern(LEFT, one)])
            stocks = range(len(self.problem.stocks))
            self._add(Pattern(k, one) for k in stocks if self.problem.room(k) >= self.problem.sizes[i])

    def advance(self, goals: Iterable[str], until: float) -> None:
        """Seek these goals, in order, until a moment of `time.monotonic`. Raises Overtaken."""
        for goal in goals:
            self._check()
            self.reached[goal] = self._seek(goal, until) if self.problem.sizes else Goal(0, 0)

    def unproven(self) -> tuple[str, ...]:
        """The first goal that is not proven yet, with those behind it, which are held to it."""
        for number, name in enumerate(GOALS):
            if name not in self.reached or not self.reached[name].proven:
                return GOALS[number:]
        return ()

    def solution(self) -> Solution:
        """The best list so far."""
        goals = {name: self.reached.get(name) or Goal(self._value(name), 0) for name in GOALS}
        order = sorted(self.best.items(), key=lambda cut: (cut[0].stock, [-count for count in cut[0].counts]))
        return Solution(tuple(order), **goals)

    def _check(self) -> None:
        if self.stale():
            raise Overtaken

    def _add(self, patterns: Iterable[Pattern]) -> None:
        self._pool.update(dict.fromkeys(patterns))

    def _value(self, goal: str) -> int:
        return self._judge.value(goal, self.best)

    def _done(self, goal: str, bound: int) -> bool:
        return self._value(goal) <= bound + (self.close if goal == "spent" else 0)

    def _goal(self, goal: str, bound: int) -> Goal:
        value = self._value(goal)
        return Goal(value, value if self._done(goal, bound) else bound)

    def _seek(self, goal: str, until: float) -> Goal:
        bound = self._judge.bound(goal, self.reached)
        if self._value(goal) <= bound:
            return self._goal(goal, bound)
        now = time.monotonic()
        relaxed, complete = self._relax(goal, now + RELAXED * (until - now))
        if complete:
            least = relaxed.value - TOLERANCE[goal]
            bound = max(bound, self._judge.next_possible(goal, least, self.reached))
        if not self._done(goal, bound):
            self._choose(goal, list(self._pool), until)
        if not complete or self._done(goal, bound):
            return self._goal(goal, bound)
        found, every = self._nearly_as_good(relaxed, until)
        # With only some of them the program would take its time and prove nothing.
        if every and self._choose(goal, list({**self._pool, **dict.fromkeys(found)}), until):
            bound = self._value(goal)
        return self._goal(goal, bound)

    def _program(self, goal: str, pool: list[Pattern]) -> Program:
        return make_program(self._judge, goal, pool, self.best, self.reached)

    def _relax(self, goal: str, until: float) -> tuple[Relaxed, bool]:
        """Column generation: patterns are added until none can make the relaxation better; whether it came to its end."""
        enough = EPS * max(1.0, self._judge.scale(goal))
        for _ in range(MOST_ROUNDS):
            self._check()
            relaxed = relax(self._judge, goal, self._program(goal, list(self._pool)))
            if time.monotonic() > until:
                break
            tables = relaxed.tables()
            better = (
                Pattern(stock, counts)
                for stock in self._judge.fitting()
                for counts in tables.best(relaxed.ends(stock), enough, AT_ONCE)
            )
            fresh = [pattern for pattern in better if pattern not in self._pool]
            if not fresh:
                return relaxed, True
            self._add(fresh)
        return relaxed, False

    def _nearly_as_good(self, relaxed: Relaxed, until: float) -> tuple[list[Pattern], bool]:
        """Every pattern that a better list than the one in hand may hold, and whether these are all."""
        better = 1 if relaxed.goal != "spent" else self.close + 1
        gap = self._value(relaxed.goal) - better - relaxed.value
        least = -gap - 1e-6 * self._judge.scale(relaxed.goal)
        tables = relaxed.tables()
        found: list[Pattern] = []
        for stock in self._judge.fitting():
            for counts in tables.all(relaxed.ends(stock), least):
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
        x, proven = choose(self._program(goal, pool), room)
        if x is not None:
            self._take(goal, pool, x)
        return proven

    def _take(self, goal: str, pool: list[Pattern], x: Floats) -> None:
        """Make the list of a program's answer, in whole numbers, and keep it if it holds and is better."""
        counts = {p: round(float(n)) for p, n in zip(pool, x, strict=True) if round(float(n)) > 0}
        cut = self._without_surplus(counts)
        judge = self._judge
        if cut is None or any(judge.value(name, cut) > self._value(name) for name in held(goal)):
            return
        if judge.value(goal, cut) < self._value(goal):
            self.best = cut
            self._add(cut)

    def _without_surplus(self, cut: dict[Pattern, int]) -> dict[Pattern, int] | None:
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
        found: dict[Pattern, int] = {}
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
