"""Base and gantry condensed to the two ends of the beam, at any number of places along Y, exactly.

The base is solved once; its flexibility under the Y carriages follows from exact shape functions, so the gantry at ny places
is a few array expressions. `moving` takes it from there; `whole` gives the same figures place by place.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from core.frame import Frame, FrameBuilder, Station, solve, station_uniform
from core.frame.assemble import self_weight, stiffness, weight_per_length
from core.frame.station import station_blocks, station_dofs, station_pairs
from core.model.base import add_base, side_beam_places
from core.model.contact import Contact, ContactTable, tabulate, y_contacts, y_table
from core.model.gantry import add_gantry, beam_nodes, foot_places
from core.model.setting import Setting

Floats = npt.NDArray[np.float64]
WEIGHED, SPED = 12, 13
"""The columns of `Gantry.moved` that belong to the weights and to speeding up along Y."""


@dataclass(frozen=True, slots=True)
class Gantry:
    """The gantry on its base at ny places along Y, condensed to the two ends of its beam between the joints.

    Attributes:
        frame: the gantry's frame with its datum at y = 0.
        y: (ny,) tool places.
        flexibility: (ny, 12, 12) of the beam's ends at the joints, m/N and rad/(N m).
        weight: (ny, 12) movement of those ends under the weight of base and gantry (without saddle and head).
        member: number of the beam's member between the joints. under: the base that it stands on.
        moved: (ny, 6n, 14) all nodes' movements, m and rad, by unit loads on those ends, by the weights, and by the gantry's
            inertia when it speeds up by 1 m/s2 along Y. upper: (s, 6n) stretch of the Y springs by the nodes.
    """

    frame: Frame
    y: Floats
    flexibility: Floats
    weight: Floats
    member: int
    under: Under
    moved: Floats
    upper: Floats

    def at(self, index: int) -> Gantry:
        """The gantry at one of its places alone."""
        return self._rows([index])

    def at_places(self, y: Floats) -> Gantry | None:
        """The gantry at some of its places y, or None when it was not solved at each of them."""
        known = self.y.tolist()
        if not set(y.tolist()) <= set(known):
            return None
        return self._rows([known.index(v) for v in y.tolist()])

    def _rows(self, k: list[int]) -> Gantry:
        return replace(
            self, y=self.y[k], flexibility=self.flexibility[k], weight=self.weight[k], moved=self.moved[k],
            under=self.under.rows(k),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Base:
    """The base by itself, solved.

    Attributes:
        frame: it. moved: (6n, 6n) its flexibility. weight: (6n,) movement under its own weight.
    """

    frame: Frame
    moved: Floats
    weight: Floats


@dataclass(frozen=True, slots=True)
class Under:
    """What the gantry stands on at ny places; designs that differ only above the Y carriages share one.

    Attributes:
        soft: (ny, s, s) flexibility of the Y contact springs with the base below them. sunk: (ny, s) how far each sinks
            under the base's own weight. stands_on: all that these figures rest on. base: the base itself.
        reach: (ny, s, 6n) movement of each spring's lower end, along the spring, by the base's nodes.
    """

    soft: Floats
    sunk: Floats
    reach: Floats
    stands_on: tuple[object, ...]
    base: Base

    def at(self, setting: Setting, y: Floats) -> Under | None:
        """The same base at some of its places y, or None when it is another base or was not solved there."""
        rest, known = self.stands_on[:-1], self.stands_on[-1]
        wanted = _stands_on(setting, y)
        assert isinstance(known, tuple)
        if rest != wanted[:-1] or not set(y.tolist()) <= set(known):
            return None
        return self.rows([known.index(v) for v in y.tolist()])

    def rows(self, k: list[int]) -> Under:
        """The same base at some of its places, by their numbers."""
        known = self.stands_on[-1]
        assert isinstance(known, tuple)
        places = tuple(known[index] for index in k)
        soft, sunk, reach = self.soft[k], self.sunk[k], self.reach[k]
        return Under(soft, sunk, reach, (*self.stands_on[:-1], places), self.base)


def solve_base(setting: Setting, y: Floats) -> Under:
    """Solve the base for the tool at every y (ny,). Raises Mechanism when it moves freely."""
    lay = setting.layout
    base = base_alone(setting)
    soft, sunk, reach = _under(setting, base, np.array([lay.gantry_y(float(v)) for v in y]))
    return Under(soft, sunk, reach, _stands_on(setting, y), base)


def base_alone(setting: Setting) -> Base:
    """Solve the base under unit loads everywhere. Raises Mechanism when it moves freely."""
    builder = FrameBuilder()
    add_base(setting, builder, [])
    frame = builder.build()
    loads = np.concatenate([np.eye(frame.dofs), self_weight(frame)[:, None]], axis=1)
    moved = solve(frame, loads, columns=True).displacements
    return Base(frame, moved[:, :-1], moved[:, -1])


def _stands_on(setting: Setting, y: Floats) -> tuple[object, ...]:
    machine, lay = setting.machine, setting.layout
    places = (lay.side_x, lay.side_z, lay.upright_spacing, lay.upright_y, lay.foot_z, lay.side_beam_length)
    parts = (machine.base, machine.y_guides, machine.y_drive, machine.rigid, setting.side, _bars(setting))
    return (*parts, *places, lay.y_carriage, tuple(y.tolist()))


def _bars(setting: Setting) -> tuple[object, ...]:
    """The base's sections as they count: a data sheet's figure changes them without changing the description of the base."""
    found = setting.layout.sections
    return (found.side_beam, found.leg, found.cross, found.diagonal)


def condense_gantry(setting: Setting, y: Floats, under: Under | None = None) -> Gantry:
    """Solve base and gantry for the tool at every y (ny,). Raises Mechanism when the base moves freely.

    Args:
        under: the base as solved for an earlier design (`solve_base`); one that does not fit is not used.
    """
    lay = setting.layout
    builder = FrameBuilder()
    add_gantry(setting, builder, 0.0, [])
    frame = builder.build()
    datum = lay.gantry_y(float(y[0]))
    if under is None or under.stands_on != _stands_on(setting, y):
        under = solve_base(setting, y)
    soft, sunk = under.soft, under.sunk
    upper = foot_rows(setting, frame, y_contacts(setting, datum), datum)
    grip = np.linalg.solve(soft, np.broadcast_to(upper, (y.size, *upper.shape)))
    k = stiffness(frame) + upper.T @ grip
    loads = self_weight(frame) + (sunk[:, None] @ grip)[:, 0]
    names = ("left beam joint", "right beam joint")
    ends = np.array([6 * frame.node(name) + dof for name in names for dof in range(6)])
    right = np.zeros((y.size, frame.dofs, 14))
    right[:, ends, np.arange(12)] = 1.0
    right[:, :, WEIGHED] = loads
    right[:, :, SPED] = self_weight(frame, (0.0, -1.0, 0.0))
    scale = 1.0 / np.sqrt(np.diagonal(k, axis1=-2, axis2=-1))
    scaled = k * scale[:, :, None] * scale[:, None, :]
    answer = scale[:, :, None] * np.linalg.solve(scaled, right * scale[:, :, None])
    ce = answer[:, ends, :12]
    _, nearest = beam_nodes(setting, [])
    member = frame.member(f"beam piece {nearest[-lay.joint_x]}")
    return Gantry(
        frame, y, 0.5 * (ce + np.swapaxes(ce, -1, -2)), answer[:, ends, WEIGHED], member, under, answer, upper
    )


def _under(setting: Setting, solved: Base, datum: Floats) -> tuple[Floats, Floats, Floats]:
    """Flexibility (ny, s, s) of the Y contact springs with the base below them, how far each point sinks (ny, s) under the
    base's own weight, along its spring, and how it follows the nodes (ny, s, 6n); the gantry's datum at every place (ny,)."""
    base, moved = solved.frame, solved.moved
    first, table = y_contacts(setting, float(datum[0])), y_table(setting, datum)
    members, xi = pieces_under(setting, first, table)
    ny, s = xi.shape
    lower = table.stretch(on_side_beams(setting, first, table))
    stations = Station(members.ravel(), xi.ravel())
    blocks = station_blocks(base, stations).reshape(ny, s, 6, 12)
    reach = np.zeros((ny, s, base.dofs))
    dofs = station_dofs(base, stations).reshape(ny, s, 12)
    np.put_along_axis(reach, dofs, (lower[..., None, :] @ blocks)[..., 0, :], axis=-1)
    soft = reach @ moved @ np.swapaxes(reach, -1, -2)
    row, one, other = np.nonzero(members[:, :, None] == members[:, None, :])
    pairs = station_pairs(base, members[row, one], xi[row, one], xi[row, other])
    ends = lower[row, one][:, None, :], lower[row, other][..., None]
    soft[row, one, other] += (ends[0] @ pairs @ ends[1])[:, 0, 0]
    soft[:, np.arange(s), np.arange(s)] += 1.0 / table.stiffness
    held = station_uniform(base, stations, weight_per_length(base)).reshape(ny, s, 6)
    return soft, reach @ solved.weight + np.einsum("ysk,ysk->ys", lower, held), reach


def pieces_under(
    setting: Setting, row: list[Contact], table: ContactTable
) -> tuple[npt.NDArray[np.intp], Floats]:
    """Which piece of the side beams each contact stands on (ny, s), and where along it (ny, s)."""
    places, _ = side_beam_places(setting, [])
    grid = np.array(places)
    pieces = grid.size - 1
    at = np.clip(table.at, grid[0], grid[-1])
    index = np.clip(np.searchsorted(grid, at, side="right") - 1, 0, pieces - 1)
    xi = np.clip((at - grid[index]) / (grid[index + 1] - grid[index]), 0.0, 1.0)
    side = np.array([0 if c.side == "left" else pieces for c in row])
    return side + index, xi


def on_side_beams(setting: Setting, row: list[Contact], table: ContactTable) -> Floats:
    """(ny, s, 3): where on the side beams' axes each contact takes hold."""
    lay = setting.layout
    half = lay.side_beam_length / 2.0
    out = np.empty(table.points.shape)
    out[..., 0] = [-lay.side_x if c.side == "left" else lay.side_x for c in row]
    out[..., 1] = np.clip(table.at, lay.side_y - half, lay.side_y + half)
    out[..., 2] = lay.side_z
    return out


def foot_rows(setting: Setting, frame: Frame, row: list[Contact], datum: float) -> Floats:
    """(s, dofs): stretch of each Y contact by the movements of the foot plates' frame, whose datum lies at y = 0."""
    _, nearest = foot_places(setting)
    nodes = [frame.node(f"{c.side} foot plate {nearest[c.rides]}") for c in row]
    rows = tabulate([row]).stretch(frame.nodes[nodes] + np.array([0.0, datum, 0.0]))[0]
    matrix = np.zeros((len(row), frame.dofs))
    for s, node in enumerate(nodes):
        matrix[s, 6 * node : 6 * node + 6] = rows[s]
    return matrix
