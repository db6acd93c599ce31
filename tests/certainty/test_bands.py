"""Bands: samples against whole frames with replaced figures, closing with exact inputs, corners, causes and findings."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import msgspec
import numpy as np
import pytest

from core.certainty import BandsAnswer, band_words, find_bands, uncertain_inputs
from core.certainty.bands import deflections, draw, tip_samples
from core.certainty.chain import make_chain
from core.certainty.chance import log_triangular, strata
from core.certainty.first_mode import first_mode
from core.certainty.inputs import with_values
from core.certainty.springs import SpringShares
from core.cutting import tip_force
from core.fields import Band, band
from core.frame import Frame
from core.frame.mass import Lumps
from core.machine.layout import layout
from core.machine.project import Project, replace_at
from core.model.masses import with_lumps
from core.model.place import solve_place
from core.model.setting import Setting
from core.model.whole import whole_frame
from core.modes import find_modes
from core.plan import Plan, make_plan
from core.sag import find_sag
from core.sections.book import stock_book
from core.stiffness import find_stiffness
from core.stiffness.deflection import deflection
from core.storage import load_project
from core.units import UnitSet

DEMOS = sorted((Path(__file__).resolve().parents[2] / "demo_projects").glob("*.json"))


def plan_of(project: Project) -> tuple[Setting, Plan]:
    book = stock_book()
    plan = make_plan(project, book)
    return Setting(project.machine, plan.layout, "likely", book), plan


def bands_of(project: Project, samples: int = 512) -> BandsAnswer:
    answer = find_bands(*plan_of(project), samples)
    assert answer is not None
    return answer


def exact(struct: msgspec.Struct) -> msgspec.Struct:
    """A copy with every band closed on its likely figure."""
    new = {}
    for name in struct.__struct_fields__:
        value = getattr(struct, name)
        if isinstance(value, Band):
            new[name] = band(value.likely, value.likely, value.likely)
        elif isinstance(value, msgspec.Struct):
            new[name] = exact(value)
        elif isinstance(value, tuple):
            new[name] = tuple(exact(v) if isinstance(v, msgspec.Struct) else v for v in value)
    return msgspec.structs.replace(struct, **new)


def all_exact(project: Project) -> Project:
    closed = exact(project)
    assert isinstance(closed, Project)
    values = {i.path: i.likely for i in uncertain_inputs(closed.machine)}  # the automatic ones
    return msgspec.structs.replace(closed, machine=with_values(closed.machine, values))


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_samples_equal_whole_frames_with_the_same_figures(path: Path) -> None:
    project = load_project(path)
    book = stock_book()
    setting = Setting(project.machine, layout(project.machine, book), "likely", book)
    shares = SpringShares(setting, uncertain_inputs(project.machine))
    drawn = draw(shares.inputs, (), 64)
    x, y = 0.31 * project.machine.work.travel_x, -0.27 * project.machine.work.travel_y
    found = tip_samples(make_chain(setting, y, shares), x, drawn)
    for row in (0, 17, 63, 64, 65, 66):  # samples, likely and both corners
        machine = project.machine
        for i, value in zip(drawn.inputs, drawn.values[row], strict=True):
            inner = i.path.partition(".")[2]
            machine = replace_at(machine, inner, band(value, value, value))  # type: ignore[assignment]
        whole = solve_place(Setting(machine, layout(machine, book), "likely", book), x, y).compliance
        assert np.abs(found[row] - whole).max() < 1e-6 * np.abs(whole).max()


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_band_takes_in_likely_and_lies_within_the_corners(path: Path) -> None:
    project = load_project(path)
    setting, plan = plan_of(project)
    answer = find_bands(setting, plan, 512)
    assert answer is not None
    assert plan.stiffness is not None
    assert answer.checked < 1e-6
    for case, known in zip(answer.cases, plan.stiffness.cases, strict=True):
        s = case.spread
        assert s.likely == pytest.approx(known.worst, rel=1e-3)
        assert case.best <= s.values[0] <= s.low <= s.likely <= s.high <= s.values[-1] <= case.worst
        assert np.all(case.low_along_x <= known.along_x)
        assert np.all(known.along_x <= case.high_along_x)
        assert sum(c.share for c in case.causes) == pytest.approx(1.0, abs=1e-2)
        swings = [c.swing for c in case.causes]
        assert swings == sorted(swings, reverse=True)
    assert plan.sag is not None
    assert answer.sag.likely == pytest.approx(plan.sag.beam_worst)
    assert answer.path_error.likely == pytest.approx(plan.sag.worst_residual)


def test_band_closes_when_every_figure_is_exact() -> None:
    project = all_exact(load_project(DEMOS[0]))
    assert uncertain_inputs(project.machine) == ()
    answer = bands_of(project, 64)
    assert answer.inputs == ()
    spreads = [c.spread for c in answer.cases] + [answer.sag, answer.path_error, answer.first_mode]
    for s in spreads:
        assert s.low == pytest.approx(s.likely, rel=1e-12)
        assert s.high == pytest.approx(s.likely, rel=1e-12)
    assert all(np.allclose(c.low_along_x, c.high_along_x, rtol=1e-12) for c in answer.cases)
    assert all(c.causes == () for c in answer.cases)


def test_one_input_alone_carries_the_whole_band() -> None:
    project = all_exact(load_project(DEMOS[0]))
    path = "machine.head.mount_turning"
    project = replace_at(project, path, band(50e3, 150e3, 400e3))  # type: ignore[assignment]
    answer = bands_of(project)
    assert [i.path for i in answer.inputs] == [path]
    for case in answer.cases:
        (cause,) = case.causes
        assert cause.share == pytest.approx(1.0)
        assert cause.correlation == pytest.approx(-1.0)
        assert cause.at_high < case.spread.low < case.spread.high < cause.at_low
        assert case.best == pytest.approx(cause.at_high)
        assert case.worst == pytest.approx(cause.at_low)


def test_a_sides_end_is_the_plan_of_the_machine_with_that_figure() -> None:
    project = load_project(DEMOS[2])
    _, plan = plan_of(project)
    answer = bands_of(project, 64)
    assert plan.stiffness is not None
    case = answer.cases[0]
    for cause in case.causes[:2]:
        at = with_values(project.machine, {cause.input.path: cause.input.low})
        book = stock_book()
        changed = Setting(at, layout(at, book), "likely", book)
        whole = solve_place(changed, case.x, case.y).compliance
        moved, _ = deflection(whole, tip_force(project.cases[0]), project.cases[0].any_direction)
        assert cause.at_low == pytest.approx(float(np.linalg.norm(moved)), rel=1e-3)


def test_sag_and_path_of_a_sample_equal_a_plan_with_its_figures() -> None:
    project = load_project(DEMOS[1])
    setting, plan = plan_of(project)
    path = "machine.gantry.upright.joint_turning"
    only = all_exact(project)
    only = replace_at(only, path, band(1e5, 4e5, 1.2e6))  # type: ignore[assignment]
    answer = bands_of(only, 64)
    drawn = log_triangular(1e5, 4e5, 1.2e6, strata(path, 64))
    ends = []
    for value in (float(drawn.min()), float(drawn.max())):
        at = with_values(only.machine, {path: value})
        changed = Setting(at, layout(at, setting.book), "likely", setting.book)
        _, gantry = find_stiffness(changed, project.cases, (plan.place.x, plan.place.y))
        found = find_sag(changed, gantry)
        ends.append((found.beam_worst, found.worst_residual))
    for spread, column in ((answer.sag, 0), (answer.path_error, 1)):
        known = sorted(e[column] for e in ends)
        assert [spread.values[0], spread.values[-1]] == pytest.approx(known, rel=1e-3)


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_first_mode_of_samples_is_that_of_their_own_frames(path: Path) -> None:
    project = load_project(path)
    setting = Setting(project.machine, layout(project.machine, stock_book()), "likely", stock_book())
    shares = SpringShares(setting, uncertain_inputs(project.machine))
    drawn = draw(shares.inputs, (), 16)
    x, y = 0.2 * project.machine.work.travel_x, 0.3 * project.machine.work.travel_y
    found = first_mode(setting, x, y, shares, drawn.softer, drawn.corners)
    for row in (3, 16, 17, 18):  # a sample, likely, both corners
        values = {i.path: float(v) for i, v in zip(drawn.inputs, drawn.values[row], strict=True)}
        at = replace(setting, machine=with_values(project.machine, values))
        known = find_modes(*vibrating(at, x, y)).frequencies[0]
        # Seen from above only, as Rayleigh's quotient has it.
        assert known * (1.0 - 1e-9) <= found[row] <= known * (1.0 + 4e-3)
    assert found[16] == pytest.approx(find_modes(*vibrating(setting, x, y)).frequencies[0], rel=1e-9)


def vibrating(setting: Setting, x: float, y: float) -> tuple[Frame, int, Lumps]:
    frame, lumps = with_lumps(setting, whole_frame(setting, x, y).frame)
    return frame, 1, lumps


def test_draws_stay_when_another_input_comes() -> None:
    machine = load_project(DEMOS[0]).machine
    inputs = uncertain_inputs(machine)
    both, one = draw(inputs[:2], (), 32), draw(inputs[:1], (), 32)
    assert np.array_equal(both.values[:32, 0], one.values[:32, 0])


def test_lateral_stiffness_that_follows_the_normal_one_is_no_input_of_its_own() -> None:
    project = load_project(DEMOS[0])
    paths = {i.path for i in uncertain_inputs(project.machine)}
    free = replace_at(project, "machine.x_guides.lateral_stiffness", band(1e8, 2e8, 3e8))
    assert isinstance(free, Project)
    assert "machine.x_guides.lateral_stiffness" not in paths
    assert "machine.x_guides.lateral_stiffness" in {i.path for i in uncertain_inputs(free.machine)}


def test_what_is_held_rigid_is_no_input() -> None:
    project = load_project(DEMOS[0])
    rigid = replace_at(project, "machine.rigid", ("spindle_mount",))
    assert isinstance(rigid, Project)
    assert not any("mount" in i.path for i in bands_of(rigid, 16).inputs)
    assert any("mount" in i.path for i in bands_of(project, 16).inputs)


def test_limit_inside_the_band_is_found_and_told() -> None:
    project = load_project(DEMOS[0])
    spread = bands_of(project).cases[1].spread
    tight = replace_at(project, "cases.1.limit", 0.5 * (spread.likely + spread.high))
    assert isinstance(tight, Project)
    answer = bands_of(tight)
    mine = [f for f in answer.findings if f.where == "cases.1.limit"]
    assert [f.code for f in mine] == ["wide-band"]
    assert 0.5 < answer.cases[1].spread.within < 0.95
    loose = replace_at(project, "cases.1.limit", 1.01 * spread.high)
    assert isinstance(loose, Project)
    assert not any(f.where == "cases.1.limit" for f in bands_of(loose).findings)


def test_worst_direction_is_that_of_the_deflection_answer() -> None:
    project = load_project(DEMOS[0])
    rng = np.random.default_rng(3)
    half = rng.standard_normal((5, 3, 3))
    compliance = half @ np.swapaxes(half, -1, -2)
    for case in project.cases:
        moved, _ = deflection(compliance, tip_force(case), case.any_direction)
        assert deflections(compliance, case) == pytest.approx(np.linalg.norm(moved, axis=-1))


def test_words_of_a_closed_band_have_no_ends() -> None:
    answer = bands_of(all_exact(load_project(DEMOS[0])), 16)
    assert "to" not in band_words(answer.cases[0].spread, UnitSet()).split()
    assert "to" in band_words(bands_of(load_project(DEMOS[0]), 16).cases[0].spread, UnitSet()).split()


def test_no_band_without_an_answer() -> None:
    project = load_project(DEMOS[0])
    fallen = replace_at(project, "machine.work.clearance", 0.0)
    fallen = replace_at(fallen, "machine.base.top", 0.3)
    assert isinstance(fallen, Project)
    setting, plan = plan_of(fallen)
    assert plan.stiffness is None
    assert find_bands(setting, plan, 16) is None
