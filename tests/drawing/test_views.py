"""Views of whole machines: what is drawn, to which scale, in which words, and by how much bending is drawn larger."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import msgspec
import numpy as np
import pytest

from core.drawing.primitives import ROLES, Circle, Dimension, Drawing, Line, Polygon, Shape, Text
from core.drawing.views import (
    auto_exaggeration,
    front_view,
    plan_view,
    rail_drawing,
    section_drawing,
    side_view,
)
from core.drawing.views.rail import NUMBER_EVERY
from core.drawing.views.rows import head_top, row_height
from core.machine.guides import RAILS
from core.machine.project import Project, replace_at
from core.plan import Place, Plan, make_plan
from core.sections import RectangularHollow
from core.sections.book import stock_book
from core.stiffness import DeflectedShape, ShapeLine
from core.storage import load_project
from core.units import METRIC, UnitSet, show

INCHES = UnitSet("in", "lbf")
DEMOS = sorted((Path(__file__).resolve().parents[2] / "demo_projects").glob("*.json"))
NAMES = ["default", *(file.stem for file in DEMOS)]
VIEWS = {"front": front_view, "side": side_view, "plan": plan_view}
# The parts of the machine itself, without dimensions, notes and the bent shape.
PARTS = ROLES - {"dimension", "note", "deflected", "load", "grip"}


@cache
def plan_of(name: str) -> Plan:
    files = {file.stem: file for file in DEMOS}
    project = load_project(files[name]) if name in files else Project()
    return make_plan(project, stock_book())


def draw(
    view: str, name: str, place: Place | None = None, units: UnitSet = METRIC, bent: bool = False
) -> Drawing:
    plan = plan_of(name)
    shape = plan.shape if bent else None
    larger = auto_exaggeration(shape, plan.layout.upright_spacing)
    return VIEWS[view](plan.project, plan.layout, place or plan.place, units, shape, larger)


def words(drawing: Drawing) -> list[str]:
    """Every text of a drawing."""
    found = [item.label for item in drawing if isinstance(item, Dimension)]
    return found + [item.text for item in drawing if isinstance(item, Text)]


def polygons(drawing: Drawing) -> list[Polygon]:
    return [item for item in drawing if isinstance(item, Polygon)]


def test_the_demos_are_there() -> None:
    assert len(DEMOS) == 3


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("view", VIEWS)
def test_every_view_shows_the_machine_with_roles_keys_and_hints(view: str, name: str) -> None:
    drawing = draw(view, name)
    assert drawing.title
    assert {item.role for item in drawing} <= ROLES
    keys = {item.key for item in drawing}
    assert {"beam", "upright", "side_beam", "saddle", "head", "cutter", "x_rail", "y_rail", "load"} <= keys
    assert all(item.hint for item in polygons(drawing))
    assert all(item.area() > 0.0 for item in polygons(drawing))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("view", VIEWS)
def test_bounds_hold_every_shape(view: str, name: str) -> None:
    drawing = draw(view, name, bent=True)
    box = drawing.bounds()
    assert box is not None
    points = np.array([point for item in drawing for point in item.points()])
    assert (points >= (box.left - 1e-12, box.bottom - 1e-12)).all()
    assert (points <= (box.right + 1e-12, box.top + 1e-12)).all()


def footprint(items: list[Shape]) -> set[tuple[str, float, float, float, float]]:
    boxes = [(item, item.bounds()) for item in items]
    return {(i.role, *(round(v, 9) + 0.0 for v in (b.left, b.bottom, b.right, b.top))) for i, b in boxes}


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("view", ["front", "plan"])
def test_the_machine_mirrors_about_the_middle_with_the_head_there(view: str, name: str) -> None:
    parts: list[Shape] = [item for item in draw(view, name, Place(0.0, 0.0)) if item.role in PARTS]
    found = footprint(parts)
    assert found == {(role, -right, bottom, -left, top) for role, left, bottom, right, top in found}


@pytest.mark.parametrize("name", NAMES)
def test_the_head_follows_the_tool_and_the_base_stays(name: str) -> None:
    for view, axis in (("front", 0), ("plan", 0), ("plan", 1), ("side", 0)):
        moved = (0.1, 0.0) if view == "front" or (view == "plan" and axis == 0) else (0.0, 0.1)
        at_rest, then = draw(view, name, Place(0.0, 0.0)), draw(view, name, Place(*moved))
        for key, expected in (("saddle", 0.1), ("cutter", 0.1), ("side_beam", 0.0), ("leg", 0.0)):
            for before, after in zip(at_rest.of_key(key), then.of_key(key), strict=True):
                step = np.array(after.points()) - np.array(before.points())
                assert step[:, axis] == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("units", [METRIC, INCHES], ids=["mm", "in"])
def test_dimensions_speak_the_chosen_units_and_the_layouts_lengths(name: str, units: UnitSet) -> None:
    plan = plan_of(name)
    lay, work = plan.layout, plan.project.machine.work
    wanted = {
        "front": (lay.beam_length, work.travel_x, lay.upright_spacing, work.clearance, lay.upright_length),
        "side": (lay.side_beam_length, work.travel_y),
        "plan": (work.travel_x, work.travel_y, lay.y_rail_length),
    }
    for view, lengths in wanted.items():
        texts = words(draw(view, name, units=units))
        for length in lengths:
            assert any(text.endswith(show(length, "length", units)) for text in texts), (view, length)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("view", VIEWS)
def test_a_dimension_is_as_long_as_it_says(view: str, name: str) -> None:
    drawing = draw(view, name)
    dimensions = [item for item in drawing if isinstance(item, Dimension)]
    assert dimensions
    for item in dimensions:
        start, end = np.array(item.start), np.array(item.end)
        length = float(np.linalg.norm(end - start))
        if item.label.startswith("Upright"):
            continue  # an upright entered by hand may differ from the room that is drawn
        assert item.label.endswith(show(length, "length", METRIC))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("view", VIEWS)
def test_rows_of_dimensions_and_the_note_keep_clear_of_each_other(view: str, name: str) -> None:
    """Level dimension lines and the note lie a row of letters apart where they share room across."""
    drawing = draw(view, name, bent=True)
    box = drawing.bounds()
    assert box is not None
    letters = 15.0 / min(660.0 / box.width, 380.0 / box.height)  # a picture of 700 by 420 with its margins
    lines = [item.line() for item in drawing if isinstance(item, Dimension)]
    rows = sorted(
        {round(a[1], 9) for a, b in lines if abs(a[1] - b[1]) < 1e-9}
        | {round(item.at[1], 9) for item in drawing if isinstance(item, Text) and item.role == "note"}
    )
    assert len(rows) >= 2
    assert min(np.diff(rows)) >= letters


def test_the_clearance_stands_outside_the_machine() -> None:
    for x in (-0.5, 0.0, 0.5):
        drawing = draw("front", "default", Place(x=x))
        (clearance,) = [d for d in drawing if isinstance(d, Dimension) and d.label.startswith("Clearance")]
        parts = [shape.bounds() for shape in drawing if shape.role in PARTS - {"floor"}]
        assert max(point[0] for point in clearance.line()) < min(part.left for part in parts)


def test_the_side_view_tells_the_reach_from_beam_to_spindle() -> None:
    lay = plan_of("default").layout
    (reach,) = [
        item
        for item in draw("side", "default")
        if isinstance(item, Dimension) and item.label.startswith("Reach")
    ]
    assert abs(reach.end[0] - reach.start[0]) == pytest.approx(lay.beam_y - lay.spindle_y)


def test_the_side_view_cuts_the_beam_open() -> None:
    plan = plan_of("default")
    (beam,) = (item for item in draw("side", "default").of_key("beam") if isinstance(item, Polygon))
    assert beam.holes
    assert beam.area() == pytest.approx(plan.layout.sections.beam.area, rel=0.01)


def test_a_base_on_the_floor_has_no_legs() -> None:
    from core.machine.base import Floor

    project = replace_at(Project(), "machine.base.stand", Floor())
    assert isinstance(project, Project)
    plan = make_plan(project, stock_book())
    drawing = front_view(project, plan.layout, plan.place, METRIC)
    assert not drawing.of_key("leg")
    assert not drawing.of_key("cross_member")
    (floor,) = (item for item in drawing if isinstance(item, Line) and item.role == "floor")
    side_beams = drawing.of_key("side_beam")
    assert min(item.bounds().bottom for item in side_beams) == pytest.approx(floor.start[1], abs=1e-12)


def test_rails_on_the_other_faces_are_drawn_there() -> None:
    project = replace_at(Project(), "machine.base.rail_face", "outside")
    assert isinstance(project, Project)
    plan = make_plan(project, stock_book())
    drawing = front_view(project, plan.layout, plan.place, METRIC)
    outer = max(item.bounds().right for item in drawing.of_key("side_beam"))
    assert max(item.bounds().left for item in drawing.of_key("y_rail")) == pytest.approx(outer, abs=1e-12)


@pytest.mark.parametrize("name", NAMES)
def test_a_rail_has_the_holes_of_the_answer(name: str) -> None:
    for rail in plan_of(name).rails:
        drawing = rail_drawing(rail, METRIC)
        holes = [item for item in drawing if isinstance(item, Circle) and item.role == "hole"]
        assert [item.centre[0] for item in holes] == pytest.approx(rail.holes)
        assert len(holes) == rail.count == rail.screws
        assert {2.0 * item.radius for item in holes} == {RAILS[rail.size].hole_diameter}
        (bar,) = polygons(drawing)
        assert bar.bounds().width == pytest.approx(rail.length)
        assert all(bar.bounds().left < at < bar.bounds().right for at in rail.holes)


@pytest.mark.parametrize("name", NAMES)
def test_a_rails_numbers_and_lengths_can_be_read(name: str) -> None:
    for rail in plan_of(name).rails:
        drawing = rail_drawing(rail, INCHES)
        numbers = {int(t.text): t.at for t in drawing if isinstance(t, Text)}
        assert {1, rail.count} <= set(numbers)
        assert all(n in (1, rail.count) or n % NUMBER_EVERY == 0 for n in numbers)
        assert all(at[0] == pytest.approx(rail.holes[n - 1]) for n, at in numbers.items())
        assert all(at[1] > RAILS[rail.size].rail_width / 2.0 for at in numbers.values())
        texts = words(drawing)
        for length in (rail.length, rail.first, rail.last, rail.pitch):
            assert any(text.endswith(show(length, "length", INCHES)) for text in texts)


def test_a_section_is_drawn_to_scale_and_turned() -> None:
    section = RectangularHollow(height=0.12, width=0.08, wall=0.005, finish="cold formed")
    for turned, size in ((False, (0.08, 0.12)), (True, (0.12, 0.08))):
        drawing = section_drawing(section, turned, METRIC)
        (shape,) = polygons(drawing)
        assert (shape.bounds().width, shape.bounds().height) == pytest.approx(size)
        assert sorted(words(drawing)) == ["120 mm", "80 mm"]


@pytest.mark.parametrize("name", NAMES)
def test_bending_is_drawn_as_large_as_can_be_seen_and_no_larger(name: str) -> None:
    """A round number of times, so that the largest drawn movement is over 1.6 % and at most 4 % of the span."""
    plan = plan_of(name)
    span = plan.layout.upright_spacing
    assert plan.shape is not None
    larger = auto_exaggeration(plan.shape, span)
    moves = [float(np.abs(line.moved).max()) for line in plan.shape.lines]
    largest = max(*moves, float(np.abs(plan.shape.tip_moved).max()))
    assert 0.016 * span < larger * largest <= 0.04 * span * (1.0 + 1e-9)
    assert f"{larger:.0e}"[0] in "125"


def test_no_shape_and_no_movement_are_drawn_without_magnifying() -> None:
    assert auto_exaggeration(None, 1.0) == 0.0
    still = ShapeLine("beam", np.zeros((2, 3)), np.zeros((2, 3)))
    shape = DeflectedShape((still,), np.zeros(3), np.zeros(3))
    assert auto_exaggeration(shape, 1.0) == 0.0
    assert not front_view(Project(), plan_of("default").layout, Place(), METRIC, shape, 0.0).of_key("shape")


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("view", VIEWS)
def test_the_bent_shape_comes_with_a_note_of_its_magnification(view: str, name: str) -> None:
    plan = plan_of(name)
    larger = auto_exaggeration(plan.shape, plan.layout.upright_spacing)
    drawing = draw(view, name, bent=True)
    assert drawing.of_key("shape")
    assert {item.role for item in drawing.of_key("shape")} == {"deflected"}
    notes = [item.text for item in drawing if isinstance(item, Text) and item.role == "note"]
    assert len(notes) == 1
    assert f"{larger:,.0f}" in notes[0]
    plain = draw(view, name)
    assert not plain.of_key("shape")
    assert not [item for item in plain if isinstance(item, Text) and item.role == "note"]


def test_the_bent_tip_lies_where_movement_and_magnification_put_it() -> None:
    plan = plan_of("default")
    assert plan.shape is not None
    larger = auto_exaggeration(plan.shape, plan.layout.upright_spacing)
    tip = plan.shape.tip + larger * plan.shape.tip_moved
    for view, axes in (("front", [0, 2]), ("side", [1, 2])):
        points = np.array(
            [p for item in draw(view, "default", bent=True).of_key("shape") for p in item.points()]
        )
        assert np.linalg.norm(points - tip[axes], axis=1).min() < 1e-12


def test_rows_grow_with_the_view_and_the_head_tops_the_beam() -> None:
    assert row_height(4.0, 1.0) == pytest.approx(2.0 * row_height(2.0, 0.5))
    plan = plan_of("default")
    lay = plan.layout
    assert head_top(plan.project, lay, plan.place) >= lay.beam_z + lay.sections.beam.height / 2.0
    flat = msgspec.structs.replace(plan.project.machine.saddle, height=0.04)
    project = replace_at(plan.project, "machine.saddle", flat)
    assert isinstance(project, Project)
    assert head_top(project, lay, plan.place) <= head_top(plan.project, lay, plan.place)
