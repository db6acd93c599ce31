"""Members cut into equal pieces: the same frame with more nodes, as its modes of vibration want it.

Statics do not change; modes gain, because each piece's mass follows the static shapes only.
"""

from __future__ import annotations

from dataclasses import fields
from typing import Any

import numpy as np

from core.errors import BadEntry
from core.frame.checks import Ints
from core.frame.frame import Frame
from core.frame.parts import Members


def subdivide(frame: Frame, pieces: Ints) -> Frame:
    """The frame with each member in `pieces` (m,) equal parts; the old nodes keep their numbers.

    New nodes are called "<member> cut 1" and so on, new members "<member> part 0". A frame of one design only.

    Errors: BadEntry for a batch of frames or a wrong count.
    """
    m = frame.members
    count = np.asarray(pieces, dtype=np.int64)
    if frame.batch or count.shape != (len(m.names),) or np.any(count < 1):
        raise BadEntry(
            "pieces", str(count.tolist())[:60], "do not fit", "a number from 1 for each member of one frame"
        )
    if not len(m.names) or np.all(count == 1):
        return frame
    names, nodes = list(frame.node_names), [frame.nodes]
    own = np.repeat(np.arange(len(m.names)), count)
    i, j = m.i[own].copy(), m.j[own].copy()
    offset_i, offset_j = m.offset_i[own].copy(), m.offset_j[own].copy()
    start, end = frame.member_ends()
    first, labels = 0, []
    for k, parts in enumerate(count):
        labels += [m.names[k]] if parts == 1 else [f"{m.names[k]} part {n}" for n in range(parts)]
        if parts > 1:
            inner = np.arange(1, parts)
            nodes.append(start[k] + (inner / parts)[:, None] * (end[k] - start[k]))
            numbers = len(names) + np.arange(parts - 1)
            names += [f"{m.names[k]} cut {n}" for n in inner]
            i[first + 1 : first + parts], j[first : first + parts - 1] = numbers, numbers
            offset_i[first + 1 : first + parts] = offset_j[first : first + parts - 1] = 0.0
        first += int(parts)
    given: dict[str, Any] = {
        "i": i,
        "j": j,
        "offset_i": offset_i,
        "offset_j": offset_j,
        "names": tuple(labels),
    }
    given["component"] = tuple(m.component[k] for k in own)
    same: dict[str, Any] = {f.name: getattr(m, f.name)[own] for f in fields(Members) if f.name not in given}
    more = len(names) - len(frame.node_names)
    held = np.concatenate([frame.held, np.zeros((more, 6), dtype=np.bool_)])
    node_mass = np.concatenate([frame.node_mass, np.zeros(more)])
    return Frame(
        np.concatenate(nodes), tuple(names), Members(**given, **same), frame.springs, held, node_mass
    )
