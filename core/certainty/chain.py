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
from core.model.contact import x_contacts, y_contacts
from core.model.gantry import add_gantry, beam_nodes, foot_places
from core.model.head import add_head
from core.model.moving import Head, condense_head, ride
from core.model.setting import Setting
from core.model.whole import join

Floats = npt.NDArray[np.float64]
WEIGHT = 3
"""The column of the machine's own weight, after unit forces along X, Y and Z on the tip."""


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

    def at(self, x: float) -> tuple[Gaps, Gaps]:
        """Springs of head and of all below with the tool at x, under unit forces on the tip and under weight.

        The sum of the two responses is the tip's movement (n, 4, 4); row and column 3 belong to the weight.
        """
        stage = ride(self.setting, _Ends(self.frame, self.member), np.array([x]))  # type: ignore[arg-type]
        reach, sunk = stage.reach[0], stage.sunk[0] + stage.reach[0] @ self.ends[:, 12]
        soft = stage.own[0] + reach @ self.ends[:, :12] @ reach.T
        firm = np.linalg.inv(soft)
        held = firm @ stage.saddle
        back = np.linalg.inv(stage.saddle.T @ held)
        arm = self.head.arm[:3]
        loads = np.column_stack([arm.T, self.head.weight + held.T @ sunk])
        saddle = back @ loads
        forces = held @ saddle
        forces[:, WEIGHT] -= firm @ sunk
        spread = firm - held @ back @ held.T
        parts = self.shares.ride(x)
        contacts = x_contacts(self.setting, x, self.setting.layout.gantry_y(self.y))
        root = np.sqrt([c.stiffness for c in contacts])
        link = self.below.stretch[:, :12] @ reach.T
        across = spread @ link.T
        size = root.size
        whole = np.zeros((size + link.shape[0],) * 2)
        whole[:size, :size] = spread / root[:, None] / root
        whole[:size, size:] = across / root[:, None]
        whole[size:, :size] = whole[:size, size:].T
        whole[size:, size:] = self.below.redundancy + link @ across
        lower = link @ forces
        lower[:, WEIGHT] += self.below.stretch[:, 12]
        start = np.zeros((4, 4))
        start[:3] = arm @ saddle
        start[WEIGHT, :3] = start[:3, WEIGHT]
        rows = np.array([parts[c.name] for c in contacts])
        return self.above, make_gaps(
            start,
            np.concatenate([forces / root[:, None], lower]),
            whole,
            np.concatenate([rows, self.below.shares]),
        )

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
        head = condense_head(setting)
        above = _above(setting, head, parts)
    return Chain(setting, y, frame, member, own, below, head, above, shares)


def _above(setting: Setting, head: Head, parts: dict[str, Floats]) -> Gaps:
    builder = FrameBuilder()
    tip = add_head(setting, builder, 0.0, 0.0)
    builder.hold("saddle")
    frame = builder.build()
    loads = np.zeros((frame.dofs, 4))
    node = frame.node(tip)
    loads[6 * node : 6 * node + 3, :3] = np.eye(3)
    loads[:, WEIGHT] = self_weight(frame)
    _, own = _springs(frame, loads, parts)
    start = np.zeros((4, 4))
    start[:3, :3] = head.tip[:3, :3]
    start[:3, WEIGHT] = start[WEIGHT, :3] = head.sag[:3]
    return make_gaps(start, own.stretch, own.redundancy, own.shares)


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
