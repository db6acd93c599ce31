"""The machine's springs with the gantry at one place along Y, ready for samples at any place along X.

Base and gantry are one frame, solved once; carriages and saddle come in series as in `core.model.moving`, and the head once
more. Each step gives the spring forces under the loads and how gaps in the springs change them (see `gaps`).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.certainty.gaps import Gaps, make_gaps
from core.certainty.springs import SpringShares
from core.frame import Frame, FrameBuilder, Station, solve, station_uniform
from core.frame.assemble import self_weight, spring_dofs, spring_gradients, weight_per_length
from core.frame.station import station_blocks
from core.model.base import add_base
from core.model.contact import x_table, y_contacts
from core.model.gantry import add_gantry, beam_nodes, foot_places
from core.model.moving import Head, head_frame, head_loads, head_of, ride
from core.model.setting import Setting
from core.model.whole import join

Floats = npt.NDArray[np.float64]
FORCES, WEIGHT = slice(0, 3), 3
"""The columns of unit forces along X, Y and Z on the tip, and of the machine's own weight."""


@dataclass(frozen=True, slots=True)
class Springs:
    """What a solved frame tells of its uncertain springs, scaled by the square roots of their stiffness.

    Attributes:
        shares: (s, p). stretch: (s, c) under the loads, times the root. redundancy: (s, s).
    """

    shares: Floats
    stretch: Floats
    redundancy: Floats


@dataclass(frozen=True, slots=True)
class Chain:
    """The machine with the gantry at y.

    Attributes:
        setting, y: machine and tool place.
        frame: base and gantry. member: of the beam between the joints.
        ends: (12, 13) movement of the beam's ends under unit loads on them, and under weight.
        below: springs of base and gantry under the same 13 loads.
        head: what rides the beam. above: springs of the head under unit forces on the tip and under weight.
        shares: the parts of the springs between beam and saddle.
    """

    setting: Setting
    y: float
    frame: Frame
    member: int
    ends: Floats
    below: Springs
    head: Head
    above: Gaps
    shares: SpringShares

    def at(self, x: Floats) -> list[Gaps]:
        """Springs of all below the head with the tool at every x (n,), under unit forces on the tip and under weight.

        The sum of a response and of that of `above` is the tip's movement (n, 4, 4); row and column 3 belong to the weight.
        """
        stage = ride(self.setting, _Ends(self.frame, self.member), x)  # type: ignore[arg-type]
        reach = stage.reach
        back = np.swapaxes(reach, -1, -2)
        sunk = stage.sunk + reach @ self.ends[:, 12]
        firm = np.linalg.inv(stage.own + reach @ self.ends[:, :12] @ back)
        held = firm @ stage.saddle
        across = np.swapaxes(held, -1, -2)
        soft = np.linalg.inv(stage.saddle.T @ held)
        arm = self.head.arm[:3]
        loads = np.empty((x.size, 6, 4))
        loads[..., :3], loads[..., WEIGHT] = arm.T, self.head.weight + (across @ sunk[..., None])[..., 0]
        saddle = soft @ loads
        forces = held @ saddle
        forces[..., WEIGHT] -= (firm @ sunk[..., None])[..., 0]
        spread = firm - held @ soft @ across
        root = np.sqrt(x_table(self.setting, x).stiffness)
        link = self.below.stretch[:, :12] @ back
        down = spread @ np.swapaxes(link, -1, -2)
        size = root.shape[1]
        whole = np.empty((x.size, *(size + link.shape[1],) * 2))
        whole[:, :size, :size] = spread / root[:, :, None] / root[:, None]
        whole[:, :size, size:] = down / root[:, :, None]
        whole[:, size:, :size] = np.swapaxes(whole[:, :size, size:], -1, -2)
        whole[:, size:, size:] = self.below.redundancy + link @ down
        lower = link @ forces
        lower[..., WEIGHT] += self.below.stretch[:, 12]
        every = np.concatenate([forces / root[:, :, None], lower], axis=1)
        start = np.zeros((x.size, 4, 4))
        start[:, :3] = arm @ saddle
        start[:, WEIGHT, :3] = start[:, :3, WEIGHT]
        parts = self.shares.rides(x)
        return [
            make_gaps(start[k], every[k], whole[k], np.concatenate([parts[k], self.below.shares]))
            for k in range(x.size)
        ]

    def beam(self, x: Floats) -> tuple[Gaps, Floats]:
        """Springs below the beam for its own line at x (n,): response (m, n + 1, n + 1), weight last; and the line (n,).

        Heights are counted from the straight line between the beam's joints, under the weight of base and gantry.
        """
        joint = self.setting.layout.joint_x
        xi = (np.clip(np.concatenate([x, [-joint, joint]]), -joint, joint) + joint) / (2.0 * joint)
        stations = Station(np.array([self.member]), xi[:, None])
        down = station_blocks(self.frame, stations)[:, 0, 2, :]
        held = np.broadcast_to(
            station_uniform(self.frame, stations, weight_per_length(self.frame))[..., 2].ravel(), xi.shape
        )
        share = xi[:-2, None]
        reads = down[:-2] - (1.0 - share) * down[-2] - share * down[-1]
        line = reads @ self.ends[:, 12] + held[:-2] - (1.0 - xi[:-2]) * held[-2] - xi[:-2] * held[-1]
        forces = np.column_stack([self.below.stretch[:, :12] @ reads.T, self.below.stretch[:, 12]])
        start = np.zeros((x.size + 1, x.size + 1))
        start[:-1, -1] = start[-1, :-1] = line
        return make_gaps(start, forces, self.below.redundancy, self.below.shares), line


@dataclass(frozen=True, slots=True)
class _Ends:
    """As much of a condensed gantry as `ride` reads."""

    frame: Frame
    member: int


def make_chain(setting: Setting, y: float, shares: SpringShares, like: Chain | None = None) -> Chain:
    """Solve base and gantry, and the head. Raises Mechanism, NotTrustworthy.

    Args:
        like: a chain of the same setting at another y, whose head serves here too.
    """
    parts = {**shares.firm, **shares.stand(y)}
    datum = setting.layout.gantry_y(y)
    along = y_contacts(setting, datum)
    builder = FrameBuilder()
    base_nodes = add_base(setting, builder, sorted({c.at for c in along}))
    add_gantry(setting, builder, datum, [])
    _, foot_nodes = foot_places(setting)
    for c in along:
        join(
            builder, c, f"{c.side} side beam {base_nodes[c.at]}", f"{c.side} foot plate {foot_nodes[c.rides]}"
        )
    frame = builder.build()
    ends = [6 * frame.node(n) + dof for n in ("left beam joint", "right beam joint") for dof in range(6)]
    loads = np.zeros((frame.dofs, 13))
    loads[ends, np.arange(12)] = 1.0
    loads[:, 12] = self_weight(frame)
    moved, below = _springs(frame, loads, parts)
    own = moved[ends]
    own[:, :12] = 0.5 * (own[:, :12] + own[:, :12].T)
    _, nearest = beam_nodes(setting, [])
    member = frame.member(f"beam piece {nearest[-setting.layout.joint_x]}")
    if like is not None and like.setting is setting:
        head, above = like.head, like.above
    else:
        head, above = _above(setting, parts)
    return Chain(setting, y, frame, member, own, below, head, above, shares)


def _above(setting: Setting, parts: dict[str, Floats]) -> tuple[Head, Gaps]:
    """The head, and its springs under unit forces on the tip and under weight."""
    frame, node = head_frame(setting)
    loads = head_loads(frame, node)
    moved, own = _springs(frame, loads, parts)
    head = head_of(frame, node, loads, moved)
    start = np.zeros((4, 4))
    start[:3, :3] = head.tip[:3, :3]
    start[:3, WEIGHT] = start[WEIGHT, :3] = head.sag[:3]
    stretch = own.stretch[:, [0, 1, 2, 6]]
    return head, make_gaps(start, stretch, own.redundancy, own.shares)


def _springs(frame: Frame, loads: Floats, parts: dict[str, Floats]) -> tuple[Floats, Springs]:
    """Solve a frame under loads (6n, c); the springs that no input touches are left out of the second answer."""
    rows = np.array([parts[name] for name in frame.springs.names])
    kept = np.flatnonzero(np.any(rows != 0.0, axis=1))
    reads = np.zeros((kept.size, frame.dofs))
    # A spring to the ground repeats node i with zeros, so rows are added up, not set.
    np.add.at(reads, (np.arange(kept.size)[:, None], spring_dofs(frame)[kept]), spring_gradients(frame)[kept])
    reads *= np.sqrt(frame.springs.stiffness[kept])[:, None]
    moved = solve(frame, np.concatenate([loads, reads.T], axis=1), columns=True).displacements
    count = loads.shape[1]
    stretch = reads @ moved
    return moved[:, :count], Springs(rows[kept], stretch[:, :count], np.eye(kept.size) - stretch[:, count:])
