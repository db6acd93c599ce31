"""Gantries of many designs condensed to the two ends of their beams, exactly, on one base that is solved once.

A portal is three parts in a chain: what the feet stand on (the same for all designs), uprights with the beam's joints, and the
beam. Only matrices of twelve rows are left for each design and place; no term is the difference of large ones.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.frame import Frame, FrameBuilder, NotTrustworthy, solve
from core.frame.assemble import member_stiffness, self_weight, stiffness, transform
from core.frame.batch import rigid_arm
from core.model.base import SIDES
from core.model.condensed import Under, foot_rows, solve_base
from core.model.contact import y_contacts
from core.model.gantry import add_beam, add_foot, add_joints, add_upright, beam_nodes, foot_places
from core.model.setting import Setting, point

Floats = npt.NDArray[np.float64]
ENDS = ("left beam joint", "right beam joint")
RESIDUAL = 1e-9
Rows = slice | npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Ground:
    """What uprights stand on at ny places, seen from the foot plates' nodes below them.

    Attributes:
        y: (ny,) tool places. stiffness: (ny, 12, 12) N/m. load: (ny, 12) by the weight of base and foot plates, N.
        under: the base.
    """

    y: Floats
    stiffness: Floats
    load: Floats
    under: Under


@dataclass(frozen=True, slots=True)
class Posts:
    """Uprights and joints; axes (d, 1, ...).

    Attributes:
        soft: (..., 12, 12) flexibility at the beam's joints with the feet held, m/N. hung: (..., 12) movement there under
        the uprights' weight. arm: (..., 12, 12) movement of the joints with the feet. below: (..., 12) load on the feet, N.
        frame, moved: (..., 6n, 12) movement of their frame's nodes by unit loads on the joints.
    """

    soft: Floats
    hung: Floats
    arm: Floats
    below: Floats
    frame: Frame
    moved: Floats


@dataclass(frozen=True, slots=True)
class Beams:
    """Beams alone: their frame, batch (d, 1), the member between the joints, its stiffness (d, 1, 12, 12) at the joints and the
    weight (d, 1, 12) that hangs there, N."""

    frame: Frame
    member: int
    stiffness: Floats
    load: Floats


@dataclass(frozen=True, slots=True)
class Portals:
    """Uprights and beams of d designs; axes (d, 1, ...), places along Y to come.

    Attributes:
        arm: (d, 1, 12, 12) movement of the joints with the feet. spread: (d, 1, 12, 12) of a movement forced on the joints,
        what the beam lets through. soft: (d, 1, 12, 12) flexibility with the feet held, m/N. through: (d, 1, 12, 12)
        stiffness of uprights and beam seen from the feet. own: (d, 1, 12) movement of the beam's ends under the weight of
        uprights and beam with the feet held. down: (d, 1, 12) load of that weight on the feet, N.
    """

    arm: Floats
    spread: Floats
    soft: Floats
    through: Floats
    own: Floats
    down: Floats


def find_ground(setting: Setting, y: Floats, under: Under | None = None) -> Ground:
    """Solve base and foot plates for the tool at every y. Raises Mechanism when the base moves freely.

    Args:
        setting: of one design; which one is all the same. under: the base as solved before, used where it fits.
    """
    known = None if under is None else under.at(setting, y)
    base = solve_base(setting, y) if known is None else known
    builder = FrameBuilder()
    for side, sign in SIDES:
        add_foot(setting, builder, 0.0, side, sign)
    frame = builder.build()
    datum = setting.layout.gantry_y(float(y[0]))
    upper = foot_rows(setting, frame, y_contacts(setting, datum), datum)
    grip = np.linalg.solve(base.soft, np.broadcast_to(upper, (y.size, *upper.shape)))
    k = stiffness(frame) + upper.T @ grip
    loads = self_weight(frame) + np.einsum("ysd,ys->yd", grip, base.sunk)
    kept = dofs_of(frame, feet_of(setting))
    rest = np.setdiff1d(np.arange(frame.dofs), kept)
    if not rest.size:
        return Ground(y, k, loads, base)
    follow = np.linalg.solve(k[:, rest[:, None], rest], k[:, rest[:, None], kept])
    back = np.swapaxes(follow, -1, -2)
    stiff = k[:, kept[:, None], kept] - k[:, kept[:, None], rest] @ follow
    stiff = 0.5 * (stiff + np.swapaxes(stiff, -1, -2))
    return Ground(y, stiff, loads[:, kept] - (back @ loads[:, rest, None])[..., 0], base)


def find_portals(posts: Posts, beams: Beams) -> Portals:
    """Uprights with their beams."""
    soft, hung, arm, below, stiff, load = (
        posts.soft, posts.hung, posts.arm, posts.below, beams.stiffness, beams.load,
    )  # fmt: skip
    eye = np.eye(12)
    spread = np.asarray(np.linalg.inv(eye + soft @ stiff), dtype=np.float64)
    held = spread @ soft
    through = stiff @ spread
    sinks = hung + (soft @ load[..., None])[..., 0]
    own = (spread @ sinks[..., None])[..., 0]
    pushed = load - (through @ sinks[..., None])[..., 0]
    down = below + (np.swapaxes(arm, -1, -2) @ pushed[..., None])[..., 0]
    seen = np.swapaxes(arm, -1, -2) @ through @ arm
    return Portals(arm, spread, _even(held), _even(seen), own, down)


def ends(portals: Portals, ground: Ground, row: Rows = slice(None)) -> tuple[Floats, Floats]:
    """Flexibility (d, n, 12, 12) of the beams' ends and their movement (d, n, 12) under weight, without saddle and head.

    Args:
        row: numbers of the ground's places, (n,) for all designs or (d, n) of their own; all of them by default.

    Errors: NotTrustworthy when a solution does not meet its equation.
    """
    stiff = ground.stiffness[row] + portals.through
    load = (ground.load[row] + portals.down)[..., None]
    moves = portals.spread @ portals.arm
    inverse = np.linalg.inv(stiff)
    sunk = inverse @ load
    wrong = np.abs(stiff @ sunk - load).max(axis=(-2, -1))
    size = np.abs(stiff).max(axis=(-2, -1)) * np.abs(sunk).max(axis=(-2, -1))
    if not np.all(wrong <= RESIDUAL * size):
        raise NotTrustworthy("the beams' ends do not meet their equations")
    soft = portals.soft + moves @ inverse @ np.swapaxes(moves, -1, -2)
    return _even(soft), portals.own + (moves @ sunk)[..., 0]


class Ends:
    """`ends` at those rows of the ground that somebody asks for; each is worked out once."""

    def __init__(self, portals: Portals, ground: Ground) -> None:
        self._portals, self._ground = portals, ground
        self._place = np.full(ground.y.size, -1)
        self._soft: Floats | None = None

    def soft(self, rows: npt.NDArray[np.int64]) -> Floats:
        """Flexibility (d, n, 12, 12) at rows (n,) for all designs, or (d, n) of each design's own."""
        wanted = np.unique(rows)
        new = wanted[self._place[wanted] < 0]
        if new.size:
            known = [] if self._soft is None else [self._soft]
            self._place[new] = np.arange(new.size) + sum(part.shape[1] for part in known)
            self._soft = np.concatenate([*known, ends(self._portals, self._ground, new)[0]], axis=1)
        assert self._soft is not None
        place = self._place[rows]
        return self._soft[:, place] if place.ndim == 1 else self._soft[np.arange(len(place))[:, None], place]


POSTS_BY = ("beam_y", "beam_z", "joint_y", "joint_z", "upright_top")
"""The layout's figures that uprights and joints follow."""


def find_posts(setting: Setting) -> Posts:
    """Uprights and joints of every design of a setting with arrays. Raises Mechanism, NotTrustworthy."""
    builder = FrameBuilder()
    feet = feet_of(setting)
    add_posts(setting, builder)
    for name in feet:
        builder.hold(name)
    frame = builder.build()
    weight = self_weight(frame)
    low, high = dofs_of(frame, feet), dofs_of(frame, ENDS)
    batch = frame.batch
    loads = np.zeros((*batch, frame.dofs, 13))
    loads[..., high, np.arange(12)] = 1.0
    loads[..., 12] = weight
    answer = solve(frame, loads, columns=True)
    moved = answer.displacements[..., high, :]
    nodes = np.broadcast_to(frame.nodes, (*batch, *frame.nodes.shape[-2:]))
    arm = np.zeros((*batch, 12, 12))
    for k in range(2):
        reach = nodes[..., high[6 * k] // 6, :] - nodes[..., low[6 * k] // 6, :]
        arm[..., 6 * k : 6 * k + 6, 6 * k : 6 * k + 6] = rigid_arm(reach)
    below = -answer.reactions[..., low, 12]
    return Posts(_even(moved[..., :12]), moved[..., 12], arm, below, frame, answer.displacements[..., :12])


def add_posts(setting: Setting, builder: FrameBuilder) -> None:
    """Add uprights and joints between the foot plates' nodes and those of the beam's ends, with the datum at y = 0."""
    lay = setting.layout
    places, nearest = foot_places(setting)
    at = places[nearest[lay.upright_y]]
    for (side, sign), name in zip(SIDES, feet_of(setting), strict=True):
        builder.add_node(name, (sign * lay.upright_spacing / 2.0, at, lay.foot_z))
        add_upright(setting, builder, 0.0, side, sign)
    for (_, sign), name in zip(SIDES, ENDS, strict=True):
        builder.add_node(name, point(sign * lay.joint_x, lay.beam_y, lay.beam_z))
    add_joints(setting, builder, 0.0)


def find_beams(setting: Setting) -> Beams:
    """Beams of every design of a setting with arrays."""
    builder = FrameBuilder()
    add_beam(setting, builder, 0.0, [])
    frame = builder.build()
    _, nearest = beam_nodes(setting, [])
    member = frame.member(f"beam piece {nearest[-setting.layout.joint_x]}")
    turn = transform(frame)[..., member, :, :]
    stiff = np.swapaxes(turn, -1, -2) @ member_stiffness(frame)[..., member, :, :] @ turn
    weight = self_weight(frame)
    weight = weight.reshape(*weight.shape[:-1], -1, 6)
    joints = [frame.node(name) for name in ENDS]
    load = np.zeros((*weight.shape[:-2], 2, 6))
    for number in range(len(frame.node_names)):  # what juts out beyond a joint hangs on that joint
        side = int(np.argmin([abs(number - joint) for joint in joints]))
        reach = rigid_arm(frame.nodes[..., number, :] - frame.nodes[..., joints[side], :])
        load[..., side, :] += (np.swapaxes(reach, -1, -2) @ weight[..., number, :, None])[..., 0]
    return Beams(frame, member, _even(stiff), load.reshape(*load.shape[:-2], 12))


def feet_of(setting: Setting) -> tuple[str, str]:
    """Names of the foot plates' nodes that carry the uprights."""
    _, nearest = foot_places(setting)
    middle = nearest[setting.layout.upright_y]
    return f"left foot plate {middle}", f"right foot plate {middle}"


def dofs_of(frame: Frame, names: tuple[str, ...]) -> npt.NDArray[np.int64]:
    """Degrees of freedom (6n,) of n nodes."""
    return np.array([6 * frame.node(name) + dof for name in names for dof in range(6)])


def _even(matrix: Floats) -> Floats:
    return np.asarray(0.5 * (matrix + np.swapaxes(matrix, -1, -2)))
