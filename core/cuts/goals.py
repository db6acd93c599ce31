"""What a cut list is judged by, one goal after the other, and what lengths alone say about how far a goal can be reached."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from core.cuts.problem import LEFT, Goal, Pattern, Problem

Cut = Mapping[Pattern, int]
GOALS = ("left", "bars", "length", "spent")
"""Pieces left over, bars bought, length bought, metal spent: each is sought while those before it are held."""


@dataclass(frozen=True, slots=True)
class Judge:
    """The goals of one problem. Each is a sum over patterns."""

    problem: Problem

    def cost(self, goal: str, pattern: Pattern) -> int:
        """What one bar cut by this pattern adds to a goal."""
        if pattern.stock == LEFT:
            return int(goal == "left")
        if goal == "spent":
            return self.problem.spent(pattern.stock, self.problem.total(pattern.counts))
        return self.bar_cost(goal, pattern.stock)

    def bar_cost(self, goal: str, stock: int) -> int:
        """The same for goals to which it is one what is cut from the bar."""
        bar = self.problem.stocks[stock]
        return {"left": 0, "bars": int(bar.bought), "length": bar.length * bar.bought}[goal]

    def value(self, goal: str, cut: Cut) -> int:
        """How far a list reaches a goal; less is better."""
        return sum(self.cost(goal, pattern) * times for pattern, times in cut.items())

    def rank(self, cut: Cut) -> tuple[int, ...]:
        """By what first lists are compared: the goals, then most cut from bars on hand, then few long rests before many short."""
        problem = self.problem
        bars = [(p, n, problem.total(p.counts)) for p, n in cut.items() if p.stock != LEFT]
        there = sum(n * total for p, n, total in bars if not problem.stocks[p.stock].bought)
        squares = sum(n * problem.kept(p.stock, total) ** 2 for p, n, total in bars)
        return (*(self.value(goal, cut) for goal in GOALS), -there, -squares)

    def scale(self, goal: str) -> float:
        """By what a goal is divided in the solver, so that its figures are about one."""
        return 1.0 if goal in ("left", "bars") else float(max(bar.length for bar in self.problem.stocks))

    def fitting(self) -> list[int]:
        """Kinds of bars that take a piece at all."""
        least = self.problem.sizes[-1]
        return [k for k in range(len(self.problem.stocks)) if self.problem.room(k) >= least]

    def limited(self) -> list[int]:
        """Kinds of bars of which there are only so many."""
        return [k for k, bar in enumerate(self.problem.stocks) if not bar.bought]

    def only_on_hand(self, kind: int) -> bool:
        """Whether no bar that is sold takes this kind of piece."""
        size, bars = self.problem.sizes[kind], enumerate(self.problem.stocks)
        return not any(bar.bought and self.problem.room(k) >= size for k, bar in bars)

    def bound(self, goal: str, reached: Mapping[str, Goal]) -> int:
        """What no list can beat, from lengths alone: bars have to have room for all sizes together."""
        problem, wanted = self.problem, self.problem.total(self.problem.demand)
        if any(self.only_on_hand(i) for i in range(len(problem.sizes))):
            return 0  # pieces may stay left over
        there = sum(problem.room(k) * (problem.stocks[k].limit or 0) for k in self.fitting())
        if goal == "spent":
            stocks = problem.stocks
            cheap = sum(
                problem.room(k) * (stocks[k].limit or 0) for k in self.fitting() if problem.weight(k) == 1
            )
            return 2 * wanted - min(wanted, cheap) + self._least_loss(reached.get("bars"))
        sold = [k for k in self.fitting() if problem.stocks[k].bought]
        missing = wanted - there
        if goal == "left" or missing <= 0 or not sold:
            return 0
        if goal == "bars":
            return -(-missing // max(problem.room(k) for k in sold))
        least = min(problem.stocks[k].length * missing // problem.room(k) for k in sold)
        return self.next_possible(goal, least, reached)

    def _least_loss(self, bars: Goal | None) -> int:
        """What bars lose at the least beyond the sizes cut from them: their trims, less the cut that a last piece needs not."""
        problem = self.problem
        loss = [2 * bar.trim - problem.kerf for bar in problem.stocks]
        there = sum(
            problem.weight(k) * min(0, loss[k]) * (problem.stocks[k].limit or 0) for k in self.limited()
        )
        bought = [loss[k] for k, bar in enumerate(problem.stocks) if bar.bought]
        if bars is None or not bought:
            return there
        return there + 2 * min(bought) * (bars.bound if min(bought) >= 0 else bars.value)

    def next_possible(self, goal: str, value: float, reached: Mapping[str, Goal]) -> int:
        """The least sum not below `value` that a list can have: lengths bought differ by whole multiples of a step."""
        lengths = sorted({bar.length for bar in self.problem.stocks if bar.bought})
        bars = reached.get("bars")
        if goal != "length" or not lengths or bars is None or not bars.proven:
            return math.ceil(value)
        step = math.gcd(*(length - lengths[0] for length in lengths)) or 1
        base = bars.value * lengths[0]
        return base + step * max(0, math.ceil((value - base) / step))


def held(goal: str) -> tuple[str, ...]:
    """The goals before this one."""
    return GOALS[: GOALS.index(goal)]
