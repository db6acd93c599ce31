"""The machine from above (X across, Y up): the work area, side beams, gantry and the travels."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from core.drawing.primitives import Circle, Dimension, Drawing, Shape, rectangle
from core.drawing.views.boxes import ToolPlace, base_boxes, gantry_boxes, head_boxes, seen
from core.drawing.views.diagonals import diagonal_bars
from core.drawing.views.load import load_shapes
from core.drawing.views.rows import row_height
from core.drawing.views.shape import shape_lines, shape_note
from core.machine.layout import Layout
from core.machine.project import Project
from core.stiffness import DeflectedShape
from core.units import UnitSet, show


def plan_view(
    project: Project,
    lay: Layout,
    place: ToolPlace,
    units: UnitSet,
    shape: DeflectedShape | None = None,
    exaggeration: float = 0.0,
    force: NDArray[np.float64] | None = None,
) -> Drawing:
    """Plan view in table coordinates."""
    work = project.machine.work
    half_x, half_y = work.travel_x / 2.0, work.travel_y / 2.0
    items: list[Shape] = [*diagonal_bars(project, lay, "xy"), *seen(base_boxes(project, lay), "x", "y")]
    items.append(rectangle(-half_x, -half_y, half_x, half_y, "sheet", "work", "Work area"))
    items += seen(gantry_boxes(project, lay, place), "x", "y")
    items += seen(head_boxes(project, lay, place), "x", "y")
    bottom = lay.side_y - lay.side_beam_length / 2.0
    left = -lay.side_x - lay.sections.side_beam.width / 2.0
    row = row_height(2.0 * lay.side_x, lay.side_beam_length)
    if shape is not None and exaggeration > 0.0:
        items += shape_lines(shape, "x", "y", exaggeration)
        items.append(shape_note(exaggeration, left, bottom - 2.4 * row))
    items += load_shapes((place.x, place.y), force, "x", "y", units, row)
    items.append(
        Circle(centre=(place.x, place.y), radius=0.02, role="grip", key="load", hint="Tool tip: drag along X")
    )
    items += [
        Dimension(start=(-half_x, bottom), end=(half_x, bottom), offset=-1.2 * row,
                  label=f"Travel X {show(work.travel_x, 'length', units)}"),
        Dimension(start=(left, -half_y), end=(left, half_y), offset=0.9 * row,
                  label=f"Travel Y {show(work.travel_y, 'length', units)}"),
        Dimension(start=(left, lay.side_y - lay.y_rail_length / 2.0), end=(left, lay.side_y + lay.y_rail_length / 2.0),
                  offset=1.9 * row, label=f"Y rail {show(lay.y_rail_length, 'length', units)}"),
    ]  # fmt: skip
    return Drawing(items=tuple(items), title="Plan")
