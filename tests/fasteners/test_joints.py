"""Joints as they are built: patterns, stacks, lengths, counts, findings."""

from __future__ import annotations

from itertools import product
from typing import Any

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import BadEntry
from core.fasteners import FittedJoint, joints, rails, screw, standard_lengths, totals
from core.fasteners.joints.bores import thread_of
from core.fasteners.joints.layers import Layer, Partner, choose_hold, joint_stack
from core.fasteners.joints.pattern import Wish, find_pattern
from core.fasteners.joints.tables import carriage_holes
from core.fasteners.stack import Ground
from core.machine.base import Diagonals, Floor, Legs
from core.machine.drives import RackPinion
from core.machine.joints import Joint
from core.machine.layout import layout
from core.machine.project import Project
from core.sections import FlatBar, RectangularHollow
from tests.fasteners.machines import BOOK, FIGURES, PROFILE, changed, laid, slotted

TUBE = RectangularHollow(height=0.16, width=0.08, wall=0.004, finish="hot finished")


def built(project: Project) -> dict[str, FittedJoint]:
    return {joint.key: joint for joint in joints(project, layout(project.machine, BOOK))[0]}


def codes(project: Project) -> dict[str, set[str]]:
    """Codes of findings by place."""
    found: dict[str, set[str]] = {}
    for finding in joints(project, layout(project.machine, BOOK))[1]:
        found.setdefault(finding.place, set()).add(finding.code)
    return found


def test_every_joint_of_a_usual_machine_has_its_screw() -> None:
    for joint in built(Project()).values():
        assert joint.welded or (joint.stack is not None and joint.stack.length is not None), joint.key
    assert joints(Project(), laid(Project()))[1] == ()


@pytest.mark.parametrize(
    ("seat", "rail_face", "base_face", "stand"),
    list(
        product(
            ("on top", "in front", "between"),
            ("front", "top"),
            ("top", "outside"),
            (Legs(diagonals=Diagonals()), Floor()),
        )
    ),
)
def test_every_shape_of_machine_is_joined(seat: str, rail_face: str, base_face: str, stand: Any) -> None:
    project = changed(
        gantry__upright__seat=seat,
        gantry__beam__rail_face=rail_face,
        base__rail_face=base_face,
        base__stand=stand,
    )
    found = built(project)
    assert ("cap" in found) == (seat != "between")
    assert {"foot", "seat", "mount", "x_blocks", "y_motor", "feet"} <= set(found)
    assert ("diagonals" in found) == isinstance(stand, Legs)
    assert all(joint.count == len(set(joint.site.names)) for joint in found.values())


@settings(max_examples=60, deadline=None)
@given(
    plate=st.floats(0.003, 0.05),
    spacer=st.floats(0.0, 0.02),
    thread=st.sampled_from(["M5", "M6", "M8", "M10"]),
    hold=st.sampled_from(["tapped hole", "tapped bar", "rivet nut", "through bolt", "T-nut"]),
    washer=st.sampled_from(["automatic", "yes", "no"]),
)
def test_a_chosen_screw_engages_and_does_not_bottom(
    plate: float, spacer: float, thread: Any, hold: Any, washer: Any
) -> None:
    joint = Joint(plate=plate, spacer=spacer, screw=thread, hold=hold, washer=washer)
    section = PROFILE if hold == "T-nut" else TUBE
    project = changed(gantry__beam__section=section, joints__seat=joint)
    made = built(project)["seat"]
    stack = made.stack
    assert stack is not None
    shown = sum(layer.thickness for layer in stack.layers)
    assert shown == pytest.approx(stack.clamped + stack.passed + stack.thread)
    if stack.length is None:
        code = codes(project)["Uprights to beam"]
        assert code & {"no-screw-length", "screw-wider-than-slot", "no-slot", "no-room-behind"}
        return
    assert stack.length in standard_lengths(thread)
    assert stack.shortest - 1e-9 <= stack.length <= stack.longest + 1e-9
    assert stack.engagement == pytest.approx(min(stack.length - stack.clamped - stack.passed, stack.thread))
    assert stack.engagement >= min(stack.needed, stack.thread) - 1e-9
    assert stack.free is None or stack.free >= 5e-4 - 1e-9
    shorter = [length for length in standard_lengths(thread) if length < stack.length - 1e-9]
    assert not shorter or shorter[-1] < stack.shortest - 1e-9, "the shortest that works is taken"


@settings(max_examples=60, deadline=None)
@given(
    along=st.integers(1, 8),
    across=st.integers(1, 4),
    face=st.tuples(st.floats(0.01, 0.5), st.floats(0.01, 0.3)),
    thread=st.sampled_from(["M4", "M6", "M8"]),
)
def test_a_pattern_lies_about_its_middle(along: int, across: int, face: Any, thread: str) -> None:
    made = find_pattern(Joint(along=along, across=across), Wish(2, 2), face, screw(thread))
    assert made.count == along * across
    for k in (0, 1):
        assert sum(place[k] for place in made.places) == pytest.approx(0.0, abs=1e-9)
    assert len(set(made.places)) == made.count
    # Left to itself a pattern keeps off the edges of any face that takes a screw at all.
    alone = find_pattern(Joint(), Wish(along, across), face, screw(thread))
    assert alone.fits or min(face) < 3.0 * screw(thread).diameter


def test_rows_stand_on_slots() -> None:
    project = changed(
        gantry__beam__section=PROFILE,
        gantry__beam__turned=True,
        gantry__beam__material="en_aw_6063_t66",
        x_guides__rail_spacing=0.02,
    )
    made = built(project)["seat"]
    assert made.hold == "T-nut"
    assert made.pattern is not None
    assert made.pattern.pitch_across == pytest.approx(0.04)  # the two slots of the face that lies below
    assert made.nuts == made.screws


def test_a_weld_takes_no_screws() -> None:
    made = built(changed(joints__foot=Joint(made="welded", weld_length=0.1)))["foot"]
    assert (made.screws, made.nuts, made.washers) == (0, 0, 0)
    assert made.weld_length == 0.1
    bolted = built(changed(joints__legs=Joint(made="bolted")))["legs"]
    assert bolted.screws == 6 * 4


def test_what_does_not_fit_is_told() -> None:
    said = codes(changed(joints__seat=Joint(hold="T-nut")))
    assert said["Uprights to beam"] == {"no-slot"}
    said = codes(changed(joints__mount=Joint(hold="rivet nut")))
    assert said["Spindle mount to head plate"] == {"no-room-behind"}
    said = codes(changed(joints__x__blocks=Joint(spacer=0.1)))
    assert said["X carriages to saddle plate"] == {"no-screw-length"}
    said = codes(changed(joints__foot=Joint(screw="M12")))
    assert "pattern-off-face" in said["Foot plates to uprights"]
    said = codes(changed(joints__mount=Joint(thread=0.002)))
    assert "thin-thread" in said["Spindle mount to head plate"]
    wide = codes(changed(gantry__beam__section=PROFILE, joints__seat=Joint(screw="M10")))
    assert wide["Uprights to beam"] == {"screw-wider-than-slot"}, (
        "nothing can be put inside a slotted profile"
    )
    wide = codes(changed(gantry__beam__section=PROFILE, joints__seat=Joint(screw="M8", hold="tapped bar")))
    assert wide["Uprights to beam"] == {"no-room-behind"}
    wide = codes(changed(gantry__beam__section=PROFILE, joints__seat=Joint(screw="M10", hold="T-nut")))
    assert wide["Uprights to beam"] == {"screw-wider-than-slot"}


@pytest.mark.parametrize("size", [15, 20, 25, 30, 35, 45])
@pytest.mark.parametrize("entered", [None, 0.006, 0.018])
def test_screws_keep_off_the_bottom_of_a_carriages_holes(size: int, entered: float | None) -> None:
    """Typical depths or the user's own: the end stays clear, and a depth that leaves too little thread is told."""
    for plate in (0.008, 0.0095, 0.012, 0.015, 0.019, 0.025):
        blocks = Joint(plate=plate, thread=entered)
        project = changed(x_guides__size=size, joints__x__blocks=blocks)
        made, said = built(project)["x_blocks"], codes(project)
        stack = made.stack
        assert stack is not None
        assert stack.thread == (entered or carriage_holes()[size].depth)
        told = said.get("X carriages to saddle plate", set())
        if stack.length is None:
            assert "no-screw-length" in told
            continue
        assert stack.free is not None
        assert stack.free >= 5e-4 - 1e-9
        assert stack.engagement >= min(stack.needed, stack.thread) - 1e-9
        assert ("thin-thread" in told) == (stack.thread < stack.needed - 1e-9)
        assert stack.length - stack.clamped <= stack.thread - 5e-4 + 1e-9


def test_a_pitch_wants_two_screws() -> None:
    with pytest.raises(BadEntry):
        Joint(along=1, pitch_along=0.05)


def test_equal_screws_of_rails_and_joints_are_one_line() -> None:
    project = changed(joints__mount=Joint(screw="M5", plate=0.008, washer="no"))
    lay = laid(project)
    found, made = rails(project, lay)[0], joints(project, lay)[0]
    rows = totals(found, project, made)
    assert len({(row.what, row.spec) for row in rows}) == len(rows)
    counted = sum(row.needed for row in rows if row.what == "Socket head cap screw")
    assert counted == sum(rail.screws for rail in found) + sum(joint.screws for joint in made)
    washers = sum(row.needed for row in rows if row.what == "Washer")
    assert washers == sum(joint.washers for joint in made)
    shared = [row for row in rows if "rails" in row.where and "mount" in row.where]
    assert shared, "M5 screws of rails and mount stand together, with where each goes"


def test_automatic_screws_pass_the_slot_that_they_go_into() -> None:
    narrow = msgspec.structs.replace(PROFILE, slot_opening=0.0062)
    project = changed(gantry__beam__section=narrow, gantry__beam__material="en_aw_6063_t66")
    book = BOOK.with_entry(narrow, FIGURES)
    found = joints(project, layout(project.machine, book))[0]
    made = next(joint for joint in found if joint.key == "seat")
    assert (made.hold, made.size.thread) == ("T-nut", "M6")


def severities(project: Project, label: str) -> dict[str, str]:
    return {f.code: f.severity for f in joints(project, laid(project))[1] if f.place == label}


@pytest.mark.parametrize(
    ("joint", "said"),
    [
        (Joint(pitch_along=0.3), {"pattern-off-face": "limit"}),
        (Joint(pitch_along=0.067), {"pattern-off-face": "warning"}),
        (Joint(hold="rivet nut", thread=0.003), {"thin-thread": "limit"}),
        (Joint(hold="rivet nut"), {}),
        (Joint(sunk=0.02, plate=0.02), {"sunk-too-deep": "limit"}),
        (Joint(sunk=0.018, plate=0.02), {"sunk-too-deep": "warning"}),
        (Joint(sunk=0.006, plate=0.02), {}),
    ],
)
def test_a_joint_that_would_not_hold_is_a_limit(joint: Joint, said: dict[str, str]) -> None:
    found = severities(changed(joints__seat=joint), "Uprights to beam")
    found.pop("no-screw-length", None)
    assert found == said


def test_a_seat_plate_is_one_part_with_one_thickness() -> None:
    def plates(**entries: object) -> list[float]:
        project = slotted(gantry__upright__section=FlatBar(height=0.25, width=0.025), **entries)
        made = built(project)
        return [
            layer.thickness
            for key in ("cap", "seat")
            for layer in made[key].stack.layers
            if "seat" in layer.what
        ]

    both = plates(gantry__upright__material="en_aw_6082_t6")
    assert len(both) == 2
    assert both[0] == both[1]
    assert set(plates(gantry__upright__material="en_aw_6082_t6", joints__cap=Joint(plate=0.02))) == {0.02}
    differ = slotted(joints__cap=Joint(plate=0.02, made="bolted"), joints__seat=Joint(plate=0.012))
    assert severities(differ, "Uprights to beam")["part-two-sizes"] == "warning"


@pytest.mark.parametrize(("width", "severity"), [(0.12, None), (0.08, "warning"), (0.05, "limit")])
def test_a_rack_wants_room_beside_rail_and_carriages(width: float, severity: str | None) -> None:
    """Rail 23 mm, carriage 48 to 70 mm, rack 17 mm: a face of 120 mm has room, one of 80 mm for the rail alone."""
    section = RectangularHollow(height=0.12, width=width, wall=0.004, finish="hot finished")
    project = changed(base__section=section, y_drive=RackPinion(face_width=0.017), y_guides__size=25)
    assert severities(project, "Y racks").get("part-on-rail") == severity


def test_a_carriage_is_screwed_with_the_thread_that_it_is_sold_with() -> None:
    usual = built(changed())["x_blocks"].size.thread
    assert severities(changed(joints__x__blocks=Joint(screw=usual)), "X carriages to saddle plate") == {}
    other = changed(joints__x__blocks=Joint(screw="M4" if usual != "M4" else "M8"))
    assert severities(other, "X carriages to saddle plate") == {"other-thread": "limit"}


def test_screws_into_the_end_of_a_slotted_profile_stand_on_its_core_bores() -> None:
    """An upright of 40 x 80 on a grid of 40: two bores 40 mm apart, 6.8 mm wide, which M8 is tapped into."""
    project = changed(gantry__upright__section=PROFILE, gantry__upright__material="en_aw_6063_t66")
    made = built(project)
    for key in ("foot", "cap"):
        pattern = made[key].pattern
        assert pattern is not None
        assert sorted(place[0] for place in pattern.places) == pytest.approx([-0.02, 0.02])
        assert {place[1] for place in pattern.places} == {0.0}
        assert made[key].size.thread == "M8"
    assert severities(project, "Foot plates to uprights") == {}
    for joint in (Joint(pitch_along=0.05), Joint(along=1)):
        beside = changed(gantry__upright__section=PROFILE, joints__foot=joint)
        assert severities(beside, "Foot plates to uprights")["joint-off-bore"] == "limit"
    small = changed(gantry__upright__section=PROFILE, joints__foot=Joint(screw="M6"))
    assert severities(small, "Foot plates to uprights") == {"bore-too-wide": "limit"}


def test_a_turned_bar_keeps_its_core_bores() -> None:
    """The same upright turned: its two bores stand across, one row along."""
    project = changed(
        gantry__upright__section=PROFILE,
        gantry__upright__material="en_aw_6063_t66",
        gantry__upright__turned=True,
    )
    pattern = built(project)["cap"].pattern
    assert pattern is not None
    assert {place[0] for place in pattern.places} == {0.0}
    assert sorted(place[1] for place in pattern.places) == pytest.approx([-0.02, 0.02])


@pytest.mark.parametrize(("bore", "thread"), [(0.0042, "M5"), (0.005, "M6"), (0.0068, "M8"), (0.009, "M12")])
def test_a_core_bore_is_tapped_to_the_next_thread(bore: float, thread: str) -> None:
    assert thread_of(bore) == thread


def test_room_beyond_the_screw_by_hand() -> None:
    """A plate of 12 mm and a washer of 1.6 mm over a slot 12.3 mm deep: M8 x 25 ends 0.9 mm above its bottom."""
    project = changed(
        gantry__beam__section=PROFILE,
        gantry__beam__material="en_aw_6063_t66",
        joints__seat=Joint(plate=0.012),
    )
    stack = built(project)["seat"].stack
    assert stack is not None
    assert stack.length == pytest.approx(0.025)
    assert stack.free == pytest.approx(0.0009)
    assert (stack.shortest, stack.longest) == pytest.approx((0.0249, 0.0254))


def test_a_through_bolt_ends_within_two_diameters_and_its_thread() -> None:
    """M8 through a plate and a beam with two washers: the nut is 6.8 mm high, two turns of 1.25 mm show, thread 28 mm."""
    stack = built(changed(joints__seat=Joint(plate=0.012, hold="through bolt", washer="yes")))["seat"].stack
    assert stack is not None
    grip = sum(layer.thickness for layer in stack.layers if layer.kind != "nut")
    assert stack.shortest == pytest.approx(grip + 0.0068 + 2 * 0.00125)
    assert stack.longest == pytest.approx(min(stack.shortest + 2 * 0.008, grip + 0.028))


@pytest.mark.parametrize(("hold", "passed"), [("rivet nut", 4.0), ("tapped bar", 4.0), ("tapped hole", 0.0)])
def test_a_screw_stays_clear_of_the_far_wall_of_a_shallow_tube(hold: str, passed: float) -> None:
    """A tube 20 mm deep with 4 mm walls: 16 mm behind its face, half a millimetre of it left free; 12 mm of plate, no washer."""
    partner = Partner("beam", "s235", Ground("steel", wall=0.004, behind=0.016, depth=0.02), hollow=True)
    plate = (Layer("plate", 0.012, "s235", "clamped"),)
    stack = joint_stack(Joint(washer="no"), plate, partner, screw("M8"), hold)
    assert stack.longest == pytest.approx(0.012 + 0.016 - 0.0005)
    assert stack.passed == pytest.approx(passed / 1000.0)


PLATE = (Layer("plate", 0.012, "en_aw_6082_t6", "clamped"),)
DEEP = Ground("steel", wall=0.004, behind=0.076, depth=0.08)


def test_a_screw_goes_in_as_far_as_its_thread_reaches() -> None:
    """M8 has 28 mm of thread: 12 mm of plate and 4 mm of wall before a bar; a bar of 12 mm; nothing in the way behind it."""
    partner = Partner("beam", "s235", DEEP, hollow=True)
    stack = joint_stack(Joint(washer="no"), PLATE, partner, screw("M8"), "tapped bar")
    assert (stack.shortest, stack.longest) == pytest.approx((0.012 + 0.004 + 0.008, 0.012 + 0.004 + 0.028))


def test_a_blind_hole_in_massive_aluminium_by_hand() -> None:
    """M8: 12 mm of thread asked for, 16 mm tapped, drilled 3 x 1.25 mm deeper, half a millimetre left: 19.25 mm at most."""
    partner = Partner("block", "en_aw_6082_t6", Ground("aluminium", 0.06, 0.06, 0.06))
    stack = joint_stack(Joint(washer="no"), PLATE, partner, screw("M8"), "tapped hole")
    assert stack.thread == pytest.approx(0.016)
    assert (stack.shortest, stack.longest) == pytest.approx((0.024, 0.03125))


@pytest.mark.parametrize(
    ("wall", "hold"), [(0.0079, "tapped bar"), (0.008, "tapped hole"), (0.02, "tapped hole")]
)
def test_a_wall_of_one_diameter_of_steel_takes_the_thread(wall: float, hold: str) -> None:
    partner = Partner("beam", "s235", Ground("steel", wall=wall, behind=0.07, depth=0.08), hollow=True)
    assert choose_hold(partner, screw("M8"), strong=True) == hold
