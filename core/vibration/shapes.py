"""The shape of a mode as lines to be drawn, where the machine stands with the tool at its place."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from core.frame import Frame
from core.frame.batch import cross
from core.stiffness.shape import GROUPS, DeflectedShape, ShapeLine
from core.vibration.reduced import Reduced

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
LARGEST = 1.0e-3  # m, the largest movement of a shape; modes have no size of their own
_HEAD = ("saddle", "head", "head plate end", "spindle nose", "tool tip")


def mode_shapes(
    reduced: Reduced, moved: list[Floats], place: tuple[float, float]
) -> tuple[DeflectedShape, ...]:
    """Lines of all members with the movements of base, gantry and head, each (6n, k), in every mode scaled to 1 mm."""
    frames, count = reduced.frames, moved[0].shape[1]
    datum = reduced.setting.layout.gantry_y(place[1])
    names, points, shifts = [], [], []
    for frame, u, shift in ((frames.base, moved[0], 0.0), (frames.gantry, moved[1], datum)):
        kept = np.array([k for k, c in enumerate(frame.members.component) if c in GROUPS], dtype=np.int64)
        names += [frame.members.component[k] for k in kept]
        found = _lines(frame, u, kept)
        points += list(found[0] + np.array([0.0, shift, 0.0]))
        shifts.append(found[1])
    head = [frames.head.node_names.index(name) for name in _HEAD if name in frames.head.node_names]
    end = frames.head.nodes[head] + np.array([place[0], datum, 0.0])
    end_moved = np.moveaxis(moved[2].reshape(-1, 6, count), -1, 0)[:, head, :3]
    shapes = []
    for k in range(count):
        every = np.concatenate([part[k].reshape(-1, 3) for part in (*shifts, end_moved)])
        largest = float(np.sqrt((every * every).sum(axis=-1).max()))
        factor = LARGEST / largest if largest > 0.0 else 0.0
        scaled = [line for part in shifts for line in factor * part[k]]
        lines = [ShapeLine(*line) for line in zip(names, points, scaled, strict=True)]
        last = ShapeLine("head", end, factor * end_moved[k])
        shapes.append(DeflectedShape((*lines, last), last.points[-1], last.moved[-1]))
    return tuple(shapes)


def _lines(frame: Frame, moved: Floats, kept: Ints) -> tuple[Floats, Floats]:
    """Ends (m, 2, 3) of some members, and their movements (k, m, 2, 3) in every mode."""
    m, u = frame.members, np.moveaxis(moved.reshape(-1, 6, moved.shape[1]), -1, 0)
    ends = np.stack([m.i[kept], m.j[kept]], axis=-1)
    arms = np.stack([m.offset_i[kept], m.offset_j[kept]], axis=-2)
    return frame.nodes[ends] + arms, u[:, ends, :3] + cross(u[:, ends, 3:], arms)
