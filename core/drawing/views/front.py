"""The machine from the front (X across, Z up), with its main lengths and the load at the tool tip."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from core.drawing.primitives import Circle, Dimension, Drawing, Line, Shape, rectangle
from core.drawing.views.boxes import ToolPlace, base_boxes, gantry_boxes, head_boxes, seen
from core.drawing.views.diagonals import diagonal_bars
from core.drawing.views.load import load_shapes
from core.drawing.views.rows import head_top, row_height
from core.drawing.views.shape import shape_lines, shape_note
from core.machine.layout import Layout
from core.machine.project import Project
from core.stiffness import DeflectedShape
from core.units import UnitSet, show


def front_view(
    project: Project,
    lay: Layout,
    place: ToolPlace,
    units: UnitSet,
    shape: DeflectedShape | None = None,
    exaggeration: float = 0.0,
    force: NDArray[np.float64] | None = None,
) -> Drawing:
    """Front view in table coordinates; the item with key "load" marks the tool tip and may be dragged along X.

    Args:
        shape, exaggeration: the bent machine, drawn so much larger. force: (3,) N at the tip, to be drawn as an arrow.
    """
    half = lay.upright_spacing / 2.0
    reach = half + 0.25
    items: list[Shape] = [
        Line(start=(-reach, lay.floor_z), end=(reach, lay.floor_z), role="floor", hint="Floor")
    ]
    items += diagonal_bars(project, lay, "xz")
    items += seen(base_boxes(project, lay), "x", "z")
    inner = lay.side_x - lay.sections.side_beam.width / 2.0 - 0.005
    if inner > 0.0:
        items.append(rectangle(-inner, -0.025, inner, 0.0, "table", "table", "Table surface at height 0"))
    items += seen(gantry_boxes(project, lay, place), "x", "z")
    items += seen(head_boxes(project, lay, place), "x", "z")
    if shape is not None and exaggeration > 0.0:
        items += shape_lines(shape, "x", "z", exaggeration)
        items.append(shape_note(exaggeration, -reach, lay.floor_z - 2.4 * _row(lay)))
    items += load_shapes((place.x, lay.tip_z), force, "x", "z", units, _row(lay))
    items.append(_grip(lay, place))
    items += _dimensions(project, lay, place, units)
    return Drawing(items=tuple(items), title="Front view")


def _grip(lay: Layout, place: ToolPlace) -> Shape:
    return Circle(
        centre=(place.x, lay.tip_z),
        radius=0.014,
        role="grip",
        key="load",
        hint="Tool tip: drag along X to move the load",
    )


def _row(lay: Layout) -> float:
    return row_height(lay.upright_spacing + 0.5, lay.beam_z + lay.sections.beam.height / 2.0 - lay.floor_z)


def _dimensions(project: Project, lay: Layout, place: ToolPlace, units: UnitSet) -> list[Shape]:
    work, row = project.machine.work, _row(lay)
    half, top = lay.upright_spacing / 2.0, lay.beam_z + lay.sections.beam.height / 2.0
    travel, bottom = work.travel_x / 2.0, lay.floor_z
    above = head_top(project, lay, place) - top

    def text(value: float) -> str:
        return show(value, "length", units)

    found: list[Shape] = [
        Dimension(start=(-lay.beam_length / 2.0, top), end=(lay.beam_length / 2.0, top), offset=above + 2.2 * row,
                  label=f"Beam {text(lay.beam_length)}"),
        Dimension(start=(-travel, top), end=(travel, top), offset=above + 1.1 * row,
                  label=f"Travel X {text(work.travel_x)}"),
        Dimension(start=(-half, bottom), end=(half, bottom), offset=-1.2 * row,
                  label=f"Between uprights {text(lay.upright_spacing)}"),
    ]  # fmt: skip
    edge = max(half, lay.beam_length / 2.0) + 0.8 * row
    if work.clearance > 0.0:
        label = f"Clearance {text(work.clearance)}"
        found.append(
            Dimension(start=(-edge, 0.0), end=(-edge, work.clearance), offset=0.4 * row, label=label)
        )
    low, high = lay.upright_bottom, lay.upright_top
    if high - low > 0.0:
        found.append(
            Dimension(
                start=(edge, low),
                end=(edge, high),
                offset=-0.4 * row,
                label=f"Upright {text(lay.upright_length)}",
            )
        )
    return found
