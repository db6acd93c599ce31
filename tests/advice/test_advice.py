"""Advice: slopes against finite differences, changes against plans of the changed machine, and the next sections."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import msgspec
import numpy as np
import pytest

from core.advice import AdviceAnswer, changes, find_advice
from core.advice.bigger import bigger, next_plate
from core.advice.candidates import apply
from core.advice.find import total_mass, worst_at
from core.advice.slopes import find_slopes
from core.cutting import tip_force
from core.errors import BadEntry
from core.fields import Band, band
from core.machine.base import Floor
from core.machine.layout import layout
from core.machine.project import Machine, Project, replace_at
from core.materials import material
from core.model.place import solve_place
from core.model.setting import Setting
from core.plan import Plan, make_plan
from core.sections import FlatBar, RectangularHollow, RoundTube, TSlot
from core.sections.book import stock_book
from core.sections.t_slot import STOCK
from core.stiffness.deflection import deflection, worst_force
from core.storage import load_project

DEMOS = sorted((Path(__file__).resolve().parents[2] / "demo_projects").glob("*.json"))
BOOK = stock_book()


def setting_of(machine: Machine) -> Setting:
    return Setting(machine, layout(machine, BOOK), "likely", BOOK)


@cache
def answer_of(path: Path) -> tuple[Project, Plan, AdviceAnswer]:
    project = load_project(path)
    plan = make_plan(project, BOOK)
    answer = find_advice(setting_of(project.machine), plan)
    assert answer is not None
    return project, plan, answer


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_slopes_equal_finite_differences(path: Path) -> None:
    project = load_project(path)
    case, x, y = project.cases[0], 0.2 * project.machine.work.travel_x, 0.1 * project.machine.work.travel_y
    compliance = solve_place(setting_of(project.machine), x, y).compliance
    moved, direction = deflection(compliance, tip_force(case), case.any_direction)
    force = worst_force(tip_force(case), float(direction), case.any_direction)

    def size(machine: Machine) -> float:
        return float(np.linalg.norm(solve_place(setting_of(machine), x, y).compliance @ force))

    slopes = find_slopes(setting_of(project.machine), case, x, y)
    strongest = [s for s in slopes if s.quantity == "length"][:6] + [
        s for s in slopes if s.quantity != "length"
    ][:4]
    for s in strongest:
        ends = []
        for step in (1.0 + 2e-4, 1.0 - 2e-4):
            value = s.value * step
            entry: float | Band = value if s.quantity == "length" else band(value, value, value)
            ends.append(size(apply(project.machine, ((s.path, entry),))))
        known = (ends[0] - ends[1]) / (4e-4 * s.value)
        assert s.per_unit == pytest.approx(known, rel=1e-5), s.path
        assert s.relative == pytest.approx(s.per_unit * s.value / float(np.linalg.norm(moved)))


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_each_change_is_what_the_changed_machine_gives(path: Path) -> None:
    project, plan, answer = answer_of(path)
    assert len(answer.advices) >= 12
    assert plan.stiffness is not None
    assert answer.before == pytest.approx(plan.stiffness.cases[answer.number].worst)
    gains = [a.gain for a in answer.advices]
    assert gains == sorted(gains, reverse=True)
    assert len({a.change.key for a in answer.advices}) == len(answer.advices)
    case = project.cases[answer.number]
    for advice in answer.advices:
        machine = apply(project.machine, advice.change.edits)
        fresh = setting_of(machine)
        assert advice.after == pytest.approx(worst_at(fresh, case, answer.x, answer.y), rel=1e-9)
        whole = solve_place(fresh, answer.x, answer.y).compliance
        moved, _ = deflection(whole, tip_force(case), case.any_direction)
        assert advice.after == pytest.approx(float(np.linalg.norm(moved)), rel=5e-3)
        assert advice.gain == pytest.approx(1.0 - advice.after / answer.before)
        if advice.mass is not None:
            changed = msgspec.structs.replace(project, machine=machine)
            added = total_mass(changed, fresh.layout) - total_mass(project, plan.layout)
            assert advice.mass == pytest.approx(added)


def test_thicker_beam_weighs_what_its_section_adds() -> None:
    project, plan, answer = answer_of(DEMOS[2])
    advice = next(a for a in answer.advices if a.change.key == "beam-thicker")
    lay = layout(apply(project.machine, advice.change.edits), BOOK)
    added = (lay.sections.beam.area - plan.layout.sections.beam.area) * plan.layout.beam_length * 7850.0
    assert advice.mass == pytest.approx(added)
    assert advice.gain_per_kg == pytest.approx(advice.gain / added)
    assert advice.price is None
    assert advice.gain_per_price is None


def test_price_comes_from_the_added_kilograms() -> None:
    project, plan, _ = answer_of(DEMOS[2])
    answer = find_advice(setting_of(project.machine), plan, {project.machine.gantry.beam.material: 4.0})
    assert answer is not None
    advice = next(a for a in answer.advices if a.change.key == "beam-thicker")
    assert advice.mass is not None
    assert advice.price == pytest.approx(4.0 * advice.mass)
    assert advice.gain_per_price == pytest.approx(advice.gain / advice.price)
    assert next(a for a in answer.advices if a.change.key == "saddle").price is None


def test_a_change_that_no_longer_fits_says_so() -> None:
    _, _, answer = answer_of(DEMOS[1])
    assert any(a.breaks for a in answer.advices)
    assert any(not a.breaks for a in answer.advices)


def test_gives_up_when_nobody_waits() -> None:
    project, plan, _ = answer_of(DEMOS[0])
    asked = []

    def stale() -> bool:
        asked.append(True)
        return len(asked) > 3

    assert find_advice(setting_of(project.machine), plan, stale=stale) is None
    assert len(asked) == 4


def test_changes_of_other_stands_and_drives_are_offered() -> None:
    project = load_project(DEMOS[0])
    on_floor = replace_at(project.machine, "base.stand", Floor())
    assert isinstance(on_floor, Machine)
    keys = {c.key for c in changes(on_floor)}
    assert "feet" not in keys
    assert "stand-section" not in keys
    assert "supports" in keys
    assert {"feet", "stand-section", "stand-cross_section"} <= {c.key for c in changes(project.machine)}


def test_edits_that_only_fit_together_are_checked_together() -> None:
    machine = load_project(DEMOS[0]).machine
    guides = machine.y_guides
    edits = (("machine.y_guides.carriages", 4), ("machine.y_guides.spread", 2.0))
    assert apply(machine, edits).y_guides.carriages == 4
    with pytest.raises(BadEntry):
        apply(machine, (("machine.y_guides.carriages", 4), ("machine.y_guides.spread", 0.1)))
    assert machine.y_guides is guides


def test_next_sections_come_from_the_catalogue() -> None:
    tube = RectangularHollow(height=0.12, width=0.08, wall=0.005, finish="cold formed")
    taller, wider, thicker = (bigger(tube, False, way) for way in ("taller", "wider", "thicker"))  # type: ignore[arg-type]
    assert taller == (RectangularHollow(height=0.14, width=0.08, wall=0.005, finish="cold formed"), False)
    assert thicker == (RectangularHollow(height=0.12, width=0.08, wall=0.006, finish="cold formed"), False)
    assert wider == (RectangularHollow(height=0.12, width=0.12, wall=0.005, finish="cold formed"), False)


def test_a_lying_section_grows_as_it_stands() -> None:
    tube = RectangularHollow(height=0.12, width=0.08, wall=0.005, finish="cold formed")
    found = bigger(tube, True, "wider")
    assert found is not None
    section, turned = found
    assert isinstance(section, RectangularHollow)
    assert (section.width, section.height) == ((0.08, 0.14) if turned else (0.14, 0.08))


def test_sizes_beyond_the_catalogue_take_a_usual_step() -> None:
    odd = RectangularHollow(height=0.211, width=0.11, wall=0.005)
    found = bigger(odd, False, "taller")
    assert found is not None
    assert isinstance(found[0], RectangularHollow)
    assert found[0].height == pytest.approx(0.231)
    plate = bigger(FlatBar(height=0.2, width=0.02), False, "thicker")
    assert plate == (FlatBar(height=0.2, width=0.025), False)
    assert next_plate(0.06) is None
    assert bigger(RoundTube(diameter=0.0483, wall=0.0032), False, "thicker") is not None


def test_where_the_sizes_of_a_module_end_another_one_is_offered() -> None:
    largest = max((s for s in STOCK if s.module < 0.041), key=lambda s: (s.height, s.width))
    found = bigger(largest, False, "taller")
    assert found is not None
    section, turned = found
    assert isinstance(section, TSlot)
    height, width = (section.width, section.height) if turned else (section.height, section.width)
    assert height > largest.height
    assert width >= largest.width
    assert bigger(max(STOCK, key=lambda s: s.height), False, "taller") is None


def test_an_extruded_beam_is_offered_as_a_steel_tube_fastened_as_tubes_are() -> None:
    project, _, answer = answer_of(DEMOS[0])
    assert isinstance(project.machine.gantry.beam.section, TSlot)
    advice = next(a for a in answer.advices if a.change.key == "beam-steel")
    beam = apply(project.machine, advice.change.edits).gantry.beam
    assert isinstance(beam.section, RectangularHollow)
    assert material(beam.material).family == "steel"
    assert beam.rail_fastening.hold != "T-nut"
    assert advice.gain > 0.1
    assert not any(c.key == "beam-steel" for c in changes(load_project(DEMOS[2]).machine))
