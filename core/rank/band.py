"""Bands of all designs' worst deflections: between which nine of ten machines lie that are drawn within the given limits.

The machines are the very samples of `core.certainty`. Two designs are answered exactly for each of them: the machine's own beam,
and the one whose band is widest. All others follow by their slopes, with what the nearer of these two has beyond its own slopes
carried over in proportion. The own beam's band is that of `core.certainty`; tests hold the others within 1 %, half within 0.05 %.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.certainty.bands import Draw, deflections, draw, load_inputs, tip_samples
from core.certainty.chain import Chain, make_chain
from core.certainty.chance import LOWER, UPPER
from core.certainty.springs import SpringShares
from core.cutting import tip_force
from core.machine.loads import LoadCase
from core.model.condensed import condense_gantry
from core.model.setting import Setting
from core.rank.portals import Ground
from core.rank.take import Take, feet_give

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
SAMPLES, AT_ONCE, MOST_THREADS = 2048, 64, 4
AROUND, APART, NEAR = 16, 3, 0.75
"""Directions of a force that may turn; a design whose deflection in one that lies APART of these steps or more from its worst is
more than NEAR of that is looked at in all of them, since another may be the worst for some samples."""


@dataclass(frozen=True, slots=True)
class Exact:
    """The likely settings (by `setting`) of designs that may be answered exactly, `own` the number of the machine's own beam or
    of any other that has to be."""

    own: int
    setting: Callable[[int], Setting]


def find_spans(
    cases: tuple[LoadCase, ...],
    takes: tuple[Take, ...],
    exact: Exact,
    x: Floats,
    ground: Ground,
    shares: SpringShares,
) -> tuple[Floats, Floats]:
    """Low and high (d, c) ends of the bands, m. Raises Mechanism, NotTrustworthy.

    Args:
        takes: of every case, all designs. x: (nx,) of the grid's columns.
    """
    drawn = draw(shares.inputs, load_inputs(cases), SAMPLES)
    chains: dict[tuple[int, int], Chain] = {}
    give: dict[int, Floats] = {}
    own = exact.setting(exact.own)
    low, high = [], []
    for number, (case, take) in enumerate(zip(cases, takes, strict=True)):
        for row in np.unique(take.row).tolist():
            give[row] = give[row] if row in give else feet_give(own, ground, row, shares)
        slopes = take.slopes + _by_feet(take, give)
        lines = _lines(take, slopes, case)
        reach = lines.slopes[:, 0].sum(axis=-1) / take.size
        known = {}
        for design in {exact.own, int(reach.argmax())}:
            at = design, int(take.row[design])
            if at not in chains:
                chains[at] = _chain(exact.setting(design), ground, at[1], shares)
            tips = tip_samples(chains[at], float(x[take.column[design]]), drawn)
            known[design] = deflections(tips, case)[:SAMPLES]
        ends = _ends(take.size, lines, reach, known, drawn.softer[:SAMPLES], _force(drawn, number))
        low.append(ends[0])
        high.append(ends[1])
    return np.stack(low, axis=-1), np.stack(high, axis=-1)


def _chain(setting: Setting, ground: Ground, row: int, shares: SpringShares) -> Chain:
    y = ground.y[[row]]
    gantry = condense_gantry(setting, y, ground.under.rows([row]))
    return make_chain(setting, float(y[0]), shares, None, gantry)


def _by_feet(take: Take, give: dict[int, Floats]) -> Floats:
    """(d, p, 3, 3) slopes of all springs below the uprights."""
    out = np.zeros(take.slopes.shape)
    for row in np.unique(take.row).tolist():
        here = take.row == row
        moved = take.feet[here][:, None]
        out[here] = np.swapaxes(moved, -1, -2) @ give[row] @ moved
    return out


@dataclass(frozen=True, slots=True)
class _Lines:
    """Deflections (d, k) in the worst direction and k - 1 others, m, their slopes (d, k, p), and where others count (d,)."""

    size: Floats
    slopes: Floats
    near: npt.NDArray[np.bool_]


def _lines(take: Take, slopes: Floats, case: LoadCase) -> _Lines:
    force = tip_force(case)
    if not case.any_direction or not np.any(force[:2]):
        loads = np.broadcast_to(force, (take.size.size, 1, 3))
    else:
        turns = np.arange(AROUND) * (2.0 * np.pi / AROUND)
        angles = take.angle[:, None] + (turns if force[2] else turns[: AROUND // 2])
        flat = float(np.hypot(force[0], force[1]))
        loads = np.stack(
            [flat * np.cos(angles), flat * np.sin(angles), np.full_like(angles, force[2])], axis=-1
        )
    moved = loads @ take.compliance
    size = np.linalg.norm(moved, axis=-1)
    along = moved / np.where(size > 0.0, size, 1.0)[..., None]
    found = np.einsum("dki,dpij,dkj->dkp", along, slopes, loads, optimize=True)
    others = size[:, APART : size.shape[1] - APART + 1] if size.shape[1] > 1 else np.zeros((len(size), 1))
    return _Lines(size, found, others.max(axis=-1) > NEAR * take.size)


def _ends(
    size: Floats, lines: _Lines, reach: Floats, known: dict[int, Floats], softer: Floats, force: Floats
) -> tuple[Floats, Floats]:
    """Ends (d,) of one load case's bands.

    Args:
        size (d,): likely deflections. reach: (d,) sum of the slopes over that. known: (n,) deflections of the exact designs.
        softer: (n, p) of the samples. force: (n,) factor on the case's force.
    """
    designs = list(known)
    beyond = np.array([known[one] - _by_slopes(lines, one, softer) for one in designs])
    log = np.log(np.maximum(reach, 1e-12))
    nearest = np.abs(log[:, None] - log[designs]).argmin(axis=-1)
    share = np.zeros((size.size, len(designs)))
    share[np.arange(size.size), nearest] = size * reach / np.maximum((size * reach)[designs], 1e-30)[nearest]
    # Single precision is twice as fast to sort and to multiply, and its seventh digit is none of a band's.
    sides = np.concatenate([softer.T, np.ones((1, len(softer))), beyond]) * force
    right = sides.astype(np.float32)
    left = np.concatenate(
        [
            lines.slopes,
            lines.size[..., None],
            np.broadcast_to(share[:, None], (*lines.size.shape, len(designs))),
        ],
        axis=-1,
    ).astype(np.float32)
    low, high = np.empty(size.shape), np.empty(size.shape)

    def find(rows: Ints, ways: int) -> None:
        moved = left[rows, 0] @ right
        for k in range(1, ways):
            np.maximum(moved, left[rows, k] @ right, out=moved)
        moved.sort(axis=-1)
        low[rows], high[rows] = _quantiles(moved)

    with ThreadPoolExecutor(min(MOST_THREADS, os.cpu_count() or 1)) as pool:
        parts = [
            pool.submit(find, some[start : start + AT_ONCE], ways)
            for some, ways in ((np.flatnonzero(lines.near), left.shape[1]), (np.flatnonzero(~lines.near), 1))
            for start in range(0, some.size, AT_ONCE)
        ]
        for part in parts:
            part.result()
    return np.minimum(low, size), np.maximum(high, size)


def _by_slopes(lines: _Lines, design: int, softer: Floats) -> Floats:
    """(n,) deflections of one design by its slopes alone."""
    ways = slice(None) if lines.near[design] else slice(1)
    every = lines.slopes[design, ways] @ softer.T + lines.size[design, ways, None]
    return np.asarray(every.max(axis=0))


def _quantiles(values: npt.NDArray[np.float32]) -> tuple[Floats, Floats]:
    """As `numpy.quantile` has them, of sorted values (d, n)."""
    found = []
    for share in (LOWER, UPPER):
        place = share * (values.shape[-1] - 1)
        first = int(place)
        a, b = (values[:, k].astype(np.float64) for k in (first, first + 1))
        found.append(a + (place - first) * (b - a))
    return found[0], found[1]


def _force(drawn: Draw, number: int) -> Floats:
    for k, one in enumerate(drawn.inputs):
        if one.path == f"cases.{number}.load":
            return np.asarray(drawn.values[:SAMPLES, k] / one.likely)
    return np.ones(SAMPLES)
