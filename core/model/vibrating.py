"""The machine in three parts that vibrate: base, gantry, and saddle with head; and what joins them at any tool place.

The parts' stiffness and mass never change with the tool's place, only the points where carriages and drives take hold.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.frame import Frame, FrameBuilder, Station
from core.frame.assemble import member_lengths
from core.frame.mass import Lumps
from core.frame.station import station_blocks, station_dofs, station_pairs
from core.frame.subdivide import subdivide
from core.model.base import add_base
from core.model.contact import ContactTable, tabulate, x_contacts, x_table, y_contacts, y_table
from core.model.gantry import add_gantry, foot_places
from core.model.head import add_head
from core.model.masses import with_lumps
from core.model.setting import Setting

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

FINE = 150.0
"""Hz up to which a member's own bending waves are to be followed; a piece is WAVE of such a wave's radian length."""
WAVE = 1.3
MOST = 12


@dataclass(frozen=True, slots=True)
class VibratingParts:
    """Frames of base, gantry (datum at y = 0) and head (tool at x = 0, datum at y = 0), members cut into pieces.

    Attributes:
        lumps: of the head. tip: number of the tip's node in the head's frame.
    """

    base: Frame
    gantry: Frame
    head: Frame
    lumps: Lumps
    tip: int


@dataclass(frozen=True, slots=True)
class Grips:
    """Carriages and drives at p tool places as springs between the parts, s of them at each.

    Attributes:
        base (p, s, nb), gantry (p, s, ng), head (s, nh): stretch of each spring by the part's nodes, m/m and m/rad.
        stiffness: (p, s) N/m. inner: (p, s, s) flexibility of the members between nodes and springs, m/N.
        names, components: (s,).
    """

    base: Floats
    gantry: Floats
    head: Floats
    stiffness: Floats
    inner: Floats
    names: tuple[str, ...]
    components: tuple[str, ...]


def pieces_for(frame: Frame, highest: float = FINE) -> Ints:
    """(m,) into how many pieces each member is cut so that waves of `highest` Hz are followed."""
    m = frame.members
    soft = np.minimum(m.iyy, m.izz) * m.young
    wave = (soft / np.maximum(m.linear_weight, 1e-12)) ** 0.25 / np.sqrt(2.0 * np.pi * highest)
    count = np.where(m.linear_weight > 0.0, np.ceil(member_lengths(frame) / (WAVE * wave)), 1.0)
    return np.clip(count, 1, MOST).astype(np.int64)


def vibrating_parts(setting: Setting, highest: float = FINE) -> VibratingParts:
    """Build the three parts."""
    base, gantry, head = FrameBuilder(), FrameBuilder(), FrameBuilder()
    add_base(setting, base, [])
    add_gantry(setting, gantry, 0.0, [])
    tip = add_head(setting, head, 0.0, 0.0)
    riding, lumps = with_lumps(setting, head.build())
    frames = base.build(), gantry.build()
    # The gantry is small, and the waves of its beam are what the tool feels most: it is followed further up.
    cut = [
        subdivide(frame, pieces_for(frame, up * highest))
        for frame, up in zip(frames, (1.0, 2.0), strict=True)
    ]
    return VibratingParts(cut[0], cut[1], riding, lumps, riding.node(tip))


def grips(setting: Setting, parts: VibratingParts, x: Floats, y: Floats) -> Grips:
    """What joins the parts with the tool at each of p places x (p,), y (p,)."""
    lay = setting.layout
    datum = [lay.gantry_y(float(v)) for v in y]
    across, along = x_contacts(setting, float(x[0]), 0.0), y_contacts(setting, datum[0])
    top, low = x_table(setting, x), y_table(setting, np.array(datum))
    places, sx, sy = len(x), len(across), len(along)
    s = sx + sy
    gantry, base = np.zeros((places, s, parts.gantry.dofs)), np.zeros((places, s, parts.base.dofs))
    inner = np.zeros((places, s, s))
    gantry[:, :sx], inner[:, :sx, :sx] = _lower(parts.gantry, top, _lines(parts.gantry, "beam", 0), [0] * sx)
    sides = _lines(parts.base, "side_beams", 1)
    which = [0 if c.side == "left" else 1 for c in along]
    base[:, sx:], inner[:, sx:, sx:] = _lower(parts.base, low, sides, which)
    _, nearest = foot_places(setting)
    nodes = np.array([parts.gantry.node(f"{c.side} foot plate {nearest[c.rides]}") for c in along])
    shift = np.array(datum)[:, None, None] * np.array([0.0, 1.0, 0.0])
    feet = low.stretch(parts.gantry.nodes[nodes] + shift)
    for k, node in enumerate(nodes):
        gantry[:, sx + k, 6 * node : 6 * node + 6] = feet[:, k]
    head = np.zeros((s, parts.head.dofs))
    saddle = parts.head.node("saddle")
    # The contacts keep their places relative to the saddle, except a screw's anchor, which pulls along X only.
    head[:sx, 6 * saddle : 6 * saddle + 6] = tabulate([across]).stretch(
        np.array([float(x[0]), lay.saddle_y, lay.saddle_z])
    )[0]
    listed = [*across, *along]
    return Grips(
        base=base, gantry=gantry, head=head, stiffness=np.concatenate([top.stiffness, low.stiffness], axis=1),
        inner=inner, names=tuple(c.name for c in listed), components=tuple(c.component for c in listed),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Line:
    """Members end to end along an axis: numbers (m,), grid (m+1,) of their ends, and the axis."""

    members: Ints
    grid: Floats
    axis: int


def _lines(frame: Frame, component: str, axis: int) -> list[_Line]:
    """The beams of a component that run along an axis, by their place across it."""
    start, end = frame.member_ends()
    own = np.flatnonzero([name == component for name in frame.members.component])
    other = start[own][:, 1 - axis]
    lines = []
    for at in np.unique(np.round(other, 6)):
        members = own[np.abs(other - at) < 1e-5]
        members = members[np.argsort(start[members, axis])]
        grid = np.append(start[members, axis], end[members[-1], axis])
        lines.append(_Line(members, grid, axis))
    return lines


def _lower(frame: Frame, table: ContactTable, lines: list[_Line], which: list[int]) -> tuple[Floats, Floats]:
    """Rows (p, s, n) of the springs on the beams below, and the beams' own flexibility between nodes (p, s, s)."""
    places, s = table.at.shape
    members, xi = np.zeros((places, s), dtype=np.int64), np.zeros((places, s))
    centres = np.zeros((places, s, 3))
    start, _ = frame.member_ends()
    for k in range(s):
        line = lines[which[k]]
        at = np.clip(table.at[:, k], line.grid[0], line.grid[-1])
        index = np.clip(np.searchsorted(line.grid, at, side="right") - 1, 0, len(line.members) - 1)
        members[:, k] = line.members[index]
        xi[:, k] = np.clip((at - line.grid[index]) / (line.grid[index + 1] - line.grid[index]), 0.0, 1.0)
        centres[:, k] = start[line.members[0]]
        centres[:, k, line.axis] = at
    pull = table.stretch(centres)
    stations = Station(members.ravel(), xi.ravel())
    blocks = station_blocks(frame, stations).reshape(places, s, 6, 12)
    rows = np.zeros((places, s, frame.dofs))
    dofs = station_dofs(frame, stations).reshape(places, s, 12)
    np.put_along_axis(rows, dofs, -(pull[..., None, :] @ blocks)[..., 0, :], axis=-1)
    inner = np.zeros((places, s, s))
    row, first, second = np.nonzero(members[:, :, None] == members[:, None, :])
    pairs = station_pairs(frame, members[row, first], xi[row, first], xi[row, second])
    inner[row, first, second] = np.einsum("ri,rij,rj->r", pull[row, first], pairs, pull[row, second])
    return rows, inner
