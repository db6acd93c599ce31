"""What holds of every ranking, whatever beams are tried; and beams that the project itself brings along."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import msgspec
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import NeedsAnalysis
from core.machine.project import Project
from core.machine.variants import Variant, with_project
from core.plan import begin_plan
from core.rank import COSTS, Candidate, RankAnswer, best, candidate, candidates, deflections, find_rank, least
from core.sections import Outline, PropertyBook, RectangularHollow, properties, stock_book
from core.sections.analysis import analyse_shape
from core.storage import load_project

DEMO = sorted((Path(__file__).parents[2] / "demo_projects").glob("*.json"))[0]
BOX = (
    ((-0.05, -0.07), (0.05, -0.07), (0.05, 0.07), (-0.05, 0.07)),
    ((-0.042, -0.062), (-0.042, 0.062), (0.042, 0.062), (0.042, -0.062)),
)


def demo() -> Project:
    return msgspec.structs.replace(load_project(DEMO), variants=())


def ranked(project: Project, some: tuple[Candidate, ...], book: PropertyBook | None = None) -> RankAnswer:
    found = find_rank(project, book or stock_book(), some)
    assert found is not None
    return found


sizes = st.tuples(
    st.integers(6, 24).map(lambda k: k / 100.0),
    st.integers(4, 20).map(lambda k: k / 100.0),
    st.floats(0.002, 0.005),
    st.floats(1.05, 1.8),
)


@settings(max_examples=6, deadline=None)
@given(st.lists(sizes, min_size=3, max_size=8))
def test_a_thicker_wall_is_never_softer(rows: list[tuple[float, float, float, float]]) -> None:
    project = demo()
    some = []
    for number, (height, width, wall, more) in enumerate(rows):
        for thick in (wall, wall * more):
            tube = RectangularHollow(height=height, width=width, wall=thick, finish="hot finished")
            some.append(candidate(project, tube, f"{number} {thick}", "tube"))
    answer = ranked(project, tuple(some))
    assert answer.solved.all()
    assert np.all(answer.worst[1::2] <= answer.worst[::2])
    assert np.all(answer.beam_mass[1::2] > answer.beam_mass[::2])
    assert np.all(answer.moving_mass[1::2] > answer.moving_mass[::2])


def test_nobody_among_the_best_is_beaten_breaks_a_limit_or_gains_next_to_nothing() -> None:
    project = demo()
    every = candidates(project)
    answer = ranked(project, every[:1] + every[1::3])
    assert 0 < (answer.fits & answer.holds).sum() < answer.fits.sum()
    for cost in COSTS:
        for case in (None, 0):
            given_, costs = deflections(answer, case), getattr(answer, cost)
            marked = best(answer, cost, case, answer.fits)
            part = np.flatnonzero(answer.fits & answer.holds & np.isfinite(costs))
            no_worse = (costs[part, None] <= costs[part]) & (given_[part, None] <= given_[part])
            better = (costs[part, None] < costs[part]) | (given_[part, None] < given_[part])
            beaten = np.any(no_worse & better, axis=0)
            assert marked.sum() == marked[part].sum() > 0
            assert not np.any(marked[part] & beaten)
            kept = np.flatnonzero(marked)
            kept = kept[np.lexsort((given_[kept], costs[kept]))]
            twins = (costs[kept[1:]] == costs[kept[:-1]]) & (given_[kept[1:]] == given_[kept[:-1]])
            assert np.all(twins | (given_[kept[1:]] <= 0.99 * given_[kept[:-1]]))
            for row in part[
                ~beaten & ~marked[part]
            ]:  # left out: one that costs no more gives nearly as little
                near = marked & (costs <= costs[row])
                assert given_[near].min() < given_[row] / 0.99


def test_where_no_beam_holds_the_best_are_of_those_that_can_be_used() -> None:
    project = demo()
    answer = ranked(project, candidates(project)[:60])
    strict = replace(answer, path_error=answer.path_error + 1.0)
    assert not strict.holds.any()
    marked = best(strict, "moving_mass", None, strict.fits)
    assert marked.any()
    assert strict.fits[marked].all()
    assert least(strict, "moving_mass", strict.fits) is None


def with_outline(project: Project) -> Project:
    outline = Outline(name="drawn box", rings=BOX, wall=0.008)
    machine = project.machine
    beam = msgspec.structs.replace(machine.gantry.beam, section=outline, material="s235", turned=False)
    gantry = msgspec.structs.replace(machine.gantry, beam=beam)
    return msgspec.structs.replace(project, machine=msgspec.structs.replace(machine, gantry=gantry))


@pytest.fixture(scope="module")
def analysed() -> PropertyBook:
    """A book that holds the drawn outline too."""
    book = stock_book()
    with pytest.raises(NeedsAnalysis) as need:
        properties(with_outline(demo()).machine.gantry.beam.section, book)
    shape = need.value.section
    return book.with_entry(shape, analyse_shape(shape))  # type: ignore[arg-type]


def test_a_drawn_outline_of_the_project_is_ranked_as_its_single_answer_says(analysed: PropertyBook) -> None:
    project = with_outline(demo())
    answer = ranked(project, candidates(project)[:5], analysed)
    plan = begin_plan(project, analysed)
    assert plan.stiffness is not None
    assert answer.solved[0]
    assert answer.worst[0] == pytest.approx([c.worst for c in plan.stiffness.cases], rel=1e-9)
    assert np.all(answer.low[0] <= answer.worst[0])
    assert np.all(answer.worst[0] < answer.high[0])


def test_a_drawn_outline_of_a_variant_waits_or_is_asked_for(analysed: PropertyBook) -> None:
    project = demo()
    drawn = with_outline(project)
    variant = with_project(project, Variant(name="drawn"), drawn, ())
    project = msgspec.structs.replace(project, variants=(variant,))
    some = candidates(project)[:2]
    assert some[1].name.endswith("drawn")
    assert "analysis" in ranked(project, some).problems[1]
    with pytest.raises(NeedsAnalysis):
        find_rank(project, stock_book(), some, ask=True)
    assert ranked(project, some, analysed).solved.all()
