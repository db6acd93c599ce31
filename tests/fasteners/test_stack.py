"""Clamp stacks worked by hand, and chosen lengths between the shortest and the longest workable."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadEntry
from core.fasteners import clamp_stack, screw, screws, standard_lengths
from core.fasteners.screws import choose_length
from core.fasteners.stack import Ground
from core.machine.fastening import RailFastening
from core.machine.guides import RAILS

# A tube 20 mm deep with a wall of 5 mm: the screw stays clear of the far wall.
SHALLOW = Ground("steel", wall=0.005, behind=0.015, depth=0.02)
TUBE = Ground(family="steel", wall=0.005, behind=0.075, depth=0.08)
SLOT = Ground(family="aluminium", wall=0.002, behind=0.038, depth=0.04, lip=0.0045, slot_depth=0.0123)
HOLDS = ("T-nut", "tapped wall", "tapped bar", "rivet nut", "through bolt")


@pytest.mark.parametrize(
    ("hold", "ground", "shortest", "longest", "chosen"),
    [
        # Rail 20 under the head: 17 - 8.5 = 8.5 mm; M5.
        ("T-nut", SLOT, 8.5 + 4.5 + 5.0, 8.5 + 12.3 - 0.5, 20.0),
        ("tapped wall", TUBE, 8.5 + 5.0, 8.5 + 22.0, 16.0),
        ("tapped bar", TUBE, 8.5 + 5.0 + 5.0, 8.5 + 5.0 + 22.0, 20.0),
        ("rivet nut", TUBE, 8.5 + 5.0 + 5.0, 8.5 + 5.0 + 22.0, 20.0),
        ("tapped wall", SHALLOW, 8.5 + 5.0, 8.5 + 15.0 - 0.5, 16.0),
        ("through bolt", TUBE, 8.5 + 80.0 + 4.7 + 1.6, 8.5 + 80.0 + 4.7 + 1.6 + 10.0, None),
    ],
)
def test_worked_by_hand(
    hold: str, ground: Ground, shortest: float, longest: float, chosen: float | None
) -> None:
    stack = clamp_stack(RAILS[20], screw("M5"), RailFastening(hold=hold), ground)
    assert stack.shortest * 1000.0 == pytest.approx(shortest, abs=1e-9)
    assert stack.longest * 1000.0 == pytest.approx(longest, abs=1e-9)
    length = choose_length("M5", stack.shortest, stack.longest)
    assert (None if length is None else length * 1000.0) == (
        None if chosen is None else pytest.approx(chosen)
    )


def test_packing_lengthens_the_stack() -> None:
    plain = clamp_stack(RAILS[20], screw("M5"), RailFastening(), TUBE)
    packed = clamp_stack(RAILS[20], screw("M5"), RailFastening(under_rail=0.003), TUBE)
    assert packed.shortest - plain.shortest == pytest.approx(0.003)


def test_aluminium_wants_more_thread_than_steel() -> None:
    wall = {"wall": 0.006, "behind": 0.07, "depth": 0.08}
    steel = clamp_stack(RAILS[20], screw("M5"), RailFastening(), Ground(family="steel", **wall))
    aluminium = clamp_stack(RAILS[20], screw("M5"), RailFastening(), Ground(family="aluminium", **wall))
    assert (steel.thin, aluminium.thin) == (False, True)
    assert aluminium.needed == pytest.approx(1.5 * steel.needed)


def test_a_short_nut_is_filled_but_not_called_thin() -> None:
    stack = clamp_stack(RAILS[20], screw("M5"), RailFastening(hold="T-nut", nut_thread=0.004), SLOT)
    assert not stack.thin
    assert stack.engagement(0.02) == pytest.approx(0.004)


@given(
    st.sampled_from(sorted(RAILS)),
    st.sampled_from(HOLDS),
    st.floats(0.0, 0.02),
    st.floats(0.0005, 0.03),
    st.floats(0.02, 0.2),
)
def test_a_chosen_screw_holds_and_does_not_bottom(
    size: int, hold: str, packing: float, wall: float, depth: float
) -> None:
    data = RAILS[size]
    ground = Ground("steel", wall, max(depth - wall, wall), depth, 0.0045, 0.0123)
    thread = screw(data.screw)
    stack = clamp_stack(data, thread, RailFastening(hold=hold, under_rail=packing), ground)
    length = choose_length(data.screw, stack.shortest, stack.longest)
    if length is None:
        between = [n for n in standard_lengths(data.screw) if stack.shortest <= n <= stack.longest]
        assert between == []
        return
    assert stack.shortest - 1e-9 <= length <= stack.longest + 1e-9
    assert stack.engagement(length) >= min(stack.needed, stack.thread) - 1e-9
    shank = length - thread.thread_length
    assert shank <= stack.clamped + stack.passed + 1e-9
    if hold == "T-nut":
        assert length <= stack.clamped + ground.slot_depth


@given(st.sampled_from(sorted(screws())), st.floats(0.0, 0.15), st.floats(0.0, 0.15))
def test_the_shortest_standard_length_is_chosen(thread: str, low: float, high: float) -> None:
    length = choose_length(thread, low, high)
    fitting = [n for n in standard_lengths(thread) if low <= n <= high]
    if fitting:
        assert length is not None
        assert length <= fitting[0]


def test_unknown_thread_names_those_known() -> None:
    with pytest.raises(BadEntry) as caught:
        screw("M7")
    assert "M8" in caught.value.accepted


@pytest.mark.parametrize(
    ("hold", "length", "engaged"),
    [
        ("T-nut", 20.0, 6.0),
        ("T-nut", 18.0, 5.0),
        ("tapped bar", 20.0, 6.5),
        ("tapped wall", 12.0, 3.5),
        ("tapped bar", 10.0, 0.0),
    ],
)
def test_engaged_is_what_reaches_beyond_clamped_and_passed_metal(
    hold: str, length: float, engaged: float
) -> None:
    """M5 through 8.5 mm of rail; then 4.5 mm of lip and a nut of 6 mm, a wall of 5 mm, or that and a bar of 12 mm."""
    ground = SLOT if hold == "T-nut" else TUBE
    fastening = RailFastening(hold=hold, nut_thread=0.006, bar_thickness=0.012)
    stack = clamp_stack(RAILS[20], screw("M5"), fastening, ground)
    assert stack.engagement(length / 1000.0) * 1000.0 == pytest.approx(engaged)
