"""Boxes of the machine's parts in space: one list that front, side and plan views project.

Places follow from the layout; a box is (x, y, z) ranges in table coordinates, m.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Protocol

from core.drawing.primitives import Polygon, Shape, rectangle
from core.machine.base import Legs
from core.machine.layout import Layout, support_places
from core.machine.project import Project
from core.materials import material


class ToolPlace(Protocol):
    """A tool place in table coordinates, m."""

    @property
    def x(self) -> float: ...
    @property
    def y(self) -> float: ...


@dataclass(frozen=True, slots=True)
class Box:
    """One part: ranges along x, y, z, its role and words."""

    x: tuple[float, float]
    y: tuple[float, float]
    z: tuple[float, float]
    role: str
    key: str
    hint: str


def _around(middle: float, size: float) -> tuple[float, float]:
    return middle - size / 2.0, middle + size / 2.0


def stuff_role(key: str) -> str:
    """The role that shows a material: aluminium or steel."""
    return "aluminium" if material(key).family == "aluminium" else "steel"


def base_boxes(project: Project, lay: Layout) -> Iterator[Box]:
    """Side beams, legs, cross members and Y rails."""
    machine = project.machine
    base, side = machine.base, lay.sections.side_beam
    along = _around(lay.side_y, lay.side_beam_length)
    for sign in (-1.0, 1.0):
        x = sign * lay.side_x
        yield Box(_around(x, side.width), along, _around(lay.side_z, side.height), stuff_role(base.material), "side_beam",
                  "Side beam")  # fmt: skip
        rail = machine.y_guides.data
        across, up = (x, 0.0), base.top
        if base.rail_face == "top":
            yield Box(_around(across[0], rail.rail_width), _around(lay.side_y, lay.y_rail_length),
                      (up, up + rail.rail_height), "rail", "y_rail", "Y rail")  # fmt: skip
        else:
            face = x + sign * side.width / 2.0
            ends = sorted((face, face + sign * rail.rail_height))
            yield Box((ends[0], ends[1]), _around(lay.side_y, lay.y_rail_length), _around(lay.side_z, rail.rail_width),
                      "rail", "y_rail", "Y rail")  # fmt: skip
        if isinstance(base.stand, Legs) and lay.sections.leg is not None:
            yield from _leg_boxes(project, lay, base.stand, x)
    if isinstance(base.stand, Legs) and lay.sections.cross is not None:
        cross = lay.sections.cross
        inner = lay.side_x - side.width / 2.0
        levels = [lay.side_z] + (
            [lay.floor_z + base.stand.low_cross * base.stand.height] if base.stand.low_cross else []
        )
        for y in support_places(project.machine, lay):
            for z in levels:
                yield Box((-inner, inner), _around(y, cross.width), _around(z, cross.height),
                          stuff_role(base.stand.cross_material), "cross_member", "Cross member")  # fmt: skip


def _leg_boxes(project: Project, lay: Layout, legs: Legs, x: float) -> Iterator[Box]:
    leg = lay.sections.leg
    assert leg is not None
    for y in support_places(project.machine, lay):
        yield Box(_around(x, leg.width), _around(y, leg.height), (lay.floor_z, lay.floor_z + legs.height),
                  stuff_role(legs.material), "leg", "Leg")  # fmt: skip


def gantry_boxes(project: Project, lay: Layout, place: ToolPlace) -> Iterator[Box]:
    """Y carriages, foot plates, uprights, beam and X rails with the gantry where the tool is."""
    machine = project.machine
    g, y0 = machine.gantry, lay.gantry_y(place.y)
    data, foot = machine.y_guides.data, g.foot_plate
    top = machine.base.rail_face == "top"
    upright = lay.sections.upright
    for sign in (-1.0, 1.0):
        x = sign * lay.upright_spacing / 2.0
        for at in machine.y_guides.places():
            height = data.assembly_height - data.rail_height * 0.4
            middle_x, middle_z = x + sign * lay.y_carriage[0], lay.y_carriage[1]
            sizes = (data.carriage_width, height) if top else (height, data.carriage_width)
            yield Box(_around(middle_x, sizes[0]), _around(y0 + at, data.carriage_length), _around(middle_z, sizes[1]),
                      "block", "y_carriage", "Y carriage")  # fmt: skip
        plate = (foot.width, foot.thickness) if top else (foot.thickness, foot.width)
        yield Box(_around(x, plate[0]), _around(y0, lay.foot_length), _around(lay.foot_z, plate[1]), "plate",
                  "foot_plate", "Foot plate")  # fmt: skip
        upright_top = lay.upright_top + (
            lay.sections.beam.height / 2.0 if g.upright.seat != "on top" else 0.0
        )
        yield Box(_around(x, upright.width), _around(y0 + lay.upright_y, upright.height),
                  (lay.upright_bottom, upright_top), stuff_role(g.upright.material), "upright", "Upright")  # fmt: skip
    beam = lay.sections.beam
    yield Box(_around(0.0, lay.beam_length), _around(y0 + lay.beam_y, beam.width), _around(lay.beam_z, beam.height),
              "beam", "beam", "Gantry beam")  # fmt: skip
    rail = machine.x_guides.data
    face_y, face_z = y0 + lay.beam_y - beam.width / 2.0, lay.beam_z + beam.height / 2.0
    for rail_y, rail_z in lay.x_carriages:
        if g.beam.rail_face == "front":
            yield Box(_around(0.0, lay.x_rail_length), (face_y - rail.rail_height, face_y),
                      _around(rail_z, rail.rail_width), "rail", "x_rail", "X rail")  # fmt: skip
        else:
            yield Box(_around(0.0, lay.x_rail_length), _around(y0 + rail_y, rail.rail_width),
                      (face_z, face_z + rail.rail_height), "rail", "x_rail", "X rail")  # fmt: skip


def head_boxes(project: Project, lay: Layout, place: ToolPlace) -> Iterator[Box]:
    """Saddle, head plate, spindle mount, spindle and cutter."""
    machine = project.machine
    y0, x = lay.gantry_y(place.y), place.x
    saddle, head, cutter = machine.saddle, machine.head, machine.cutter
    yield Box(_around(x, saddle.width), _around(y0 + lay.saddle_y, saddle.thickness), _around(lay.saddle_z, saddle.height),
              "plate", "saddle", "Saddle")  # fmt: skip
    ends = sorted((lay.mount_z - 0.05, lay.z_carriage_z + head.guides.spread / 2.0 + 0.05))
    yield Box(_around(x, head.plate_width), _around(y0 + lay.head_y, head.plate_thickness), (ends[0], ends[1]),
              "head", "head", "Head plate")  # fmt: skip
    size = min(0.08, 2.0 * head.reach) if head.reach > 0.01 else 0.05
    nose = lay.tip_z + cutter.stick_out
    yield Box(_around(x, size), _around(y0 + lay.spindle_y, size), (nose + 0.02, max(lay.mount_z + 0.1, nose + 0.06)),
              "head", "spindle", "Spindle")  # fmt: skip
    yield Box(_around(x, size * 0.45), _around(y0 + lay.spindle_y, size * 0.45), (nose, nose + 0.02), "head", "spindle",
              "Spindle nose")  # fmt: skip
    yield Box(_around(x, cutter.diameter), _around(y0 + lay.spindle_y, cutter.diameter), (lay.tip_z, nose), "rail",
              "cutter", "Cutter")  # fmt: skip


def seen(boxes: Iterator[Box], across: str, up: str) -> list[Shape]:
    """Boxes as rectangles seen along the third axis."""
    shapes: list[Shape] = []
    for box in boxes:
        (left, right), (bottom, top) = getattr(box, across), getattr(box, up)
        if right - left > 0.0 and top - bottom > 0.0:
            shapes.append(rectangle(left, bottom, right, top, box.role, box.key, box.hint))
    return shapes


def ring(points: tuple[tuple[float, float], ...], dx: float, dy: float) -> tuple[tuple[float, float], ...]:
    """A ring of points moved."""
    return tuple((x + dx, y + dy) for x, y in points)


def outline_shape(rings: tuple[tuple[tuple[float, float], ...], ...], dx: float, dy: float, role: str, key: str,
                  hint: str) -> Polygon:  # fmt: skip
    """A section's outline with its holes."""
    moved = [ring(points, dx, dy) for points in rings]
    return Polygon(outline=moved[0], holes=tuple(moved[1:]), role=role, key=key, hint=hint)
