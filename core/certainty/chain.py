"""The machine's springs with the gantry at one place along Y, ready for samples at any place along X.

Base and gantry come as the plan has condensed them (see `below`); carriages and saddle come in series as in
`core.model.moving`, and the head once more. Each step gives the spring forces under the loads and how gaps in the springs
change them (see `gaps`).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.certainty.below import Springs, spring_rows, springs_below
from core.certainty.gaps import Gaps, make_gaps
from core.certainty.springs import SpringShares
from core.frame import Station, solve, station_uniform
from core.frame.assemble import weight_per_length
from core.frame.station import station_blocks
from core.model.condensed import Gantry, condense_gantry
from core.model.contact import x_table
from core.model.moving import Head, head_frame, head_loads, head_of, ride
from core.model.setting import Setting

Floats = npt.NDArray[np.float64]
FORCES, WEIGHT = slice(0, 3), 3
"""The columns of unit forces along X, Y and Z on the tip, and of the machine's own weight."""


@dataclass(frozen=True, slots=True)
class Chain:
    """The machine with the gantry at y.

    Attributes:
        setting: the machine. gantry: condensed at one place along Y.
        below: springs of base and gantry under unit loads on the beam's ends (12) and under weight.
        head: what rides the beam. above: springs of the head under unit forces on the tip and under weight.
        shares: the parts of the springs between beam and saddle.
    """

    setting: Setting
    gantry: Gantry
    below: Springs
    head: Head
    above: Gaps
    shares: SpringShares

    def at(self, x: Floats) -> list[Gaps]:
        """Springs of all below the head with the tool at every x (n,), under unit forces on the tip and under weight.

        The sum of a response and of that of `above` is the tip's movement (n, 4, 4); row and column 3 belong to the weight.
        """
        stage = ride(self.setting, self.gantry, x)
        reach = stage.reach
        back = np.swapaxes(reach, -1, -2)
        sunk = stage.sunk + reach @ self.gantry.weight[0]
        firm = np.linalg.inv(stage.own + reach @ self.gantry.flexibility[0] @ back)
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
        stations, frame = Station(np.array([self.gantry.member]), xi[:, None]), self.gantry.frame
        down = station_blocks(frame, stations)[:, 0, 2, :]
        held = np.broadcast_to(
            station_uniform(frame, stations, weight_per_length(frame))[..., 2].ravel(), xi.shape
        )
        share = xi[:-2, None]
        reads = down[:-2] - (1.0 - share) * down[-2] - share * down[-1]
        line = reads @ self.gantry.weight[0] + held[:-2] - (1.0 - xi[:-2]) * held[-2] - xi[:-2] * held[-1]
        forces = np.column_stack([self.below.stretch[:, :12] @ reads.T, self.below.stretch[:, 12]])
        start = np.zeros((x.size + 1, x.size + 1))
        start[:-1, -1] = start[-1, :-1] = line
        return make_gaps(start, forces, self.below.redundancy, self.below.shares), line


def make_chain(
    setting: Setting,
    y: float,
    shares: SpringShares,
    like: Chain | None = None,
    gantry: Gantry | None = None,
) -> Chain:
    """Base and gantry with the tool at y, and the head. Raises Mechanism, NotTrustworthy.

    Args:
        like: a chain of the same setting at another y, whose head serves here too. gantry: condensed for the same setting
            before; used when it was so at this y.
    """
    here = np.array([y])
    at = (None if gantry is None else gantry.at_places(here)) or condense_gantry(setting, here)
    if like is not None and like.setting is setting:
        head, above = like.head, like.above
    else:
        head, above = _above(setting, shares)
    return Chain(setting, at, springs_below(setting, at, shares), head, above, shares)


def _above(setting: Setting, shares: SpringShares) -> tuple[Head, Gaps]:
    """The head, and its springs under unit forces on the tip and under weight."""
    frame, node = head_frame(setting)
    loads = head_loads(frame, node)
    parts, rows = spring_rows(frame, shares.firm)
    moved = solve(frame, np.concatenate([loads, rows.T], axis=1), columns=True).displacements
    head = head_of(frame, node, loads, moved[:, :7])
    start = np.zeros((4, 4))
    start[:3, :3] = head.tip[:3, :3]
    start[:3, WEIGHT] = start[WEIGHT, :3] = head.sag[:3]
    stretch = rows @ moved
    return head, make_gaps(start, stretch[:, [0, 1, 2, 6]], np.eye(len(rows)) - stretch[:, 7:], parts)
