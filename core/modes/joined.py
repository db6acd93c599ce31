"""Reduced parts joined by springs at any number of places at once, and the modes of the whole.

The springs are exact; of each part the kept modes carry mass, the rest is soft at once and heavy to first order.
All places are one batch of small dense matrices.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.frame import NotTrustworthy
from core.frame.checks import Floats
from core.modes.part import SHIFT, Part

RESIDUAL = 1e-6
MIXED = 1e-8


@dataclass(frozen=True, eq=False)
class Joints:
    """Springs between parts at p places, s at each.

    Attributes:
        rows: for each part (p, s, n) or (s, n): stretch of each spring by the part's movements.
        stiffness: (p, s) N/m.
        inner: (p, s, s) flexibility of what lies between springs and nodes (members held at their ends), m/N.
        tip: (t, n) of the last part: the movements that are asked for.
    """

    rows: tuple[Floats, ...]
    stiffness: Floats
    inner: Floats
    tip: Floats


@dataclass(frozen=True, eq=False)
class Joined:
    """Modes of the whole at p places, all k of the reduced problem, slowest first.

    Attributes:
        squares: (p, k) angular frequencies squared, 1/s2.
        coordinates: (q, c, k) of the parts' kept modes, at the first q places. forces: (q, s, k) of the springs on the parts.
        tip: (q, t, k) movements asked for, modes normalised to a mass of one.
        static: (p, t, t) flexibility of the tip as the reduced problem has it, m/N.
        spread: for each part (p, n, s) or (n, s): movement by unit spring forces beyond the kept modes.
    """

    squares: Floats
    coordinates: Floats
    forces: Floats
    tip: Floats
    static: Floats
    spread: tuple[Floats, ...]

    @property
    def frequencies(self) -> Floats:
        """(p, k) Hz."""
        return np.asarray(np.sqrt(np.maximum(self.squares, 0.0)) / (2.0 * np.pi))

    def shapes(self, parts: tuple[Part, ...], place: int, count: int) -> list[Floats]:
        """Movements (n, count) of every part in the slowest modes at one place, of a modal mass of one."""
        found, first = [], 0
        for part, spread in zip(parts, self.spread, strict=True):
            own = self.coordinates[place, first : first + len(part.squares), :count]
            beyond = spread[place] if spread.ndim == 3 else spread
            found.append(part.modes @ own + beyond @ self.forces[place, :, :count])
            first += len(part.squares)
        return found


def join(parts: tuple[Part, ...], joints: Joints, shaped: int | None = None) -> Joined:
    """Join parts and find the modes of the whole at every place.

    Args:
        shaped: at how many of the first places shapes are wanted too; None for all.

    Errors: NotTrustworthy when the reduced modes fail their checks; a whole that moves freely shows as a frequency
        of zero, which statics refuse before.
    """
    spread, soft, heavy, reach = [], joints.inner.copy(), np.zeros_like(joints.inner), []
    for part, rows in zip(parts, joints.rows, strict=True):
        # Only the springs that hold the part are worked out for it.
        holds = np.flatnonzero(rows.any(axis=-1) if rows.ndim == 2 else rows.any(axis=(0, 2)))
        own = rows[..., holds, :]
        beyond = part.residual(own.reshape(-1, own.shape[-1]))  # (n, p s)
        carried = part.mass @ beyond
        beyond, carried = (np.moveaxis(u.reshape(len(u), *own.shape[:-1]), 0, -2) for u in (beyond, carried))
        soft[:, holds[:, None], holds] += own @ beyond
        heavy[:, holds[:, None], holds] += np.swapaxes(beyond, -1, -2) @ carried
        every = np.zeros((*rows.shape[:-2], rows.shape[-1], rows.shape[-2]))
        every[..., holds] = beyond
        spread.append(every)
        reach.append(rows @ part.modes)
    places = joints.stiffness.shape[0]
    b = np.concatenate([np.broadcast_to(r, (places, *r.shape[-2:])) for r in reach], axis=-1)
    size = b.shape[-1]
    soft = 0.5 * (soft + np.swapaxes(soft, -1, -2))
    s = joints.stiffness.shape[-1]
    soft[:, np.arange(s), np.arange(s)] += 1.0 / joints.stiffness
    grip = np.linalg.inv(soft)
    grip = np.asarray(0.5 * (grip + np.swapaxes(grip, -1, -2)))
    held = grip @ b
    k = np.swapaxes(b, -1, -2) @ held
    k[:, np.arange(size), np.arange(size)] += np.concatenate([part.squares for part in parts])
    m = np.swapaxes(held, -1, -2) @ heavy @ held
    m[:, np.arange(size), np.arange(size)] += 1.0
    squares, q = _eigen(k, m, places if shaped is None else shaped)
    tip, own = _tip(parts[-1], joints, spread[-1], np.asarray(held), np.asarray(grip), places)
    try:
        static = tip @ np.linalg.solve(k - SHIFT * m, np.swapaxes(tip, -1, -2))
    except np.linalg.LinAlgError:
        raise NotTrustworthy("the joined parts move freely") from None
    some = slice(len(q))
    return Joined(squares - SHIFT, q, -held[some] @ q, tip[some] @ q, static + own, tuple(spread))


def _eigen(k: Floats, m: Floats, shaped: int) -> tuple[Floats, Floats]:
    """Values (p, n), rising, and at the first `shaped` places vectors (q, n, n) of K v = value M v with v' M v = 1, checked."""
    half = np.linalg.inv(np.linalg.cholesky(m))
    inner = half @ k @ np.swapaxes(half, -1, -2)
    inner = 0.5 * (inner + np.swapaxes(inner, -1, -2))
    some = slice(shaped)
    first, vectors = np.linalg.eigh(inner[some])
    vectors = np.swapaxes(half[some], -1, -2) @ vectors
    values = np.concatenate([first, np.linalg.eigvalsh(inner[shaped:])])
    left = np.abs(k[some] @ vectors - (m[some] @ vectors) * first[:, None, :]).max(axis=-2)
    size = np.abs(k[some]).sum(axis=-1).max(axis=-1)[:, None] * np.abs(vectors).max(axis=-2)
    mixed = np.abs(np.swapaxes(vectors, -1, -2) @ m[some] @ vectors - np.eye(k.shape[-1])).max(initial=0.0)
    # Values without vectors: their sum, and that of their squares, are those of the matrix.
    sums = np.abs(values.sum(axis=-1) / np.einsum("pnn->p", inner) - 1.0)
    squares = np.abs((values**2).sum(axis=-1) / (inner**2).sum(axis=(-2, -1)) - 1.0)
    if not (np.all(left <= RESIDUAL * size) and mixed <= MIXED and max(sums.max(), squares.max()) <= MIXED):
        raise NotTrustworthy("the modes of the joined parts do not meet their equation")
    return values, vectors


def _tip(
    part: Part, joints: Joints, spread: Floats, held: Floats, grip: Floats, places: int
) -> tuple[Floats, Floats]:
    """(p, t, c) tip's movement by the coordinates, and (p, t, t) by its own load beyond the modes."""
    rows = joints.rows[-1]
    beyond = part.residual(joints.tip)  # (n, t)
    told = np.zeros((places, len(joints.tip), held.shape[-1]))
    told[:, :, -len(part.squares) :] = joints.tip @ part.modes
    cross = np.swapaxes(rows @ beyond, -1, -2)  # (t, s): movement of the springs' ends by a load on the tip
    own = joints.tip @ beyond - cross @ grip @ np.swapaxes(cross, -1, -2)
    return told - cross @ held, np.broadcast_to(own, (places, *own.shape[-2:]))
