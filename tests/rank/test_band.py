"""The ranks' bands against the bands of one machine at a time, drawn with the same samples."""

from __future__ import annotations

from pathlib import Path

import msgspec
import numpy as np
import pytest

from core.certainty import find_bands
from core.certainty.bands import SAMPLES, deflections, draw, load_inputs, tip_samples
from core.certainty.chain import make_chain
from core.certainty.chance import band_of
from core.certainty.inputs import uncertain_inputs
from core.certainty.springs import SpringShares
from core.fields import band
from core.machine.layout import layout
from core.machine.loads import CutForce, DirectForce, LoadCase
from core.machine.project import Project, replace_at
from core.model.setting import Setting
from core.plan import begin_plan
from core.rank import RankAnswer, candidates, find_rank
from core.sections import stock_book
from core.storage import load_project

DEMOS = sorted((Path(__file__).parents[2] / "demo_projects").glob("*.json"))
EXACT = 1e-6  # single precision where samples are sorted
NEAR, USUAL = 0.01, 0.0005  # of the end itself; largest and median difference seen: 0.0071 and 0.0002


def ranked(project: Project) -> RankAnswer:
    found = find_rank(project, stock_book())
    assert found is not None
    return found


def alone(project: Project, answer: RankAnswer, row: int) -> Project:
    one, machine = answer.candidates[row], project.machine
    gantry = msgspec.structs.replace(machine.gantry, beam=one.beam)
    guides = msgspec.structs.replace(machine.x_guides, rail_spacing=one.rail_spacing)
    return msgspec.structs.replace(
        project, machine=msgspec.structs.replace(machine, gantry=gantry, x_guides=guides), variants=()
    )


def own_band(project: Project, answer: RankAnswer, row: int, number: int) -> tuple[float, float]:
    """Ends by the samples of that machine alone, at the same place."""
    book, case = stock_book(), project.cases[number]
    machine = alone(project, answer, row).machine
    setting = Setting(machine, layout(machine, book), "likely", book)
    shares = SpringShares(setting, uncertain_inputs(machine))
    drawn = draw(shares.inputs, load_inputs(project.cases), SAMPLES)
    chain = make_chain(setting, float(answer.worst_y[row, number]), shares)
    found = deflections(tip_samples(chain, float(answer.worst_x[row, number]), drawn), case)
    forces = [k for k, one in enumerate(drawn.inputs) if one.path == f"cases.{number}.load"]
    for k in forces:
        found = found * drawn.values[:, k] / drawn.inputs[k].likely
    low, high = band_of(found[:SAMPLES], float(found[SAMPLES]))
    return float(low), float(high)


@pytest.mark.parametrize("path", DEMOS, ids=[path.stem for path in DEMOS])
def test_the_own_beam_has_the_band_of_the_rest_of_the_program(path: Path) -> None:
    project, book = load_project(path), stock_book()
    answer, plan = ranked(project), begin_plan(project, book)
    bands = find_bands(Setting(project.machine, plan.layout, "likely", book), plan)
    assert bands is not None
    for number, case in enumerate(bands.cases):
        assert answer.low[0, number] == pytest.approx(case.spread.low, rel=EXACT)
        assert answer.high[0, number] == pytest.approx(case.spread.high, rel=EXACT)


@pytest.mark.parametrize("path", DEMOS, ids=[path.stem for path in DEMOS])
def test_every_band_is_near_that_of_the_machine_alone(path: Path) -> None:
    project = load_project(path)
    answer = ranked(project)
    rows = np.random.default_rng(7).choice(np.flatnonzero(answer.solved), 24, replace=False)
    apart = []
    for row in rows:
        for number in range(len(project.cases)):
            low, high = own_band(project, answer, int(row), number)
            apart += [abs(answer.low[row, number] / low - 1.0), abs(answer.high[row, number] / high - 1.0)]
    assert max(apart) < NEAR
    assert np.median(apart) < USUAL
    solved = answer.solved
    assert np.all(answer.low[solved] <= answer.worst[solved])
    assert np.all(answer.high[solved] >= answer.worst[solved])


@pytest.mark.parametrize("turns", [True, False])
@pytest.mark.parametrize("push", [(30.0, 20.0, -80.0), (40.0, 0.0, 60.0)])
def test_other_loads_have_such_bands_too(turns: bool, push: tuple[float, float, float]) -> None:
    project = load_project(DEMOS[0])
    load = DirectForce(x=push[0], y=push[1], z=push[2])
    cases = (
        LoadCase(name="pushed", load=load, any_direction=turns),
        LoadCase(name="cut", load=CutForce(), any_direction=turns),
    )
    answer = ranked(msgspec.structs.replace(project, cases=cases, variants=()))
    for row in (0, 30, 120):
        for number in range(2):
            low, high = own_band(answer.project, answer, row, number)
            assert answer.low[row, number] == pytest.approx(low, rel=NEAR)
            assert answer.high[row, number] == pytest.approx(high, rel=NEAR)


def test_exact_figures_have_no_band() -> None:
    project = load_project(DEMOS[0])
    for one in uncertain_inputs(project.machine):
        changed = replace_at(project, one.path, band(one.likely, one.likely, one.likely))
        assert isinstance(changed, Project)
        project = changed
    project = msgspec.structs.replace(project, cases=project.cases[:1])
    answer = find_rank(project, stock_book(), candidates(project)[:12])
    assert answer is not None
    some = answer.solved
    assert answer.low[some] == pytest.approx(answer.worst[some], rel=EXACT)
    if not load_inputs(project.cases):
        assert answer.high[some] == pytest.approx(answer.worst[some], rel=EXACT)
