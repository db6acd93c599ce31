"""Base and gantry condensed to the two ends of the beam, at any number of places along Y, exactly.

The base is solved once; its flexibility under the Y carriages follows from exact shape functions, so the gantry at ny places
is a few array expressions. `moving` takes it from there; `whole` gives the same figures place by place.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.frame import Frame, FrameBuilder, Station, solve, station_interior, station_matrix, station_uniform
from core.frame.assemble import self_weight, stiffness, weight_per_length
from core.frame.station import station_dofs
from core.model.base import add_base, side_beam_places
from core.model.contact import Contact, y_contacts
from core.model.gantry import add_gantry, beam_nodes, foot_places
from core.model.setting import Setting

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Gantry:
    """The gantry on its base at ny places along Y, condensed to the two ends of its beam between the joints.

    Attributes:
        frame: the gantry's frame with its datum at y = 0.
        y: (ny,) tool places.
        flexibility: (ny, 12, 12) of the beam's ends at the joints, m/N and rad/(N m).
        weight: (ny, 12) movement of those ends under the weight of base and gantry (without saddle and head).
        member: number of the beam's member between the joints.
    """

    frame: Frame
    y: Floats
    flexibility: Floats
    weight: Floats
    member: int

    def at(self, index: int) -> Gantry:
        """The gantry at one of its places alone."""
        k = [index]
        return Gantry(self.frame, self.y[k], self.flexibility[k], self.weight[k], self.member)


@dataclass(frozen=True, slots=True)
class Under:
    """What the gantry stands on at ny places; designs that differ only above the Y carriages share one.

    Attributes:
        soft: (ny, s, s) flexibility of the Y contact springs with the base below them. sunk: (ny, s) how far each sinks
            under the base's own weight. stands_on: all that these figures rest on.
    """

    soft: Floats
    sunk: Floats
    stands_on: tuple[object, ...]


def solve_base(setting: Setting, y: Floats) -> Under:
    """Solve the base for the tool at every y (ny,). Raises Mechanism when it moves freely."""
    lay = setting.layout
    soft, sunk = _under(setting, [y_contacts(setting, lay.gantry_y(float(v))) for v in y])
    return Under(soft, sunk, _stands_on(setting, y))


def _stands_on(setting: Setting, y: Floats) -> tuple[object, ...]:
    machine, lay = setting.machine, setting.layout
    places = (lay.side_x, lay.side_z, lay.upright_spacing, lay.upright_y, lay.foot_z, lay.side_beam_length)
    parts = (machine.base, machine.y_guides, machine.y_drive, machine.rigid, setting.side)
    return (*parts, *places, lay.y_carriage, tuple(y.tolist()))


def gradients(contacts: list[Contact], places: Floats) -> Floats:
    """(s, 6): stretch of each spring by its body's motion at `places` (s, 3)."""
    d = np.array([c.direction for c in contacts])
    points = np.array([c.point for c in contacts])
    return np.concatenate([d, np.cross(points - places, d)], axis=1)


def condense_gantry(setting: Setting, y: Floats, under: Under | None = None) -> Gantry:
    """Solve base and gantry for the tool at every y (ny,). Raises Mechanism when the base moves freely.

    Args:
        under: the base as solved for an earlier design (`solve_base`); one that does not fit is not used.
    """
    lay = setting.layout
    builder = FrameBuilder()
    add_gantry(setting, builder, 0.0, [])
    frame = builder.build()
    datum = [lay.gantry_y(float(v)) for v in y]
    lists = [y_contacts(setting, v) for v in datum]
    if under is None or under.stands_on != _stands_on(setting, y):
        under = solve_base(setting, y)
    soft, sunk = under.soft, under.sunk
    upper = _upper_matrix(setting, frame, lists[0], datum[0])
    grip = np.linalg.solve(soft, np.broadcast_to(upper, (len(lists), *upper.shape)))
    k = stiffness(frame) + upper.T @ grip
    loads = self_weight(frame) + np.einsum("ysd,ys->yd", grip, sunk)
    names = ("left beam joint", "right beam joint")
    ends = np.array([6 * frame.node(name) + dof for name in names for dof in range(6)])
    right = np.zeros((len(lists), frame.dofs, 13))
    right[:, ends, np.arange(12)] = 1.0
    right[:, :, 12] = loads
    scale = 1.0 / np.sqrt(np.diagonal(k, axis1=-2, axis2=-1))
    scaled = k * scale[:, :, None] * scale[:, None, :]
    answer = scale[:, :, None] * np.linalg.solve(scaled, right * scale[:, :, None])
    ce = answer[:, ends, :12]
    _, nearest = beam_nodes(setting, [])
    member = frame.member(f"beam piece {nearest[-lay.joint_x]}")
    return Gantry(frame, y, 0.5 * (ce + np.swapaxes(ce, -1, -2)), answer[:, ends, 12], member)


def _under(setting: Setting, lists: list[list[Contact]]) -> tuple[Floats, Floats]:
    """Flexibility (ny, s, s) of the Y contact springs with the base below them, and how far each point sinks (ny, s)
    under the base's own weight, along its spring."""
    builder = FrameBuilder()
    add_base(setting, builder, [])
    base = builder.build()
    weight = self_weight(base)
    moved = solve(
        base, np.concatenate([np.eye(base.dofs), weight[:, None]], axis=1), columns=True
    ).displacements
    members, xi = _pieces(setting, lists)
    ny, s = xi.shape
    lower = np.stack([_lower_gradients(setting, row) for row in lists])
    soft, sunk = np.zeros((ny, s, s)), np.zeros((ny, s))
    line = weight_per_length(base)
    for pieces in np.unique(members, axis=0):
        rows = np.flatnonzero((members == pieces).all(axis=1))
        stations = Station(pieces, xi[rows])
        dofs = np.unique(station_dofs(base, stations))
        phi = station_matrix(base, stations, dofs).reshape(rows.size, s, 6, dofs.size)
        reach = np.einsum("ysk,yskd->ysd", lower[rows], phi)
        inner = station_interior(base, stations).reshape(rows.size, s, 6, s, 6)
        soft[rows] = reach @ moved[np.ix_(dofs, dofs)] @ np.swapaxes(reach, -1, -2)
        soft[rows] += np.einsum("ysk,yskrl,yrl->ysr", lower[rows], inner, lower[rows])
        held = station_uniform(base, stations, line).reshape(rows.size, s, 6)
        sunk[rows] = reach @ moved[dofs, -1] + np.einsum("ysk,ysk->ys", lower[rows], held)
    soft[:, np.arange(s), np.arange(s)] += 1.0 / np.array([[c.stiffness for c in row] for row in lists])
    return soft, sunk


def _pieces(setting: Setting, lists: list[list[Contact]]) -> tuple[npt.NDArray[np.intp], Floats]:
    """Which piece of the side beams each contact stands on (ny, s), and where along it (ny, s)."""
    places, _ = side_beam_places(setting, [])
    grid = np.array(places)
    pieces = grid.size - 1
    at = np.clip(np.array([[c.at for c in row] for row in lists]), grid[0], grid[-1])
    index = np.clip(np.searchsorted(grid, at, side="right") - 1, 0, pieces - 1)
    xi = np.clip((at - grid[index]) / (grid[index + 1] - grid[index]), 0.0, 1.0)
    side = np.array([0 if c.side == "left" else pieces for c in lists[0]])
    return side + index, xi


def _lower_gradients(setting: Setting, row: list[Contact]) -> Floats:
    lay = setting.layout
    half = lay.side_beam_length / 2.0
    signs = [-1.0 if c.side == "left" else 1.0 for c in row]
    ats = [min(max(c.at, lay.side_y - half), lay.side_y + half) for c in row]
    return gradients(
        row, np.array([[s * lay.side_x, at, lay.side_z] for s, at in zip(signs, ats, strict=True)])
    )


def _upper_matrix(setting: Setting, frame: Frame, row: list[Contact], datum: float) -> Floats:
    _, nearest = foot_places(setting)
    nodes = [frame.node(f"{c.side} foot plate {nearest[c.rides]}") for c in row]
    rows = gradients(row, frame.nodes[nodes] + np.array([0.0, datum, 0.0]))
    matrix = np.zeros((len(row), frame.dofs))
    for s, node in enumerate(nodes):
        matrix[s, 6 * node : 6 * node + 6] = rows[s]
    return matrix
