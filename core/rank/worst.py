"""The worst place of every design on the table's grid, without a look at all of it.

All places along Y are looked at, at five along X; from the best of these the search climbs over the grid's neighbours until none
is worse. The worst direction is sought among the same directions as for one machine.
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
MOST_CLIMBS = 64


def deflection_squared(compliance: Floats, force: Floats, any_direction: bool) -> Floats:
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
    angles = np.linspace(0.0, 2.0 * np.pi, DIRECTIONS, endpoint=False)
    if force[2] == 0.0:
        angles = angles[: DIRECTIONS // 2]  # the other half moves the tip as far
    c, s = np.cos(angles), np.sin(angles)
    terms = np.stack([c * c, s * s, c * s, c, s, np.ones_like(c)])
    return np.asarray((coefficients @ terms).max(axis=-1))


def coarse_columns(count: int) -> Ints:
    """Columns of the first look: a few evenly over the travel, both ends among them."""
    return np.unique(np.append(np.arange(0, count, COARSE), count - 1))


def climb(
    look: Look, first: Floats, columns: Ints, shape: tuple[int, int], force: Floats, any_direction: bool
) -> tuple[Ints, Ints]:
    """Row and column (d,) of the worst place of every design.

    Args:
        first: (d, ny, c, 3, 3) compliance at every row and the coarse `columns` (c,). shape: (ny, nx) of the grid.
    """
    found = deflection_squared(first, force, any_direction)
    designs, ny, count = found.shape
    best = found.reshape(designs, -1).argmax(axis=-1)
    row, column = best // count, columns[best % count]
    worst = found.reshape(designs, -1).max(axis=-1)
    for step in (*STEPS, *(1,) * MOST_CLIMBS):
        across = (0,) if step > 1 else (-1, 0, 1)  # along Y every place was looked at
        near = [(a, b) for a in across for b in (-step, 0, step) if (a, b) != (0, 0)]
        rows = np.clip(row[:, None] + [a for a, _ in near], 0, ny - 1)
        at = np.clip(column[:, None] + [b for _, b in near], 0, shape[1] - 1)
        tried = deflection_squared(look(rows, at), force, any_direction)
        pick = tried.argmax(axis=-1)
        top = tried[np.arange(designs), pick]
        better = top > worst * (1.0 + 1e-12)
        row = np.where(better, rows[np.arange(designs), pick], row)
        column = np.where(better, at[np.arange(designs), pick], column)
        worst = np.where(better, top, worst)
        if step == 1 and not np.any(better):
            break
    return row, column
