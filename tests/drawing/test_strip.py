"""Strips at full size: every hole once, at its place, on pages that a printer has; the ruler is as long as it says."""

from __future__ import annotations

import re
import zlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.strip_print import strip_svg, strips_pdf
from core.drawing.primitives import Circle, Line
from core.drawing.strip import MARGIN, OVERLAP, strip_pages, tile
from core.fasteners.drilling import RailMarks, find_drilling
from core.fasteners.rails import rails as find_rails
from core.units import METRIC, UnitSet
from tests.fasteners.machines import changed, laid

INCHES = UnitSet("in", "lbf")


def marks(longest: float | None = 1.0) -> RailMarks:
    project = changed(y_guides__pieces__longest=longest)
    lay = laid(project)
    return next(
        r for r in find_drilling(project, lay, find_rails(project, lay)[0]).rails if r.key == "y_left"
    )


@pytest.mark.parametrize("units", [METRIC, INCHES])
def test_every_hole_is_marked_once_and_steps_are_true(units: UnitSet) -> None:
    rail = marks()
    tiling = tile(rail.length, rail.width, (0.297, 0.210) if units is METRIC else (0.2794, 0.2159))
    found: dict[int, float] = {}
    row = -1
    for page in strip_pages(rail, units):
        last = None
        for shape in page.drawing:
            if isinstance(shape, Line) and shape.key == "edge" and shape.start[1] != last:
                row += 0 if last is not None and abs(shape.start[1] - last) < rail.width + 1e-6 else 1
                last = shape.start[1]
            if isinstance(shape, Circle) and shape.key:
                number = int(shape.key.split()[1])
                assert number not in found
                found[number] = shape.centre[0] - MARGIN - OVERLAP + row * tiling.row
    assert found == pytest.approx({mark.number: mark.place for mark in rail.holes})


@given(st.floats(0.05, 24.0), st.sampled_from((0.015, 0.02, 0.034, 0.045)))
def test_rows_cover_the_rail_and_fit_the_page(length: float, width: float) -> None:
    page = (0.297, 0.210)
    tiling = tile(length, width, page)
    assert len(tiling.starts) * tiling.row >= length - 1e-9
    assert tiling.starts[-1] < length
    assert tiling.row + 2.0 * (MARGIN + OVERLAP) <= page[0] + 1e-9
    assert tiling.pages * tiling.on_page >= len(tiling.starts)


@pytest.mark.parametrize(("units", "length"), [(METRIC, 0.1), (INCHES, 0.1016)])
def test_the_ruler_on_every_page_is_as_long_as_it_says(units: UnitSet, length: float) -> None:
    for page in strip_pages(marks(), units):
        rulers = [s for s in page.drawing.of_key("ruler") if isinstance(s, Line)]
        assert [line.end[0] - line.start[0] for line in rulers] == pytest.approx([length])
        box = page.drawing.bounds()
        assert box is not None
        assert box.left >= 0.0
        assert box.right <= page.width
        assert box.bottom >= 0.0
        assert box.top <= page.height


def test_joints_are_drawn() -> None:
    keys = {shape.key for page in strip_pages(marks(), METRIC) for shape in page.drawing}
    assert {"joint 1", "joint 2"} <= keys
    whole = {shape.key for page in strip_pages(marks(None), METRIC) for shape in page.drawing}
    assert not any(key.startswith("joint") for key in whole)


def test_paper_files_keep_full_size(qapp: object) -> None:
    """One logical pixel is 1/96 inch: 0.0625 x 12 points of 1/72 inch in the PDF; the SVG tells millimetres."""
    pages = strip_pages(marks(), METRIC)
    pdf = strips_pdf(pages, "strips")
    streams = [
        zlib.decompress(s) for s in re.findall(rb"stream\r?\n(.*?)endstream", pdf, re.S) if s[:1] == b"x"
    ]
    drawn = [text for text in streams if b" cm" in text]
    assert len(drawn) == len(pages)
    for text in drawn:
        first = re.search(rb"([\d.]+) 0 0 -([\d.]+) 0 [\d.]+ cm", text)
        assert first is not None
        assert float(first[1]) == float(first[2]) == pytest.approx(72.0 / (96.0 * 12.0))
        assert b"\n12 0 0 12 " in text
    boxes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)", pdf)
    assert [round(float(w) * 25.4 / 72.0) for w, _ in boxes] == [297] * len(pages)
    svg = strip_svg(pages[0]).decode("utf-8")
    size = re.search(r'width="([\d.]+)mm"\s+height="[\d.]+mm"\s+viewBox="0 0 (\d+)', svg)
    assert size is not None
    assert float(size[1]) / float(size[2]) == pytest.approx(25.4 / 96.0, rel=1e-4)
