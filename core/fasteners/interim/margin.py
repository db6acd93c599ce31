"""Slip margin of a rail with few screws: friction that is there over friction asked for, and the acceleration it leaves.

Pressing forces are not counted although they help; pulls take preload away. Everything is taken on the screw that gets most.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.fasteners.interim.loads import UnitForces, on_one_screw
from core.guides.forces import FORCES, SPEEDING, WEIGHT

Floats = npt.NDArray[np.float64]
GRAVITY = 9.80665
YOUNG = 210e9  # of rail steel, Pa
RAIL_DENSITY = 7850.0


@dataclass(frozen=True, slots=True)
class Demand:
    """What one screw is asked for at each of p tool places, N: across its axis (slip) and along it (pull)."""

    slip: Floats
    pull: Floats

    def plus(self, other: Demand) -> Demand:
        return Demand(self.slip + other.slip, self.pull + other.pull)

    def times(self, factor: float) -> Demand:
        return Demand(factor * self.slip, factor * self.pull)


@dataclass(frozen=True, slots=True)
class RailSection:
    """Bending of a rail between two screws: second moments sideways and off its seat, m4, from its mass and its sizes."""

    sideways: float
    upwards: float

    @classmethod
    def of(cls, linear_mass: float, width: float, height: float) -> RailSection:
        area = linear_mass / RAIL_DENSITY
        return cls(area * width**2 / 12.0, area * height**2 / 12.0)

    def give(self, demand: Demand, gap: float) -> float:
        """Movement in the middle of a gap under the demand, m, the rail pinned at both screws (an upper bound)."""
        stiff = 48.0 * YOUNG / gap**3
        slip, pull = float(demand.slip.max()), float(demand.pull.max())
        return float(np.hypot(slip / (stiff * self.sideways), pull / (stiff * self.upwards)))


def weight_demand(unit: UnitForces, gap: float, linear_mass: float, along: float, screws: int) -> Demand:
    """Under all weights, the rail's own on the whole gap among them, and the carriages' drag along the rail.

    Args:
        along: drag, N, shared by the screws of a piece. screws: fewest on any piece.
    """
    slip = on_one_screw(np.abs(unit.lateral[..., WEIGHT]), unit.places, gap)
    pull = on_one_screw(np.maximum(0.0, unit.pull[..., WEIGHT]), unit.places, gap)
    own = linear_mass * GRAVITY * gap
    return Demand(slip + own + along / max(screws, 1), pull)


def push_demand(unit: UnitForces, gap: float, push: float) -> Demand:
    """On top of it, under a push at the tool in the worst level direction."""
    sides = [np.hypot(u[..., FORCES][..., 0], u[..., FORCES][..., 1]) for u in (unit.lateral, unit.pull)]
    return Demand(*(push * on_one_screw(side, unit.places, gap) for side in sides))


def speeding_demand(unit: UnitForces, gap: float, linear_mass: float, axis: int) -> Demand:
    """On top of it, for each m/s2 of the axis 0, 1 or 2, either way."""
    column = SPEEDING.start + axis
    slip = on_one_screw(np.abs(unit.lateral[..., column]), unit.places, gap)
    pull = on_one_screw(np.abs(unit.pull[..., column]), unit.places, gap)
    return Demand(slip + linear_mass * gap, pull)


def slip_margin(demand: Demand, friction: float, preload: float) -> float:
    """Friction there over friction asked for at the worst place; 0 where a pull takes all preload."""
    there = np.maximum(0.0, friction * (preload - demand.pull))
    asked = np.maximum(demand.slip, 1e-12)
    return float((there / asked).min())


def most_acceleration(rest: Demand, each: Demand, friction: float, preload: float, margin: float) -> float:
    """Largest acceleration, m/s2, at which the margin is kept at every place; 0 when even standing still does not keep it.

    friction (preload - pull - a pull') = margin (slip + a slip'), solved for a.
    """
    left = friction * (preload - rest.pull) - margin * rest.slip
    slope = margin * each.slip + friction * each.pull
    found = np.where(slope > 0.0, left / np.maximum(slope, 1e-300), np.inf)
    return max(0.0, float(found.min()))
