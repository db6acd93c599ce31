"""The drilling list against the rails it is made of, what lies behind them, and the loading order of T-nuts."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.fasteners.behind import behind
from core.fasteners.drilling import DrillAnswer, find_drilling, work_words
from core.fasteners.rails import rails as find_rails
from core.fasteners.screws import screw
from core.fasteners.slots import SlotPlan, Wanted, find_slots, loading, spares
from core.fasteners.totals import totals
from core.machine.layout import support_places
from core.machine.project import Project
from core.units import METRIC, UnitSet
from tests.fasteners.machines import changed, laid, slotted


def drilling(**entries: object) -> DrillAnswer:
    project = changed(**entries)
    lay = laid(project)
    return find_drilling(project, lay, find_rails(project, lay)[0])


def test_the_list_holds_every_hole_and_joint_in_order() -> None:
    project = changed(y_guides__pieces__longest=1.0)
    lay = laid(project)
    rails = find_rails(project, lay)[0]
    found = find_drilling(project, lay, rails)
    for rail, marks in zip(rails, found.rails, strict=True):
        assert tuple(mark.place for mark in marks.holes) == rail.holes
        places = [mark.place for mark in marks.marks]
        assert places == sorted(places)
        assert (places[0], places[-1]) == (0.0, rail.length)
        joints = [mark.place for mark in marks.marks if mark.kind == "joint"]
        assert joints == [piece.end for piece in rail.pieces[:-1]]
    assert found.alike == {"x": True, "y": True, "z": True}


def test_legs_stand_behind_the_holes_over_them_and_only_through_bolts_mind() -> None:
    project = changed()
    lay = laid(project)
    parts = behind(project, lay, "y")
    start = lay.side_y - lay.y_rail_length / 2.0
    middles = [start + (part.start + part.end) / 2.0 for part in parts]
    assert middles == pytest.approx(support_places(project.machine, lay))
    assert not drilling().findings
    bolted = drilling(base__rail_fastening__hold="through bolt")
    assert [finding.code for finding in bolted.findings] == ["hole-under-plate"]
    named = [mark for mark in bolted.rails[2].holes if mark.behind]
    assert named
    assert bolted.findings[0].value == len(named)


@pytest.mark.parametrize(
    ("face", "seat", "count"),
    [("front", "in front", 2), ("top", "on top", 2), ("front", "on top", 0), ("front", "between", 0)],
)
def test_uprights_stand_behind_the_face_they_touch(face: str, seat: str, count: int) -> None:
    project = changed(gantry__beam__rail_face=face, gantry__upright__seat=seat)
    assert len(behind(project, laid(project), "x")) == count


def slots(**entries: object) -> tuple[SlotPlan, ...]:
    project = slotted(**entries)
    lay = laid(project)
    return find_slots(project, lay, find_rails(project, lay)[0]).slots


def test_a_rail_without_holes_parks_no_spares() -> None:
    project = slotted(
        x_guides__rail_length=0.1, x_guides__end_distance=0.2, gantry__beam__rail_fastening__parked_nuts=4
    )
    lay = laid(project)
    found = find_rails(project, lay)[0]
    assert found[0].holes == ()
    assert [plan.nuts for plan in find_slots(project, lay, found).slots if plan.beam == "gantry beam"] == [
        (),
        (),
    ]


HOLES = st.integers(1, 60).map(lambda n: [(0.1 + 0.06 * k, k + 1) for k in range(n)])


@given(HOLES, st.integers(0, 9), st.sampled_from(("", "start", "end")))
def test_every_nut_once_the_farthest_first_and_none_overtakes(
    holes: list[tuple[float, int]], parked: int, only: str
) -> None:
    length = holes[-1][0] + 0.03
    wanted = [Wanted(place, "M5", "slide-in", f"hole {number}", hole=number) for place, number in holes]
    nuts = loading([*wanted, *spares(wanted, [], parked, length, 0.06, only)], length, only)
    assert sorted(nut.hole for nut in nuts if nut.hole) == [number for _, number in holes]
    assert sum(nut.hole == 0 for nut in nuts) == parked
    for end in ("start", "end"):
        own = [nut for nut in nuts if nut.from_end == end]
        assert not (own and only and end != only)
        far = [nut.place if end == "start" else length - nut.place for nut in own]
        assert far == sorted(far, reverse=True)
        assert all(0.0 < place < length for place in far)
        assert [nut.order for nut in own] == list(range(1, len(own) + 1))
    apart = sorted(nut.place for nut in nuts)
    assert len(set(apart)) == len(apart)


def test_a_beam_between_uprights_closes_both_ends_and_says_so() -> None:
    assert all(not any(plan.closed.values()) for plan in slots())
    shut = slots(gantry__upright__seat="between")
    assert shut
    assert all(all(plan.closed.values()) for plan in shut)
    project = slotted(gantry__upright__seat="between")
    lay = laid(project)
    rails = find_rails(project, lay)[0]
    assert [f.code for f in find_slots(project, lay, rails).findings] == ["slot-ends-closed"]


def test_a_closed_end_sends_all_nuts_to_the_other() -> None:
    for closed, end in (("start", "end"), ("end", "start")):
        for plan in slots(gantry__beam__rail_fastening__closed_ends=closed):
            assert plan.count(end) == len(plan.nuts)


def test_parked_nuts_are_bought_too() -> None:
    counts = {}
    for parked in (0, 3):
        project = slotted(gantry__beam__rail_fastening__parked_nuts=parked)
        lay = laid(project)
        rails = find_rails(project, lay)[0]
        counts[parked] = next(t.needed for t in totals(rails, project) if t.what == "T-nut")
        assert all(plan.parked == parked for plan in find_slots(project, lay, rails).slots)
    assert counts[3] == counts[0] + 6


def test_no_slots_without_t_nuts() -> None:
    project = changed()
    lay = laid(project)
    assert find_slots(project, lay, find_rails(project, lay)[0]).slots == ()


def test_a_rail_that_no_screw_holds_is_not_drilled_or_marked() -> None:
    def work(project: Project) -> str:
        lay = laid(project)
        return find_drilling(project, lay, find_rails(project, lay)[0]).rails[0].work

    good, off = work(slotted()), work(slotted(x_guides__rail_spacing=0.05))
    none = work(changed(gantry__beam__rail_fastening__hold="through bolt"))
    assert "T-nut" in good
    assert off == none
    assert "T-nut" not in off


def test_drills_for_metric_threads_are_metric_in_inches_too() -> None:
    """Tapping drills of ISO 2306: 4.2 mm for M5, 6.8 mm for M8."""
    for thread, drill in (("M5", "4.2 mm"), ("M6", "5 mm"), ("M8", "6.8 mm")):
        for units in (METRIC, UnitSet(length="in", force="lbf")):
            assert drill in work_words("tapped wall", screw(thread), "slide-in", units)
