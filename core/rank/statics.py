"""Deflection, sag and path error of a batch of designs: what `core.stiffness` and `core.sag` say of one machine."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from core.certainty.inputs import uncertain_inputs
from core.certainty.springs import SpringShares
from core.cutting import tip_force
from core.frame import NotTrustworthy, Station, solve, station_uniform
from core.frame.assemble import weight_per_length
from core.frame.station import station_blocks
from core.machine.layout import Layout
from core.machine.loads import LoadCase
from core.machine.project import Machine
from core.model.condensed import Under
from core.model.moving import Head, head_frame, head_loads, head_of
from core.model.setting import Setting
from core.rank.batch import Batch, picked
from core.rank.portals import (
    POSTS_BY,
    Beams,
    Ends,
    Ground,
    ends,
    find_beams,
    find_ground,
    find_portals,
    find_posts,
)
from core.rank.riding import (
    Grid,
    Rides,
    compliance,
    find_rides,
    find_springs,
    spring_stiffness,
    sunk,
    tip_height,
)
from core.rank.take import Grips, RideShares, Seen, Take, find_grips, find_take
from core.rank.worst import climb, first_places
from core.sag.answer import PLACES
from core.sections import PropertyBook
from core.stiffness.answer import table_grid

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Statics:
    """Figures of d designs. takes: of each load case, its worst deflection among them. sag, path_error: (d,) m."""

    takes: tuple[Take, ...]
    sag: Floats
    path_error: Floats


@dataclass(frozen=True, slots=True)
class Common:
    """What all designs share.

    Attributes:
        x (nx,), y (ny,): the table's grid. along: (n,) places for sag and path. ground: at every y.
        springs: (nx + n, s) stiffness under the saddle at x and along.
        shares: of the uncertain inputs in all springs, None where a spring is no sum of such shares. rides: of those at x.
    """

    x: Floats
    y: Floats
    along: Floats
    ground: Ground
    springs: Floats
    shares: SpringShares | None
    rides: RideShares | None


def find_common(machine: Machine, lay: Layout, book: PropertyBook, under: Under | None = None) -> Common:
    """Solve what lies below the beams. Raises Mechanism when the base moves freely."""
    setting = Setting(machine, lay, "likely", book)
    x, y = table_grid(setting)
    along = np.linspace(x[0], x[-1], PLACES)
    springs = spring_stiffness(setting, np.concatenate([x, along]))
    shares = _shares(setting)
    rides = None if shares is None else RideShares(shares.rides(x), springs[: x.size])
    return Common(x, y, along, find_ground(setting, y, under), springs, shares, rides)


def _shares(setting: Setting) -> SpringShares | None:
    try:
        return SpringShares(setting, uncertain_inputs(setting.machine))
    except NotTrustworthy:
        return None


def find_statics(batch: Batch, cases: tuple[LoadCase, ...], common: Common) -> Statics:
    """Solve a batch. Raises Mechanism, NotTrustworthy."""
    x, y, joint = common.x, common.y, batch.first.joint_x
    setting = batch.setting()
    beams = find_beams(setting)
    seen = _see(batch, beams, common.shares)
    every = np.concatenate([x, common.along])
    springs = find_springs(setting, joint, seen.head, every, common.springs)
    soft = Ends(seen.portals, common.ground)

    def rides(states: Floats, columns: Ints) -> Rides:
        return find_rides(beams.frame, beams.member, joint, springs, states, columns)

    states = springs.for_compliance()
    grid = Grid(lambda columns: rides(states, columns), x.size)
    places = _worst_places(cases, grid, soft, seen.head, (y.size, x.size))
    takes = tuple(
        find_take(case, row, column, grid, springs, soft, seen, beams, common.ground, common.rides)
        for case, (row, column) in zip(cases, places, strict=True)
    )
    middle = y.size // 2  # the table's grid has its middle among its places
    still, moved = ends(seen.portals, common.ground, np.array([middle]))
    lines = rides(springs.for_height(), np.arange(x.size, every.size))
    sinks = sunk(beams.frame, beams.member, lines)
    height = tip_height(lines, sinks, still, moved, seen.head)
    return Statics(takes, _sag(joint, beams, moved[:, 0], common.along), _left(common.along, height))


def _see(batch: Batch, beams: Beams, shares: SpringShares | None) -> Seen:
    """Uprights and heads are worked out once for all designs that have them alike."""
    few, which = batch.distinct(POSTS_BY)
    posts = find_posts(few.setting())
    firm = find_grips(posts.frame, posts.moved, shares)
    up = replace(
        posts, soft=picked(posts.soft, which, 2), hung=picked(posts.hung, which, 1), arm=picked(posts.arm, which, 2),
        below=picked(posts.below, which, 1),
    )  # fmt: skip
    few, other = batch.distinct(("saddle_z",))
    frame, node = head_frame(few.setting())
    loads = head_loads(frame, node)
    moved = solve(frame, loads, columns=True).displacements
    head = head_of(frame, node, loads, moved)
    above = find_grips(frame, moved[..., :3], shares)
    own = Head(
        picked(head.tip, other, 2),
        picked(head.arm, other, 2),
        picked(head.sag, other, 1),
        picked(head.weight, other, 1),
    )
    return Seen(
        find_portals(up, beams), own, Grips(firm.shares, picked(firm.stretch, which, 2)),
        Grips(above.shares, picked(above.stretch, other, 2)),
    )  # fmt: skip


def _worst_places(
    cases: tuple[LoadCase, ...], grid: Grid, soft: Ends, head: Head, shape: tuple[int, int]
) -> list[tuple[Ints, Ints]]:
    rows, columns = first_places(shape)
    own, reach = grid.at(columns)
    first = compliance(own[:, None], reach[:, None], soft.soft(rows)[:, :, None], head)

    def look(rows: Ints, at: Ints) -> Floats:
        own, reach = grid.at(at)
        return compliance(own, reach, soft.soft(rows), head)

    return [climb(look, first, rows, columns, shape, tip_force(case), case.any_direction) for case in cases]


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
