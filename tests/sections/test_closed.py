"""Laws of the closed-form properties: scaling, turning, limits, and agreement with the drawn outline."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from core.errors import BadEntry
from core.sections import Channel, FlatBar, PropertyBook, RectangularHollow, RoundTube, outline, properties
from core.sections.solid import rectangle_torsion
from tests.sections.shapes_at_random import EACH, SHEET, TUBE, channels, drawn, hollows, side

BOOK = PropertyBook()
POWERS = {
    "width": 1,
    "height": 1,
    "wall": 1,
    "shear_centre_y": 1,
    "shear_centre_z": 1,
    "area": 2,
    "avy": 2,
    "avz": 2,
    "iyy": 4,
    "izz": 4,
    "it": 4,
}


def figures(section):
    found = properties(section, BOOK)
    return {name: getattr(found, name) for name in POWERS}


@given(section=drawn)
def test_figures_are_possible(section):
    p = properties(section, BOOK)
    assert 0 < p.area <= p.width * p.height * (1 + 1e-12)
    assert 0 < p.iyy <= p.area * p.height**2 / 4
    assert 0 < p.izz <= p.area * p.width**2 / 4
    assert 0 < p.it <= (p.iyy + p.izz) * (1 + 1e-9)
    assert 0 < p.avy < p.area
    assert 0 < p.avz < p.area
    assert p.wall > 0


def moments(ring):
    """Signed area and second moments about the centre of the box of one ring, by Green's theorem."""
    area = iyy = izz = y_area = z_area = 0.0
    for (y0, z0), (y1, z1) in zip(ring, ring[1:] + ring[:1], strict=True):
        cross = y0 * z1 - y1 * z0
        area += cross / 2
        y_area += (y0 + y1) * cross / 6
        z_area += (z0 + z1) * cross / 6
        iyy += (z0**2 + z0 * z1 + z1**2) * cross / 12
        izz += (y0**2 + y0 * y1 + y1**2) * cross / 12
    return area, y_area, z_area, iyy, izz


@given(section=drawn)
def test_outline_carries_the_same_area_and_second_moments(section):
    """Chords in place of arcs lose less than half a percent of a round and far less of anything else."""
    area, y_area, z_area, iyy, izz = (
        sum(values) for values in zip(*map(moments, outline(section)), strict=True)
    )
    p = properties(section, BOOK)
    assert area == pytest.approx(p.area, rel=5e-3)
    assert iyy - z_area**2 / area == pytest.approx(p.iyy, rel=8e-3)
    assert izz - y_area**2 / area == pytest.approx(p.izz, rel=8e-3)


@given(section=drawn, turned=st.booleans())
def test_outline_is_a_clean_shape_that_fills_its_box(section, turned):
    rings = outline(section, turned)
    shape = Polygon(rings[0], rings[1:])
    assert shape.is_valid
    p = properties(section, BOOK)
    width, height = (p.height, p.width) if turned else (p.width, p.height)
    box = (-width / 2, -height / 2, width / 2, height / 2)
    assert shape.bounds == pytest.approx(box, rel=1e-9, abs=1e-12)
    assert moments(rings[0])[0] > 0
    assert all(moments(hole)[0] < 0 for hole in rings[1:])


@given(section=drawn, factor=st.floats(1.01, 2.0))
def test_figures_scale_with_size(section, factor):
    sizes = {n: v * factor for n in section.__struct_fields__ if isinstance(v := getattr(section, n), float)}
    words = {n: v for n in section.__struct_fields__ if isinstance(v := getattr(section, n), str)}
    try:
        larger = type(section)(**sizes, **words)
    except BadEntry:  # larger than the description allows
        assume(False)
    if isinstance(section, RectangularHollow):
        # Cold-formed corners grow in steps with the wall, so only equal steps scale.
        assume(larger.radii()[0] / larger.wall == pytest.approx(section.radii()[0] / section.wall, rel=1e-9))
    small, large = figures(section), figures(larger)
    for name, power in POWERS.items():
        assert large[name] == pytest.approx(small[name] * factor**power, rel=1e-9, abs=1e-12 * factor)


@given(section=hollows)
def test_turning_a_tube_is_swapping_its_sides(section):
    swapped = RectangularHollow(
        height=section.width, width=section.height, wall=section.wall, finish=section.finish
    )
    turned = replace(properties(section, BOOK).turned(), name="")
    for name in POWERS:
        assert getattr(turned, name) == pytest.approx(figures(swapped)[name], rel=1e-12)


@pytest.mark.parametrize("section", EACH, ids=lambda s: type(s).__name__)
def test_four_quarter_turns_change_nothing(section):
    p = properties(section, BOOK)
    assert p.turned().turned().turned().turned() == p
    half = p.turned().turned()
    assert (half.iyy, half.shear_centre_y) == (p.iyy, -p.shear_centre_y)


@given(section=channels)
def test_shear_centre_of_a_channel_lies_behind_its_web(section):
    """Where the textbook formula puts it: e = 3 b2 tf / (h tw + 6 b tf) behind the midline of the web."""
    p = properties(section, BOOK)
    h, b = section.height - section.flange, section.width - section.web / 2
    e = 3 * b**2 * section.flange / (h * section.web + 6 * b * section.flange)
    areas = (h + section.flange - 2 * section.flange) * section.web, 2 * section.width * section.flange
    centroid = (areas[0] * section.web / 2 + areas[1] * section.width / 2) / sum(areas)
    assert p.shear_centre_y == pytest.approx(section.web / 2 - e - centroid, rel=1e-6)
    assert p.shear_centre_z == pytest.approx(0.0, abs=1e-12)


@given(d=side, part=st.floats(0.001, 0.002))
def test_thin_round_tube_shears_on_half_its_area(d, part):
    """The classical limit of a thin ring: one half, 0.53 with Poisson's ratio 0.3."""
    p = properties(RoundTube(diameter=d, wall=max(part * d, 0.0003)), BOOK)
    assert p.avz / p.area == pytest.approx(2 * 1.3 / (4 + 3 * 0.3), rel=1e-3)


@given(a=side, b=side)
def test_rectangle_torsion_has_no_favourite_side(a, b):
    assert rectangle_torsion(a, b) == rectangle_torsion(b, a)
    assert 0.14 < rectangle_torsion(a, b) / (max(a, b) * min(a, b) ** 3) < 1 / 3


def test_long_strip_tends_to_one_third():
    assert rectangle_torsion(2.0, 0.002) / (2.0 * 0.002**3) == pytest.approx(1 / 3 * (1 - 0.63e-3), rel=1e-6)


def test_datasheet_figures_pass_through_and_shear_is_shared_by_the_sides():
    p = properties(SHEET, BOOK)
    assert (p.area, p.iyy, p.izz, p.it, p.wall) == (SHEET.area, SHEET.iyy, SHEET.izz, SHEET.it, SHEET.wall)
    assert p.avz == pytest.approx(2 * p.avy)
    assert p.avy + p.avz == pytest.approx(p.area)
    assert "estimated" in p.method


@pytest.mark.parametrize("section", EACH, ids=lambda s: type(s).__name__)
def test_method_and_source_are_told(section):
    p = properties(section, BOOK)
    assert p.method
    assert p.source
    assert p.name


def test_a_square_plate_is_a_square_bar():
    p = properties(FlatBar(height=0.02, width=0.02), BOOK)
    assert p.iyy == pytest.approx(0.02**4 / 12)
    assert p.iyy == p.izz
    assert math.isclose(p.it, 0.140577 * 0.02**4, rel_tol=1e-5)


def test_a_thicker_wall_is_stiffer():
    thin, thick = figures(TUBE), figures(RectangularHollow(height=0.12, width=0.08, wall=0.006))
    assert all(thick[name] > thin[name] for name in ("area", "iyy", "izz", "it", "avy", "avz"))
    slim = Channel(height=0.1, width=0.05, web=0.005, flange=0.0085)
    assert figures(EACH[4])["avz"] > figures(slim)["avz"]
