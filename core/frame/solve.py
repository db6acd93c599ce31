"""The one way to solve a frame: every answer passes the same checks before anybody sees it.

Checked are finiteness, the residual of the equations, the balance of loads and reactions, and that nothing
moves freely.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from core.errors import BadEntry, GantrywrightError
from core.frame.assemble import spring_dofs, spring_gradients, stiffness
from core.frame.batch import as_columns, rigid_arm
from core.frame.checks import Floats, Ints
from core.frame.frame import Frame
from core.frame.mechanism import Mechanism, describe

__all__ = ["Mechanism", "NotTrustworthy", "Solution", "flexibility", "solve"]

FREE = 1e-12
"""Smallest eigenvalue of the stiffness, scaled to a diagonal of ones, that still counts as resistance.

A true mechanism leaves about 1e-16 by rounding. Below 1e-12 fewer than four digits of the softest motion
would be right. A frame with parts that differ 1e7 in stiffness stays far above it.
"""
SUSPECT = 1e-10
"""Estimated smallest eigenvalue below which the exact one is computed."""
RESIDUAL = 1e-8
"""Largest residual, relative to what was summed, of a solution that may be shown."""
BALANCE = 1e-6
"""Largest unbalanced share of loads and reactions; by rounding only a near mechanism reaches it."""


class NotTrustworthy(GantrywrightError):
    """A solution that failed a check.

    Args:
        problem: what failed, with its figure, a clause.
        index: which design of the batch, () for a single one.
    """

    def __init__(self, problem: str, index: tuple[int, ...] = ()) -> None:
        self.problem = problem
        self.index = index
        where = f" (design {', '.join(map(str, index))} of the batch)" if index else ""
        super().__init__(f"The frame's solution cannot be trusted{where}: {problem}.")


@dataclass(frozen=True, eq=False)
class Solution:
    """A checked solution.

    Args:
        displacements: (..., 6n[, r]) m and rad.
        reactions: (..., 6n[, r]) N and N m from the ground on held degrees of freedom, zero elsewhere.
        residual: (...) largest residual of the equations, relative to the terms they sum.
        equilibrium: (...) largest unbalanced force or moment, relative to all loads and reactions.
    """

    displacements: Floats
    reactions: Floats
    residual: Floats
    equilibrium: Floats


@np.errstate(over="ignore", invalid="ignore")  # what overflows is refused below, without a warning
def solve(frame: Frame, loads: ArrayLike, columns: bool | None = None) -> Solution:
    """Displacements and reactions under loads on the nodes.

    Args:
        loads: (..., 6n) or (..., 6n, r), N and N m, global axes; batch axes broadcast with the frame's.
        columns: whether the last axis counts load cases; needed only where the shape leaves it open.

    Errors: Mechanism if the frame moves freely; NotTrustworthy if the solution fails a check; BadEntry for
        loads that do not fit or are not finite.
    """
    if not frame.node_names:
        raise BadEntry("frame", "a frame without nodes", "cannot be solved", "at least one node")
    f, many = as_columns(loads, frame.dofs, bool(frame.batch), columns)
    if not np.all(np.isfinite(f)):
        raise BadEntry("loads", "a load", "is not finite", "finite numbers")
    try:
        batch = np.broadcast_shapes(frame.batch, f.shape[:-2])
    except ValueError:
        raise BadEntry(
            "loads", f"batch axes {f.shape[:-2]}", "do not fit the frame", f"{frame.batch}"
        ) from None
    k = stiffness(frame)
    free = np.flatnonzero(~frame.held.ravel())
    moved, residual = _solve_free(frame, k[..., free[:, None], free], f[..., free, :], free)
    u = np.zeros((*batch, frame.dofs, f.shape[-1]))
    u[..., free, :] = moved
    reactions = np.zeros_like(u)
    held = np.flatnonzero(frame.held.ravel())
    reactions[..., held, :] = _times(k[..., held, :], u) - f[..., held, :]
    equilibrium = _equilibrium(frame, f, u, reactions)
    residual = np.broadcast_to(residual, batch).copy()
    _refuse("the equations are not met", residual, RESIDUAL)
    _refuse("loads and reactions do not balance", equilibrium, BALANCE)
    if many:
        return Solution(u, reactions, residual, equilibrium)
    return Solution(u[..., 0], reactions[..., 0], residual, equilibrium)


def flexibility(frame: Frame, dofs: Ints) -> Floats:
    """Movements (..., k, k) of the chosen degrees of freedom (k,) from unit loads on each; m/N, 1/N, rad/(N
    m).

    Errors: as solve; BadEntry for numbers that do not exist.
    """
    chosen = np.asarray(dofs)
    if chosen.ndim != 1 or chosen.dtype.kind not in "iu" or np.any((chosen < 0) | (chosen >= frame.dofs)):
        raise BadEntry(
            "dofs", str(chosen.tolist())[:60], "cannot be used", f"whole numbers from 0 to {frame.dofs - 1}"
        )
    unit = np.zeros((frame.dofs, chosen.size))
    unit[chosen, np.arange(chosen.size)] = 1.0
    found = solve(frame, unit, columns=True).displacements[..., chosen, :]
    return 0.5 * (found + np.swapaxes(found, -1, -2))


def _times(matrix: Floats, columns: Floats) -> Floats:
    """Product; batch axes become columns when the matrix has none, which is far quicker."""
    if matrix.ndim > 2 or columns.ndim == 2:
        return np.asarray(matrix @ columns)
    return _unflat(matrix @ _flat(columns), columns.shape)


def _flat(columns: Floats) -> Floats:
    return np.moveaxis(columns, -2, 0).reshape(columns.shape[-2], -1)


def _unflat(flat: Floats, shape: tuple[int, ...]) -> Floats:
    return np.moveaxis(flat.reshape(flat.shape[0], *shape[:-2], shape[-1]), 0, -2)


def _solve_free(frame: Frame, k: Floats, f: Floats, free: Ints) -> tuple[Floats, Floats]:
    """Movements (..., free, r) and the residual (...), after the search for free motions."""
    if free.size == 0:
        return np.zeros(np.broadcast_shapes(k.shape[:-2], f.shape[:-2]) + f.shape[-2:]), np.zeros(())
    diagonal = np.einsum("...ii->...i", k)
    scale = 1.0 / np.sqrt(np.where(diagonal > 0.0, diagonal, 1.0))
    a = k * scale[..., :, None] * scale[..., None, :]
    b = f * scale[..., :, None]
    probes = np.random.default_rng(20).standard_normal((free.size, 2))
    shape = b.shape
    if a.ndim == 2:
        b = _flat(b)
    try:
        y = np.linalg.solve(a, _with_probes(a, b, probes))
    except np.linalg.LinAlgError:
        _refuse_mechanism(frame, a, scale, free)
        raise NotTrustworthy("its equations have no single answer") from None
    response = np.linalg.norm(y[..., -2:], axis=-2).max(axis=-1)
    if not np.all(response < 1.0 / SUSPECT):  # a NaN counts as suspect
        _refuse_mechanism(frame, a, scale, free)
    y = y[..., :-2]
    _refuse("a movement is not finite", np.where(np.isfinite(y).all(axis=(-2, -1)), 0.0, np.inf), 1.0)
    size = np.abs(a).sum(axis=-1).max(axis=-1)
    summed: Floats = size[..., None] * np.abs(y).max(axis=-2) + np.abs(b).max(axis=-2)
    wrong = np.abs(a @ y - b).max(axis=-2)
    share = np.divide(wrong, summed, out=np.zeros_like(wrong), where=summed != 0.0)
    residual: Floats = share.max(axis=-1, initial=0.0)
    if a.ndim == 2:
        y = _unflat(np.asarray(y, dtype=np.float64), shape)
    return y * scale[..., :, None], residual


def _with_probes(a: Floats, b: Floats, probes: Floats) -> Floats:
    batch = np.broadcast_shapes(a.shape[:-2], b.shape[:-2])
    both = (np.broadcast_to(x, (*batch, *x.shape[-2:])) for x in (b, probes))
    return np.concatenate(list(both), axis=-1)


def _refuse_mechanism(frame: Frame, a: Floats, scale: Floats, free: Ints) -> None:
    """Raise Mechanism for the first design whose scaled stiffness has an eigenvalue below FREE."""
    if not np.all(np.isfinite(a)):
        raise NotTrustworthy("its stiffness is not finite")
    smallest = np.linalg.eigvalsh(a)[..., 0]
    bad = np.argwhere(smallest < FREE)
    if not len(bad):
        return
    index = tuple(int(x) for x in bad[0])
    values, vectors = np.linalg.eigh(a[index])
    motions = np.zeros((frame.dofs, int(np.sum(values < FREE))))
    motions[free] = vectors[:, values < FREE] * scale[index][:, None]
    places = np.broadcast_to(frame.nodes, (*a.shape[:-2], *frame.nodes.shape[-2:]))[index]
    raise Mechanism(describe(places, frame.node_names, motions), index)


def _refuse(problem: str, figure: Floats, limit: float) -> None:
    bad = np.argwhere(~(figure <= limit))
    if len(bad):
        index = tuple(int(x) for x in bad[0])
        raise NotTrustworthy(
            f"{problem} (relative error {float(figure[index]):.1e}, limit {limit:.0e})", index
        )


def _equilibrium(frame: Frame, f: Floats, u: Floats, reactions: Floats) -> Floats:
    """Largest unbalanced force or moment about the middle of the nodes, relative to the sum of all."""
    arms = frame.nodes - frame.nodes.mean(axis=-2, keepdims=True)
    size = np.linalg.norm(arms, axis=-1).max(axis=-1)
    size = np.where(size > 0.0, size, 1.0)[..., None]
    # One product sums up forces and moments of all nodes, and one their sizes; columns may be hundreds.
    each = rigid_arm(arms)
    sums = np.moveaxis(each, -1, -3).reshape(*each.shape[:-3], 6, frame.dofs)
    weights = np.concatenate([np.ones((*size.shape[:-1], 3)), np.repeat(1.0 / size, 3, axis=-1)], axis=-1)
    weights = np.tile(weights, arms.shape[-2])
    resultant = sums @ (f + reactions)
    scale = (weights[..., None, :] @ (np.abs(f) + np.abs(reactions)))[..., 0, :]
    grounded = frame.springs.j < 0
    if np.any(grounded):
        rows = spring_gradients(frame)[..., grounded, :6]
        dofs = spring_dofs(frame)[grounded, :6]
        pull = (rows[..., None, :] @ u[..., dofs, :])[..., 0, :]
        pull *= frame.springs.stiffness[..., grounded, None]
        resultant = resultant - np.einsum("...asd,...sd->...as", sums[..., dofs], rows) @ pull
        amounts = np.einsum("...sd,...sd->...s", weights[..., dofs], np.abs(rows))
        scale = scale + (amounts[..., None, :] @ np.abs(pull))[..., 0, :]
    wrong = np.maximum(
        np.abs(resultant[..., :3, :]).max(axis=-2), np.abs(resultant[..., 3:, :]).max(axis=-2) / size
    )
    share = np.divide(wrong, scale, out=np.zeros_like(wrong), where=scale != 0.0)  # NaN must pass
    return np.asarray(share.max(axis=-1, initial=0.0))
