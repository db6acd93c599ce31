"""Saddle and head on the beams of many designs at many places, by the force method.

Loads on the saddle are given to the springs below it in one way that balances them; what is left to find is the state of
self-stress, a few numbers a place. It gives the tip's compliance and its height under weight, as exactly as `core.model.moving`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.frame import Frame, NotTrustworthy, Station, station_uniform
from core.frame.assemble import weight_per_length
from core.frame.batch import cross
from core.frame.element import powers
from core.frame.interior import TERM_PLACES, TERM_SIGNS
from core.frame.station import global_axes, station_basis, station_terms
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
    """The beam seen from these states at n places; axes (d, n, ...).

    Attributes:
        own: (d, n, m, m) movement along each state by each, ends of the beam held, springs included. reach: (d, n, 12, m)
        of the states by movements of the ends.
        xi: (n, u) shares of the length between the joints at which the springs take hold. pulls: (d, 1 or n, 6, m) of the
        states at each of these u.
    """

    own: Floats
    reach: Floats
    xi: Floats
    pulls: list[Floats]


class Grid:
    """Rides at those columns of the table's grid that somebody asks for; each is worked out once.

    Args:
        make: the rides at some columns (n,). count: how many columns there are.
    """

    def __init__(self, make: Callable[[Ints], Rides], count: int) -> None:
        self._make = make
        self._place = np.full(count, -1)
        self._own: list[Floats] = []
        self._reach: list[Floats] = []
        self._known: tuple[Floats, Floats] | None = None

    def at(self, columns: Ints) -> tuple[Floats, Floats]:
        """`own` and `reach` at columns (n,) for all designs, or (d, n) of each design's own."""
        wanted = np.unique(columns)
        new = wanted[self._place[wanted] < 0]
        if new.size:
            found = self._make(new)
            self._place[new] = np.arange(new.size) + (0 if self._known is None else self._known[0].shape[1])
            self._own.append(found.own)
            self._reach.append(found.reach)
            self._known = np.concatenate(self._own, axis=1), np.concatenate(self._reach, axis=1)
        assert self._known is not None
        own, reach = self._known
        place = self._place[columns]
        if place.ndim == 1:
            return own[:, place], reach[:, place]
        number = np.arange(len(place))[:, None]
        return own[number, place], reach[number, place]


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
    beam: Frame, member: int, joint: float, springs: Springs, states: Floats, places: Ints
) -> Rides:
    """The beams at some of the springs' places (n,), seen from some of their states (d, 1, s, m).

    What varies along the beam are a few plain figures for each place (powers of it, the held beam's terms, the springs'
    softness); what the states make of them varies with the designs alone, so that a place costs one small product.
    """
    at, stiffness = springs.at[places], springs.stiffness[places]
    lower = springs.lower if springs.lower.shape[-3] == 1 else springs.lower[..., places, :, :]
    # Springs at one place along the beam share a station; a station that stays at an end of the beam has no softness of its own.
    _, heads, shared = np.unique(at, axis=1, return_index=True, return_inverse=True)
    shared = np.ravel(shared)
    xi = (at[:, heads] + joint) / (2.0 * joint)
    pulls = [
        np.swapaxes(lower[..., shared == u, :], -1, -2) @ states[..., shared == u, :]
        for u in range(len(heads))
    ]
    return Rides(_own(beam, member, xi, pulls, states, stiffness), _reach(beam, member, xi, pulls), xi, pulls)


def _reach(beam: Frame, member: int, xi: Floats, pulls: list[Floats]) -> Floats:
    """(d, n, 12, m) of states, whose pulls (d, 1 or n, 6, m) act on the beam at xi (n, u), by movements of the beam's ends."""
    basis = station_basis(beam, np.array([member]))[..., 0, :, :, :]
    follow = np.swapaxes(basis, -1, -2)  # (d, 1, 4, 12, 6)
    found = [follow @ pull[..., None, :, :] for pull in pulls]
    return _summed([powers(xi[:, u]) for u in range(len(pulls))], found)


def _own(
    beam: Frame, member: int, xi: Floats, pulls: list[Floats], states: Floats, stiffness: Floats
) -> Floats:
    """(d, n, m, m) movement along each state by each, the beam held at its ends."""
    turn = global_axes(beam, np.array([member]))[..., 0, :, :]
    rows, columns = np.array(TERM_PLACES).T
    inside = [u for u in range(len(pulls)) if np.any((xi[:, u] > 0.0) & (xi[:, u] < 1.0))]
    local = {u: np.swapaxes(turn, -1, -2) @ pulls[u] for u in inside}
    pairs = [(a, b) for a in inside for b in inside if a <= b]
    weights: list[Floats] = [1.0 / stiffness]
    parts: list[Floats] = [states[..., :, :, None] * states[..., :, None, :]]
    if pairs:
        one, two = (np.array(side) for side in zip(*pairs, strict=True))
        terms = station_terms(beam, np.full(len(pairs), member), xi[:, one], xi[:, two])
        for k, (a, b) in enumerate(pairs):
            left = local[a][..., rows, :] * np.array(TERM_SIGNS)[:, None]
            part = left[..., :, None] * local[b][..., columns, None, :]
            weights.append(terms[..., k, :])
            parts.append(part if a == b else part + np.swapaxes(part, -1, -2))
    return _summed(weights, parts)


def _summed(weights: list[Floats], parts: list[Floats]) -> Floats:
    """Sum over all of weights (..., n, c) times parts (d, 1 or n, c, a, b): (d, n, a, b)."""
    lead = np.broadcast_shapes(*(part.shape[:-4] for part in parts), *(one.shape[:-2] for one in weights))
    n = max(one.shape[-2] for one in weights)
    size = parts[0].shape[-2:]
    every = [np.broadcast_to(one, (*lead, n, one.shape[-1])) for one in weights]
    if all(part.shape[-4] == 1 for part in parts):
        flat = [
            np.broadcast_to(part, (*lead, *part.shape[-4:])).reshape(*lead, -1, size[0] * size[1])
            for part in parts
        ]
        found = np.concatenate(every, axis=-1) @ np.concatenate(flat, axis=-2)
        return np.asarray(found.reshape(*lead, n, *size))
    out = np.zeros((*lead, n, *size))
    for weight, part in zip(every, parts, strict=True):
        out += np.einsum("...nc,...ncab->...nab", weight, np.broadcast_to(part, (*lead, n, *part.shape[-3:])))
    return out


def sunk(beam: Frame, member: int, rides: Rides) -> Floats:
    """(d, n, m) movement along the states by the beam's own weight between held ends."""
    stations = Station(np.full(rides.xi.shape[1], member), rides.xi)
    held = station_uniform(beam, stations, weight_per_length(beam))
    held = held.reshape(*held.shape[:-1], -1, 6)
    return np.asarray(
        sum((held[..., u, None, :] @ pull)[..., 0, :] for u, pull in enumerate(rides.pulls)), dtype=np.float64
    )


def compliance(own: Floats, reach: Floats, flexibility: Floats, head: Head) -> Floats:
    """(..., 3, 3) compliance of the tip, m/N, from `own` (..., m, m), `reach` (..., 12, m) and the ends' (..., 12, 12)."""
    soft = own + np.swapaxes(reach, -1, -2) @ flexibility @ reach
    found = soft[..., :TIP, :TIP] + _grown(np.asarray(head.tip)[..., :3, :3], soft.ndim)
    if soft.shape[-1] > TIP:
        part = soft[..., TIP:, :TIP]
        found = found - np.swapaxes(part, -1, -2) @ np.linalg.solve(soft[..., TIP:, TIP:], part)
    return np.asarray(0.5 * (found + np.swapaxes(found, -1, -2)))


def tip_height(rides: Rides, sinks: Floats, flexibility: Floats, weight: Floats, head: Head) -> Floats:
    """(d, nx) height of the tool tip under all weights, m; `sinks` as `sunk` has it, ends' flexibility (d, 1, 12, 12) and
    movement (d, 1, 12)."""
    reach = rides.reach
    soft = rides.own + np.swapaxes(reach, -1, -2) @ flexibility @ reach
    moved = (np.swapaxes(reach, -1, -2) @ weight[..., None])[..., 0] + sinks
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
