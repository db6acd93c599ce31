"""A ranking in words and on the screen: the lightest is the lightest, figures stand in the user's units, nothing is hidden."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import msgspec
import numpy as np
import pytest

from core.machine.prices import Prices
from core.machine.project import Project
from core.rank import RankAnswer, Wanted, best, candidates, find_rank, least, wanted_rows
from core.report.rank_screen import MIND, make_screen, picked_rows, screen_table, shown_table
from core.report.rank_words import (
    beam_lines,
    broken,
    cost_axis,
    deflection_axis,
    full_name,
    point_words,
    rank_counts,
    rank_headline,
)
from core.sections.book import stock_book
from core.storage import load_project
from core.units import METRIC, UnitSet

DEMOS = sorted((Path(__file__).resolve().parents[2] / "demo_projects").glob("*.json"))
INCHES = UnitSet("in", "lbf")


def ranked(project: Project) -> RankAnswer:
    found = find_rank(project, stock_book())
    assert found is not None
    return found


@pytest.fixture(scope="module")
def answer() -> RankAnswer:
    return ranked(load_project(DEMOS[0]))


@pytest.fixture(scope="module")
def bare() -> RankAnswer:
    """The same machine without prices."""
    return ranked(msgspec.structs.replace(load_project(DEMOS[0]), prices=Prices()))


def test_the_headline_names_the_lightest_that_holds_every_limit(answer: RankAnswer) -> None:
    usable = wanted_rows(answer, Wanted())
    row = least(answer, "moving_mass", usable)
    assert row is not None
    clear = np.array([not remark for remark in answer.remarks])
    good = np.flatnonzero(answer.fits & answer.holds & clear)
    assert answer.moving_mass[row] == answer.moving_mass[good].min()
    headline = rank_headline(answer, METRIC, usable)
    assert full_name(answer, row) in headline.words
    assert f"{answer.moving_mass[row]:.1f} kg" in headline.words
    assert headline.state == "good"
    every = ("Something to watch.",) * len(answer.remarks)
    warned = rank_headline(replace(answer, remarks=every), METRIC, usable)
    assert warned.state == "warning"
    assert "warning" in warned.words
    one = tuple("Something to watch." if k == row else words for k, words in enumerate(answer.remarks))
    other = replace(answer, remarks=one)
    heavier = least(other, "moving_mass", usable)
    assert heavier is not None
    assert answer.moving_mass[heavier] >= answer.moving_mass[row]
    told = rank_headline(other, METRIC, usable).words
    assert full_name(answer, heavier) in told
    assert full_name(answer, row) in told.split("warning")[1]


@pytest.mark.parametrize("cost", ["beam_mass", "height", "price"])
def test_the_headline_follows_what_is_to_be_small(answer: RankAnswer, cost: str) -> None:
    row = least(answer, cost, answer.fits)
    assert row is not None
    assert answer.holds[row]
    assert not answer.remarks[row]
    clear = answer.fits & answer.holds & np.array([not remark for remark in answer.remarks])
    costs = getattr(answer, cost)
    assert costs[row] == pytest.approx(np.nanmin(costs[clear]))
    equal = clear & (costs <= costs[row])
    assert answer.load[row] == answer.load[equal].min()
    assert full_name(answer, row) in rank_headline(answer, METRIC, answer.fits, cost).words


def test_without_prices_the_headline_goes_by_mass(bare: RankAnswer) -> None:
    assert rank_headline(bare, METRIC, bare.fits, "price") == rank_headline(bare, METRIC, bare.fits)


def test_filters_that_leave_nothing_are_said_to(answer: RankAnswer) -> None:
    empty = np.zeros_like(answer.fits)
    words = rank_headline(answer, METRIC, empty).words
    assert "filter" in words
    assert "filter" not in rank_headline(answer, METRIC, ~answer.fits).words


def test_filters_change_whom_the_headline_names_and_say_so(answer: RankAnswer) -> None:
    steel = wanted_rows(answer, Wanted(materials=frozenset({"s235"})))
    row = least(answer, "moving_mass", steel)
    assert row is not None
    assert answer.candidates[row].beam.material == "s235"
    headline = rank_headline(answer, METRIC, steel)
    assert full_name(answer, row) in headline.words
    assert headline.words.split(":")[0] != rank_headline(answer, METRIC, answer.fits).words.split(":")[0]
    assert rank_headline(answer, METRIC, np.zeros_like(steel)).state == "bad"


def test_where_none_holds_the_nearest_is_named_with_what_it_breaks(answer: RankAnswer) -> None:
    strict = replace(answer, path_error=answer.path_error + 0.001)
    headline = rank_headline(strict, METRIC, strict.fits)
    assert headline.state == "bad"
    assert "path error" in headline.words
    assert len(broken(strict, 0, METRIC)) == len(broken(answer, 0, METRIC)) + 1


def test_wishes_for_kinds_metals_and_moving_mass_leave_the_others_out(answer: RankAnswer) -> None:
    kinds = frozenset({"T-slot profile", "Built up"})
    rows = wanted_rows(answer, Wanted(families=kinds, moving_mass=60.0))
    assert rows.any()
    assert {answer.candidates[row].family for row in np.flatnonzero(rows)} <= kinds
    assert answer.moving_mass[rows].max() <= 60.0
    assert not wanted_rows(answer, Wanted(families=frozenset())).any()
    clear = wanted_rows(answer, Wanted(clear=True))
    assert 0 < clear.sum() < answer.fits.sum()
    assert not any(answer.remarks[row] for row in np.flatnonzero(clear))


def test_axes_stand_in_the_users_units(answer: RankAnswer) -> None:
    height = cost_axis(answer, "height", INCHES)
    assert height.label.endswith(", in")
    assert height.values[0] == pytest.approx(answer.height[0] / 0.0254)
    case = deflection_axis(answer, 0, METRIC)
    assert case.limit == pytest.approx(answer.limits[0] * 1e3)
    assert case.label.endswith(", mm")
    share = deflection_axis(answer, None, METRIC)
    assert share.low is not None
    assert share.high is not None
    solved = answer.solved
    assert np.all(share.low[solved] <= share.values[solved] * (1 + 1e-9))
    assert np.all(share.values[solved] <= share.high[solved] * (1 + 1e-9))


def test_without_prices_the_axis_says_why_it_is_empty_and_the_beam_that_it_has_none(bare: RankAnswer) -> None:
    axis = cost_axis(bare, "price", METRIC)
    assert not np.isfinite(axis.values).any()
    assert "price" in axis.empty.lower()
    assert cost_axis(bare, "moving_mass", METRIC).empty == ""
    assert "no price" in point_words(bare, 0, METRIC)
    column = [c.header for c in screen_table(bare, METRIC, None).columns].index("Price")
    assert {row[column] for row in screen_table(bare, METRIC, None).rows} == {"no price"}


def test_what_cannot_be_used_says_why(answer: RankAnswer) -> None:
    idle = next(row for row in range(len(answer.candidates)) if not answer.fits[row] and answer.solved[row])
    assert answer.problems[idle] in point_words(answer, idle, METRIC)
    whole = screen_table(answer, METRIC, None)
    column = [c.header for c in whole.columns].index(MIND)
    assert whole.rows[idle][column] == answer.problems[idle]
    unsolved = next(row for row in range(len(answer.candidates)) if not answer.solved[row])
    assert len(beam_lines(answer, unsolved, METRIC)) == 1


def test_every_load_case_is_told_with_its_band(answer: RankAnswer) -> None:
    lines = beam_lines(answer, 0, METRIC)
    for name, line in zip(answer.case_names, lines, strict=False):
        assert line.startswith(name)
        assert "band" in line
    unknown = replace(answer, low=np.full_like(answer.low, np.nan))
    assert "band" not in beam_lines(unknown, 0, METRIC)[0]


def test_tables_of_the_screen_and_of_the_file_hold_the_rows_asked_for(answer: RankAnswer) -> None:
    whole = screen_table(answer, METRIC, 1)
    marked = best(answer, "moving_mass", 1, answer.fits)
    rows = np.flatnonzero(answer.fits).tolist()[::-1]
    shown = picked_rows(whole, rows, marked)
    assert [row[0] for row in shown.rows] == [whole.rows[k][0] for k in rows]
    assert ["best" in row[1] for row in shown.rows] == [bool(marked[k]) for k in rows]
    warned = [bool(answer.remarks[k]) for k in rows]
    assert any(warned)
    assert [row[1].endswith("!") for row in shown.rows] == warned
    made = make_screen(answer, METRIC, 1)
    assert made.table == whole
    for number, column in enumerate(whole.columns):
        texts = {column.text(row[number]) for row in whole.rows}
        assert max(map(len, made.longest[number])) >= max(map(len, texts))
    assert whole.rows[0][2] == pytest.approx(answer.worst[0, 1] * 1e3)
    file = shown_table(answer, METRIC, rows, marked)
    assert [row[0] for row in file.rows] == [answer.candidates[k].name for k in rows]
    assert str(len(rows)) in rank_counts(answer, answer.fits)


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_every_candidate_of_every_demo_has_words(path: Path) -> None:
    project = load_project(path)
    found = find_rank(project, stock_book(), candidates(project)[::7])
    assert found is not None
    for row in range(len(found.candidates)):
        assert point_words(found, row, METRIC).strip()
        assert (
            "nan" not in "".join((*beam_lines(found, row, INCHES), point_words(found, row, INCHES))).lower()
        )
