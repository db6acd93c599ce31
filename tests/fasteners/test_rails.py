"""Rails of whole projects: slots, walls, findings and totals."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.fasteners import RailAnswer, rails, totals
from core.fasteners.screws import screw
from core.fasteners.totals import packs_for
from core.findings import Finding
from core.machine.guides import RAILS
from core.machine.project import Display, Project
from core.sections import Channel, FlatBar, RoundSolid, RoundTube
from tests.fasteners.machines import changed, laid, slotted


def answer(project: Project) -> tuple[dict[str, RailAnswer], dict[str, Finding]]:
    found, findings = rails(project, laid(project))
    return {rail.key: rail for rail in found}, {finding.code: finding for finding in findings}


def test_default_machine_has_six_rails_without_findings() -> None:
    found, findings = answer(Project())
    assert list(found) == ["x_low", "x_high", "y_left", "y_right", "z_left", "z_right"]
    assert not findings
    low = found["x_low"]
    assert low.count == low.screws == len(low.holes)
    assert low.nuts == 0
    assert low.on_slot is None
    assert low.screw_text.startswith("ISO 4762 M5 x 16")
    assert low.first == pytest.approx(low.last)


def test_z_rails_lie_on_the_head_plate() -> None:
    found, findings = answer(changed(head__plate_thickness=0.005, head__guides__rail_spacing=0.155))
    assert found["z_left"].engagement == pytest.approx(0.005)
    assert found["z_left"].length == pytest.approx(0.15 + 0.1 + 0.058 + 0.02)
    assert {"thin-thread", "rail-off-face"} <= set(findings)
    assert findings["rail-off-face"].where == "machine.head.guides.rail_spacing"


def test_rails_on_top_have_other_names() -> None:
    found, _ = answer(changed(gantry__beam__rail_face="top", x_guides__rail_spacing=0.04))
    assert list(found)[:2] == ["x_front", "x_back"]


def test_rails_on_slots_take_a_nut_for_each_hole() -> None:
    found, findings = answer(slotted())
    assert "rail-off-slot" not in findings
    assert [found[key].slot for key in ("x_low", "x_high")] == [0, 1]
    for key in ("x_low", "x_high"):
        assert found[key].on_slot is True
        assert found[key].nuts == found[key].count > 0
        assert found[key].screw_length == pytest.approx(0.02)


def test_off_the_slots_the_fitting_spacing_is_named() -> None:
    found, findings = answer(slotted(x_guides__rail_spacing=0.05))
    finding = findings["rail-off-slot"]
    assert finding.severity == "limit"
    assert finding.limit == pytest.approx(0.04)
    assert finding.where == "machine.x_guides.rail_spacing"
    assert found["x_low"].on_slot is False
    assert found["x_low"].slot is None


def test_a_millimetre_beside_the_slot_still_counts() -> None:
    _, inside = answer(slotted(x_guides__rail_spacing=0.0418))
    _, outside = answer(slotted(x_guides__rail_spacing=0.0424))
    assert "rail-off-slot" not in inside
    assert "rail-off-slot" in outside


def test_a_turned_profile_has_one_slot_in_front() -> None:
    _, findings = answer(slotted(gantry__beam__turned=True))
    assert findings["rail-off-slot"].limit is None
    assert "rail-off-face" in findings


def test_t_nuts_want_slots() -> None:
    _, findings = answer(changed(gantry__beam__rail_fastening__hold="T-nut"))
    assert findings["no-slot"].severity == "limit"
    assert "no-screw-length" not in findings


def test_a_thread_cannot_stand_over_a_slot() -> None:
    _, findings = answer(slotted(gantry__beam__rail_fastening__hold="rivet nut"))
    assert "rail-over-slot" in findings
    _, findings = answer(slotted(gantry__beam__rail_fastening__hold="through bolt"))
    assert "rail-over-slot" not in findings


def test_nut_and_screw_must_go_into_the_slot() -> None:
    _, findings = answer(slotted(gantry__beam__rail_fastening__nut_thread=0.009))
    assert findings["nut-too-thick"].limit == pytest.approx(0.0123 - 0.0045)
    _, findings = answer(slotted(x_guides__size=45, x_guides__spread=0.3))
    assert "screw-wider-than-slot" in findings


def test_thin_wall_is_a_warning_and_a_very_thin_one_breaks_a_limit() -> None:
    _, findings = answer(changed(gantry__beam__section__wall=0.004))
    assert findings["thin-thread"].severity == "warning"
    assert findings["thin-thread"].value == pytest.approx(0.004)
    _, findings = answer(changed(gantry__beam__section__wall=0.002))
    assert findings["thin-thread"].severity == "limit"


def test_an_open_face_has_no_wall() -> None:
    channel = Channel(height=0.12, width=0.08, web=0.006, flange=0.008)
    _, closed = answer(changed(gantry__beam__section=channel))
    assert "no-wall" not in closed
    # Turned by a quarter, the channel opens upwards and its flange looks to the front.
    _, opened = answer(
        changed(
            gantry__beam__section=channel,
            gantry__beam__turned=True,
            gantry__beam__rail_face="top",
            x_guides__rail_spacing=0.05,
        )
    )
    assert "no-wall" in opened


def test_a_bolt_through_a_deep_beam_has_no_standard_length() -> None:
    found, findings = answer(changed(gantry__beam__rail_fastening__hold="through bolt"))
    finding = findings["no-screw-length"]
    assert finding.severity == "limit"
    assert finding.value == pytest.approx(found["x_low"].shortest)
    assert found["x_low"].screw_length is None


def test_a_bolt_through_a_plate_is_found() -> None:
    found, findings = answer(
        changed(
            gantry__beam__section=FlatBar(height=0.12, width=0.02),
            gantry__beam__rail_fastening__hold="through bolt",
        )
    )
    assert "no-screw-length" not in findings
    # 8.5 rail + 20 plate + 4 nut + 1.6 thread end = 34.1 mm.
    assert found["x_low"].screw_length == pytest.approx(0.035)
    assert found["x_low"].nuts == found["x_low"].count


def test_rail_longer_than_its_beam() -> None:
    _, findings = answer(changed(x_guides__rail_length=2.4))
    assert findings["rail-longer-than-beam"].where == "machine.gantry.beam.length"
    _, findings = answer(changed(base__length=1.0))
    assert findings["rail-longer-than-beam"].where == "machine.base.length"


def test_set_end_distances_that_are_short_or_long() -> None:
    short = changed(x_guides__rail_length=1.48, x_guides__end_distance=0.03)
    found, findings = answer(short)
    assert found["x_low"].last == pytest.approx(0.01)
    assert findings["end-distance-short"].value == pytest.approx(0.01)
    _, findings = answer(changed(x_guides__rail_length=1.5, x_guides__end_distance=0.06))
    assert findings["end-distance-long"].severity == "warning"
    _, findings = answer(changed(x_guides__rail_length=1.5, x_guides__end_distance=0.03))
    assert not {"end-distance-short", "end-distance-long"} & set(findings)


def test_a_rail_too_short_for_a_hole() -> None:
    found, findings = answer(changed(x_guides__rail_length=0.1, x_guides__minimum_end_distance=0.06))
    assert found["x_low"].count == 0
    assert "rail-without-holes" in findings


def test_rails_off_the_face_and_on_the_corner() -> None:
    _, findings = answer(changed(x_guides__rail_spacing=0.11))
    assert "rail-off-face" in findings
    _, findings = answer(changed(x_guides__rail_spacing=0.09))
    assert findings["rail-on-corner"].severity == "warning"


def test_words_follow_the_units_of_the_project() -> None:
    made = changed(x_guides__rail_length=2.4)
    inch = Project(machine=made.machine, display=Display(length="in", force="lbf"))
    for project, unit in ((made, " mm"), (inch, " in")):
        _, findings = answer(project)
        message = findings["rail-longer-than-beam"].message
        assert unit in message.replace(" in the", "")


def test_equal_screws_of_both_axes_stand_in_one_row() -> None:
    project = Project()
    found, _ = rails(project, laid(project))
    row, small = totals(found, project)
    assert row.needed == sum(rail.screws for rail in found if rail.screw == "M5")
    assert small.needed == sum(rail.screws for rail in found if rail.screw == "M4")
    assert row.bought == row.packs * row.pack_size >= row.needed + row.spare


def test_nuts_are_a_row_of_their_own() -> None:
    project = slotted()
    found, _ = rails(project, laid(project))
    rows = {row.what: row for row in totals(found, project)}
    assert rows["T-nut"].needed == 2 * found[0].count
    assert "M5" in rows["T-nut"].spec


@given(st.integers(1, 5000), st.floats(0.0, 1.0), st.integers(1, 10000))
def test_packs_cover_need_and_spares_without_a_pack_too_many(needed: int, share: float, pack: int) -> None:
    spare, packs = packs_for(needed, share, pack)
    assert spare >= needed * share - 1e-6
    assert spare < needed * share + 1.0
    assert packs * pack >= needed + spare > (packs - 1) * pack


def test_one_in_ten_of_a_hundred_is_ten() -> None:
    assert packs_for(100, 0.1, 50) == (10, math.ceil(110 / 50))


def test_a_rail_wants_a_flat_seat() -> None:
    for section in (RoundTube(diameter=0.15, wall=0.005), RoundSolid(diameter=0.12)):
        project = changed(gantry__beam__section=section, x_guides__rail_spacing=0.06)
        found = [f for f in rails(project, laid(project))[1] if f.code == "rail-on-round"]
        assert [(f.severity, f.where, f.place) for f in found] == [
            ("limit", "machine.gantry.beam.section", "X rails")
        ]
    assert not [f for f in rails(changed(), laid(changed()))[1] if f.code == "rail-on-round"]


def test_no_bar_goes_inside_a_slotted_profile() -> None:
    found = answer(slotted(gantry__beam__rail_fastening__hold="tapped bar", x_guides__rail_spacing=0.07))[1]
    assert found["no-room-behind"].severity == "limit"


def test_a_through_bolt_shows_two_turns_beyond_the_highest_nut() -> None:
    """ISO 4032: an M5 nut is up to 4.7 mm high, an M4 one 3.2 mm."""
    shallow = FlatBar(height=0.16, width=0.025)
    rail = answer(changed(gantry__beam__section=shallow, gantry__beam__rail_fastening__hold="through bolt"))[
        0
    ]["x_low"]
    nut = {"M4": 0.0032, "M5": 0.0047, "M6": 0.0052}[rail.screw]
    under = rail.shortest - 0.025 - nut - 2.0 * screw(rail.screw).pitch
    data = RAILS[rail.size]
    assert under == pytest.approx(data.rail_height - data.counterbore_depth)
