"""Outlines out of DXF drawings: what is read, and every reason for which a drawing is refused."""

from __future__ import annotations

import io
import math

import ezdxf
import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadEntry, NeedsAnalysis
from core.sections import Outline, PropertyBook, Section, label, outline, properties
from core.sections.dxf_reading import MOST_BYTES, MOST_DEPTH, UNITS, read_dxf
from core.sections.figures import moments_of
from core.sections.outline_section import MOST_POINTS

SQUARE = ((0, 0), (100, 0), (100, 60), (0, 60))


def drawing(units=4):
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = units
    return document


def data_of(document) -> bytes:
    text = io.StringIO()
    document.write(text)
    return text.getvalue().encode("utf-8")


def made(draw, units=4) -> bytes:
    document = drawing(units)
    draw(document.modelspace())
    return data_of(document)


def frame(space, points=SQUARE, closed=True):
    space.add_lwpolyline(points, close=closed)


def refused(data: bytes, unit=None) -> BadEntry:
    with pytest.raises(BadEntry) as caught:
        read_dxf(data, "Test", unit)
    assert caught.value.accepted
    return caught.value


def test_a_polyline_with_a_hole():
    def draw(space):
        frame(space)
        space.add_circle((50, 30), 10)

    found = read_dxf(made(draw), "Bar")
    assert (found.unit, found.told, found.left_out) == ("mm", False, {})
    assert len(found.outline.rings) == 2
    own = moments_of(found.outline.rings)
    assert own.area == pytest.approx(0.006 - math.pi * 1e-4, rel=1e-4)
    assert found.outline.size() == pytest.approx((0.1, 0.06))
    assert max(y for y, _ in found.outline.rings[0]) == pytest.approx(0.05)
    assert label(found.outline) == "Bar"


def test_lines_and_arcs_in_any_order_and_direction():
    """A 100 x 60 rectangle with one corner rounded by 20."""

    def draw(space):
        space.add_line((100, 40), (100, 0))
        space.add_line((0, 0), (100, 0))
        space.add_arc((80, 40), 20, 0, 90)
        space.add_line((0, 60), (0, 0))
        space.add_line((80, 60), (0, 60))

    own = moments_of(read_dxf(made(draw), "Bar").outline.rings)
    assert own.area == pytest.approx((6000 - (400 - math.pi * 100)) * 1e-6, rel=1e-4)


@pytest.mark.parametrize("kind", ["LWPOLYLINE", "POLYLINE"])
@pytest.mark.parametrize("bulge", [1.0, -1.0])
def test_bulges(kind, bulge):
    """A stadium (or one hollowed out): straight sides of 60, round ends of radius 20."""
    points = ((0, 0, 0.0), (60, 0, bulge), (60, 40, 0.0), (0, 40, bulge))

    def draw(space):
        if kind == "LWPOLYLINE":
            space.add_lwpolyline(points, format="xyb", close=True)
        else:
            space.add_polyline2d(points, format="xyb", close=True)

    own = moments_of(read_dxf(made(draw), "Stadium").outline.rings)
    assert own.area == pytest.approx((2400 + math.copysign(math.pi * 400, bulge)) * 1e-6, rel=5e-4)


def test_a_circle_by_two_bulges_an_ellipse_and_a_spline():
    for draw in (
        lambda space: space.add_lwpolyline([(0, 0, 1), (40, 0, 1)], format="xyb", close=True),
        lambda space: space.add_ellipse((0, 0), major_axis=(20, 0), ratio=1.0),
        lambda space: space.add_circle((7, 9), 20),
    ):
        own = moments_of(read_dxf(made(draw), "Round").outline.rings)
        assert own.area == pytest.approx(math.pi * 400e-6, rel=1e-3)
        assert own.iyy == pytest.approx(own.izz, rel=1e-4)

    def spline(space):
        turn = [2 * math.pi * k / 40 for k in range(41)]
        space.add_spline(fit_points=[(20 * math.cos(a), 20 * math.sin(a)) for a in turn])

    assert moments_of(read_dxf(made(spline), "Round").outline.rings).area == pytest.approx(
        math.pi * 400e-6, rel=1e-3
    )


@pytest.mark.parametrize("unit", UNITS)
def test_units_told_and_read(unit):
    code = {"in": 1, "ft": 2, "mm": 4, "cm": 5, "m": 6}[unit]
    size = 0.1 / UNITS[unit]
    points = ((0, 0), (size, 0), (size, size), (0, size))
    by_header = read_dxf(made(lambda space: frame(space, points), code), "A")
    by_word = read_dxf(made(lambda space: frame(space, points), 0), "A", unit)
    assert by_header.unit == by_word.unit == unit
    assert by_word.told
    assert by_header.outline == by_word.outline
    assert by_header.outline.size() == pytest.approx((0.1, 0.1))


def test_a_unit_told_wins_over_the_drawing_and_says_so():
    found = read_dxf(made(frame, 1), "A", "mm")
    assert found.outline.size() == pytest.approx((0.1, 0.06))
    assert any("in" in note for note in found.notes())


def test_what_is_no_outline_is_left_out_and_named():
    def draw(space):
        frame(space)
        frame(space)
        space.add_text("80 x 40")
        space.add_point((3, 3))

    found = read_dxf(made(draw), "A")
    assert found.left_out == {"TEXT": 1, "POINT": 1}
    assert found.doubled == 1
    assert len(found.notes()) == 2


def test_blocks_are_taken_apart():
    document = drawing()
    document.blocks.new("HOLE").add_circle((0, 0), 5)
    space = document.modelspace()
    frame(space)
    space.add_blockref("HOLE", (20, 30))
    grid = space.add_blockref("HOLE", (50, 30), dxfattribs={"column_count": 2, "column_spacing": 25})
    assert grid.mcount == 2
    assert len(read_dxf(data_of(document), "A").outline.rings) == 4


def test_blocks_within_blocks_end():
    document = drawing()
    block = document.blocks.new("B0")
    block.add_circle((0, 0), 5)
    for number in range(1, MOST_DEPTH + 2):
        document.blocks.new(f"B{number}").add_blockref(f"B{number - 1}", (0, 0))
    document.modelspace().add_blockref(f"B{MOST_DEPTH + 1}", (0, 0))
    assert refused(data_of(document)).where == "drawing"


def test_a_missing_block():
    document = drawing()
    document.modelspace().add_blockref("NOWHERE", (0, 0))
    frame(document.modelspace())
    data = data_of(document)
    # The library drops what points nowhere when it repairs a drawing.
    assert len(read_dxf(data, "A").outline.rings) == 1


OPEN = ((0, 0), (100, 0), (100, 60), (0, 60), (0, 0.5))


@pytest.mark.parametrize(
    ("draw", "words"),
    [
        (lambda space: frame(space, OPEN, closed=False), "0.5"),  # says how wide the gap is
        (lambda space: space.add_line((0, 0), (100, 0)), "open"),
        (lambda space: frame(space, ((0, 0), (100, 60), (100, 0), (0, 60))), "(50, 30)"),
        (lambda space: frame(space, ((0, 0), (100, 0), (50, 0), (50, 60))), "itself"),
        (lambda space: [frame(space), space.add_circle((0, 30), 10)], "cross"),
        (lambda space: [frame(space), space.add_circle((10, 30), 10)], "touch"),
        (lambda space: [frame(space), space.add_circle((300, 30), 10)], "apart"),
        (
            lambda space: [frame(space), space.add_circle((50, 30), 20), space.add_circle((50, 30), 5)],
            "within",
        ),
        (lambda space: [frame(space), space.add_line((0, 0), (50, -30))], "open"),
        (
            lambda space: [
                space.add_line(a, b)
                for a, b in (
                    ((0, 0), (9, 0)),
                    ((9, 0), (9, 9)),
                    ((9, 9), (0, 0)),
                    ((9, 9), (0, 9)),
                    ((0, 9), (0, 0)),
                )
            ],
            "meet",
        ),
        (lambda space: space.add_text("nothing"), "TEXT"),
        (lambda space: None, "empty"),
        (lambda space: frame(space, ((0, 0), (1e5, 0), (1e5, 1e5))), "size"),
        (lambda space: frame(space, ((0, 0), (0.1, 0), (0.1, 0.1))), "size"),
        (lambda space: [space.add_circle((k % 60 * 9, k // 60 * 9), 4) for k in range(3600)], "many"),
        (lambda space: [frame(space), space.add_circle((50, 30, 7), 10)], "flat"),
    ],
)
def test_what_is_refused(draw, words):
    error = refused(made(draw))
    assert error.where in ("drawing", "unit")
    assert words in str(error)


def test_a_small_gap_is_closed():
    nearly = ((0, 0), (100, 0), (100, 60), (0, 60), (0, 0.005))
    assert len(read_dxf(made(lambda space: frame(space, nearly, closed=False)), "A").outline.rings) == 1


def test_no_unit_is_asked_for():
    assert refused(made(frame, 0)).where == "unit"
    assert refused(made(frame, 20)).where == "unit"  # light years
    assert refused(made(frame), "furlong").where == "unit"


@pytest.mark.parametrize(
    "data", [b"", b"   \n", b"%PDF-1.4 no drawing", b"\x00\xff" * 500, b"0\nSECTION\n2\nHEAD"]
)
def test_what_is_no_drawing(data):
    assert refused(data, "mm").where == "drawing"


def test_a_binary_drawing_is_read_as_its_text_is(tmp_path):
    document = drawing()
    frame(document.modelspace())
    document.modelspace().add_circle((50, 30), 10)
    document.saveas(tmp_path / "bar.dxf", fmt="bin")
    data = (tmp_path / "bar.dxf").read_bytes()
    assert read_dxf(data, "Bar").outline == read_dxf(data_of(document), "Bar").outline
    for broken in (data[:200], data[: len(data) // 2], data[:22] + b"\x00\xff" * 300):
        assert refused(broken, "mm").where == "drawing"


def test_a_drawing_without_an_outline_says_what_it_holds():
    assert "empty" in refused(made(lambda space: None)).value
    assert "TEXT" in refused(made(lambda space: space.add_text("a note"))).value


def test_too_large_a_file():
    assert refused(b"0" * (MOST_BYTES + 1)).where == "drawing"


@given(data=st.binary(max_size=300))
def test_any_bytes_are_refused_in_words(data):
    with pytest.raises(BadEntry):
        read_dxf(data, "A", "mm")


def test_the_outline_is_a_section_like_any_other():
    def draw(space):
        frame(space)
        space.add_circle((50, 30), 10)

    section = read_dxf(made(draw), "Bar").outline
    assert msgspec.json.decode(msgspec.json.encode(section), type=Section) == section
    assert outline(section) == section.rings
    with pytest.raises(NeedsAnalysis):
        properties(section, PropertyBook())


@pytest.mark.parametrize(
    "rings",
    [
        (),
        (((0.0, 0.0), (0.1, 0.0)),),
        (tuple((0.01 * math.cos(k), 0.01 * math.sin(k)) for k in range(MOST_POINTS + 1)),),
        (((-0.05, -0.05), (0.05, 0.05), (0.05, -0.05), (-0.05, 0.05)),),
        (((0.0, 0.0), (0.1, 0.0), (0.1, 0.1)),),
        (((math.nan, 0.0), (0.1, 0.0), (0.1, 0.1)),),
    ],
)
def test_bad_points_in_a_file_are_refused(rings):
    with pytest.raises(BadEntry):
        Outline(name="A", rings=rings)
