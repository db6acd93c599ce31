"""The linear relaxation of one goal over a pool of patterns, and what patterns outside the pool are worth at its prices.

Source: P. C. Gilmore, R. E. Gomory, A linear programming approach to the cutting-stock problem, Operations Research 9
(1961) 849-859. Linear and integer programs are solved by HiGHS.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.cuts.goals import Cut, Judge, held
from core.cuts.problem import Goal, Pattern
from core.cuts.tables import Tables, make_tables, step_of

Floats = NDArray[np.float64]
SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Program:
    """The program of one goal over a pool; figures are divided by the goals' scales.

    Attributes:
        costs: of each pattern. pieces: how many of each size (rows) a pattern holds (columns). demand: of each size.
        rows: bars on hand and earlier goals; `least` and `most` are what each may sum up to. An earlier goal that is proven
            cannot be beaten, so both are the same there.
        exact: whether a surplus of pieces is forbidden; goals to which rests do not matter allow it.
    """

    costs: Floats
    pieces: Floats
    demand: Floats
    rows: Floats
    least: Floats
    most: Floats
    exact: bool


def make_program(
    judge: Judge, goal: str, pool: Sequence[Pattern], best: Cut, reached: Mapping[str, Goal]
) -> Program:
    """The program of a goal; earlier goals are held where the best list has them."""
    limited, stocks = judge.limited(), np.array([p.stock for p in pool])
    rows = [(stocks == k).astype(float) for k in limited]
    most = [float(judge.problem.stocks[k].limit or 0) for k in limited]
    least = [-np.inf] * len(limited)
    for name in held(goal):
        scale = judge.scale(name)
        rows.append(np.array([judge.cost(name, p) / scale for p in pool]))
        most.append(judge.value(name, best) / scale)
        least.append(most[-1] if name in reached and reached[name].proven else -np.inf)
    return Program(
        costs=np.array([judge.cost(goal, p) for p in pool], dtype=float) / judge.scale(goal),
        pieces=np.array([p.counts for p in pool], dtype=float).T,
        demand=np.array(judge.problem.demand, dtype=float),
        rows=np.array(rows).reshape(len(rows), len(pool)),
        least=np.array(least),
        most=np.array(most),
        exact=goal == "spent",
    )


@dataclass(frozen=True, slots=True)
class Relaxed:
    """A solved relaxation: its value, and the price of a piece of each size and of each row of the program, by goal or bar."""

    judge: Judge
    goal: str
    value: float
    pieces: Floats
    bars: dict[int, float]
    held: dict[str, float]

    def tables(self) -> Tables:
        """Worth of pieces at these prices."""
        problem = self.judge.problem
        room = max(problem.room(stock) for stock in self.judge.fitting())
        return make_tables(problem.sizes, problem.demand, self.pieces * self.judge.scale(self.goal), room)

    def ends(self, stock: int) -> Floats:
        """What a pattern of each sum of sizes costs in a bar at these prices, as a negative worth."""
        problem, judge = self.judge.problem, self.judge
        step = step_of(problem.sizes)
        sums = np.arange(problem.room(stock) // step + 1) * step
        bar = problem.stocks[stock]
        if self.goal == "spent":
            rest = bar.length - bar.trim - sums
            kept = np.where(rest >= problem.least, np.maximum(0, rest - bar.trim), 0)
            cost = (bar.length - kept) * problem.weight(stock)
        else:
            cost = np.full(sums.shape, judge.bar_cost(self.goal, stock))
        paid = self.bars.get(stock, 0.0)
        paid += sum(
            price * judge.bar_cost(name, stock) / judge.scale(name) for name, price in self.held.items()
        )
        return np.asarray(paid * judge.scale(self.goal) - cost, dtype=float)


def load_solver() -> None:
    """Load the solver ahead of the first program, so that no group's time goes by with it."""
    from scipy.optimize import linprog, milp  # noqa: F401


def relax(judge: Judge, goal: str, program: Program) -> Relaxed:
    """Solve the relaxation. Raises ArithmeticError when the solver fails, for the list in hand is always a solution."""
    from scipy.optimize import linprog  # takes a third of a second, and most answers want no cut list

    fixed = program.least == program.most
    free = ~fixed
    none = np.zeros((0, program.costs.size))
    equal = np.vstack((program.rows[fixed], program.pieces if program.exact else none))
    upper = np.vstack((program.rows[free], none if program.exact else -program.pieces))
    wanted = np.concatenate((program.most[fixed], program.demand if program.exact else []))
    most = np.concatenate((program.most[free], [] if program.exact else -program.demand))
    result = linprog(program.costs, upper, most, equal, wanted)
    if result.status != 0:
        raise ArithmeticError(f"The relaxation of the cut list was not solved: {result.message}")
    above, level = result.ineqlin.marginals, result.eqlin.marginals
    prices = np.zeros(fixed.shape)
    prices[fixed], prices[free] = level[: fixed.sum()], above[: free.sum()]
    own = level[fixed.sum() :] if program.exact else -above[free.sum() :]
    limited = judge.limited()
    return Relaxed(
        judge,
        goal,
        float(result.fun) * judge.scale(goal),
        np.asarray(own),
        {k: float(prices[n]) for n, k in enumerate(limited)},
        {name: float(prices[len(limited) + n]) for n, name in enumerate(held(goal))},
    )


def choose(program: Program, seconds: float) -> tuple[Floats | None, bool]:
    """Solve the integer program: how often each pattern is cut, None without a solution, and whether it is proven the best."""
    from scipy.optimize import Bounds, LinearConstraint, milp  # as above

    rules = [LinearConstraint(program.pieces, program.demand, program.demand if program.exact else np.inf)]
    if program.rows.size:
        rules.append(LinearConstraint(program.rows, program.least - SLACK, program.most + SLACK))
    result = milp(
        program.costs,
        integrality=np.ones(program.costs.size),
        bounds=Bounds(0.0, np.inf),
        constraints=rules,
        options={"time_limit": seconds, "mip_rel_gap": 0.0},
    )
    return result.x, bool(result.status == 0)
