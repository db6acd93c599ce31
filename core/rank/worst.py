"""The worst place of every design on the table's grid, without a look at all of it.

All places along Y are looked at, at five along X. From the best of these, and from the best of those far from it, the search goes
on along X and Y, and from the better one over the grid's neighbours until none is worse. The worst direction is sought among the
same directions as for one machine.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from core.stiffness.deflection import DIRECTIONS

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Look = Callable[[Ints, Ints], Floats]
"""Compliance (d, n, 3, 3) at rows and columns (d, n) of the grid."""
COARSE = 8
STEPS = (4, 2, 1)
FEW, CLOSE = 36, 0.98
"""Directions of the first look, which is short of the largest square by 2 % at most; what comes so near is looked at in all."""
FAR = 2
"""Rows nearer than this to the best one belong to the same top."""
MOST_CLIMBS = 64


def deflection_squared(
    compliance: Floats, force: Floats, any_direction: bool, directions: int = DIRECTIONS
) -> Floats:
    """(...) largest square of the deflection, m2, over the directions in which the horizontal force may stand."""
    if not any_direction or not np.any(force[:2]):
        moved = compliance @ force
        return np.asarray(np.einsum("...i,...i->...", moved, moved))
    # Of (cos, sin) alone: a quadratic form whose six coefficients meet all directions in one product.
    size = float(np.hypot(force[0], force[1]))
    square = np.swapaxes(compliance, -1, -2) @ compliance
    one, two, up = size * size, 2.0 * size * force[2], force[2] * force[2]
    coefficients = np.stack(
        [one * square[..., 0, 0], one * square[..., 1, 1], 2.0 * one * square[..., 0, 1],
         two * square[..., 0, 2], two * square[..., 1, 2], up * square[..., 2, 2]],
        axis=-1,
    )  # fmt: skip
    angles = np.linspace(0.0, 2.0 * np.pi, directions, endpoint=False)
    if force[2] == 0.0:
        angles = angles[: directions // 2]  # the other half moves the tip as far
    c, s = np.cos(angles), np.sin(angles)
    terms = np.stack([c * c, s * s, c * s, c, s, np.ones_like(c)])
    return np.asarray((coefficients @ terms).max(axis=-1))


def first_places(shape: tuple[int, int]) -> tuple[Ints, Ints]:
    """Rows and columns of the first look at a grid (ny, nx): all rows, for the supports of the base make tops between them that
    are all but alike; few columns evenly, both ends among them."""
    return np.arange(shape[0]), np.unique(np.append(np.arange(0, shape[1], COARSE), shape[1] - 1))


def _within(numbers: npt.ArrayLike, count: int) -> Ints:
    return np.asarray(np.clip(numbers, 0, count - 1), dtype=np.int64)


def climb(
    look: Look,
    first: Floats,
    lines: Ints,
    columns: Ints,
    shape: tuple[int, int],
    force: Floats,
    any_direction: bool,
) -> tuple[Ints, Ints]:
    """Row and column (d,) of the worst place of every design.

    Args:
        first: (d, r, c, 3, 3) compliance at the rows `lines` (r,) and the `columns` (c,). shape: (ny, nx) of the grid.
    """
    found = deflection_squared(first, force, any_direction, FEW)
    close = found > CLOSE * found.max(axis=(1, 2), keepdims=True)
    found[close] = deflection_squared(first[close], force, any_direction)
    designs, _, count = found.shape
    number = np.arange(designs)

    def best_of(values: Floats) -> tuple[Ints, Ints, Floats]:
        best = values.reshape(designs, -1).argmax(axis=-1)
        row, column = best // count, best % count
        return (
            lines[row], columns[column], deflection_squared(first[number, row, column], force, any_direction)
        )  # fmt: skip

    def better(
        rows: Ints, at: Ints, row: Ints, column: Ints, worst: Floats
    ) -> tuple[Ints, Ints, Floats, bool]:
        """The best of places (d, n), where it beats the best so far (d,)."""
        tried = deflection_squared(look(rows, at), force, any_direction)
        pick = tried.argmax(axis=-1)
        top = tried[number, pick]
        beats = top > worst * (1.0 + 1e-12)
        row, column = np.where(beats, rows[number, pick], row), np.where(beats, at[number, pick], column)
        return row, column, np.where(beats, top, worst), bool(np.any(beats))

    starts = [best_of(found)]
    # The table's ends are often all but alike: the best of rows farther off is followed too, along X.
    apart = np.abs(lines[None, :] - starts[0][0][:, None]) > FAR
    if np.all(np.any(apart, axis=-1)):
        starts.append(best_of(np.where(apart[..., None], found, -1.0)))
    ends: list[tuple[Ints, Ints, Floats]] = []
    for row, column, worst in starts:
        for step in STEPS:
            at = _within(column[:, None] + [-step, step], shape[1])
            row, column, worst, _ = better(np.stack([row, row], axis=-1), at, row, column, worst)
        rows = _within(row[:, None] + [-1, 1], shape[0])
        row, column, worst, _ = better(rows, np.stack([column, column], axis=-1), row, column, worst)
        ends.append((row, column, worst))
    pick = np.argmax([worst for _, _, worst in ends], axis=0)
    row = np.stack([end[0] for end in ends])[pick, number]
    column = np.stack([end[1] for end in ends])[pick, number]
    worst = np.max([worst for _, _, worst in ends], axis=0)
    for _ in range(MOST_CLIMBS):
        near = [(a, b) for a in (-1, 0, 1) for b in (-1, 0, 1) if (a, b) != (0, 0)]
        rows = _within(row[:, None] + [a for a, _ in near], shape[0])
        at = _within(column[:, None] + [b for _, b in near], shape[1])
        row, column, worst, moved = better(rows, at, row, column, worst)
        if not moved:
            break
    return row, column
