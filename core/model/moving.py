"""Saddle and head anywhere along the beam: the tip's compliance and its path under weight, as array expressions.

The flexibility under the X carriages at x is Phi(x) Ce Phi(x)^T + Ci(x); carriages and drive come in series at their true
places, saddle and head once more in series.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.frame import Frame, FrameBuilder, Station, solve, station_interior, station_uniform
from core.frame.assemble import self_weight, weight_per_length
from core.frame.batch import cross, rigid_arm
from core.frame.station import station_blocks
from core.model.condensed import Gantry
from core.model.contact import tabulate, x_contacts, x_table
from core.model.head import add_head
from core.model.setting import Setting

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Head:
    """What rides the beam, seen from the saddle held still; with leading axes (...) for a batch of designs.

    Attributes:
        tip: (6, 6) flexibility at the tip. arm: (6, 6) rigid motion of the tip from the saddle's.
        sag: (6,) movement of the tip by the head's own weight. weight: (6,) load on the saddle node.
    """

    tip: Floats
    arm: Floats
    sag: Floats
    weight: Floats


@dataclass(frozen=True, slots=True)
class Riding:
    """The X contacts at nx places along the beam, all with s springs.

    Attributes:
        x: (nx,). own: (nx, s, s) flexibility of the springs and of the beam held at its ends. reach: (nx, s, 12) stretch by
        the motion of the beam's ends. saddle: (s, 6) stretch by the saddle's motion. sunk: (nx, s) stretch by the beam's
        own sag between held ends.
    """

    x: Floats
    own: Floats
    reach: Floats
    saddle: Floats
    sunk: Floats


def ride(setting: Setting, gantry: Gantry, x: Floats) -> Riding:
    """Carriages and drive with the tool at every x (nx,)."""
    lay, frame = setting.layout, gantry.frame
    table = x_table(setting, x)
    nx, s = table.at.shape
    # Contacts at one place along the beam share a station, so that the batch stays small.
    _, heads, shared = np.unique(table.at, axis=1, return_index=True, return_inverse=True)
    at = np.clip(table.at[:, heads], -lay.joint_x, lay.joint_x)
    u = len(heads)
    stations = Station(np.full(u, gantry.member), (at + lay.joint_x) / (2.0 * lay.joint_x))
    blocks = station_blocks(frame, stations)
    centres = np.empty((nx, s, 3))
    centres[..., 0], centres[..., 1:] = at[:, shared], (lay.beam_y, lay.beam_z)
    lower = np.zeros((nx, s, u, 6))
    lower[:, np.arange(s), shared] = table.stretch(centres)
    flat = lower.reshape(nx, s, 6 * u)
    own = flat @ station_interior(frame, stations) @ np.swapaxes(flat, -1, -2)
    own[:, np.arange(s), np.arange(s)] += 1.0 / table.stiffness
    reach = flat @ blocks.reshape(*blocks.shape[:-3], 6 * u, 12)
    held = station_uniform(frame, stations, weight_per_length(frame))
    at_saddle = np.array([float(x[0]), lay.saddle_y, lay.saddle_z])
    saddle = tabulate([x_contacts(setting, float(x[0]), 0.0)]).stretch(at_saddle)[0]
    return Riding(x, own, reach, saddle, np.einsum("xsk,xk->xs", flat, np.broadcast_to(held, (nx, 6 * u))))


def grip(gantry: Gantry, riding: Riding) -> tuple[Floats, Floats]:
    """Springs' flexibility (ny, nx, s, s) with all below them, and its solve against the saddle's motion (ny, nx, s, 6)."""
    reach = riding.reach
    below = reach[None] @ gantry.flexibility[:, None] @ np.swapaxes(reach, -1, -2)[None]
    soft: Floats = below + riding.own
    held = np.linalg.solve(soft, np.broadcast_to(riding.saddle, (*soft.shape[:-2], *riding.saddle.shape)))
    return soft, np.asarray(held, dtype=np.float64)


def tip_compliance(gantry: Gantry, riding: Riding, head: Head) -> Floats:
    """(ny, nx, 3, 3) compliance of the tool tip, m/N."""
    _, held = grip(gantry, riding)
    stiff = riding.saddle.T @ held
    arm = head.arm[:3]
    through = np.linalg.solve(stiff, np.broadcast_to(arm.T, (*stiff.shape[:-2], 6, 3)))
    found = arm @ through + head.tip[:3, :3]
    return np.asarray(0.5 * (found + np.swapaxes(found, -1, -2)))


def tip_path(gantry: Gantry, riding: Riding, head: Head) -> Floats:
    """(ny, nx, 6) movement of the tool tip under all weights: shift m, turn rad."""
    _, held = grip(gantry, riding)
    stiff = riding.saddle.T @ held
    sunk = np.einsum("xsd,yd->yxs", riding.reach, gantry.weight) + riding.sunk
    load = head.weight + np.einsum("yxsd,yxs->yxd", held, sunk)
    saddle = np.linalg.solve(stiff, load[..., None])[..., 0]
    return np.asarray(saddle @ head.arm.T + head.sag)


def beam_line(setting: Setting, gantry: Gantry, x: Floats) -> Floats:
    """(ny, nx) height of the beam's middle line under base's and gantry's own weight, m."""
    lay, frame = setting.layout, gantry.frame
    xi = (np.clip(x, -lay.joint_x, lay.joint_x) + lay.joint_x) / (2.0 * lay.joint_x)
    stations = Station(np.array([gantry.member]), xi[:, None])
    down = station_blocks(frame, stations)[:, 0, 2, :]
    return np.asarray(
        gantry.weight @ down.T + station_uniform(frame, stations, weight_per_length(frame))[..., 2]
    )


def condense_head(setting: Setting) -> Head:
    """Solve saddle and head once, the saddle held still."""
    frame, node = head_frame(setting)
    loads = head_loads(frame, node)
    return head_of(frame, node, loads, solve(frame, loads, columns=True).displacements)


def head_frame(setting: Setting) -> tuple[Frame, int]:
    """Saddle and head on a saddle that is held, and the number of the tip's node."""
    builder = FrameBuilder()
    tip = add_head(setting, builder, 0.0, 0.0)
    builder.hold("saddle")
    frame = builder.build()
    return frame, frame.node(tip)


def head_loads(frame: Frame, node: int) -> Floats:
    """(..., dofs, 7): unit forces and moments on the tip's node, then the head's own weight."""
    weight = self_weight(frame)
    loads = np.zeros((*weight.shape, 7))
    loads[..., 6 * node : 6 * node + 6, :6] = np.eye(6)
    loads[..., 6] = weight
    return loads


def head_of(frame: Frame, node: int, loads: Floats, moved: Floats) -> Head:
    """The condensed head, from its frame under `head_loads` and the movements (..., dofs, 7) by them."""
    saddle, answer = frame.node("saddle"), moved[..., 6 * node : 6 * node + 6, :]
    arms = frame.nodes - frame.nodes[..., saddle : saddle + 1, :]
    each = loads[..., 6].reshape(*loads.shape[:-2], -1, 6)
    turns = each[..., 3:] + cross(arms, each[..., :3])
    total = np.concatenate([each[..., :3].sum(axis=-2), turns.sum(axis=-2)], axis=-1)
    tip = 0.5 * (answer[..., :6] + np.swapaxes(answer[..., :6], -1, -2))
    return Head(tip, rigid_arm(arms[..., node, :]), answer[..., 6], total)
