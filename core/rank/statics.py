"""Deflection, its ends, sag and path error of a batch of designs: what `core.stiffness` and `core.sag` say of one machine."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.cutting import tip_force
from core.frame import Station, station_uniform
from core.frame.assemble import weight_per_length
from core.frame.station import station_blocks
from core.machine.layout import Layout
from core.machine.loads import LoadCase
from core.machine.project import Machine
from core.model.condensed import Under
from core.model.moving import Head, condense_head
from core.model.setting import Setting, Side
from core.rank.batch import SIDES, Batch, picked
from core.rank.portals import (
    POSTS_BY,
    Beams,
    Ground,
    Portals,
    Posts,
    ends,
    find_beams,
    find_ground,
    find_portals,
    find_posts,
)
from core.rank.riding import (
    Rides,
    Springs,
    compliance,
    find_rides,
    find_springs,
    other_springs,
    spring_stiffness,
    tip_height,
)
from core.rank.worst import Look, climb, coarse_columns
from core.sag.answer import PLACES
from core.sections import PropertyBook
from core.stiffness.answer import table_grid
from core.stiffness.deflection import deflection

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
ENDS: tuple[Side, ...] = ("low", "high")


@dataclass(frozen=True, slots=True)
class Statics:
    """Figures of d designs under c load cases, m.

    Attributes:
        worst, low, high: (d, c) deflection at its worst place; with everything uncertain at its stiff end, at its soft end.
        worst_x, worst_y: (d, c) that place. sag, path_error: (d,).
    """

    worst: Floats
    low: Floats
    high: Floats
    worst_x: Floats
    worst_y: Floats
    sag: Floats
    path_error: Floats


@dataclass(frozen=True, slots=True)
class Common:
    """What all designs share.

    Attributes:
        x (nx,), y (ny,): the table's grid. along: (n,) places for sag and path. grounds: at every y, by side of the bands.
        springs: (nx + n, s) stiffness under the saddle at x and along, by side.
    """

    x: Floats
    y: Floats
    along: Floats
    grounds: dict[Side, Ground]
    springs: dict[Side, Floats]


def find_common(machine: Machine, lay: Layout, book: PropertyBook, under: Under | None = None) -> Common:
    """Solve what lies below the beams. Raises Mechanism when the base moves freely."""
    settings = {side: Setting(machine, lay, side, book) for side in SIDES}
    x, y = table_grid(settings["likely"])
    along = np.linspace(x[0], x[-1], PLACES)
    grounds = {side: find_ground(setting, y, under) for side, setting in settings.items()}
    every = np.concatenate([x, along])
    return Common(x, y, along, grounds, {side: spring_stiffness(s, every) for side, s in settings.items()})


@dataclass(frozen=True, slots=True)
class _Seen:
    """A batch as one side of the bands has it."""

    portals: Portals
    head: Head


def find_statics(batch: Batch, cases: tuple[LoadCase, ...], common: Common) -> Statics:
    """Solve a batch. Raises Mechanism, NotTrustworthy."""
    x, y, joint = common.x, common.y, batch.first.joint_x
    setting = batch.setting()
    beams = find_beams(setting)
    sides = _see(batch, beams)
    seen = sides["likely"]
    every = np.concatenate([x, common.along])
    springs = find_springs(setting, joint, seen.head, every, common.springs["likely"])
    soft, moved = ends(seen.portals, common.grounds["likely"])
    grid = find_rides(beams.frame, beams.member, joint, springs, springs.for_compliance(), slice(0, x.size))
    places = _worst_places(cases, grid, soft, seen.head, (y.size, x.size))
    worst, low, high = [], [], []
    for case, (row, column) in zip(cases, places, strict=True):
        here = _at(grid, soft, seen.head, row[:, None], column[:, None])
        worst.append(_size(here[:, 0], case, "likely"))
        found = [_corner(grid, springs, sides[side], common, side, row, column) for side in ENDS]
        low.append(np.minimum(worst[-1], _size(found[1], case, "low")))
        high.append(np.maximum(worst[-1], _size(found[0], case, "high")))
    middle = y.size // 2  # the table's grid has its middle among its places
    lines = find_rides(beams.frame, beams.member, joint, springs, springs.for_height(), slice(x.size, None))
    height = tip_height(lines, soft[:, [middle]], moved[:, [middle]], seen.head)
    return Statics(
        worst=np.stack(worst, axis=-1), low=np.stack(low, axis=-1), high=np.stack(high, axis=-1),
        worst_x=np.stack([x[column] for _, column in places], axis=-1),
        worst_y=np.stack([y[row] for row, _ in places], axis=-1),
        sag=_sag(joint, beams, moved[:, middle], common.along), path_error=_left(common.along, height),
    )  # fmt: skip


def _see(batch: Batch, beams: Beams) -> dict[Side, _Seen]:
    """Uprights and heads are worked out once for all designs that have them alike."""
    few, which = batch.distinct(POSTS_BY)
    posts = find_posts(few.sides())
    few, other = batch.distinct(("saddle_z",))
    head = condense_head(few.sides())
    seen: dict[Side, _Seen] = {}
    for k, side in enumerate(SIDES):
        own = Head(*(picked(part, k, other, n) for part, n in _parts(head)))
        up = Posts(*(picked(part, k, which, n) for part, n in posts.parts()))
        seen[side] = _Seen(find_portals(up, beams), own)
    return seen


def _parts(head: Head) -> tuple[tuple[Floats, int], ...]:
    return (head.tip, 2), (head.arm, 2), (head.sag, 1), (head.weight, 1)


def _at(grid: Rides, soft: Floats, head: Head, rows: Ints, columns: Ints) -> Floats:
    """(d, n, 3, 3) compliance at rows and columns (d, n) of the grid."""
    number = np.arange(len(rows))[:, None]
    return compliance(grid.own[number, columns], grid.reach[number, columns], soft[number, rows], head)


def _worst_places(
    cases: tuple[LoadCase, ...], grid: Rides, soft: Floats, head: Head, shape: tuple[int, int]
) -> list[tuple[Ints, Ints]]:
    columns = coarse_columns(shape[1])
    few = grid.take(columns)
    first = compliance(few.own[:, None], few.reach[:, None], soft[:, :, None], head)

    look: Look = lambda rows, at: _at(grid, soft, head, rows, at)  # noqa: E731
    return [climb(look, first, columns, shape, tip_force(case), case.any_direction) for case in cases]


def _corner(
    grid: Rides, springs: Springs, other: _Seen, common: Common, side: Side, row: Ints, column: Ints
) -> Floats:
    """(d, 3, 3) compliance at one place of each design with another side of all bands."""
    number, places = np.arange(len(row))[:, None], column[:, None]
    own = grid.own[number, places] + other_springs(springs, common.springs[side], places)
    soft, _ = ends(other.portals, common.grounds[side], row[:, None])
    return compliance(own, grid.reach[number, places], soft, other.head)[:, 0]


def _size(found: Floats, case: LoadCase, side: Side) -> Floats:
    moved, _ = deflection(found, tip_force(case, side), case.any_direction)
    return np.asarray(np.linalg.norm(moved, axis=-1))


def _sag(joint: float, beams: Beams, moved: Floats, x: Floats) -> Floats:
    """(d,) largest distance of the beam's own line from the straight line between its joints."""
    xi = (np.clip(x, -joint, joint) + joint) / (2.0 * joint)
    stations = Station(np.array([beams.member]), xi[:, None])
    down = station_blocks(beams.frame, stations)[..., 0, 2, :]
    own = station_uniform(beams.frame, stations, weight_per_length(beams.frame))[..., 2]
    height = (down @ moved[:, :, None])[..., 0] + own
    share = (x + joint) / (2.0 * joint)
    chord = moved[:, 2, None] + (moved[:, 8, None] - moved[:, 2, None]) * share
    return np.asarray(np.abs(height - chord).max(axis=-1))


def _left(x: Floats, height: Floats) -> Floats:
    """(d,) what the best straight line leaves of the path's height."""
    level = height - height[:, [x.size // 2]]
    slope = level @ x / (x @ x)  # the places lie evenly about zero
    rest = level - level.mean(axis=-1, keepdims=True) - slope[:, None] * x
    return np.asarray(np.abs(rest).max(axis=-1))
