"""Places along members: how they follow the nodes, and what the held member adds by itself.

The flexibility among any places on a frame is Phi K^-1 Phi^T + Ci, with Phi from station_matrix and Ci from
station_interior: a whole map of places costs one solution of the frame.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.errors import BadEntry
from core.frame import checks
from core.frame.assemble import (
    member_axes,
    member_dofs,
    member_lengths,
    torque_about_shear_centre,
    transform,
)
from core.frame.batch import combine
from core.frame.checks import Floats, Ints
from core.frame.element import back_lever, powers, shape_polynomials, shear_ratio
from core.frame.frame import Frame
from core.frame.interior import TERM_PLACES, TERM_SIGNS, interior_deflection_uniform, interior_terms


@dataclass(frozen=True, eq=False)
class Station:
    """Places on members' axes.

    Args:
        member: (k,) member numbers.
        xi: (..., k) share of the member's length from its start, 0 to 1; its batch axes broadcast with the
            frame's.

    Errors: BadEntry for a wrong shape or an xi outside 0 to 1.
    """

    member: Ints
    xi: Floats

    def __post_init__(self) -> None:
        count = np.asarray(self.member).size
        member = checks.whole_numbers("station.member", self.member, count, 0)
        xi = checks.numbers("station.xi", self.xi, (count,))
        names = tuple(f"station {number}" for number in range(count))
        checks.require("xi", xi, (xi >= 0.0) & (xi <= 1.0), names, "is off the member", "0 to 1")
        object.__setattr__(self, "member", member)
        object.__setattr__(self, "xi", xi)


def _shear_ratios(frame: Frame) -> tuple[Floats, Floats, Floats]:
    m, length = frame.members, member_lengths(frame)
    phi_y = shear_ratio(m.young, m.iyy, m.shear, m.avz, length)
    phi_z = shear_ratio(m.young, m.izz, m.shear, m.avy, length)
    return length, phi_y, phi_z


def global_axes(frame: Frame, members: Ints) -> Floats:
    """The axis point's movement in global axes from what the member feels there in local axes, (..., k, 6, 6)."""
    axes = member_axes(frame)[..., members, :, :]
    out = np.zeros((*axes.shape[:-2], 6, 6))
    out[..., :3, :3] = out[..., 3:, 3:] = np.swapaxes(axes, -1, -2)
    m = frame.members
    if m.off_axis:
        out = out @ back_lever(m.centroid[..., members, :], m.shear_centre[..., members, :])
    return out


def station_basis(frame: Frame, members: Ints) -> Floats:
    """Coefficients (..., k, 4, 6, 12) of 1, xi, xi^2, xi^3 of what `station_blocks` gives for places on members (k,)."""
    basis = shape_polynomials(*(value[..., members] for value in _shear_ratios(frame)))
    return np.asarray(
        global_axes(frame, members)[..., None, :, :] @ basis @ transform(frame)[..., members, None, :, :]
    )


def station_blocks(frame: Frame, stations: Station) -> Floats:
    """Movement (..., k, 6, 12) of each station, global axes, from the movements of its own member's two
    nodes.

    The columns belong to the degrees of freedom station_dofs(frame, stations).
    """
    basis = station_basis(frame, _members_of(frame, stations))
    flat = combine(powers(stations.xi), basis.reshape(*basis.shape[:-2], 72))
    return flat.reshape(*flat.shape[:-1], 6, 12)


def station_dofs(frame: Frame, stations: Station) -> Ints:
    """Degrees of freedom (k, 12) that each station follows."""
    return member_dofs(frame)[_members_of(frame, stations)]


def station_matrix(frame: Frame, stations: Station, dofs: Ints | None = None) -> Floats:
    """Displacement and rotation of the stations (6 each, global axes) from those of the nodes, (..., 6k, 6n).

    With `dofs`, only these columns, (..., 6k, len(dofs)): they must hold all that the stations follow. With
    few of them a map of thousands of places stays small.

    Errors: BadEntry if `dofs` lacks one.
    """
    blocks = station_blocks(frame, stations)
    wanted = np.arange(frame.dofs) if dofs is None else np.asarray(dofs, dtype=np.int64)
    place = np.full(frame.dofs, -1)
    place[wanted] = np.arange(wanted.size)
    columns = place[station_dofs(frame, stations)]
    if np.any(columns < 0):
        raise BadEntry(
            "dofs", str(wanted.tolist())[:60], "leaves out what the stations follow", "all of station_dofs"
        )
    count = stations.member.size
    out = np.zeros((*blocks.shape[:-3], count, 6, wanted.size))
    for number in range(count):
        out[..., number, :, columns[number]] = np.moveaxis(blocks[..., number, :, :], -1, 0)
    return out.reshape(*out.shape[:-3], 6 * count, wanted.size)


def station_interior(frame: Frame, stations: Station) -> Floats:
    """Flexibility (..., 6k, 6k) among stations with all nodes held, global axes; zero between members."""
    where = _members_of(frame, stations)
    count = where.size
    first, second = np.nonzero(where[:, None] == where[None, :])
    flat = station_pairs(frame, where[first], stations.xi[..., first], stations.xi[..., second])
    out = np.zeros((*flat.shape[:-3], count, 6, count, 6))
    for pair, (a, b) in enumerate(zip(first, second, strict=True)):
        out[..., a, :, b, :] = flat[..., pair, :, :]
    return out.reshape(*out.shape[:-4], 6 * count, 6 * count)


def station_pairs(frame: Frame, members: Ints, xi: Floats, eta: Floats) -> Floats:
    """Flexibility (..., p, 6, 6) at share `xi` from loads at share `eta` (..., p) of one member each (p,), all nodes
    held; global axes. For pairs that `station_interior` would bury in a large matrix of zeros."""
    terms = station_terms(frame, members, xi, eta)
    turn = global_axes(frame, members)
    rows, columns = np.array(TERM_PLACES).T
    # Each term stands at one local place, so in global axes it multiplies one outer product.
    left = np.swapaxes(turn[..., rows], -1, -2) * np.array(TERM_SIGNS)[:, None]
    right = np.swapaxes(turn[..., columns], -1, -2)
    basis = left[..., :, None] * right[..., None, :]
    flat = combine(terms, basis.reshape(*basis.shape[:-2], 36))
    return flat.reshape(*flat.shape[:-1], 6, 6)


def station_terms(frame: Frame, members: Ints, xi: Floats, eta: Floats) -> Floats:
    """The ten numbers (..., p, 10) that `station_pairs` is made of, in the members' own axes (`interior.TERM_PLACES`)."""
    m = frame.members
    properties = (m.young, m.shear, m.area, m.iyy, m.izz, m.it, m.avy, m.avz)
    values = [member_lengths(frame)[..., members], *(value[..., members] for value in properties)]
    return interior_terms(xi, eta, *values)


def station_uniform(frame: Frame, stations: Station, line_load: Floats) -> Floats:
    """Movement (..., 6k) of the stations under uniform line loads (..., m, 3), N/m, global axes, along the centroids, while
    all nodes are held.

    For the sag under self-weight: line_load = assemble.weight_per_length(frame), nodes loaded by
    assemble.self_weight.
    """
    where = _members_of(frame, stations)
    m = frame.members
    every = (member_axes(frame) @ line_load[..., None])[..., 0]
    local, torque = every[..., where, :], torque_about_shear_centre(frame, every)[..., where]
    properties = (m.young, m.shear, m.area, m.iyy, m.izz, m.avy, m.avz)
    values = [member_lengths(frame)[..., where], *(value[..., where] for value in properties)]
    moved = interior_deflection_uniform(stations.xi, local, *values, J=m.it[..., where], torque=torque)
    turned = (global_axes(frame, where) @ moved[..., None])[..., 0]
    return turned.reshape(*turned.shape[:-2], 6 * where.size)


def _members_of(frame: Frame, stations: Station) -> Ints:
    count = len(frame.members.names)
    return checks.whole_numbers("station.member", stations.member, stations.member.size, 0, count)
