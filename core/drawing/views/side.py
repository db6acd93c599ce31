"""The machine from the left side (Y across, Z up), with the gantry where the tool is."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from core.drawing.primitives import Circle, Dimension, Drawing, Line, Shape
from core.drawing.views.boxes import ToolPlace, base_boxes, gantry_boxes, head_boxes, outline_shape, seen
from core.drawing.views.diagonals import diagonal_bars
from core.drawing.views.load import load_shapes
from core.drawing.views.rows import head_top, row_height
from core.drawing.views.shape import shape_lines, shape_note
from core.machine.layout import Layout
from core.machine.project import Project
from core.sections import solids
from core.stiffness import DeflectedShape
from core.units import UnitSet, show


def side_view(
    project: Project,
    lay: Layout,
    place: ToolPlace,
    units: UnitSet,
    shape: DeflectedShape | None = None,
    exaggeration: float = 0.0,
    force: NDArray[np.float64] | None = None,
) -> Drawing:
    """Side view in table coordinates, the beam cut to show its section."""
    start, end = lay.side_y - lay.side_beam_length / 2.0, lay.side_y + lay.side_beam_length / 2.0
    top = lay.beam_z + lay.sections.beam.height / 2.0
    row = row_height(lay.side_beam_length + 0.4, top - lay.floor_z)
    items: list[Shape] = [
        Line(start=(start - 0.2, lay.floor_z), end=(end + 0.2, lay.floor_z), role="floor", hint="Floor")
    ]
    items += diagonal_bars(project, lay, "yz")
    items += seen(base_boxes(project, lay), "y", "z")
    half = project.machine.work.travel_y / 2.0
    items.append(
        Line(start=(-half, 0.0), end=(half, 0.0), role="table", key="table", hint="Table surface at height 0")
    )
    items += [s for s in seen(gantry_boxes(project, lay, place), "y", "z") if s.key != "beam"]
    beam = project.machine.gantry.beam
    y0 = lay.gantry_y(place.y)
    for rings in solids(beam.section, beam.turned):
        items.append(outline_shape(rings, y0 + lay.beam_y, lay.beam_z, "beam", "beam", "Gantry beam, cut"))
    items += seen(head_boxes(project, lay, place), "y", "z")
    if shape is not None and exaggeration > 0.0:
        items += shape_lines(shape, "y", "z", exaggeration)
        items.append(shape_note(exaggeration, start - 0.2, lay.floor_z - 2.4 * row))
    tip = (place.y, lay.tip_z)
    items += load_shapes(tip, force, "y", "z", units, row)
    items.append(Circle(centre=tip, radius=0.014, role="grip", key="load", hint="Tool tip"))
    above = head_top(project, lay, place) - top
    items += [
        Dimension(start=(start, lay.floor_z), end=(end, lay.floor_z), offset=-1.2 * row,
                  label=f"Side beam {show(lay.side_beam_length, 'length', units)}"),
        Dimension(start=(-half, top), end=(half, top), offset=above + 2.6 * row,
                  label=f"Travel Y {show(2.0 * half, 'length', units)}"),
    ]  # fmt: skip
    reach = y0 + lay.beam_y - place.y
    if reach > 0.02:
        items.append(
            Dimension(start=(place.y, top), end=(y0 + lay.beam_y, top), offset=above + 0.7 * row,
                      label=f"Reach {show(reach, 'length', units)}")
        )  # fmt: skip
    return Drawing(items=tuple(items), title="Side view")
