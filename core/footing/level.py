"""What is left of a line of heights when the best straight line is taken out, as levelling does."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


def line_left(place: Floats, height: Floats) -> Floats:
    """Heights (n,) less their least-squares line over the places (n,), m."""
    slope, offset = np.polyfit(place, height, 1)
    return np.asarray(height - (slope * place + offset))
