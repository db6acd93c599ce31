"""Saddle and head on the beams of many designs at many places, by the force method.

Loads on the saddle are given to the springs below it in one way that balances them; what is left to find is the state of
self-stress, a few numbers a place. It gives the tip's compliance and its height under weight, as exactly as `core.model.moving`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.frame import Frame, NotTrustworthy, Station, station_uniform
from core.frame.assemble import weight_per_length
from core.frame.batch import cross
from core.frame.station import station_blocks, station_pairs
from core.model.contact import x_contacts
from core.model.moving import Head
from core.model.setting import Setting, point

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
TIP = 3
"""States in order: by unit loads on the tip (TIP of them) or along Z and by the head's weight, then those of self-stress."""
LEAST = 1e-9


@dataclass(frozen=True, slots=True)
class Springs:
    """The s springs between beam and saddle, and how loads share them; axes (d, 1, ...).

    Attributes:
        at: (nx, s) where they take hold of the beam. stiffness: (nx, s) N/m.
        lower: (d or 1, 1 or nx, s, 6) stretch by the beam's movement at `at`.
        tip (d, 1, s, 3), weight (d, 1, s, 1): forces that balance unit loads on the tip along X, Y, Z, and the head's
        weight. stress: (d, 1, s, r) states of self-stress.
    """

    at: Floats
    stiffness: Floats
    lower: Floats
    tip: Floats
    weight: Floats
    stress: Floats

    def for_compliance(self) -> Floats:
        """(d, 1, s, 3 + r) the states that the tip's compliance asks for."""
        return np.concatenate([self.tip, self.stress], axis=-1)

    def for_height(self) -> Floats:
        """(d, 1, s, 2 + r) the states that the tip's height under weight asks for."""
        return np.concatenate([self.tip[..., 2:], self.weight, self.stress], axis=-1)


@dataclass(frozen=True, slots=True)
class Rides:
    """The beam seen from these states at nx places; axes (d, nx, ...).

    Attributes:
        own: (d, nx, m, m) movement along each state by each, ends of the beam held, springs included. reach: (d, nx, 12, m)
        of the states by movements of the ends. sunk: (d, nx, m) by the beam's weight between held ends.
    """

    own: Floats
    reach: Floats
    sunk: Floats

    def take(self, rows: Ints) -> Rides:
        """The same at some of the places, (n,) of all designs."""
        return Rides(self.own[:, rows], self.reach[:, rows], self.sunk[:, rows])


def spring_stiffness(plain: Setting, x: Floats) -> Floats:
    """(nx, s) N/m of the springs with the tool at every x; the same for all designs."""
    drive, joint = plain.machine.x_drive, plain.layout.joint_x
    row = x_contacts(plain, 0.0, 0.0)
    found = np.tile([c.stiffness for c in row], (x.size, 1))
    for number, c in enumerate(row):
        if c.component == "x_drive":
            found[:, number] = [
                plain.shifting("x_drive", drive.stiffness_at(float(v) + joint, 2.0 * joint)) for v in x
            ]
    return found


def find_springs(setting: Setting, joint: float, head: Head, x: Floats, stiffness: Floats) -> Springs:
    """Springs with the tool at every x (nx,). Raises NotTrustworthy when they do not hold the saddle.

    Args:
        joint: half the length between the beam's joints, m. stiffness: `spring_stiffness` at the same places.
    """
    lay = setting.layout
    row = x_contacts(setting, 0.0, 0.0)
    places = np.stack(np.broadcast_arrays(*(np.asarray(point(*c.point)) for c in row)), axis=-2)
    ways = np.array([c.direction for c in row], dtype=np.float64)
    hold, px = np.array([c.at for c in row]), np.array([c.point[0] for c in row])
    at = np.clip(hold + (hold == px) * x[:, None], -joint, joint)
    offset = px + x[:, None] - at
    if np.all(offset[:, ways[:, 0] == 0.0] == offset[:1, ways[:, 0] == 0.0]):
        offset = offset[:1]  # pulls along X turn nothing by their place along X, all others keep theirs
    arms = np.stack(
        np.broadcast_arrays(
            offset, places[..., 1] - np.asarray(lay.beam_y)[..., None], places[..., 2] - np.asarray(lay.beam_z)[..., None]
        ),
        axis=-1,
    )  # fmt: skip
    lower = _stretch(arms, ways)
    middle = np.asarray(point(0.0, lay.saddle_y, lay.saddle_z))
    if middle.ndim == 1:
        middle = middle[None]
    saddle = _stretch(places - middle[..., None, :], ways)
    return Springs(at, stiffness, lower, *_states(saddle, head))


def _stretch(arms: Floats, ways: Floats) -> Floats:
    turn = cross(arms, np.broadcast_to(ways, arms.shape))
    return np.concatenate([np.broadcast_to(ways, turn.shape), turn], axis=-1)


def _states(saddle: Floats, head: Head) -> tuple[Floats, Floats, Floats]:
    """Forces on the springs (..., s, k) that balance loads on the tip, the head's weight, and nothing."""
    left, size, right = np.linalg.svd(saddle, full_matrices=True)
    if not np.all(size[..., -1] > LEAST * size[..., 0]) or saddle.shape[-2] < 6:
        raise NotTrustworthy("carriages and drive do not hold the saddle")
    balance = (left[..., :6] / size[..., None, :]) @ right  # (..., s, 6): forces by unit loads on the saddle
    tip = balance @ np.swapaxes(head.arm[..., :3, :], -1, -2)
    weight = balance @ head.weight[..., None]
    stress = left[..., 6:]
    batch = np.broadcast_shapes(tip.shape[:-2], stress.shape[:-2], weight.shape[:-2])
    parts = (np.broadcast_to(p, (*batch, *p.shape[-2:])) for p in (tip, weight, stress))
    one, two, three = parts
    return one, two, three


def find_rides(
    beam: Frame, member: int, joint: float, springs: Springs, states: Floats, places: slice
) -> Rides:
    """The beams at some of the springs' places, seen from some of their states (d, 1, s, m)."""
    at, stiffness = springs.at[places], springs.stiffness[places]
    lower = springs.lower if springs.lower.shape[-3] == 1 else springs.lower[..., places, :, :]
    # Springs at one place along the beam share a station; a station that stays at an end of the beam has no softness of its own.
    _, heads, shared = np.unique(at, axis=1, return_index=True, return_inverse=True)
    shared = np.ravel(shared)
    xi = (at[:, heads] + joint) / (2.0 * joint)
    count = len(heads)
    stations = Station(np.full(count, member), xi)
    blocks = station_blocks(beam, stations)
    pulls = [
        np.swapaxes(lower[..., shared == u, :], -1, -2) @ states[..., shared == u, :] for u in range(count)
    ]
    pulled = np.concatenate(np.broadcast_arrays(*pulls), axis=-2)  # (d, 1 or nx, 6u, m)
    rows = np.swapaxes(pulled, -1, -2)
    reach = np.swapaxes(blocks.reshape(*blocks.shape[:-3], 6 * count, 12), -1, -2) @ pulled
    held = station_uniform(beam, stations, weight_per_length(beam))
    sunk = (rows @ held[..., None])[..., 0]
    own = np.swapaxes(states, -1, -2) @ (states / stiffness[:, :, None])
    inside = [u for u in range(count) if np.any((xi[:, u] > 0.0) & (xi[:, u] < 1.0))]
    pairs = [(a, b) for a in inside for b in inside if a <= b]
    if pairs:
        one, two = (np.array(side) for side in zip(*pairs, strict=True))
        soft = station_pairs(beam, np.full(len(pairs), member), xi[:, one], xi[:, two])
        for k, (a, b) in enumerate(pairs):
            here, there = slice(6 * a, 6 * a + 6), slice(6 * b, 6 * b + 6)
            part = rows[..., here] @ (soft[..., k, :, :] @ pulled[..., there, :])
            own = own + (part if a == b else part + np.swapaxes(part, -1, -2))
    return Rides(own, reach, sunk)


def other_springs(springs: Springs, stiffness: Floats, rows: Ints) -> Floats:
    """What `own` changes by at some places (d, n) when the springs have this stiffness (nx, s) instead."""
    change = (1.0 / stiffness - 1.0 / springs.stiffness)[rows]  # (d, n, s)
    states = springs.for_compliance()
    return np.asarray(np.swapaxes(states, -1, -2) @ (states * change[..., None]))


def compliance(own: Floats, reach: Floats, flexibility: Floats, head: Head) -> Floats:
    """(..., 3, 3) compliance of the tip, m/N, from `own` (..., m, m), `reach` (..., 12, m) and the ends' (..., 12, 12)."""
    soft = own + np.swapaxes(reach, -1, -2) @ flexibility @ reach
    found = soft[..., :TIP, :TIP] + _grown(np.asarray(head.tip)[..., :3, :3], soft.ndim)
    if soft.shape[-1] > TIP:
        part = soft[..., TIP:, :TIP]
        found = found - np.swapaxes(part, -1, -2) @ np.linalg.solve(soft[..., TIP:, TIP:], part)
    return np.asarray(0.5 * (found + np.swapaxes(found, -1, -2)))


def tip_height(rides: Rides, flexibility: Floats, weight: Floats, head: Head) -> Floats:
    """(d, nx) height of the tool tip under all weights, m; ends' flexibility (d, 1, 12, 12) and movement (d, 1, 12)."""
    reach = rides.reach
    soft = rides.own + np.swapaxes(reach, -1, -2) @ flexibility @ reach
    moved = (np.swapaxes(reach, -1, -2) @ weight[..., None])[..., 0] + rides.sunk
    height = soft[..., 0, 1] + moved[..., 0] + np.asarray(head.sag)[..., 2]
    if soft.shape[-1] > 2:
        gap = soft[..., 2:, 1] + moved[..., 2:]
        held = np.linalg.solve(soft[..., 2:, 2:], gap[..., None])[..., 0]
        height = height - np.einsum("...r,...r->...", soft[..., 2:, 0], held)
    return np.asarray(height)


def _grown(matrix: Floats, dims: int) -> Floats:
    """(3, 3) or (d, 1, 3, 3) made to fit beside (d, ..., 3, 3)."""
    if matrix.ndim == 2 or matrix.ndim == dims:
        return matrix
    return matrix.reshape(matrix.shape[0], *(1,) * (dims - 3), 3, 3)
