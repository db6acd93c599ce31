"""Rails in pieces: joints between holes, pieces short enough, joints of both rails apart, nothing lost."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.fasteners import place_holes, rails
from core.fasteners.pieces import apart, cut_pair, pieces
from core.parts import parts
from tests.fasteners.machines import changed, laid

LENGTHS = st.integers(300, 9000).map(lambda mm: mm / 1000.0)
PITCHES = st.sampled_from((0.06, 0.08, 0.105))


@given(
    LENGTHS, PITCHES, st.integers(500, 4000).map(lambda mm: mm / 1000.0), st.sampled_from((0.0, 0.084, 0.15))
)
def test_pieces_keep_the_pitch_and_all_holes(
    length: float, pitch: float, longest: float, stagger: float
) -> None:
    holes = place_holes(length, pitch, 0.02).places
    cut = cut_pair(length, holes, longest, stagger)
    assert cut.complete
    for joints in cut.joints:
        made = pieces(length, holes, joints)
        assert sum(piece.length for piece in made) == pytest.approx(length)
        assert sum(piece.count for piece in made) == len(holes)
        assert all(piece.length <= longest + 1e-9 for piece in made)
        assert all(piece.count >= 2 for piece in made) or len(made) == 1
        for before, after in itertools.pairwise(made):
            assert before.last + after.first == pytest.approx(pitch)
            assert before.last == pytest.approx(after.first)
            assert after.holes[0] == before.holes[1] + 1
    assert cut.apart == apart(*cut.joints)


@given(LENGTHS, PITCHES, st.integers(700, 4000).map(lambda mm: mm / 1000.0))
def test_joints_keep_apart_where_pieces_leave_room(length: float, pitch: float, longest: float) -> None:
    """With pieces of ten holes and more there is always room for a carriage's length between joints."""
    if longest < 10 * pitch:
        return
    cut = cut_pair(length, place_holes(length, pitch, 0.02).places, longest, 0.1)
    assert cut.apart is None or cut.apart >= 0.1 - 1e-9


def test_the_fewest_pieces_by_hand() -> None:
    """2.9 m out of 2 m: one joint in each rail, 1.08 m apart, the same two pieces turned about."""
    holes = place_holes(2.9, 0.06, 0.02).places
    cut = cut_pair(2.9, holes, 2.0, 0.084)
    assert cut.joints[0] == pytest.approx((1.99,))
    assert cut.joints[1] == pytest.approx((0.91,))
    assert cut.apart == pytest.approx(1.08)


def test_a_rail_that_is_bought_whole_has_no_joints() -> None:
    holes = place_holes(2.9, 0.06, 0.02).places
    assert cut_pair(2.9, holes, None, 0.1).joints == ((), ())
    assert cut_pair(2.9, holes, 2.9, 0.1).joints == ((), ())


def test_pieces_too_short_to_hold_are_refused() -> None:
    holes = place_holes(2.9, 0.06, 0.02).places
    assert not cut_pair(2.9, holes, 0.1, 0.0).complete
    project = changed(y_guides__pieces__longest=0.1)
    found = {finding.code for finding in rails(project, laid(project))[1] if finding.severity == "limit"}
    assert "piece-too-short" in found


def severities(**entries: object) -> dict[str, str]:
    project = changed(**entries)
    return {finding.code: finding.severity for finding in rails(project, laid(project))[1]}


def codes(**entries: object) -> set[str]:
    return set(severities(**entries))


def test_a_joint_on_a_hole_is_found() -> None:
    whole = changed()
    holes = rails(whole, laid(whole))[0][2].holes
    base = {"y_guides__pieces__longest": 2.0}
    assert "hole-on-joint" not in codes(**base)
    assert severities(**base, y_guides__pieces__first=holes[20])["hole-on-joint"] == "limit"
    assert severities(**base, y_guides__pieces__first=holes[20] + 0.015)["hole-on-joint"] == "warning"
    assert "hole-on-joint" not in codes(**base, y_guides__pieces__first=(holes[20] + holes[21]) / 2.0)


def test_joints_beside_each_other_are_found() -> None:
    whole = changed()
    holes = rails(whole, laid(whole))[0][2].holes
    middle = (holes[20] + holes[21]) / 2.0
    beside = {"y_guides__pieces__first": middle, "y_guides__pieces__second": middle}
    assert "joints-not-staggered" in codes(y_guides__pieces__longest=2.0, **beside)
    assert "joints-not-staggered" not in codes(
        y_guides__pieces__longest=2.0, y_guides__pieces__stagger=0.0, **beside
    )


def test_both_rails_have_the_same_hole_phase() -> None:
    project = changed(y_guides__pieces__longest=1.0)
    answers = [rail for rail in rails(project, laid(project))[0] if rail.axis == "y"]
    assert answers[0].holes == answers[1].holes
    assert answers[0].pieces != answers[1].pieces


def test_the_parts_list_counts_every_piece() -> None:
    whole, cut = changed(), changed(y_guides__pieces__longest=1.0)
    lines = {}
    for name, project in (("whole", whole), ("cut", cut)):
        lay = laid(project)
        made = parts(project, lay, rails(project, lay)[0])
        lines[name] = [line for line in made if line.key.startswith("y_rail")]
    assert len(lines["cut"]) > 1
    assert len({line.key for line in lines["cut"]}) == len(lines["cut"])
    for total in (
        lambda rows: sum(line.mass for line in rows),
        lambda rows: sum(line.quantity * line.length for line in rows),
    ):
        assert total(lines["cut"]) == pytest.approx(total(lines["whole"]))
