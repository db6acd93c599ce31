"""Built-up sections: bounds of the joint, parallel axes, faces and slots, masses, what is refused."""

from __future__ import annotations

import math

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue import built_ups
from core.catalogue.make_built_up_table import shapes
from core.errors import BadEntry, NeedsAnalysis
from core.materials import material
from core.sections import (
    BoltedPlate,
    Channel,
    FlatBar,
    PlatedTube,
    PropertyBook,
    RectangularHollow,
    Section,
    SectionProperties,
    TwoProfiles,
    WeldedBox,
    label,
    outline,
    parts_of,
    piece_at,
    properties,
    screw_wall,
    slot_lines,
    solids,
    stock_book,
    weld_lines,
)
from core.sections.book import NUMBERS, load_cache, save_cache
from core.sections.built_up_properties import joined, unjoined
from core.sections.figures import moments_of, together
from core.sections.make_stock_table import shape_row
from core.sections.t_slot import STOCK
from tests.sections.shapes_at_random import channels, flats, hollows

TUBE = RectangularHollow(height=0.12, width=0.08, wall=0.005)
CHANNEL = Channel(height=0.12, width=0.055, web=0.006, flange=0.008)
PAIR = TwoProfiles(first=TUBE, second=TUBE)
EACH: tuple[Section, ...] = (
    PAIR,
    TwoProfiles(first=TUBE, second=CHANNEL, way="side by side"),
    PlatedTube(tube=TUBE, plate_width=0.1, plate_thickness=0.008, faces="top"),
    BoltedPlate(profile=STOCK[6], plate_width=0.08, plate_thickness=0.01),
    WeldedBox(height=0.2, width=0.15, flange=0.008, web=0.006, inset=0.01),
)
STEEL = "s235"
PROPERTY_BOOK = stock_book()
T_SLOTS = PropertyBook({k: v for k, v in stock_book().entries.items() if k.startswith("t_slot")})


def piece(section):
    return properties(section, PROPERTY_BOOK)


def likely(_key, make):
    """Stands in for the analysis where torsion and shear do not matter."""
    shape = make()
    return SectionProperties(
        name=shape.name,
        width=1.0,
        height=1.0,
        area=1.0,
        iyy=1.0,
        izz=1.0,
        it=1e-5,
        avy=1e-3,
        avz=1e-3,
        wall=0.0,
    )


pieces = st.one_of(hollows, flats, channels)


def pair(one, other, way):
    """None where a low piece would lie between the flanges of a channel, touching nothing."""
    try:
        return TwoProfiles(first=one, second=other, way=way)
    except BadEntry:
        return None


pairs = st.builds(pair, pieces, pieces, st.sampled_from(["stacked", "side by side"])).filter(bool)


@given(section=pairs)
def test_a_real_joint_lies_between_unjoined_and_joined(section):
    low, high = unjoined(section, piece), joined(section, piece, likely)
    assert low.area == pytest.approx(high.area)
    assert low.iyy <= high.iyy * (1 + 1e-9)
    assert low.izz <= high.izz * (1 + 1e-9)
    assert (low.centroid_y, low.centroid_z) == pytest.approx((high.centroid_y, high.centroid_z))
    half = msgspec.structs.replace(section, joint="partly joined", share=0.5)

    class Book(PropertyBook):
        def shape(self, key, make):
            return likely(key, make)

    between = properties(half, Book())
    assert between.iyy == pytest.approx((low.iyy + high.iyy) / 2)
    assert between.izz == pytest.approx((low.izz + high.izz) / 2)


@given(section=pairs)
def test_joined_moments_are_those_of_the_drawn_pieces(section):
    found = joined(section, piece, likely)
    drawn = together([moments_of(rings) for rings in solids(section)])
    # Round corners are drawn as chords, which lack a little; of thick walls, with their large corners, more.
    assert found.area == pytest.approx(drawn.area, rel=1e-2)
    assert found.iyy == pytest.approx(drawn.iyy, rel=1e-2)
    assert found.izz == pytest.approx(drawn.izz, rel=1e-2)
    assert found.centroid_z == pytest.approx(drawn.z, abs=2e-3 * found.height)


@given(section=pairs)
def test_the_outer_box_is_centred_and_turning_twice_changes_signs_only(section):
    points = [point for ring in outline(section) for point in ring]
    for axis, size in ((0, unjoined(section, piece).width), (1, unjoined(section, piece).height)):
        values = [p[axis] for p in points]
        assert max(values) == pytest.approx(size / 2, abs=1e-8)
        assert min(values) == pytest.approx(-size / 2, abs=1e-8)
    p = unjoined(section, piece)
    twice = p.turned().turned()
    assert (twice.iyy, twice.centroid_z, twice.iyz) == (p.iyy, -p.centroid_z, p.iyz)


def test_plates_by_the_parallel_axis_theorem():
    """Two 80 x 8 plates 64 mm off the middle of a tube: 2 (80 x 8^3 / 12 + 640 x 64^2) mm4 on top of the tube's own."""
    section = PlatedTube(tube=TUBE, plate_width=0.08, plate_thickness=0.008)
    added = 2 * (80 * 8**3 / 12 + 640 * 64**2) * 1e-12
    assert joined(section, piece, likely).iyy == pytest.approx(piece(TUBE).iyy + added, rel=1e-12)


def test_a_plate_of_the_same_modulus_is_no_second_material():
    plain = BoltedPlate(profile=TUBE, plate_width=0.08, plate_thickness=0.01, material=STEEL)
    stacked = TwoProfiles(first=TUBE, second=FlatBar(height=0.01, width=0.08))
    one, other = joined(plain, piece, likely, STEEL), joined(stacked, piece, likely)
    assert one.iyy == pytest.approx(other.iyy, rel=1e-12)
    assert one.area == pytest.approx(other.area, rel=1e-12)
    assert one.other_mass == 0.0


def test_two_materials_keep_their_own_masses():
    section = BoltedPlate(profile=STOCK[6], plate_width=0.08, plate_thickness=0.01, material=STEEL)
    metal = "en_aw_6060_t66"
    found = joined(section, piece, likely, metal)
    expected = piece(STOCK[6]).area * material(metal).density + 0.08 * 0.01 * material(STEEL).density
    assert found.linear_mass(material(metal).density) == pytest.approx(expected, rel=1e-9)
    assert found.centroid_z > 0.0  # the axis moves towards the stiffer plate
    with pytest.raises(BadEntry):
        properties(section, PROPERTY_BOOK)


@pytest.mark.parametrize("section", EACH, ids=label)
def test_files_labels_and_faces(section):
    again = msgspec.json.decode(msgspec.json.encode(section), type=Section)
    assert again == section
    assert len(parts_of(section)) >= 2
    for face in ("top", "bottom", "left", "right"):
        assert screw_wall(section, False, face) >= 0.0
        assert piece_at(section, False, face) in [part.piece for part in parts_of(section)]
    with pytest.raises(NeedsAnalysis):
        properties(section, T_SLOTS, STEEL)


def test_slots_of_pairs_and_under_plates():
    two = TwoProfiles(first=STOCK[1], second=STOCK[1], way="side by side")
    assert slot_lines(two, False, "top") == pytest.approx((-0.02, 0.02))
    assert slot_lines(two, False, "left") == pytest.approx((-0.02, 0.02))
    plated = BoltedPlate(profile=STOCK[6], plate_width=0.08, plate_thickness=0.01)
    assert slot_lines(plated, False, "top") == ()
    # The plate moves the middle of the face up by half its thickness.
    assert slot_lines(plated, False, "left") == pytest.approx((-0.065, -0.025, 0.015, 0.055))
    assert slot_lines(plated, True, "top") == pytest.approx((-0.055, -0.015, 0.025, 0.065))
    assert screw_wall(plated, False, "top") == pytest.approx(0.01)


def test_walls_behind_faces():
    plated = PlatedTube(tube=TUBE, plate_width=0.08, plate_thickness=0.008)
    assert screw_wall(plated, False, "top") == pytest.approx(0.013)
    assert screw_wall(plated, False, "left") == pytest.approx(0.005)
    box = WeldedBox(height=0.2, width=0.15, flange=0.008, web=0.006)
    assert screw_wall(box, False, "left") == pytest.approx(0.006)
    assert screw_wall(box, False, "top") == pytest.approx(0.008)
    assert screw_wall(msgspec.structs.replace(box, inset=0.01), False, "left") == 0.0
    toes = TwoProfiles(first=CHANNEL, second=CHANNEL, way="side by side", mirrored="second")
    assert screw_wall(toes, False, "right") == pytest.approx(0.006)


def test_weld_lines_run_where_pieces_meet():
    assert len(weld_lines(PAIR)) == 2
    assert len(weld_lines(PlatedTube(tube=TUBE, plate_width=0.08, plate_thickness=0.008))) == 4
    assert len(weld_lines(WeldedBox(height=0.2, width=0.15, flange=0.008, web=0.006))) == 4
    assert weld_lines(msgspec.structs.replace(PAIR, joint="unjoined")) == ()
    for line in weld_lines(PAIR):
        assert abs(line.y) == pytest.approx(0.03)
        assert line.z == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("make", "where"),
    [
        (lambda: WeldedBox(height=0.1, width=0.1, flange=0.05, web=0.006), "flange"),
        (lambda: WeldedBox(height=0.1, width=0.1, flange=0.005, web=0.02, inset=0.03), "inset"),
        (lambda: BoltedPlate(profile=STOCK[0], plate_width=0.006, plate_thickness=0.01), "joint"),
        (lambda: BoltedPlate(profile=CHANNEL, plate_width=0.05, plate_thickness=0.01, face="right"), "face"),
        (
            lambda: BoltedPlate(profile=TUBE, plate_width=0.05, plate_thickness=0.01, material="cheese"),
            "material",
        ),
        (lambda: TwoProfiles(first=STOCK[0], second=FlatBar(height=0.02, width=0.006)), "joint"),
    ],
)
def test_what_cannot_be_built_is_refused(make, where):
    with pytest.raises(BadEntry) as caught:
        make()
    assert caught.value.where == where


def test_the_stock_book_holds_every_built_up_candidate():
    keys = [entry.key for entry in built_ups()]
    assert len(set(keys)) == len(keys) >= 12
    for entry in built_ups():
        found = properties(entry.section, stock_book(), entry.metal)
        assert all(math.isfinite(getattr(found, name)) and getattr(found, name) > 0.0 for name in NUMBERS)
        assert found.it <= found.iyy + found.izz


def test_the_table_is_made_again_for_a_box():
    shape = next(s for s in shapes() if "160 x 100" in s.name)
    row, entry = shape_row(shape), stock_book().entries[shape.key]
    for name in NUMBERS:
        assert float(row[name]) == pytest.approx(getattr(entry, name), rel=1e-6)


def test_analysed_shapes_are_kept_on_disk(tmp_path):
    file = tmp_path / "cache.json"
    entry = next(iter(stock_book().entries.values()))
    made = PropertyBook({"shape 1": entry})
    save_cache(file, made)
    assert load_cache(file).entries["shape 1"] == entry
