"""The frontier: candidates that no other beats in both of two figures, less of each being better."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]


def frontier(cost: Floats, deflection: Floats, among: Flags | None = None) -> Flags:
    """(n,) which candidates are on the frontier.

    One is off it when another is no worse in both figures and better in one. Equal twins are on it together.

    Args:
        cost: (n,) mass, price, height or whatever is to be small; NaN leaves a candidate out. deflection: (n,).
        among: (n,) which candidates take part; all by default.
    """
    cost, deflection = np.asarray(cost, dtype=np.float64), np.asarray(deflection, dtype=np.float64)
    part = np.isfinite(cost) & np.isfinite(deflection)
    if among is not None:
        part &= among
    rows = np.flatnonzero(part)
    out = np.zeros(cost.size, dtype=np.bool_)
    if not rows.size:
        return out
    order = rows[np.lexsort((deflection[rows], cost[rows]))]
    costs, given = cost[order], deflection[order]
    first = np.searchsorted(costs, costs, side="left")  # of those that cost the same
    best = np.minimum.accumulate(given)
    before = np.where(first > 0, best[np.maximum(first - 1, 0)], np.inf)  # of those that cost less
    out[order] = (given < before) & (given == given[first])
    return out


def in_steps(cost: Floats, deflection: Floats, marked: Flags, step: float) -> Flags:
    """(n,) those marked, from the least cost on, that deflect less by at least this part than the one kept before.

    Equal twins of one that is kept stay with it.

    Args:
        cost, deflection: (n,). marked: (n,) a frontier. step: 0 to 1.
    """
    rows = np.flatnonzero(marked)
    out = np.zeros(marked.size, dtype=np.bool_)
    last = (-np.inf, np.inf)
    for row in rows[np.lexsort((deflection[rows], cost[rows]))].tolist():
        here = float(cost[row]), float(deflection[row])
        if here == last or here[1] <= last[1] * (1.0 - step):
            out[row], last = True, here
    return out
