"""Compliance budget: the share of every component in the tip's deflection, exactly, from strain energy.

For a linear system under one load, twice the strain energy of a part over the load's size squared is its part of the
compliance along the load; the parts add up to the whole.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.frame import member_energy, shares, spring_energy
from core.machine.project import COMPONENTS
from core.model.place import SolvedPlace


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


def find_budget(place: SolvedPlace, case: str, force: npt.NDArray[np.float64]) -> Budget:
    """Budget of a named load case under `force` (3,) N at a solved place."""
    frame, moved = place.frame, place.moved @ force
    found = shares(frame, member_energy(frame, moved), spring_energy(frame, moved))
    by_key = dict.fromkeys(COMPONENTS, 0.0)
    for component, fraction in zip(found.components, np.asarray(found.fraction), strict=True):
        by_key[component] += float(fraction)
    ordered = tuple(sorted(by_key.items(), key=lambda item: -item[1]))
    size = float(np.linalg.norm(force))
    along = float(force @ place.compliance @ force) / size if size else 0.0
    return Budget(case, place.x, place.y, along, ordered)
