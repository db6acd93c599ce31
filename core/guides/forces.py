"""Forces on all carriages at a grid of tool places under unit loads, in a few array expressions.

The chain is base, gantry, saddle and head in series: the head's load on the saddle, the X springs' forces from the saddle's
balance and the beam's give, the Y springs' from the gantry's. The balance of every body is checked before anybody sees it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import msgspec
import numpy as np
import numpy.typing as npt

from core.frame import Frame, FrameBuilder, NotTrustworthy, Station, solve, station_uniform
from core.frame.assemble import self_weight, weight_per_length
from core.frame.energy import spring_stretch
from core.guides.names import Carriage, carriages
from core.machine.project import Component
from core.model.condensed import SPED, WEIGHED, Gantry, Under, condense_gantry, solve_base
from core.model.contact import Contact, x_table, y_contacts
from core.model.head import add_head
from core.model.moving import Riding, ride
from core.model.setting import Setting

Floats = npt.NDArray[np.float64]

FORCES, WEIGHT, SPEEDING = slice(0, 3), 3, slice(4, 7)
"""Columns of every array of unit loads: 1 N on the tip along X, Y, Z; all weights; 1 m/s2 of the axis X, Y, Z."""
COLUMNS = 7
BALANCE = 1.0e-6
_GUIDES: frozenset[str] = frozenset({"x_guides", "y_guides", "z_guides"})


@dataclass(frozen=True, slots=True)
class CarriageForces:
    """Forces on c carriages at p tool places under the unit loads of `FORCES`, `WEIGHT`, `SPEEDING`.

    Attributes:
        carriages: names and places. x, y: (p,) tool places, m.
        pressing (p, c, 7): along the normal, positive presses the carriage on its rail. lateral (p, c, 7): sideways.
        balance: largest unbalanced force or moment of any body, relative to all its forces.
    """

    carriages: tuple[Carriage, ...]
    x: Floats
    y: Floats
    pressing: Floats
    lateral: Floats
    balance: float


@dataclass(frozen=True, slots=True)
class Chain:
    """Forces of all springs between the bodies that ride each other, under the unit loads, at ny by nx tool places.

    Attributes:
        gantry, riding: the condensed gantry on its base, and the head's carriages on its beam. y_contacts: the Y springs
            at the first y.
        x_forces (ny, nx, s, 7), y_forces (ny, nx, s, 7), z_forces (s, 7): N in each spring, pull positive.
        balance: largest unbalanced force or moment of any body, relative to all its forces.
    """

    gantry: Gantry
    riding: Riding
    y_contacts: list[Contact]
    x_forces: Floats
    y_forces: Floats
    z_forces: Floats
    balance: float

    def at_places(self, x: Floats, y: Floats) -> Chain:
        """The chain at some of its places. Errors: ValueError when it was not solved at one of them."""
        columns, rows = (
            [known.tolist().index(v) for v in some.tolist()]
            for known, some in ((self.riding.x, x), (self.gantry.y, y))
        )
        gantry = self.gantry.at_places(y)
        assert gantry is not None
        ride_ = self.riding
        riding = replace(
            ride_, x=x, own=ride_.own[columns], reach=ride_.reach[columns], sunk=ride_.sunk[columns]
        )
        return replace(
            self, gantry=gantry, riding=riding, x_forces=self.x_forces[rows][:, columns],
            y_forces=self.y_forces[rows][:, columns],
        )  # fmt: skip


def own_springs(setting: Setting) -> Setting:
    """The setting with no guides held rigid: what a carriage takes depends on its give."""
    machine = setting.machine
    kept: tuple[Component, ...] = tuple(c for c in machine.rigid if c not in _GUIDES)
    if len(kept) == len(machine.rigid):
        return setting
    free = msgspec.structs.replace(machine, rigid=kept)
    return Setting(free, setting.layout, setting.side, setting.book)


def carriage_forces(setting: Setting, x: Floats, y: Floats, under: Under | None = None) -> CarriageForces:
    """Forces with the tool at every pair of x (nx,) and y (ny,), m; places run along x first.

    Args:
        under: the base as the plan solved it; used where it still fits, which saves nearly half of the time.

    Errors: Mechanism when the base moves freely; NotTrustworthy when a body's forces do not balance.
    """
    return forces_of(solve_chain(own_springs(setting), x, y, under), setting)


def forces_of(chain: Chain, setting: Setting) -> CarriageForces:
    """The same from a chain that was solved with no guides held rigid."""
    x, y = chain.riding.x, chain.gantry.y
    ny, nx = y.size, x.size
    z_all = np.broadcast_to(chain.z_forces, (ny, nx, *chain.z_forces.shape))
    # Each list holds normal and lateral in turn and the drives last (X, Z) or in between (Y).
    y_picked = _without_drives(chain.y_forces, chain.y_contacts)
    picked = [chain.x_forces[..., :-1, :], y_picked, z_all[..., :-1, :]]
    every = np.concatenate(picked, axis=2).reshape(ny * nx, -1, 2, COLUMNS)
    known = carriages(setting.machine, setting.layout)
    presses = np.array([c.presses for c in known])
    places = np.meshgrid(x, y)
    pressing = every[:, :, 0] * presses[:, None]
    return CarriageForces(
        known, places[0].ravel(), places[1].ravel(), pressing, every[:, :, 1], chain.balance
    )


def solve_chain(
    setting: Setting, x: Floats, y: Floats, under: Under | None = None, gantry: Gantry | None = None
) -> Chain:
    """All spring forces with the tool at every x (nx,) and y (ny,), m.

    Args:
        under: the base as the plan solved it; used where it still fits. gantry: condensed for the same setting before;
            used when it was so at every y.

    Errors: Mechanism when the base moves freely; NotTrustworthy when a body's forces do not balance.
    """
    try:
        return _chain(setting, x, y, under, None if gantry is None else gantry.at_places(y))
    except np.linalg.LinAlgError:
        raise NotTrustworthy("something that rides on carriages moves freely") from None


def _chain(setting: Setting, x: Floats, y: Floats, solved: Under | None, gantry: Gantry | None) -> Chain:
    head_frame, head_loads, z_forces = _head(setting)
    hung = _wrench_on_saddle(head_frame, head_loads)
    if gantry is None:
        under = (None if solved is None else solved.at(setting, y)) or solve_base(setting, y)
        gantry = condense_gantry(setting, y, under)
    riding = ride(setting, gantry, x)
    row = y_contacts(setting, setting.layout.gantry_y(float(y[0])))
    x_forces = _x_forces(setting, gantry, riding, hung)
    y_forces = _y_forces(riding, gantry, x_forces)
    wrong = max(
        _saddle_balance(riding, x_forces, hung),
        _gantry_balance(setting, gantry.frame, row, y_forces, x, hung),
    )
    if not wrong <= BALANCE:
        raise NotTrustworthy(f"the carriages' forces do not balance the loads (relative error {wrong:.1e})")
    return Chain(gantry, riding, row, x_forces, y_forces, z_forces, wrong)


def _without_drives(forces: Floats, row: list[Contact]) -> Floats:
    keep = [k for k, c in enumerate(row) if c.component == "y_guides"]
    return forces[:, :, keep]


def _head(setting: Setting) -> tuple[Frame, Floats, Floats]:
    """The head's frame with the saddle held, the loads on it (dofs, 7), and the Z springs' forces (s, 7)."""
    builder = FrameBuilder()
    tip = add_head(setting, builder, 0.0, 0.0)
    builder.hold("saddle")
    frame = builder.build()
    node, saddle = frame.node(tip), frame.node("saddle")
    loads = np.zeros((frame.dofs, COLUMNS))
    loads[6 * node : 6 * node + 3, FORCES] = np.eye(3)
    loads[:, WEIGHT] = self_weight(frame)
    loads[:, SPEEDING] = _inertia(frame)
    loads[6 * saddle : 6 * saddle + 6, SPEEDING.stop - 1] = 0.0  # the saddle does not move along Z
    moved = solve(frame, loads, columns=True).displacements
    wanted = [k for k, c in enumerate(frame.springs.component) if c in ("z_guides", "z_drive")]
    forces = frame.springs.stiffness[:, None] * spring_stretch(frame, moved, columns=True)
    return frame, loads, forces[wanted]


def _inertia(frame: Frame) -> Floats:
    """(dofs, 3): loads of inertia when all of the frame speeds up by 1 m/s2 along X, Y, Z."""
    return np.stack([self_weight(frame, -direction) for direction in np.eye(3)], axis=-1)


def _wrench_on_saddle(frame: Frame, loads: Floats) -> Floats:
    """(6, 7): all loads of saddle and head, moved to the saddle's node."""
    return _moved_to(frame, loads, frame.nodes[frame.node("saddle")])


def _moved_to(frame: Frame, loads: Floats, point: Floats) -> Floats:
    """(6, r): force and moment about `point` (3,) of nodal loads (dofs, r)."""
    each = loads.reshape(-1, 6, loads.shape[-1])
    arms = frame.nodes - point
    moment = each[:, 3:].sum(axis=0) + np.cross(arms[:, :, None], each[:, :3], axis=1).sum(axis=0)
    return np.concatenate([each[:, :3].sum(axis=0), moment])


def _stretch(row: list[Contact], centres: Floats) -> Floats:
    """(s, 6): stretch of each spring by a body's shift and turn at its centre (s, 3)."""
    d = np.array([c.direction for c in row])
    arm = np.array([c.point for c in row]) - centres
    return np.concatenate([d, np.cross(arm, d)], axis=-1)


def _own_loads(frame: Frame) -> Floats:
    """(dofs, 7): the gantry's own loads; of the axes only Y moves it."""
    own = np.zeros((frame.dofs, COLUMNS))
    own[:, WEIGHT] = self_weight(frame)
    own[:, SPEEDING.start + 1] = self_weight(frame, (0.0, -1.0, 0.0))
    return own


def _x_forces(setting: Setting, gantry: Gantry, riding: Riding, hung: Floats) -> Floats:
    """(ny, nx, s, 7): forces of the X springs. The beam gives way by its ends' and its own movement; the saddle balances."""
    frame, reach = gantry.frame, riding.reach
    ends = [6 * frame.node(f"{side} beam joint") + dof for side in ("left", "right") for dof in range(6)]
    soft = reach[None] @ gantry.flexibility[:, None] @ np.swapaxes(reach, -1, -2)[None] + riding.own
    sunk = np.zeros((*soft.shape[:-1], COLUMNS))
    moved = reach[None] @ gantry.moved[:, ends, WEIGHED:][:, None]
    sunk[..., WEIGHT] = moved[..., 0] + riding.sunk
    sunk[..., SPEEDING.start + 1] = moved[..., 1] + _held_inertia(setting, gantry, riding.x)
    saddle = np.broadcast_to(riding.saddle, (*soft.shape[:-2], *riding.saddle.shape))
    solved = np.linalg.solve(soft, np.concatenate([saddle, sunk], axis=-1))
    held, taken = solved[..., :6], solved[..., 6:]
    stiff = riding.saddle.T @ held
    saddle_moves = np.linalg.solve(stiff, hung + riding.saddle.T @ taken)
    return np.asarray(held @ saddle_moves - taken)


def _held_inertia(setting: Setting, gantry: Gantry, x: Floats) -> Floats:
    """(nx, s): stretch of the X springs by the beam's own bending between held ends when Y speeds up by 1 m/s2."""
    lay, frame = setting.layout, gantry.frame
    table = x_table(setting, x)
    at = np.clip(table.at, -lay.joint_x, lay.joint_x)
    s = at.shape[1]
    stations = Station(np.full(s, gantry.member), (at + lay.joint_x) / (2.0 * lay.joint_x))
    line = weight_per_length(frame, (0.0, -1.0, 0.0))
    bent = station_uniform(frame, stations, line).reshape(x.size, s, 6)
    centres = np.empty((x.size, s, 3))
    centres[..., 0], centres[..., 1:] = at, (lay.beam_y, lay.beam_z)
    return np.asarray((table.stretch(centres)[..., None, :] @ bent[..., None])[..., 0, 0])


def _y_forces(riding: Riding, gantry: Gantry, x_forces: Floats) -> Floats:
    """(ny, nx, s, 7): forces of the Y springs, with the X springs' forces on the beam."""
    under, stretched = gantry.under, gantry.upper @ gantry.moved
    on_ends = np.swapaxes(riding.reach, -1, -2)[None] @ x_forces
    total = stretched[:, None, :, :12] @ on_ends
    total[..., WEIGHT] += (stretched[:, :, WEIGHED] - under.sunk)[:, None]
    total[..., SPEEDING.start + 1] += stretched[:, None, :, SPED]
    return np.asarray(np.linalg.solve(under.soft[:, None], total))


def _unbalanced(total: Floats, amount: Floats) -> float:
    """Largest share of a sum (..., 6, r) that is left, of the sizes that were summed."""
    return float(np.max(np.divide(np.abs(total), amount, out=np.zeros_like(total), where=amount > 1e-9)))


def _saddle_balance(riding: Riding, forces: Floats, hung: Floats) -> float:
    left = riding.saddle.T @ forces - hung
    amount = np.abs(riding.saddle.T) @ np.abs(forces) + np.abs(hung)
    return _unbalanced(left, _coarse(amount))


def _coarse(amount: Floats) -> Floats:
    """Forces measured against the largest force of a load, moments against the largest moment."""
    out = np.empty_like(amount)
    out[..., :3, :] = amount[..., :3, :].max(axis=-2, keepdims=True)
    out[..., 3:, :] = amount[..., 3:, :].max(axis=-2, keepdims=True)
    return out


def _gantry_balance(
    setting: Setting,
    frame: Frame,
    row: list[Contact],
    forces: Floats,
    x: Floats,
    hung: Floats,
) -> float:
    """The Y springs must carry gantry, saddle and head together, about the gantry's datum: bodies that the solve treated one
    by one."""
    lay = setting.layout
    own = _moved_to(frame, _own_loads(frame), np.zeros(3))
    arm = np.stack([x, np.full_like(x, lay.saddle_y), np.full_like(x, lay.saddle_z)], axis=-1)
    hung_all = np.broadcast_to(hung, (x.size, 6, COLUMNS)).copy()
    hung_all[:, 3:] += np.cross(arm[:, :, None], hung_all[:, :3], axis=1)
    loads = own + hung_all
    centre = np.array([0.0, row[0].point[1] - row[0].rides, 0.0])
    rows = _stretch(row, np.broadcast_to(centre, (len(row), 3)))
    left = rows.T @ forces - loads[None]
    return _unbalanced(left, _coarse(np.abs(rows.T) @ np.abs(forces) + np.abs(loads)))
