"""The whole frame solved once at one tool place, for whatever is asked of that place: budget, shape, check."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.frame import Frame, solve
from core.model.setting import Setting
from core.model.whole import whole_frame

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class SolvedPlace:
    """The frame with the tool tip at x, y (m) under a unit force along each axis.

    Attributes:
        frame, tip: the frame and its tip node's number.
        moved: (6n, 3) displacements by unit forces along X, Y, Z on the tip, m/N and rad/N.
    """

    x: float
    y: float
    frame: Frame
    tip: int
    moved: Floats

    @property
    def compliance(self) -> Floats:
        """(3, 3) of the tip, m/N."""
        return self.moved[6 * self.tip : 6 * self.tip + 3]


def solve_place(setting: Setting, x: float, y: float) -> SolvedPlace:
    """Solve through the verified entry. Raises Mechanism, NotTrustworthy."""
    whole = whole_frame(setting, x, y)
    tip = whole.frame.node(whole.tip)
    loads = np.zeros((whole.frame.dofs, 3))
    loads[6 * tip : 6 * tip + 3] = np.eye(3)
    return SolvedPlace(x, y, whole.frame, tip, solve(whole.frame, loads, columns=True).displacements)
