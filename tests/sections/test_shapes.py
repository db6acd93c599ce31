"""Descriptions refuse what cannot exist, say which entry, survive a file, and know their words and walls."""

from __future__ import annotations

import msgspec
import pytest

from core.errors import BadEntry
from core.sections import (
    Angle,
    Channel,
    Datasheet,
    FlatBar,
    RectangularHollow,
    RoundSolid,
    RoundTube,
    Section,
    label,
    screw_wall,
    slot_lines,
)
from core.sections.t_slot import STOCK
from tests.sections.shapes_at_random import EACH, SHEET, TUBE

SHEET_FIGURES = {name: getattr(SHEET, name) for name in SHEET.__struct_fields__}


@pytest.mark.parametrize("section", EACH, ids=lambda s: type(s).__name__)
def test_a_file_gives_the_same_section_back(section):
    assert msgspec.json.decode(msgspec.json.encode(section), type=Section) == section


def test_an_unknown_field_is_refused():
    with pytest.raises(msgspec.ValidationError):
        msgspec.json.decode(b'{"kind":"round_solid","diameter":0.02,"colour":1}', type=Section)


@pytest.mark.parametrize(
    ("kind", "sizes", "where"),
    [
        (RectangularHollow, {"height": 0.04, "width": 0.02, "wall": 0.006}, "wall"),
        (RectangularHollow, {"height": 0.04, "width": 0.02, "wall": float("nan")}, "wall"),
        (FlatBar, {"height": -0.01, "width": 0.1}, "height"),
        (RoundSolid, {"diameter": 0.0}, "diameter"),
        (RoundTube, {"diameter": 0.02, "wall": 0.01}, "wall"),
        (Channel, {"height": 0.1, "width": 0.05, "web": 0.05, "flange": 0.005}, "web"),
        (Channel, {"height": 0.1, "width": 0.05, "web": 0.005, "flange": 0.05}, "flange"),
        (Angle, {"height": 0.05, "width": 0.01, "thickness": 0.01}, "thickness"),
        (Datasheet, SHEET_FIGURES | {"it": None}, "it"),
        (Datasheet, SHEET_FIGURES | {"it": 0.0}, "it"),
        (Datasheet, SHEET_FIGURES | {"it": 8.5e-6}, "it"),
        (Datasheet, SHEET_FIGURES | {"iyy": 6.5e-4}, "iyy"),
        (Datasheet, SHEET_FIGURES | {"izz": 1.9e-4}, "izz"),
        (Datasheet, SHEET_FIGURES | {"area": 0.24}, "area"),
        (Datasheet, SHEET_FIGURES | {"avy": 3e-3}, "avy"),
        (Datasheet, SHEET_FIGURES | {"avz": float("inf")}, "avz"),
        (Datasheet, SHEET_FIGURES | {"wall": 0.09}, "wall"),
        (Datasheet, SHEET_FIGURES | {"name": " "}, "name"),
    ],
)
def test_what_cannot_exist_is_refused_by_name(kind, sizes, where):
    with pytest.raises(BadEntry) as caught:
        kind(**sizes)
    assert caught.value.where == where
    assert caught.value.accepted


def test_missing_torsion_constant_says_where_to_find_it():
    with pytest.raises(BadEntry) as caught:
        Datasheet(**SHEET_FIGURES | {"it": None})
    assert "torsion" in caught.value.problem
    assert "data sheet" in caught.value.accepted


@pytest.mark.parametrize(
    ("wall", "finish", "outer", "inner"),
    [
        (0.006, "cold formed", 2.0, 1.0),
        (0.002 * 3, "cold formed", 2.0, 1.0),
        (0.0063, "cold formed", 2.5, 1.5),
        (0.010, "cold formed", 2.5, 1.5),
        (0.0125, "cold formed", 3.0, 2.0),
        (0.0125, "hot finished", 1.5, 1.0),
    ],
)
def test_corner_radii_follow_the_standard(wall, finish, outer, inner):
    tube = RectangularHollow(height=0.2, width=0.2, wall=wall, finish=finish)
    assert tube.radii() == pytest.approx((outer * wall, inner * wall))


@pytest.mark.parametrize(
    ("section", "words"),
    [
        (TUBE, "120 x 80 x 5 hollow, cold formed"),
        (RectangularHollow(height=0.1, width=0.1, wall=0.0063, finish="hot finished"), "100 x 100 x 6.3"),
        (RoundTube(diameter=0.0483, wall=0.0032), "48.3 x 3.2"),
        (SHEET, SHEET.name),
    ],
)
def test_words_carry_the_sizes(section, words):
    assert label(section).startswith(words)


def test_screws_meet_the_right_wall():
    channel = Channel(height=0.1, width=0.05, web=0.006, flange=0.0085)
    faces = ("top", "bottom", "left", "right")
    assert [screw_wall(channel, False, f) for f in faces] == [0.0085, 0.0085, 0.006, 0.0]
    # Turned anticlockwise the open right side looks up and the web lies below.
    assert [screw_wall(channel, True, f) for f in faces] == [0.0, 0.006, 0.0085, 0.0085]
    plate = FlatBar(height=0.01, width=0.2)
    assert [screw_wall(plate, turned, "top") for turned in (False, True)] == [0.01, 0.2]
    angle = Angle(height=0.06, width=0.04, thickness=0.005)
    assert [screw_wall(angle, False, f) for f in faces] == [0.0, 0.005, 0.005, 0.0]
    assert {screw_wall(TUBE, t, f) for f in faces for t in (False, True)} == {TUBE.wall}
    assert screw_wall(RoundSolid(diameter=0.02), False, "top") == 0.02


def test_slots_belong_to_t_slot_profiles_and_their_screws_clamp_the_lip():
    assert slot_lines(TUBE, False, "top") == ()
    slotted = STOCK[0]
    assert len(slot_lines(slotted, False, "top")) == slotted.counts()[0]
    assert screw_wall(slotted, True, "left") == slotted.lip
