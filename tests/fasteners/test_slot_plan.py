"""T-nuts of joints in their slots: each once, in one order with the rails' nuts and spares; clashes are found."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.fasteners import joints, rails
from core.fasteners.nut_places import joint_nuts
from core.fasteners.slots import SlotPlan, SlotsAnswer, Wanted, find_slots, spares
from core.fasteners.strength.partners import NUT_LENGTH
from core.machine.base import Diagonals, Legs
from core.machine.drives import BallScrew, RackPinion, ToothedBelt
from core.machine.joints import Joint
from core.machine.layout import Layout, layout, support_places
from core.machine.project import Project
from tests.fasteners.machines import BOOK, FIGURES, PROFILE, changed

# Invented: three slots on its broad faces, so that two are free beside a rail in the middle.
WIDE = msgspec.structs.replace(PROFILE, width=0.12)
SQUARE = msgspec.structs.replace(PROFILE, width=0.08)
EVERY = BOOK.with_entry(WIDE, replace(FIGURES, width=0.12)).with_entry(SQUARE, replace(FIGURES, width=0.08))


def profiled(**entries: object) -> Project:
    """Everything of slotted profiles: beam, side beams, legs, cross members, diagonals."""
    legs = Legs(
        section=SQUARE, material="en_aw_6063_t66", cross_section=SQUARE, cross_material="en_aw_6063_t66",
        diagonals=Diagonals(section=SQUARE, material="en_aw_6063_t66"),
    )  # fmt: skip
    start = {
        "gantry__beam__section": PROFILE,
        "gantry__beam__material": "en_aw_6063_t66",
        "gantry__beam__rail_fastening__hold": "T-nut",
        "x_guides__rail_spacing": 0.04,
        "base__section": WIDE,
        "base__material": "en_aw_6063_t66",
        "base__rail_fastening__hold": "T-nut",
        "base__stand": legs,
    }
    return changed(**{**start, **entries})


def solved(project: Project) -> tuple[SlotsAnswer, Any, Any, Layout]:
    lay = layout(project.machine, EVERY)
    found, made = rails(project, lay)[0], joints(project, lay)[0]
    return find_slots(project, lay, found, made), found, made, lay


def codes(project: Project) -> set[str]:
    return {finding.code for finding in solved(project)[0].findings}


SHAPES = [
    {},
    {"gantry__upright__seat": "in front"},
    {"gantry__upright__seat": "between"},
    {"base__rail_face": "outside"},
    {"gantry__beam__rail_face": "top"},
    {"x_drive": RackPinion()},
    {"x_drive": ToothedBelt(), "y_drive": BallScrew()},
    {"base__rail_fastening__parked_nuts": 6, "y_drive": RackPinion(piece_length=0.7)},
]


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: ", ".join(shape) or "usual")
def test_every_nut_has_one_place_and_the_sum_is_what_is_bought(shape: dict[str, object]) -> None:
    answer, found, made, lay = solved(profiled(**shape))
    placed = sum(len(plan.nuts) * len(plan.bars) for plan in answer.slots)
    stray = [n for n in joint_nuts(profiled(**shape), lay, made) if n.slot is None]
    bought = sum(rail.nuts + rail.parked for rail in found if rail.hold == "T-nut")
    bought += sum(joint.nuts for joint in made if joint.hold == "T-nut")
    assert placed + len(stray) == bought
    assert not stray
    for plan in answer.slots:
        assert all(0.0 <= nut.place <= plan.length for nut in plan.nuts)
        for end in ("start", "end"):
            own = [nut for nut in plan.nuts if nut.from_end == end]
            away = [nut.place if end == "start" else plan.length - nut.place for nut in own]
            assert away == sorted(away, reverse=True), "the farthest goes in first"
            assert [nut.order for nut in own] == list(range(1, len(own) + 1))
        assert len({round(nut.place, 6) for nut in plan.nuts}) == len(plan.nuts)


def of_joint(answer: SlotsAnswer, key: str) -> list[tuple[SlotPlan, float]]:
    return [(plan, nut.place) for plan in answer.slots for nut in plan.nuts if nut.joint == key]


def test_places_are_those_of_the_machine() -> None:
    project = profiled()
    answer, _, made, lay = solved(project)
    sites = {joint.key: joint for joint in made}
    start = lay.side_y - lay.side_beam_length / 2.0
    for key in ("legs", "cross"):
        pitch = sites[key].pattern.pitch_along
        wanted = sorted(
            {
                round(y - start + s * pitch / 2.0, 6)
                for y in support_places(project.machine, lay)
                for s in (-1, 1)
            }
        )
        assert sorted({round(place, 6) for _, place in of_joint(answer, key)}) == pytest.approx(wanted)
    seat = sites["seat"].pattern.pitch_along
    middle = lay.beam_length / 2.0
    wanted = [middle + s * lay.upright_spacing / 2.0 + t * seat / 2.0 for s in (-1, 1) for t in (-1, 1)]
    assert sorted({round(p, 9) for _, p in of_joint(answer, "seat")}) == pytest.approx(sorted(wanted))
    knee = 0.25 * 0.6
    low = {round(p, 9) for _, p in of_joint(answer, "low_cross")}
    assert sum(low) / len(low) == pytest.approx(knee)
    assert {plan.face for plan, _ in of_joint(answer, "cross")} == {"inner"}
    faces: dict[str, set[str]] = {"front": set(), "back": set()}
    for plan, _ in of_joint(answer, "low_rails"):
        faces[plan.face] |= set(plan.bars)
    assert "left leg 1" in faces["back"] - faces["front"], "the first leg has a rail behind it only"
    assert f"left leg {project.machine.base.supports}" in faces["front"] - faces["back"]


def test_a_rack_takes_a_free_slot_beside_the_rail() -> None:
    answer, found, _, _ = solved(profiled(y_drive=RackPinion()))
    rail = next(rail for rail in found if rail.key == "y_left")
    racks = {plan.slot for plan, _ in of_joint(answer, "y_rack")}
    assert racks
    assert rail.slot not in racks
    assert "part-on-rail" not in codes(profiled(y_drive=RackPinion()))


def test_a_rack_with_no_free_slot_is_found_and_so_is_a_support_on_the_rail() -> None:
    narrow = {"base__section": PROFILE, "base__turned": False}
    assert "part-on-rail" in codes(profiled(**narrow, y_drive=RackPinion()))
    assert "part-on-rail" in codes(profiled(**narrow, y_drive=BallScrew())), (
        "the beam is no longer than the rail"
    )
    lay = solved(profiled())[3]
    long = lay.y_rail_length + 0.3
    assert "part-on-rail" not in codes(profiled(**narrow, y_drive=BallScrew(), base__length=long))


def test_belt_supports_share_the_rails_slots_and_their_order() -> None:
    answer, found, _, _ = solved(profiled(x_drive=ToothedBelt()))
    plan = next(plan for plan in answer.slots if plan.key == "x_low")
    rail = next(rail for rail in found if rail.key == "x_low")
    assert plan.of_joints == 4
    assert len(plan.nuts) == rail.nuts + 4
    last = [nut for nut in plan.nuts if nut.from_end == "start"][-2:]
    assert {nut.joint for nut in last} == {"x_ends"}, (
        "they stand beyond the rail, so they go in after its nuts"
    )
    step = next(step for step in plan.steps if "end supports" in step)
    assert last[0].thread != plan.thread
    assert last[0].thread in step, "a nut of another thread than the slot's says so"
    assert any(plan.thread in step and last[0].thread in step for step in plan.steps[:1])


def test_two_nuts_in_one_place_are_found() -> None:
    assert "nuts-clash" not in codes(profiled())
    close = profiled(joints__legs=Joint(hold="T-nut", screw="M8", pitch_along=0.015))
    assert "nuts-clash" in codes(close)
    spare = profiled(gantry__beam__rail_fastening__parked_nuts=40)
    clash = [f for f in solved(spare)[0].findings if f.code == "nuts-clash"]
    assert {f.severity for f in clash} == {"warning"}


def test_a_row_beside_the_slots_and_a_nut_beyond_the_end_are_found() -> None:
    assert "joint-off-slot" in codes(profiled(joints__cross=Joint(pitch_across=0.03)))
    assert "joint-off-slot" not in codes(profiled())
    assert "nut-off-bar" in codes(profiled(joints__legs=Joint(pitch_along=0.5)))


def test_legs_are_closed_at_both_ends_and_a_weld_closes_for_good() -> None:
    usual = solved(profiled())[0]
    assert [f.severity for f in usual.findings if f.code == "slot-ends-closed"] == ["note"]
    assert "slot-shut" not in codes(profiled())
    assert "slot-shut" in codes(profiled(joints__legs=Joint(made="welded")))
    rolled = profiled(joints__legs=Joint(made="welded"), joints__nut_kind="roll-in")
    assert not codes(rolled) & {"slot-shut", "slot-ends-closed"}


@given(
    count=st.integers(1, 12),
    others=st.lists(st.floats(0.01, 0.25), max_size=3, unique=True),
    pitch=st.floats(0.03, 0.1),
    only=st.sampled_from(["", "start", "end"]),
)
def test_spares_stand_clear_where_there_is_room(
    count: int, others: list[float], pitch: float, only: str
) -> None:
    """With joints beyond the rail the spares take the widest gap, inside the bar, outside the rail."""
    length = 1.6
    holes = [Wanted(0.3 + 0.1 * k, "M5", "slide-in", "", hole=k + 1) for k in range(11)]
    joined = [Wanted(place, "M6", "slide-in", "joint", joint="x_ends") for place in others]
    made = spares(holes, joined, count, length, pitch, only)
    assert len(made) == count
    for one in made:
        assert one.place < 0.3 or one.place > 1.3
        assert 0.0 <= one.place <= length
    size = NUT_LENGTH["M5"]
    gap = min((abs(a.place - b.place) for k, a in enumerate(made) for b in made[:k]), default=1.0)
    share = count if only else (count + 1) // 2
    if share * size < 0.3 / (len(others) + 1) - 2.0 * NUT_LENGTH["M6"] and pitch > size:
        assert gap >= size - 1e-9
