"""The tip's dynamic compliance over frequency, with each mode's viscous damping at three sides of its band.

Modes are summed; what the reduced machine leaves out acts as a spring, so that at rest it is exactly the static
compliance. Source: modal superposition with a residual term, as in Altintas, Manufacturing Automation, ch. 3.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.fields import Band
from core.modes import Joined

Floats = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]
SIDES = ("low", "likely", "high")


@dataclass(frozen=True, eq=False, slots=True)
class Receptance:
    """Dynamic compliance of the tool tip at the chosen place.

    Attributes:
        frequency: (f,) Hz, closer together near the modes that the tip feels.
        tip: (3, f, 3, 3) complex, m/N, for damping at the low, likely and high end of its band.
    """

    frequency: Floats
    tip: Complex

    def size(self, axis: int, side: int = 1) -> Floats:
        """(f,) size of the direct compliance along an axis, m/N."""
        return np.abs(self.tip[side, :, axis, axis])


def frequency_grid(modes: Floats, felt: npt.NDArray[np.bool_], damping: Band, highest: float) -> Floats:
    """(f,) Hz from well below the first mode: a coarse grid, and a fine one across every felt mode's resonance.

    Args:
        modes: (k,) Hz. felt: (k,) booleans. highest: Hz.
    """
    coarse = np.geomspace(0.2 * modes[0], highest, 160)
    across = np.linspace(-1.0, 1.0, 15) ** 3 * 6.0  # close together in the middle, out to six half widths
    sharp = modes[felt & (modes < highest)][:30, None] * (1.0 + damping.likely * across)
    tighter = modes[felt & (modes < highest)][:30, None] * (
        1.0 + damping.low * np.array([-1.0, -0.5, 0.5, 1.0])
    )
    grid = np.unique(np.concatenate([coarse, sharp.ravel(), tighter.ravel()]))
    return grid[(grid > 0.0) & (grid <= highest)]


def find_receptance(joined: Joined, static: Floats, damping: Band, frequency: Floats) -> Receptance:
    """Dynamic compliance at the first place of `joined`; static (3, 3) m/N is met exactly at rest."""
    squares, tip = joined.squares[0], joined.tip[0]
    both = (tip[:, None, :] * tip[None, :, :]).reshape(9, -1)
    residual = static - (both / squares).sum(axis=-1).reshape(3, 3)
    omega = 2.0 * np.pi * frequency
    own = np.sqrt(squares)
    found = np.empty((3, len(frequency), 3, 3), dtype=np.complex128)
    for number, side in enumerate(SIDES):
        ratio = float(getattr(damping, side))
        answer = 1.0 / (squares - omega[:, None] ** 2 + 2j * ratio * own * omega[:, None])
        found[number] = (answer @ both.T).reshape(-1, 3, 3) + residual
    return Receptance(frequency, found)
