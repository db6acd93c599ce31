"""The slowest mode of every design with the tool in the middle of the table.

Parts with few movements each (`moving_parts`) are put together, and the first mode is found by rounds of inverse iteration with
a few vectors (Bathe's subspace iteration, from memory). Checked against the full solve of `core.modes` in the tests.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from core.frame import NotTrustworthy
from core.frame.batch import rigid_arm
from core.model.base import SIDES
from core.model.setting import point
from core.rank.batch import Batch
from core.rank.moving_parts import Below, reduced_beams, reduced_heads, reduced_posts
from core.rank.portals import POSTS_BY

Floats = npt.NDArray[np.float64]
ROUNDS = 6
LOOK = 16
"""Most rounds, of which one is enough as a rule; every so many designs are looked at once more after each."""
SETTLED = 0.004
"""Largest change that another round may make to a frequency's square, relative to it: 0.2 % of the frequency."""


def find_first_modes(batch: Batch, below: Below) -> Floats:
    """(d,) frequency of the slowest mode, Hz. Raises NotTrustworthy when it does not settle."""
    posts, which = batch.distinct(POSTS_BY)
    pk, pm = reduced_posts(posts.setting())
    heads, other = batch.distinct(("saddle_z",), batch.carriage_arms())
    hk, hm = reduced_heads(heads.setting())
    bk, bm = reduced_beams(batch.setting())
    many, inner, along = below.stiffness.shape[0] - 12, hk.shape[-1] - 6, bk.shape[-1] - 18
    # Order: the base's modes, feet, the beam's joints, its nodes under the carriages, saddle, the head's modes.
    foot, joint = many, many + 12
    saddle = joint + 12 + along
    size, d = saddle + 6 + inner, batch.rows.size
    k, m = np.zeros((d, size, size)), np.zeros((d, size, size))
    for whole, own, up, hung, over in (
        (k, below.stiffness, pk[which], bk, hk[other]),
        (m, below.mass, pm[which], bm, hm[other]),
    ):
        whole[:, :joint, :joint] = own
        whole[:, foot : joint + 12, foot : joint + 12] += up
        whole[:, joint : saddle + 6, joint : saddle + 6] += hung
        whole[:, saddle:, saddle:] += over
    return _slowest(k, m, _start(batch, many, inner, along))


def tuned(below: Below, batch: Batch) -> Below:
    """What lies below, as exact as it can be at about the first mode of these designs."""
    few = batch.some(np.unique(np.linspace(0, batch.rows.size - 1, 3).astype(np.int64)))
    return below.about(float(np.median(find_first_modes(few, below))))


def _start(batch: Batch, many: int, inner: int, along: int) -> Floats:
    """Vectors (d, n, p): all above the base as one body, saddle and head as one, and the slowest modes of base and head."""
    lay, d = batch.layout, batch.rows.size
    foot = (batch.first.upright_spacing / 2.0, batch.first.upright_y, batch.first.foot_z)
    ends = [point(sign * foot[0], foot[1], foot[2]) for _, sign in SIDES]
    ends += [point(sign * lay.joint_x, lay.beam_y, lay.beam_z) for _, sign in SIDES]
    ends += [point(0.0, lay.beam_y, lay.beam_z)] * (along // 6)  # near enough to begin with
    ends += [point(0.0, lay.saddle_y, lay.saddle_z)]
    places = np.stack([np.broadcast_to(np.asarray(end).reshape(-1, 3), (d, 3)) for end in ends], axis=-2)
    few = min(2, many, inner)
    out = np.zeros((d, many + 6 * len(ends) + inner, 12 + 2 * few))
    body = slice(many, many + 6 * len(ends))
    out[:, body, :6] = rigid_arm(places).reshape(d, -1, 6)
    out[:, body.stop - 6 : body.stop, 6:12] = rigid_arm(places[:, -1])
    out[:, np.arange(few), 12 + np.arange(few)] = 1.0
    out[:, body.stop + np.arange(few), 12 + few + np.arange(few)] = 1.0
    return out


def _slowest(k: Floats, m: Floats, vectors: Floats) -> Floats:
    """As many rounds for all as it takes until one more, for some of them, does not change much."""
    some = slice(None, None, LOOK)
    for _ in range(ROUNDS):
        values, vectors = _round(k, m, vectors)
        again, _ = _round(k[some], m[some], vectors[some])
        first, second = values[:, 0], again[:, 0]
        if not np.all(first > 0.0):
            break
        if np.all(np.abs(first[some] / second - 1.0) <= SETTLED):
            return np.asarray(np.sqrt(first) / (2.0 * np.pi))
    raise NotTrustworthy("a first mode does not settle")


def _round(k: Floats, m: Floats, vectors: Floats) -> tuple[Floats, Floats]:
    """Squares (d, p) and vectors (d, n, p) after one inverse iteration."""
    scale = 1.0 / np.sqrt(np.einsum("...ii->...i", k))
    load = m @ vectors
    moved = scale[:, :, None] * np.linalg.solve(
        k * (scale[:, :, None] * scale[:, None, :]), load * scale[:, :, None]
    )
    size = np.sqrt(np.einsum("dnp,dnp->dp", moved, load))[:, None, :]
    moved /= size
    back = np.swapaxes(moved, -1, -2)
    values, turned = _eigen(_even(back @ (load / size)), _even(back @ (m @ moved)))
    return values, moved @ turned


def _eigen(k: Floats, m: Floats) -> tuple[Floats, Floats]:
    lower = np.linalg.inv(np.linalg.cholesky(m))
    values, vectors = np.linalg.eigh(_even(lower @ k @ np.swapaxes(lower, -1, -2)))
    return values, np.swapaxes(lower, -1, -2) @ vectors


def _even(matrix: Floats) -> Floats:
    return np.asarray(0.5 * (matrix + np.swapaxes(matrix, -1, -2)))
