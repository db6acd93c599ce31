"""The shape of a mode as lines to be drawn, where the machine stands with the tool at its place."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from core.frame import Frame
from core.frame.batch import cross
from core.stiffness.shape import GROUPS, DeflectedShape, ShapeLine
from core.vibration.reduced import Reduced

Floats = npt.NDArray[np.float64]
LARGEST = 1.0e-3  # m, the largest movement of a shape; modes have no size of their own
_HEAD = ("saddle", "head", "head plate end", "spindle nose", "tool tip")


def mode_shape(reduced: Reduced, moved: list[Floats], place: tuple[float, float]) -> DeflectedShape:
    """Lines of all members with the movements of base, gantry and head, each (6n,), scaled to one millimetre."""
    frames = reduced.frames
    datum = reduced.setting.layout.gantry_y(place[1])
    shift = np.array([0.0, datum, 0.0])
    lines = [
        *_lines(frames.base, moved[0], np.zeros(3)),
        *_lines(frames.gantry, moved[1], shift),
        _head_line(frames.head, moved[2], np.array([place[0], datum, 0.0])),
    ]
    every = np.concatenate([line.moved for line in lines])
    largest = float(np.sqrt((every * every).sum(axis=-1).max()))
    factor = LARGEST / largest if largest > 0.0 else 0.0
    scaled = tuple(ShapeLine(line.name, line.points, factor * line.moved) for line in lines)
    return DeflectedShape(scaled, scaled[-1].points[-1], scaled[-1].moved[-1])


def _lines(frame: Frame, moved: Floats, shift: Floats) -> list[ShapeLine]:
    m, u = frame.members, moved.reshape(-1, 6)
    ends, arms = np.stack([m.i, m.j], axis=-1), np.stack([m.offset_i, m.offset_j], axis=-2)
    points = frame.nodes[ends] + arms + shift
    shifts = u[ends, :3] + cross(u[ends, 3:], arms)
    return [ShapeLine(c, points[k], shifts[k]) for k, c in enumerate(m.component) if c in GROUPS]


def _head_line(frame: Frame, moved: Floats, shift: Floats) -> ShapeLine:
    numbers = [frame.node_names.index(name) for name in _HEAD if name in frame.node_names]
    return ShapeLine("head", frame.nodes[numbers] + shift, moved.reshape(-1, 6)[numbers, :3])
