"""A mode of vibration drawn over the machine's outline, at any moment of its swing."""

from __future__ import annotations

import numpy as np

from core.drawing.primitives import Arrow, Circle, Dimension, Drawing, Shape, Text
from core.drawing.views.shape import AXES, auto_exaggeration, shape_lines
from core.stiffness import DeflectedShape

VIEW_AXES = {"front": "xz", "side": "yz", "plan": "xy"}
MORE = 2.0  # a swing is drawn larger than a load's bending: nobody reads figures off it
_NOT_WANTED = (Dimension, Arrow, Circle, Text)


def clearest_view(shape: DeflectedShape) -> str:
    """The view that shows most of the movement."""
    moved = np.concatenate([line.moved for line in shape.lines])
    energy = (moved * moved).sum(axis=0)
    return max(VIEW_AXES, key=lambda view: float(sum(energy[AXES[axis]] for axis in VIEW_AXES[view])))


def mode_ground(view_of_machine: Drawing, shape: DeflectedShape, view: str, span: float) -> Drawing:
    """The machine alone, without dimensions, loads and words, with room for the whole swing.

    Args:
        view_of_machine: the front, side or plan view. view: which of them. span: width of the machine, m.
    """
    kept = [
        item
        for item in view_of_machine.items
        if not isinstance(item, _NOT_WANTED) and item.role != "deflected"
    ]
    corners: list[Arrow] = []
    for swing in (-1.0, 1.0):
        for line in _lines(shape, view, span, swing):
            box = line.bounds()
            ends = (box.left, box.bottom), (box.right, box.top)
            corners += [
                Arrow(start=at, end=at, role="note") for at in ends
            ]  # arrows of no length are not seen
    return Drawing(items=(*kept, *corners), title=view_of_machine.title)


def mode_drawing(
    ground: Drawing, shape: DeflectedShape, view: str, span: float, swing: float = 1.0
) -> Drawing:
    """The ground from `mode_ground` with the shape at a moment of its swing, -1 to 1."""
    return ground.with_items(_lines(shape, view, span, swing))


def _lines(shape: DeflectedShape, view: str, span: float, swing: float) -> list[Shape]:
    across, up = VIEW_AXES[view][0], VIEW_AXES[view][1]
    return shape_lines(shape, across, up, MORE * swing * auto_exaggeration(shape, span))
