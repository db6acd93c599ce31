"""How far apart rows of dimensions stand, so that letters of a fixed size stay clear of each other in a picture."""

from __future__ import annotations

from core.drawing.primitives import Arrow, Line, Shape, Text
from core.drawing.views.boxes import ToolPlace, head_boxes
from core.machine.layout import Layout
from core.machine.project import Project


def row_height(width: float, height: float) -> float:
    """Room for one row of letters, m, in a view of this size: one and a half times the letters' height when the view
    fills a picture of 700 by 420 pixels with letters of 12."""
    return 0.04 * max(width, 1.5 * height)


def head_top(project: Project, lay: Layout, place: ToolPlace) -> float:
    """Height of the highest part of saddle, head and beam, m."""
    beam = lay.beam_z + lay.sections.beam.height / 2.0
    return max(beam, *(box.z[1] for box in head_boxes(project, lay, place)))


def upright_dimension(x: float, low: float, high: float, label: str, side: float, tick: float) -> list[Shape]:
    """A height dimension with its words level beside it, for heights too small for words along the line.

    Args:
        x, low, high: place and ends, m. side: 1.0 for words to the right, -1.0 to the left. tick: half length of the
            short lines at the ends, m.
    """
    middle = (low + high) / 2.0
    return [
        Line(start=(x - tick, low), end=(x + tick, low), role="dimension"),
        Line(start=(x - tick, high), end=(x + tick, high), role="dimension"),
        Arrow(start=(x, middle), end=(x, low), role="dimension"),
        Arrow(start=(x, middle), end=(x, high), role="dimension"),
        Text(at=(x + side * 1.5 * tick, middle), text=label, anchor="left" if side > 0.0 else "right",
             role="dimension"),
    ]  # fmt: skip
