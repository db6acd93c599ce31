"""What a load case asks of every uncertain spring at each design's worst place: the first step of its band.

A spring that gives more by a share s of its compliance moves the tip by s times the product of its two forces over its stiffness:
by the load, and by a unit force along the deflection (Maxwell-Betti, any textbook). The forces come out of the statics.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.certainty.springs import SpringShares
from core.cutting import tip_force
from core.frame import Frame, FrameBuilder
from core.frame.assemble import spring_dofs, spring_gradients, stiffness
from core.machine.loads import LoadCase
from core.model.base import SIDES
from core.model.condensed import foot_rows
from core.model.contact import y_contacts
from core.model.gantry import add_foot
from core.model.moving import Head
from core.model.setting import Setting
from core.rank.portals import Beams, Ends, Ground, Portals, dofs_of, feet_of
from core.rank.riding import TIP, Grid, Springs, compliance
from core.stiffness.deflection import deflection

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Grips:
    """The s uncertain springs of a part. shares: (s, p) of their compliance by input. stretch: (..., s, c) by c unit loads, times
    the root of their stiffness."""

    shares: Floats
    stretch: Floats


def find_grips(frame: Frame, moved: Floats, shares: SpringShares | None) -> Grips:
    """Of a frame's springs by its movements (..., 6n, c)."""
    columns = moved.shape[-1]
    if shares is None or not frame.springs.names:
        inputs = 0 if shares is None else len(shares.inputs)
        return Grips(np.zeros((0, inputs)), np.zeros((*moved.shape[:-2], 0, columns)))
    table = np.array([shares.firm[name] for name in frame.springs.names])
    kept = np.flatnonzero(np.any(table != 0.0, axis=1))
    ends = moved[..., spring_dofs(frame)[kept], :]
    stretch = (spring_gradients(frame)[..., kept, None, :] @ ends)[..., 0, :]
    return Grips(table[kept], np.sqrt(frame.springs.stiffness[..., kept])[..., None] * stretch)


@dataclass(frozen=True, slots=True)
class Seen:
    """A batch with likely figures: portals, heads, and the uncertain springs of uprights and joints, and of the heads."""

    portals: Portals
    head: Head
    posts: Grips
    above: Grips


@dataclass(frozen=True, slots=True)
class RideShares:
    """Shares (nx, s, p) of the springs between beam and saddle at the table's columns, over their stiffness (nx, s)."""

    shares: Floats
    stiffness: Floats


@dataclass(frozen=True, slots=True)
class Take:
    """One load case at the worst places of d designs.

    Attributes:
        size: (d,) deflection, m. angle: (d,) rad of the horizontal force at its worst. row, column: (d,) of the grid.
        compliance: (d, 3, 3) of the tip there, m/N. slopes: (d, p, 3, 3) of that by the inputs' added compliance, of all
        springs above the feet. feet: (d, 12, 3) movement of the feet by unit forces on the tip.
    """

    size: Floats
    angle: Floats
    row: Ints
    column: Ints
    compliance: Floats
    slopes: Floats
    feet: Floats


def find_take(
    case: LoadCase, row: Ints, column: Ints, grid: Grid, springs: Springs, soft: Ends, seen: Seen, beams: Beams,
    ground: Ground, rides: RideShares | None,
) -> Take:  # fmt: skip
    """Deflection and slopes at places (d,) of the grid."""
    own, reach = (part[:, 0] for part in grid.at(column[:, None]))
    here = soft.soft(row[:, None])[:, 0]
    tip = np.asarray(seen.head.tip)
    head = Head(tip[:, 0] if tip.ndim == 4 else tip, seen.head.arm, seen.head.sag, seen.head.weight)
    found = compliance(own, reach, here, head)
    moved, angle = deflection(found, tip_force(case), case.any_direction)
    size = np.linalg.norm(moved, axis=-1)
    if rides is None:
        return Take(
            size, angle, row, column, found, np.zeros((row.size, 0, 3, 3)), np.zeros((row.size, 12, 3))
        )
    whole = own + np.swapaxes(reach, -1, -2) @ here @ reach
    held = -np.linalg.solve(whole[..., TIP:, TIP:], whole[..., TIP:, :TIP])
    state = np.concatenate([np.broadcast_to(np.eye(3), (row.size, 3, 3)), held], axis=-2)
    pulls = springs.for_compliance()[:, 0] @ state / np.sqrt(rides.stiffness[column])[..., None]
    slopes = _by_input(rides.shares[column], pulls)
    ends = reach @ state
    down = ends - beams.stiffness[:, 0] @ (here @ ends)  # what the uprights' heads take
    slopes += _by_input(seen.posts.shares, seen.posts.stretch[:, 0] @ down)
    slopes += _by_input(seen.above.shares, seen.above.stretch[:, 0])
    # By their movement, not their load: a foot may be free to move in a way that only the other foot holds through the beam.
    moves = (seen.portals.spread @ seen.portals.arm)[:, 0]
    below = ground.stiffness[row] + seen.portals.through[:, 0]
    feet = np.linalg.solve(below, np.swapaxes(moves, -1, -2) @ ends)
    return Take(size, angle, row, column, found, slopes, feet)


def _by_input(shares: Floats, forces: Floats) -> Floats:
    """(d, p, 3, 3): sums over springs of shares (s, p) or (d, s, p) times the products of two of their forces (d, s, 3)."""
    d, s, _ = forces.shape
    products = (forces[..., :, None] * forces[..., None, :]).reshape(d, s, 9)
    return np.asarray((np.swapaxes(shares, -1, -2) @ products).reshape(d, -1, 3, 3))


def feet_give(setting: Setting, ground: Ground, row: int, shares: SpringShares) -> Floats:
    """(p, 12, 12): what each input's added compliance gives by two movements of the feet, the gantry at one row of the grid.

    Args:
        setting: of any design, with likely figures.
    """
    y = float(ground.y[row])
    datum = setting.layout.gantry_y(y)
    builder = FrameBuilder()
    for side, sign in SIDES:
        add_foot(setting, builder, 0.0, side, sign)
    frame, under = builder.build(), ground.under
    base = under.base
    contacts = y_contacts(setting, datum)
    upper = foot_rows(setting, frame, contacts, datum)
    grip = np.linalg.solve(under.soft[row], upper)
    k = stiffness(frame) + upper.T @ grip
    kept = dofs_of(frame, feet_of(setting))
    rest = np.setdiff1d(np.arange(frame.dofs), kept)
    moved = np.zeros((frame.dofs, 12))
    moved[kept] = np.eye(12)
    if rest.size:
        moved[rest] = -np.linalg.solve(k[np.ix_(rest, rest)], k[np.ix_(rest, kept)])
    forces = grip @ moved
    below = find_grips(base.frame, base.moved @ under.reach[row].T @ forces, shares)
    own = find_grips(frame, moved, shares)
    stand = shares.stand(y)
    between = np.array([stand[c.name] for c in contacts])
    root = np.sqrt([c.stiffness for c in contacts])[:, None]
    parts = np.concatenate([below.shares, between, own.shares])
    stretch = np.concatenate([below.stretch, forces / root, own.stretch])
    return np.asarray(np.einsum("sp,sa,sb->pab", parts, stretch, stretch, optimize=True))
