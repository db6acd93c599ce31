"""How far apart rows of dimensions stand, so that letters of a fixed size stay clear of each other in a picture."""

from __future__ import annotations

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
