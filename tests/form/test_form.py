"""What may arrive, what welds add, and the shims for measured heights."""

from __future__ import annotations

import msgspec
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue import entries
from core.errors import BadEntry
from core.fasteners import rails as find_rails
from core.form import FormAnswer, allowed, find_form, product_standard, read_heights, write_heights
from core.form.shims import find_survey
from core.machine.form import Heights, Reading, Straightness, Weld
from core.machine.layout import layout
from core.machine.project import Project
from core.sections import FlatBar, RectangularHollow, TSlot, stock_book
from core.units import UnitSet

BOOK = stock_book()
TUBE = RectangularHollow(height=0.12, width=0.08, wall=0.005, finish="cold formed")


def answer(wishes: Straightness | None = None, project: Project | None = None) -> FormAnswer:
    project = msgspec.structs.replace(project or Project(), straightness=wishes or Straightness())
    lay = layout(project.machine, BOOK)
    return find_form(project, lay, find_rails(project, lay)[0])


def x_rails() -> tuple:
    project = Project()
    found = find_rails(project, layout(project.machine, BOOK))[0]
    return tuple(rail for rail in found if rail.axis == "x")


@pytest.mark.parametrize(
    ("section", "metal", "standard"),
    [
        (TUBE, "s235", "EN 10219-2"),
        (msgspec.structs.replace(TUBE, finish="hot finished"), "s355", "EN 10210-2"),
        (TUBE, "en_aw_6082_t6", "EN 755-9"),
        (FlatBar(height=0.1, width=0.01), "s235", ""),
    ],
)
def test_each_product_has_its_delivery_standard(section: object, metal: str, standard: str) -> None:
    assert product_standard(section, metal) == standard  # type: ignore[arg-type]


def test_precise_profiles_are_slotted_ones_of_two_alloys() -> None:
    slot = next(entry.section for entry in entries() if isinstance(entry.section, TSlot))
    assert product_standard(slot, "en_aw_6060_t66") == "EN 12020-2"
    assert product_standard(slot, "en_aw_6082_t6") == "EN 755-9"


def test_a_size_without_a_row_gets_no_figure() -> None:
    assert allowed("EN 12020-2", "twist", 7.0, width=0.1) is None
    assert allowed("EN 12020-2", "twist", 2.0, width=0.4) is None
    assert allowed("EN 755-9", "twist", 2.0) is None


def test_a_border_takes_the_range_below() -> None:
    at, over = (allowed("EN 12020-2", "straightness", length) for length in (1.0, 1.0001))
    assert at is not None
    assert over is not None
    assert (at.limit, over.limit) == pytest.approx((0.0007, 0.0013))


def test_own_figures_stand_before_the_standards() -> None:
    found = answer(Straightness(beam_straightness=0.00005, beam_twist=0.002))
    bow = next(d for d in found.deviations if d.part == "gantry beam" and d.what == "bow")
    assert bow.remedy == "fits"
    twist = [f for f in found.findings if f.code == "form-twist" and f.where == "straightness.beam_twist"]
    assert [f.severity for f in twist] == ["warning"]


def test_remedies_rise_with_the_gap() -> None:
    remedies = []
    for bow in (0.0001, 0.0004, 0.002, 0.01):
        found = answer(Straightness(beam_straightness=bow))
        remedies.append(next(d.remedy for d in found.deviations if d.part == "gantry beam"))
    assert remedies == ["fits", "shim", "bed in epoxy or machine", "straighten or machine"]


def test_welds_on_both_sides_balance_and_one_side_bows_away() -> None:
    above, below = Weld(name="Above", offset=0.05), Weld(name="Below", offset=-0.05)
    one = answer(Straightness(welds=(above,)))
    assert one.welds[0].bow < 0.0  # the ends rise towards the weld, the middle goes down
    assert one.bows[0].worst == pytest.approx(abs(one.welds[0].bow) + one.bows[0].delivered)
    assert "weld-bow" in {f.code for f in one.findings}
    both = answer(Straightness(welds=(above, below)))
    assert both.bows[0].welded == pytest.approx(0.0)
    assert "weld-bow" not in {f.code for f in both.findings}


def test_a_broken_weld_bows_less_in_the_share_that_is_welded() -> None:
    full, half = (answer(Straightness(welds=(Weld(filled=share),))).welds[0].bow for share in (1.0, 0.5))
    assert half == pytest.approx(0.5 * full)


heights = st.lists(st.floats(-0.002, 0.002), min_size=26, max_size=26)


@given(first=heights, second=heights, step=st.sampled_from([1e-5, 5e-5, 2e-4]), both=st.booleans())
def test_shims_are_whole_steps_never_negative_and_leave_half_a_step(
    first: list[float], second: list[float], step: float, both: bool
) -> None:
    rails = x_rails()
    count = len(rails[0].holes)
    rows = [
        tuple(Reading(height=h, hole=n + 1) for n, h in enumerate(values[:count]))
        for values in (first, second)
    ]
    survey = find_survey(
        "X", Heights(first=rows[0], second=rows[1] if both else ()), rails, step, "keep the tilt"
    )
    assert survey is not None
    for rail in survey.rails:
        shims = np.array([shim.shim for shim in rail.shims])
        assert shims.min() >= 0.0
        assert np.allclose(shims / step, np.round(shims / step), atol=1e-6)
        assert max(abs(shim.left) for shim in rail.shims) <= step / 2 + 1e-12
        assert len(rail.shims) == count


@given(tilt=st.floats(-1e-3, 1e-3), lift=st.floats(-1e-3, 1e-3), gap=st.floats(-1e-3, 1e-3))
def test_rails_that_lie_in_one_plane_need_no_shim_unless_they_shall_come_to_one_height(
    tilt: float, lift: float, gap: float
) -> None:
    rails = x_rails()
    rows = [
        tuple(Reading(height=lift + more + tilt * place, place=place) for place in (0.1, 0.5, 1.2))
        for more in (0.0, gap)
    ]
    given_heights = Heights(first=rows[0], second=rows[1])
    plane = find_survey("X", given_heights, rails, 1e-5, "keep the tilt")
    assert plane is not None
    assert plane.thickest == pytest.approx(0.0, abs=1e-12)
    assert plane.tilt == pytest.approx(gap, abs=1e-9)
    assert plane.twist == pytest.approx(0.0, abs=1e-9)
    level = find_survey("X", given_heights, rails, 1e-5, "one height")
    assert level is not None
    assert level.thickest == pytest.approx(abs(gap), abs=0.6e-5)


def test_twist_is_the_change_of_height_between_the_rails_from_end_to_end() -> None:
    rails = x_rails()
    length = rails[0].length
    level = tuple(Reading(height=0.0, place=p) for p in (0.0, length))
    rising = tuple(Reading(height=h, place=p) for h, p in ((0.0, 0.0), (0.0004, length)))
    survey = find_survey("X", Heights(first=level, second=rising), rails, 5e-5, "keep the tilt")
    assert survey is not None
    assert survey.twist == pytest.approx(0.0004)


def test_findings_of_measured_heights() -> None:
    steep = tuple(Reading(height=h, hole=n) for n, h in ((1, 0.0), (8, 0.003), (15, 0.0)))
    found = answer(Straightness(x_heights=Heights(first=steep), shim_step=0.0004))
    assert {"shim-thick", "shim-left"} <= {f.code for f in found.findings}
    short = answer(Straightness(x_heights=Heights(first=(Reading(height=0.0, hole=999),))))
    assert [f.code for f in short.findings if f.code.startswith("shim")] == ["shim-readings", "shim-readings"]
    assert not short.surveys


@pytest.mark.parametrize(
    "text",
    [
        "#3 0.05",
        "hole 3; 0.05 mm",
        "h3\t50 µm",
        "Hole\tHeight\n3\t0.05",
        "1, #3, 0.05",
        "lower;#3;0.05",
        "\n#3   0.05\n\n",
    ],
)
def test_a_reading_at_a_hole_is_read_however_it_is_written(text: str) -> None:
    assert read_heights(text) == Heights(first=(Reading(height=5e-5, hole=3),))


@pytest.mark.parametrize(
    "text", ["120 0.05", "120 mm 0.05 mm", "0.12 m; 0.05", "place,height\n120,0.05", "12 cm\t0.05"]
)
def test_a_reading_at_a_place_is_read_however_it_is_written(text: str) -> None:
    read = read_heights(text).first[0]
    assert (read.place, read.height) == pytest.approx((0.12, 5e-5))


def test_readings_in_inches_are_in_thou() -> None:
    read = read_heights("2\t5", UnitSet("in", "N")).first[0]
    assert (read.place, read.height) == pytest.approx((0.0508, 5 * 25.4e-6))


@pytest.mark.parametrize(
    "text",
    ["120", "1 2 3 4,5,6,7", "third, 3, 0.05", "#3 x5", "#3 nan", "#3 1 km", "-5 0.1", "#3; 0.1; 2; 3"],
)
def test_a_line_that_cannot_be_read_is_named(text: str) -> None:
    with pytest.raises(BadEntry) as caught:
        read_heights(f"#1 0\n{text}")
    assert "line 2" in caught.value.value


@given(st.lists(st.tuples(st.integers(1, 60), st.integers(-2000, 2000)), min_size=1, max_size=20))
def test_written_readings_are_read_again(pairs: list[tuple[int, int]]) -> None:
    readings = tuple(Reading(height=h * 1e-6, hole=n) for n, h in pairs)
    again = read_heights(write_heights(readings)).first
    assert [r.hole for r in again] == [r.hole for r in readings]
    assert [r.height for r in again] == pytest.approx([r.height for r in readings], rel=1e-3, abs=1e-12)


def test_a_reading_has_either_a_hole_or_a_place() -> None:
    with pytest.raises(BadEntry):
        Reading(height=0.0)
    with pytest.raises(BadEntry):
        Reading(height=0.0, hole=1, place=0.1)
