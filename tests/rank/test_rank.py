"""A ranking against the answers for one machine at a time, in machines of every build."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import msgspec
import numpy as np
import pytest

from core.form import find_form
from core.frame.subdivide import subdivide
from core.machine.drives import BallScrew, RackPinion
from core.machine.layout import layout
from core.machine.prices import PriceRow
from core.machine.project import Project, replace_at
from core.model.masses import with_lumps
from core.model.setting import Setting
from core.model.vibrating import pieces_for
from core.model.whole import whole_frame
from core.modes import find_modes
from core.parts import moving_mass
from core.plan import begin_plan
from core.prices import Pricer
from core.rank import OWN, Candidate, RankAnswer, candidate, candidates, find_rank
from core.rank import batch as batch_module
from core.sections import FlatBar, RectangularHollow, TSlot, stock_book
from core.storage import load_project

DEMOS = sorted((Path(__file__).parents[2] / "demo_projects").glob("*.json"))
SAME = 1e-9


def with_entries(project: Project, **entries: Any) -> Project:
    changed: Any = project
    for path, value in entries.items():
        changed = replace_at(changed, "machine." + path.replace("__", "."), value)
    return changed  # type: ignore[no-any-return]


def single(project: Project, one: Candidate) -> Project:
    """The machine with this candidate's beam, nothing else changed."""
    machine = project.machine
    changed = msgspec.structs.replace(
        machine,
        gantry=msgspec.structs.replace(machine.gantry, beam=one.beam),
        x_guides=msgspec.structs.replace(machine.x_guides, rail_spacing=one.rail_spacing),
    )
    return msgspec.structs.replace(project, machine=changed, variants=())


BUILDS: dict[str, dict[str, Any]] = {
    "as it is": {},
    "beam in front": {"gantry__upright__seat": "in front"},
    "beam between": {"gantry__upright__seat": "between"},
    "rails on top": {"gantry__beam__rail_face": "top"},
    "rack": {"x_drive": RackPinion(), "y_drive": BallScrew()},
    "three carriages": {"x_guides__carriages": 3},
    "rigid parts": {"rigid": ("beam_joint", "saddle", "foot_plates")},
    "without overhang": {"gantry__beam__overhang": 0.0},
}


def ranked(project: Project, some: tuple[Candidate, ...] | None = None) -> RankAnswer:
    found = find_rank(project, stock_book(), some)
    assert found is not None
    return found


@pytest.fixture(scope="module")
def demo() -> Project:
    return load_project(DEMOS[0])


@pytest.fixture(scope="module")
def whole(demo: Project) -> RankAnswer:
    return ranked(demo)


@pytest.mark.parametrize("path", DEMOS, ids=[path.stem for path in DEMOS])
def test_a_random_dozen_is_what_the_single_answer_says(path: Path) -> None:
    project, book = load_project(path), stock_book()
    answer = ranked(project)
    rows = np.random.default_rng(5).choice(np.flatnonzero(answer.solved), 12, replace=False)
    for row in (0, *rows):
        plan = begin_plan(single(project, answer.candidates[row]), book)
        assert plan.stiffness is not None
        assert plan.sag is not None
        assert answer.worst[row] == pytest.approx([c.worst for c in plan.stiffness.cases], rel=SAME)
        assert answer.sag[row] == pytest.approx(plan.sag.beam_worst, rel=SAME)
        assert answer.path_error[row] == pytest.approx(plan.sag.worst_residual, rel=SAME)
        assert answer.moving_mass[row] == pytest.approx(moving_mass(plan.project, plan.layout), rel=SAME)


def test_the_worst_of_several_places_that_are_all_but_alike() -> None:
    # In this machine the base's supports make three tops along Y that differ in the fourth digit.
    project, book = load_project(DEMOS[1]), stock_book()
    keys = (
        "hollow_50x30x3_hot_turned",
        "hollow_60x40x5_hot_turned",
        "hollow_80x80x4_cold",
        "flat_80x10_turned",
    )
    some = tuple(one for one in candidates(project) if one.key in keys)
    assert len(some) == len(keys)
    answer = ranked(project, some)
    for row, one in enumerate(some):
        plan = begin_plan(single(project, one), book)
        assert plan.stiffness is not None
        assert answer.worst[row] == pytest.approx([c.worst for c in plan.stiffness.cases], rel=SAME)


@pytest.mark.parametrize("build", BUILDS)
def test_every_build_of_a_machine_is_what_the_single_answer_says(demo: Project, build: str) -> None:
    project, book = with_entries(demo, **BUILDS[build]), stock_book()
    every = candidates(project)
    rows = [0, *np.random.default_rng(len(build)).choice(len(every), 24, replace=False)]
    some = tuple(one for one in (every[row] for row in rows) if not one.problem)
    answer = ranked(project, some)
    checked = 0
    for row in np.flatnonzero(answer.solved)[:6]:
        plan = begin_plan(single(project, some[row]), book)
        assert plan.stiffness is not None
        assert plan.sag is not None
        assert answer.worst[row] == pytest.approx([c.worst for c in plan.stiffness.cases], rel=SAME)
        assert answer.sag[row] == pytest.approx(plan.sag.beam_worst, rel=SAME)
        assert answer.path_error[row] == pytest.approx(plan.sag.worst_residual, rel=SAME)
        checked += 1
    assert checked >= 4


@pytest.mark.parametrize("path", DEMOS, ids=[path.stem for path in DEMOS])
def test_first_mode_against_the_full_solve_of_the_whole_frame(path: Path) -> None:
    project, book = load_project(path), stock_book()
    every = candidates(project)
    rows = [0, *np.random.default_rng(3).choice(len(every), 8, replace=False)]
    some = tuple(one for one in (every[row] for row in rows) if not one.problem)[:5]
    answer = ranked(project, some)
    for row, one in enumerate(some):
        machine = single(project, one).machine
        setting = Setting(machine, layout(machine, book), "likely", book)
        kept, lumps = with_lumps(setting, whole_frame(setting, 0.0, 0.0).frame)
        full = find_modes(subdivide(kept, pieces_for(kept, 300.0)), 1, lumps).frequencies[0]
        assert answer.first_mode[row] == pytest.approx(full, rel=0.003)


def test_a_batch_split_at_another_place_changes_nothing(
    demo: Project, whole: RankAnswer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(batch_module, "CHUNK", 7)
    again = ranked(demo, whole.candidates[:40])
    assert again.worst == pytest.approx(whole.worst[:40], rel=1e-11, nan_ok=True)
    assert again.first_mode == pytest.approx(whole.first_mode[:40], rel=1e-3, nan_ok=True)


def test_form_and_price_are_those_of_the_single_answer(demo: Project) -> None:
    rows = (
        PriceRow(family="rectangular hollow", price=12.0, per="metre"),
        PriceRow(material="s235", price=3.0, per="kilogram"),
        PriceRow(material="EN AW-6060", price=9.0, per="kilogram"),
    )
    project = replace_at(demo, "prices.rows", rows)
    assert isinstance(project, Project)
    answer, pricer, book = ranked(project), Pricer(project), stock_book()
    steel = np.array([one.beam.material == "s235" for one in answer.candidates])
    assert np.isfinite(answer.price[answer.solved & steel]).all()
    for row in np.random.default_rng(2).choice(np.flatnonzero(answer.solved), 8, replace=False):
        changed = single(project, answer.candidates[row])
        lay = layout(changed.machine, book)
        mine = [d for d in find_form(changed, lay, ()).deviations if d.part == "gantry beam"]
        bow = next(d for d in mine if d.what == "bow")
        assert answer.bow[row] == pytest.approx(np.nan if bow.allowed is None else bow.allowed, nan_ok=True)
        assert answer.straight_by[row] == bow.standard
        beam = changed.machine.gantry.beam
        price = pricer.beam(beam.section, beam.material, lay.beam_length, float(answer.beam_mass[row]))
        assert answer.price[row] == pytest.approx(np.nan if price is None else float(price.each), nan_ok=True)


def test_without_prices_there_is_no_price(demo: Project) -> None:
    bare = replace_at(demo, "prices.rows", ())
    assert isinstance(bare, Project)
    assert np.isnan(ranked(bare, candidates(bare)[:3]).price).all()


def test_nothing_is_dropped_and_what_cannot_be_used_says_why(demo: Project, whole: RankAnswer) -> None:
    every = candidates(demo)
    assert whole.candidates == every
    assert len({one.key for one in every}) == len(every)
    assert every[0].key == OWN
    kinds = {one.family for one in every}
    assert {"Hollow, cold formed", "T-slot profile", "Channel", "Built up", "Round bar"} <= kinds
    assert not np.any(whole.fits & np.array([bool(text) for text in whole.problems]))
    for row, one in enumerate(every):
        assert whole.fits[row] or whole.problems[row], one.key


def test_a_profile_whose_slots_do_not_suit_is_listed_with_the_reason(demo: Project) -> None:
    small = FlatBar(height=0.02, width=0.02)
    answer = ranked(demo, (candidate(demo, small, "bar", "Bar"),))
    assert answer.solved[0]
    assert not answer.fits[0]
    assert answer.problems[0]


def test_rails_move_to_the_slots_of_a_candidate(demo: Project, whole: RankAnswer) -> None:
    slotted = [
        row for row, one in enumerate(whole.candidates)
        if isinstance(one.beam.section, TSlot) and one.beam.rail_fastening.hold == "T-nut" and whole.fits[row]
    ]  # fmt: skip
    assert slotted
    for row in slotted:
        module = whole.candidates[row].beam.section.module  # type: ignore[union-attr]
        assert whole.rail_spacing[row] / module == pytest.approx(round(whole.rail_spacing[row] / module))


def test_a_section_without_figures_waits_for_its_analysis(demo: Project) -> None:
    own = demo.machine.gantry.beam.section
    assert isinstance(own, TSlot)
    other = msgspec.structs.replace(own, lip=own.lip * 0.97)
    answer = ranked(demo, (candidate(demo, other, "mine", "Own"), candidates(demo)[0]))
    assert "analysis" in answer.problems[0]
    assert np.isnan(answer.worst[0]).all()
    assert answer.fits[1]


def test_progress_is_told_and_a_stop_is_heard(demo: Project, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(batch_module, "CHUNK", 20)
    every = candidates(demo)[:90]
    told: list[tuple[int, int]] = []
    assert find_rank(demo, stock_book(), every, tell=lambda done, all_: told.append((done, all_))) is not None
    assert told == sorted(told)
    assert len(told) > 3
    assert told[-1] == (90, 90)
    calls = iter([False, False, False, True] + [True] * 90)
    assert find_rank(demo, stock_book(), every, stale=lambda: next(calls)) is None


def test_more_wall_is_stiffer_and_heavier(demo: Project) -> None:
    walls = (0.003, 0.004, 0.005, 0.006)
    tubes = [RectangularHollow(height=0.12, width=0.08, wall=wall) for wall in walls]
    answer = ranked(demo, tuple(candidate(demo, tube, str(k), "Tube") for k, tube in enumerate(tubes)))
    assert np.all(np.diff(answer.worst, axis=0) < 0.0)
    assert np.all(np.diff(answer.beam_mass) > 0.0)
    assert answer.holds.dtype == np.bool_
    assert answer.load == pytest.approx((answer.worst / answer.limits).max(axis=-1))
