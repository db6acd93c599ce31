"""What carriages ask of one screw of their rail: a bound that only the distance between screws and the unit loads decide.

A force on a rail that lies on screws G apart reaches a screw at distance d with the share 1 - d/G at most, as on a row of
simple beams. With a carriage right over the screw that is a bound for every screw of the rail, and it never grows with more
screws.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.guides.forces import CarriageForces
from core.machine.guides import Guides

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class UnitForces:
    """Forces of one rail's n carriages at p tool places under k unit loads.

    Attributes:
        lateral (p, n, k): sideways, N, signed. pull (p, n, k): along the normal, pulling off positive, N, signed.
        places (n,): carriage middles along the rail, relative to each other, m.
    """

    lateral: Floats
    pull: Floats
    places: Floats


def rail_forces(forces: CarriageForces, axis: str, second: bool, guides: Guides) -> UnitForces:
    """The part of all carriages' forces that belongs to the first or second rail of an axis."""
    of_axis = [k for k, c in enumerate(forces.carriages) if c.axis == axis.upper()]
    count = guides.carriages
    own = of_axis[count:] if second else of_axis[:count]
    return UnitForces(forces.lateral[:, own], -forces.pressing[:, own], np.array(guides.places()))


def on_one_screw(loads: Floats, places: Floats, gap: float) -> Floats:
    """(p,) the most that any one screw is asked for by loads (p, n) >= 0, when no two screws are more than `gap` m apart."""
    distance = np.abs(places[:, None] - places[None, :])
    share = np.maximum(0.0, 1.0 - distance / gap) if gap > 0.0 else np.eye(places.size)
    return np.asarray((loads @ share).max(axis=-1))
