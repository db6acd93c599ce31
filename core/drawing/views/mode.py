"""A mode of vibration drawn over the machine's outline, at any moment of its swing."""

from __future__ import annotations

import numpy as np

from core.drawing.primitives import Arrow, Circle, Dimension, Drawing, Text
from core.drawing.views.shape import AXES, auto_exaggeration, shape_lines
from core.stiffness import DeflectedShape

VIEW_AXES = {"front": "xz", "side": "yz", "plan": "xy"}
_NOT_WANTED = (Dimension, Arrow, Circle, Text)


def outline(drawing: Drawing) -> Drawing:
    """The machine alone: a view without dimensions, loads and words."""
    kept = tuple(item for item in drawing.items if not isinstance(item, _NOT_WANTED))
    return Drawing(items=kept, title=drawing.title)


def clearest_view(shape: DeflectedShape) -> str:
    """The view that shows most of the movement."""
    moved = np.concatenate([line.moved for line in shape.lines])
    energy = (moved * moved).sum(axis=0)
    return max(VIEW_AXES, key=lambda view: float(sum(energy[AXES[axis]] for axis in VIEW_AXES[view])))


def mode_drawing(
    ground: Drawing, shape: DeflectedShape, view: str, span: float, swing: float = 1.0
) -> Drawing:
    """The outline with the swung shape's lines.

    Args:
        ground: from `outline`. span: width of the machine, m. swing: -1 to 1, the moment of the swing.
    """
    across, up = VIEW_AXES[view][0], VIEW_AXES[view][1]
    lines = shape_lines(shape, across, up, swing * auto_exaggeration(shape, span))
    return Drawing(items=(*ground.items, *lines), title=ground.title)
