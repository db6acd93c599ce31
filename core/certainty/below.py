"""The uncertain springs of base and gantry with the gantry at one place along Y, from both as they are solved already.

Base and gantry are condensed to the springs between them (see `core.model.condensed`); what a unit load along any spring
does to all springs follows by exchanging forces there, so no frame is put together or factored again.
Source: force method, Maxwell-Betti reciprocity (structural mechanics, any textbook).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.certainty.springs import SpringShares
from core.frame import Frame
from core.frame.assemble import spring_dofs, spring_gradients, stiffness
from core.model.condensed import WEIGHED, Gantry
from core.model.contact import y_contacts, y_table
from core.model.setting import Setting

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Springs:
    """What a solved structure tells of its uncertain springs, scaled by the square roots of their stiffness.

    Attributes:
        shares: (s, p). stretch: (s, c) under the loads, times the root. redundancy: (s, s).
    """

    shares: Floats
    stretch: Floats
    redundancy: Floats


def spring_rows(frame: Frame, parts: dict[str, Floats]) -> tuple[Floats, Floats]:
    """(s, p) parts and (s, 6n) scaled stretch by the nodes of a frame's springs, without those that no input touches."""
    table = np.array([parts[name] for name in frame.springs.names])
    kept = np.flatnonzero(np.any(table != 0.0, axis=1)) if table.size else np.zeros(0, dtype=np.int64)
    rows = np.zeros((kept.size, frame.dofs))
    # A spring to the ground repeats node i with zeros, so rows are added up, not set.
    np.add.at(rows, (np.arange(kept.size)[:, None], spring_dofs(frame)[kept]), spring_gradients(frame)[kept])
    rows *= np.sqrt(frame.springs.stiffness[kept])[:, None]
    return table.reshape(len(frame.springs.names), -1)[kept], rows


def springs_below(setting: Setting, gantry: Gantry, shares: SpringShares) -> Springs:
    """Springs of base and gantry, and those between them, under unit loads on the beam's ends (12) and under weight.

    Args:
        gantry: condensed at one place along Y.
    """
    under, datum = gantry.under, setting.layout.gantry_y(float(gantry.y[0]))
    base, soft, reach, upper = under.base, under.soft[0], under.reach[0], gantry.upper
    base_parts, base_rows = spring_rows(base.frame, shares.firm)
    own_parts, own_rows = spring_rows(gantry.frame, shares.firm)
    stand = shares.stand(float(gantry.y[0]))
    names = [c.name for c in y_contacts(setting, datum)]
    table = np.array([stand[name] for name in names])
    kept = np.flatnonzero(np.any(table != 0.0, axis=1))
    root = np.sqrt(y_table(setting, np.array([datum])).stiffness[0])
    # Columns: 12 + weight as the gantry has them, then a pair of unit loads along each spring of base, Y axis and gantry.
    counts = np.cumsum([base_rows.shape[0], kept.size, own_rows.shape[0]])
    pair = slice(0, counts[0]), slice(counts[0], counts[1]), slice(counts[1], counts[2])
    moved = base.moved @ base_rows.T
    gap = np.zeros((root.size, counts[2]))  # by how much the springs between base and gantry are let out
    gap[:, pair[0]] = reach @ moved
    gap[kept, np.arange(*pair[1].indices(counts[2]))] = 1.0 / root[kept]
    grip = np.linalg.solve(soft, upper)
    load = grip.T @ gap
    load[:, pair[2]] += own_rows.T
    k = stiffness(gantry.frame) + upper.T @ grip
    scale = 1.0 / np.sqrt(np.diagonal(k))[:, None]
    by_pairs = scale * np.linalg.solve(k * scale * scale.T, load * scale)
    u = np.concatenate([gantry.moved[0, :, : WEIGHED + 1], by_pairs], axis=1)
    let_out = np.concatenate([np.zeros((root.size, WEIGHED)), under.sunk[0][:, None], gap], axis=1)
    forces = np.linalg.solve(soft, upper @ u - let_out)
    stretch = np.concatenate(
        [base_rows @ base.moved @ reach.T @ forces, forces[kept] / root[kept, None], own_rows @ u]
    )
    stretch[: counts[0], WEIGHED] += base_rows @ base.weight
    pairs = stretch[:, WEIGHED + 1 :]
    pairs[pair[0], pair[0]] += base_rows @ moved
    pairs[pair[1], pair[1]] += np.eye(kept.size)
    found = np.concatenate([base_parts, table[kept], own_parts])
    return Springs(found, stretch[:, : WEIGHED + 1], np.eye(counts[2]) - pairs)
