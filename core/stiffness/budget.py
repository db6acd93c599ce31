"""Compliance budget: the share of every component in the tip's deflection, exactly, from strain energy.

For a linear system under one load, twice the strain energy of a part over the load's size squared is its part of the
compliance along the load; the parts add up to the whole.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.frame import member_energy, shares, solve, spring_energy
from core.machine.project import COMPONENTS
from core.model.setting import Setting
from core.model.whole import whole_frame


@dataclass(frozen=True, slots=True)
class Budget:
    """Shares of one load case at one place.

    Attributes:
        case: load case name. x, y: tool place, m. deflection: of the tip along the load, m.
        shares: (component key, share) in falling order; they sum to one. Words: `core.machine.project.COMPONENTS`.
    """

    case: str
    x: float
    y: float
    deflection: float
    shares: tuple[tuple[str, float], ...]


def find_budget(setting: Setting, case: str, force: npt.NDArray[np.float64], x: float, y: float) -> Budget:
    """Budget under `force` (3,) N with the tool at x, y. Raises Mechanism."""
    whole = whole_frame(setting, x, y)
    frame = whole.frame
    node = frame.node(whole.tip)
    load = np.zeros(frame.dofs)
    load[6 * node : 6 * node + 3] = force
    moved = solve(frame, load).displacements
    found = shares(frame, member_energy(frame, moved), spring_energy(frame, moved))
    by_key = dict.fromkeys(COMPONENTS, 0.0)
    for component, fraction in zip(found.components, np.asarray(found.fraction), strict=True):
        by_key[component] += float(fraction)
    ordered = tuple(sorted(by_key.items(), key=lambda item: -item[1]))
    size = float(np.linalg.norm(force))
    along = float(load @ moved) / size if size else 0.0
    return Budget(case, x, y, along, ordered)
