"""Which feet stand: a foot only presses, so one that would have to pull hangs in the air, and the others take its weight.

The condition is found by trying: feet that pull are let go, feet that would sink into the floor are set down, until every
foot agrees.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]
ROUNDS = 60
TINY = 1.0e-9  # of all weight: a foot that presses less than this hangs


class Topples(Exception):
    """No set of feet can carry the weight: the machine would tip over."""


def settle(
    height: Floats, gap: Floats, give: Floats, stiffness: float, lifts: bool
) -> tuple[Floats, Floats, Floats]:
    """Extra forces on the feet, their forces on the floor, N, and their clearance, m, each (f,), on an uneven floor.

    Args:
        height: (f,) of the feet under all weights with every foot standing on an even floor, m; negative is down.
        gap: (f,) how far the floor lies too low, m. give: (f, f) height of the feet by forces on them, m/N, springs of the
            feet included. stiffness: of a foot, N/m. lifts: whether feet may lift off; if not they are held down.

    Returns:
        The force beside that of the foot's own spring, which keeps the linear answer valid; with it the foot presses on the
        floor by extra - stiffness * height. Clearance is zero for feet that stand, the force for feet that hang.

    Errors: Topples.
    """
    count = height.size
    down: Bools = np.ones(count, dtype=np.bool_)
    if not lifts:
        extra = -stiffness * gap
        return extra, extra - stiffness * (height + give @ extra), np.zeros(count)
    total = stiffness * float(np.abs(height).sum())
    for _ in range(ROUNDS):
        extra, moved = _with(down, height, gap, give, stiffness)
        press = extra - stiffness * moved
        clear = np.where(down, 0.0, moved + gap)
        pulling = down & (press < -TINY * total)
        sinking = ~down & (clear < 0.0)
        if not pulling.any() and not sinking.any():
            return extra, np.where(down, press, 0.0), np.maximum(clear, 0.0)
        # One at a time, the worst first: letting all go at once may leave too few to stand on.
        worst_pull = np.where(pulling, -press / stiffness, 0.0)
        worst_sink = np.where(sinking, -clear, 0.0)
        change = int(np.argmax(np.maximum(worst_pull, worst_sink)))
        down[change] = not down[change]
    raise Topples


def _with(down: Bools, height: Floats, gap: Floats, give: Floats, stiffness: float) -> tuple[Floats, Floats]:
    """Extra forces and heights (f,) when these feet stand and the others hang."""
    extra = np.where(down, -stiffness * gap, 0.0)
    up = np.flatnonzero(~down)
    free = height + give @ extra
    if up.size:
        # A hanging foot's spring is undone by a force that follows its own movement.
        system = np.eye(up.size) - stiffness * give[np.ix_(up, up)]
        if np.linalg.cond(system) > 1.0e9:
            raise Topples
        moved_up = np.linalg.solve(system, free[up])
        extra[up] = stiffness * moved_up
        free = height + give @ extra
    return extra, free
