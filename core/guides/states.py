"""Worst load on each carriage under weight, acceleration and cutting force, over places and directions.

A horizontal force that may turn is turned for each carriage alone: |N| + |L| is the largest of four sums, and each sum has
its exact worst direction.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from core.guides.forces import FORCES, SPEEDING, WEIGHT, CarriageForces
from core.guides.life import equivalent
from core.machine.motion import Motion

Floats = npt.NDArray[np.float64]
Kind = Literal["weight", "speeding up", "moving", "cutting", "cutting and speeding up"]
SIGNS = np.array([[1.0, 1.0], [1.0, -1.0], [-1.0, 1.0], [-1.0, -1.0]])
DIRECTIONS = ("+X", "-X", "+Y", "-Y", "+Z", "-Z")


@dataclass(frozen=True, slots=True)
class State:
    """The worst load on each of c carriages in one state of work.

    Attributes:
        name: in words. kind: of state. share: of all travel that is run so (0 for states that only the static safety needs).
        pressing (c,): along the normal, N, positive on the rail. lateral (c,): sideways, N, its sign with the frame's axes.
        load (c,): equivalent load, N. x (c,), y (c,): where the tool then is, m.
    """

    name: str
    kind: Kind
    share: float
    pressing: Floats
    lateral: Floats
    load: Floats
    x: Floats
    y: Floats


def speeding(forces: CarriageForces, motion: Motion) -> tuple[Floats, Floats]:
    """Pressing and lateral (7, p, c), N, under weight alone and with each axis speeding up or stopping, either way."""
    sizes = [max(axis.acceleration, axis.stopping) for axis in (motion.x, motion.y, motion.z)]
    factors = np.zeros((7, 3))
    factors[range(1, 7), np.repeat(np.arange(3), 2)] = np.outer(sizes, [1.0, -1.0]).ravel()
    both = []
    for unit in (forces.pressing, forces.lateral):
        both.append(unit[..., WEIGHT] + np.einsum("pca,ka->kpc", unit[..., SPEEDING], factors))
    return both[0], both[1]


def worst_turn(
    forces: CarriageForces, normal: Floats, lateral: Floats, force: Floats, turns: bool
) -> tuple[Floats, Floats]:
    """Pressing and lateral (k, p, c), N, with a force (3,) on the tip added in each carriage's worst direction.

    Args:
        normal, lateral: (k, p, c) without that force. turns: whether the horizontal part may turn.
    """
    units = (forces.pressing[..., FORCES], forces.lateral[..., FORCES])
    size = float(np.hypot(force[0], force[1]))
    if not turns or size == 0.0:
        return normal + units[0] @ force, lateral + units[1] @ force
    still = (normal + units[0][..., 2] * force[2], lateral + units[1][..., 2] * force[2])
    base = np.einsum("sj,jkpc->skpc", SIGNS, np.stack(still))
    along = np.einsum("sj,jpch->spch", SIGNS, np.stack([u[..., :2] for u in units])) * size
    reach = np.hypot(along[..., 0], along[..., 1])
    best = np.argmax(base + reach[:, None], axis=0)
    angle = np.arctan2(along[..., 1], along[..., 0])[
        best, np.arange(best.shape[1])[:, None], np.arange(best.shape[2])
    ]
    turned = [
        s + size * (u[..., 0] * np.cos(angle) + u[..., 1] * np.sin(angle))
        for s, u in zip(still, units, strict=True)
    ]
    return turned[0], turned[1]


def most_pull(forces: CarriageForces, normal: Floats, force: Floats, turns: bool) -> Floats:
    """(c,) largest pull off the rail, N, zero where every place and direction presses; arguments as `worst_turn`."""
    unit = forces.pressing
    size = float(np.hypot(force[0], force[1]))
    if turns:
        least = normal + unit[..., 2] * force[2] - size * np.hypot(unit[..., 0], unit[..., 1])
    else:
        least = normal + unit[..., FORCES] @ force
    return np.asarray(np.maximum(0.0, -least.min(axis=(0, 1))))


def worst_state(
    forces: CarriageForces, name: str, kind: Kind, share: float, normal: Floats, lateral: Floats
) -> State:
    """The state with each carriage at its worst of k choices and p places, from (k, p, c) forces."""
    k, p, c = normal.shape
    flat = [np.reshape(a, (k * p, c)) for a in (normal, lateral)]
    load = equivalent(flat[0], flat[1])
    row = np.argmax(load, axis=0)
    column = np.arange(c)
    place = row % p
    return State(
        name, kind, share, flat[0][row, column], flat[1][row, column], load[row, column],
        forces.x[place], forces.y[place],
    )  # fmt: skip
