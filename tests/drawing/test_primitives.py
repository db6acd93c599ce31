"""The display list: bounds, moving, refusal of what cannot be drawn, and picking."""

from __future__ import annotations

import dataclasses
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.drawing.picking import distance, hint_at, topmost
from core.drawing.primitives import (
    Arrow,
    Bounds,
    Circle,
    Dimension,
    Drawing,
    Line,
    Polygon,
    Polyline,
    Text,
    rectangle,
)
from core.errors import BadEntry

places = st.floats(-50.0, 50.0)
points = st.tuples(places, places)


def sample() -> Drawing:
    return Drawing(
        (
            rectangle(0.0, 0.0, 2.0, 1.0, "table", "table", "The table"),
            Circle(centre=(1.0, 2.0), radius=0.5, role="hole"),
            Text(at=(-1.0, 0.0), text="here", role="note"),
            Dimension(start=(0.0, 0.0), end=(2.0, 0.0), offset=-0.3, label="2000 mm"),
            Arrow(start=(1.0, 1.5), end=(1.0, 1.0), role="load", key="load", hint="The cut"),
        ),
        "Front",
    )


def test_bounds_hold_every_shape_and_the_dimension_line() -> None:
    assert sample().bounds() == Bounds(-1.0, -0.3, 2.0, 2.5)
    assert Drawing().bounds() is None


@given(st.lists(points, min_size=2, max_size=6), places, places)
def test_moving_there_and_back_keeps_bounds_and_area(
    vertices: list[tuple[float, float]], dx: float, dy: float
) -> None:
    line = Polyline(vertices=tuple(vertices), role="beam")
    back = line.moved(dx, dy).moved(-dx, -dy)
    for was, now in zip(line.points(), back.points(), strict=True):
        assert math.dist(was, now) < 1e-9
    moved = line.moved(dx, dy).bounds()
    assert moved.width == pytest.approx(line.bounds().width, abs=1e-9)
    assert moved.height == pytest.approx(line.bounds().height, abs=1e-9)


def test_a_whole_drawing_moves_with_all_its_kinds() -> None:
    was, now = sample().bounds(), sample().moved(3.0, -1.0).bounds()
    assert was is not None
    assert now is not None
    assert (now.left - was.left, now.top - was.top) == pytest.approx((3.0, -1.0))
    line = Line(start=(0.0, 0.0), end=(1.0, 0.0), role="axis").moved(1.0, 1.0)
    assert (line.start, line.end) == ((1.0, 1.0), (2.0, 1.0))


def test_a_tube_has_the_area_of_its_wall() -> None:
    tube = Polygon(
        outline=((0.0, 0.0), (0.1, 0.0), (0.1, 0.06), (0.0, 0.06)),
        holes=(((0.005, 0.005), (0.095, 0.005), (0.095, 0.055), (0.005, 0.055)),),
        role="steel",
    )
    assert tube.area() == pytest.approx(0.1 * 0.06 - 0.09 * 0.05)
    assert tube.moved(7.0, 7.0).area() == pytest.approx(tube.area(), rel=1e-9)


def test_a_dimension_line_lies_to_the_left_of_its_direction() -> None:
    upward = Dimension(start=(0.0, 0.0), end=(0.0, 2.0), offset=0.5, label="2 m")
    assert upward.line() == ((-0.5, 0.0), (-0.5, 2.0))
    point = Dimension(start=(1.0, 1.0), end=(1.0, 1.0), offset=0.5, label="0")
    assert point.line() == ((1.0, 1.5), (1.0, 1.5))


def test_what_cannot_be_drawn_is_refused_by_name() -> None:
    with pytest.raises(BadEntry) as no_role:
        Line(start=(0.0, 0.0), end=(1.0, 0.0), role="purple")
    assert no_role.value.where == "role"
    with pytest.raises(BadEntry) as no_place:
        Circle(centre=(math.nan, 0.0), radius=1.0, role="hole", key="screw 3")
    assert no_place.value.where == "screw 3"
    with pytest.raises(BadEntry):
        Polygon(outline=((0.0, 0.0), (1.0, 0.0)), role="plate")
    with pytest.raises(dataclasses.FrozenInstanceError):
        sample().title = "Side"  # type: ignore[misc]


def test_picking_takes_the_uppermost_within_reach() -> None:
    drawing = sample()
    above = topmost(drawing, (1.0, 1.0), 0.01)
    assert above is not None
    assert above.key == "load"
    only = topmost(drawing, (1.0, 1.0), 0.01, frozenset({"table"}))
    assert only is not None
    assert only.key == "table"
    assert topmost(drawing, (9.0, 9.0), 0.01) is None
    assert hint_at(drawing, (0.5, 0.5), 0.01) == "The table"
    assert hint_at(drawing, (1.0, 2.2), 0.01) == ""


def test_a_hole_is_outside_its_polygon() -> None:
    ring = Polygon(
        outline=((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)),
        holes=(((1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0)),),
        role="plate",
    )
    assert distance(ring, (0.5, 0.5)) == 0.0
    assert distance(ring, (2.0, 2.0)) == pytest.approx(1.0)
    assert distance(ring, (5.0, 2.0)) == pytest.approx(1.0)


@given(points, points, points)
def test_distance_to_a_segment_is_between_its_bounds(
    at: tuple[float, float], start: tuple[float, float], end: tuple[float, float]
) -> None:
    found = distance(Line(start=start, end=end, role="axis"), at)
    nearest = min(math.dist(at, start), math.dist(at, end))
    assert found <= nearest + 1e-9
    assert found >= nearest - math.dist(start, end) - 1e-9
