"""T-slot profiles: any description that is accepted draws one sound piece with its slots in place."""

from __future__ import annotations

import math

import msgspec
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon
from shapely.affinity import scale

from core.errors import BadEntry
from core.sections.outlines import turn
from core.sections.t_slot import STOCK, TSlot, label, outline, slot_lines

SMALL = STOCK[0]
BY_SIZE = {(round(s.height * 1e3), round(s.width * 1e3)): s for s in STOCK}
FACES = ("top", "bottom", "left", "right")


@st.composite
def profiles(draw):
    """Any profile up to 4 by 4 modules, its parts drawn as shares of the room there is."""
    part = st.floats(0.05, 1.0)
    module = draw(st.floats(0.015, 0.1))
    half, wall = module / 2, module * draw(st.floats(0.035, 0.06))
    web = math.sqrt(2) * wall
    gap = module * draw(st.floats(0.15, 0.25))
    most_depth = half - web - gap / 4
    lip = module * draw(st.floats(0.05, 0.13))
    assume(2 * (half - lip - web) > 1.1 * gap and lip > 0.0005 and wall > 0.0005)
    inner = 1.05 * gap + draw(part) * (2 * (half - lip - web) - 1.05 * gap)
    most_depth = min(most_depth, half - wall - 0.001)
    depth = 1.1 * lip + draw(part) * (most_depth - 1.1 * lip)
    bore = 0.001 + draw(st.floats(0.0, 1.0)) * (2 * (half - depth - wall) - 0.001)
    assume(bore >= 0.001 and depth > lip + 1e-6)
    counts = st.integers(1, 4)
    return TSlot(
        width=draw(counts) * module,
        height=draw(counts) * module,
        module=module,
        slot_opening=gap,
        lip=lip,
        inner_width=inner,
        slot_depth=depth,
        wall=wall,
        core_bore=bore,
    )


def metal(section, turned=False):
    rings = turn(outline(section)) if turned else outline(section)
    return Polygon(rings[0], rings[1:])


def mouth(section, turned, face, offset):
    """Middle of a slot's mouth, the way inwards and the way across."""
    width, height = (section.height, section.width) if turned else (section.width, section.height)
    return {
        "top": ((offset, height / 2), (0, -1), (1, 0)),
        "bottom": ((offset, -height / 2), (0, 1), (1, 0)),
        "left": ((-width / 2, offset), (1, 0), (0, 1)),
        "right": ((width / 2, offset), (-1, 0), (0, 1)),
    }[face]


def along(start, way, length):
    return start[0] + way[0] * length, start[1] + way[1] * length


# Edges that all but coincide: each of these once lost metal, or stopped the geometry library.
TOUCHING = [
    TSlot(
        width=w, height=h, module=w, slot_opening=o, lip=lip, inner_width=i, slot_depth=d, wall=t, core_bore=b
    )
    for w, h, o, lip, i, d, t, b in (
        (
            0.048828125,
            0.048828125,
            0.01220703125,
            0.006103515625,
            0.02175210014608306,
            0.01839516655233306,
            0.00209808349609375,
            0.001,
        ),
        (
            0.01953125,
            0.01953125,
            0.0048828125,
            0.00244140625,
            0.011627294927070925,
            0.007034350588535462,
            0.0010681352001247612,
            0.001,
        ),
    )
]


@example(TOUCHING[0], False)
@example(TOUCHING[1], False)
@given(profiles(), st.booleans())
def test_one_sound_piece_symmetric_both_ways_with_slots_where_they_are_said_to_be(section, turned):
    piece = metal(section, turned)
    assert piece.is_valid
    assert piece.area < section.width * section.height
    for mirrored in (scale(piece, -1, 1, origin=(0, 0)), scale(piece, 1, -1, origin=(0, 0))):
        assert piece.symmetric_difference(mirrored).area < 1e-4 * piece.area
    for y in slot_lines(section, turned, "top"):
        for z in slot_lines(section, turned, "left"):
            assert Point(y, z).buffer(0.49 * section.core_bore).disjoint(piece)
    for face in FACES:
        for offset in slot_lines(section, turned, face):
            start, inwards, across = mouth(section, turned, face, offset)
            way_in = LineString([start, along(start, inwards, section.slot_depth - 1e-6)])
            assert way_in.disjoint(piece)
            assert Point(along(start, inwards, section.slot_depth + 1e-5)).intersects(piece)
            beside = along(start, across, section.slot_opening / 2 + 1e-5)
            lip = LineString([beside, along(beside, inwards, (section.lip + section.slot_depth) / 2)])
            if section.inner_width > section.slot_opening + 4e-5:
                assert lip.intersection(piece).length >= section.lip - 1e-6


@pytest.mark.parametrize("section", STOCK, ids=label)
def test_a_stock_lip_is_as_thick_as_entered(section):
    for face in FACES:
        for offset in slot_lines(section, False, face):
            start, inwards, across = mouth(section, False, face, offset)
            beside = along(start, across, section.slot_opening / 2 + 0.001)
            lip = LineString([beside, along(beside, inwards, section.slot_depth - 0.003)])
            assert lip.intersection(metal(section)).length == pytest.approx(section.lip, abs=1e-7)


def test_slots_of_a_standing_and_a_lying_profile():
    section = BY_SIZE[160, 80]
    rise = pytest.approx([-0.06, -0.02, 0.02, 0.06])
    pair = pytest.approx([-0.02, 0.02])
    assert slot_lines(section, False, "left") == slot_lines(section, False, "right") == rise
    assert slot_lines(section, False, "top") == slot_lines(section, False, "bottom") == pair
    assert slot_lines(section, True, "left") == slot_lines(section, True, "right") == pair
    assert slot_lines(section, True, "top") == slot_lines(section, True, "bottom") == rise
    assert slot_lines(SMALL, False, "top") == (0.0,)


def test_outer_ring_anticlockwise_holes_clockwise():
    rings = outline(BY_SIZE[80, 80])
    turns = [sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(r, r[1:] + r[:1], strict=True)) for r in rings]
    assert turns[0] > 0
    assert len(turns) > 4
    assert all(area < 0 for area in turns[1:])


def test_stock_shapes_all_stand_and_weigh_what_the_trade_is_used_to():
    assert len(set(STOCK)) == len(STOCK) == 25
    assert all(s.height >= s.width for s in STOCK)
    # Light to normal series of the trade (common practice), cm2.
    for size, low, high in (
        ((30, 30), 3, 5),
        ((40, 40), 6.5, 9),
        ((80, 80), 20, 28),
        ((160, 80), 32, 45),
        ((100, 50), 15, 24),
    ):
        assert low < metal(BY_SIZE[size]).area * 1e4 < high


def test_survives_a_file():
    for section in STOCK:
        assert msgspec.json.decode(msgspec.json.encode(section), type=TSlot) == section


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("width", 0.05),
        ("height", 0.36),
        ("inner_width", 0.008),
        ("inner_width", 0.03),
        ("slot_depth", 0.004),
        ("slot_depth", 0.016),
        ("core_bore", 0.012),
        ("wall", math.nan),
        ("lip", -0.001),
    ],
)
def test_what_does_not_fit_is_refused_by_name(field, value):
    with pytest.raises(BadEntry) as caught:
        msgspec.structs.replace(SMALL, **{field: value})
    assert caught.value.where == field
    assert caught.value.accepted


def test_a_wall_too_thick_for_the_module_is_refused():
    with pytest.raises(BadEntry):
        msgspec.structs.replace(SMALL, wall=0.015)
