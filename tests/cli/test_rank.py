"""The rank command, its table and its JSON: complete, in the project's units, and the same figures as the answer."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import numpy as np
import pytest

from app import paths
from app.__main__ import main
from app.cli import solving
from core.machine.project import Project, replace_at
from core.prices import NO_PRICE
from core.rank import RankAnswer, Wanted, best, candidates, deflections, find_rank, least, wanted_rows
from core.report.rank import rank_json, rank_lines, rank_table
from core.report.rank_names import short_name
from core.report.rank_words import rank_headline
from core.sections import stock_book
from core.storage import load_project, save_project
from core.units import from_si


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(solving, "section_cache", lambda: tmp_path / "cache" / "sections.json")


@pytest.fixture(scope="module")
def project() -> Project:
    return load_project(paths.demo_projects()[0])


@pytest.fixture(scope="module")
def answer(project: Project) -> RankAnswer:
    found = find_rank(project, stock_book())
    assert found is not None
    return found


def test_the_file_holds_every_beam_in_the_projects_units(
    project: Project, answer: RankAnswer, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["rank", str(paths.demo_projects()[0]), "--csv", "-"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert len(rows) == len(answer.candidates) == len(candidates(project))
    for row in (0, 20, 140):
        shown = rows[row]
        assert shown["Beam"] == answer.candidates[row].name
        if answer.solved[row]:
            name = f"{answer.case_names[0]} (mm)"
            assert float(shown[name]) == pytest.approx(answer.worst[row, 0] * 1e3, rel=1e-8)
            assert float(shown["First mode (Hz)"]) == pytest.approx(answer.first_mode[row], rel=1e-8)
    unusable = [row for row in rows if row["Why not, or what to watch"]]
    assert len(unusable) >= int((~answer.fits).sum())


def test_the_table_follows_the_units(project: Project, answer: RankAnswer) -> None:
    inch = replace_at(project, "display.length", "in")
    assert isinstance(inch, Project)
    table = rank_table(answer, inch.units)
    height = next(k for k, column in enumerate(table.columns) if column.header == "Height")
    assert table.columns[height].unit == "in"
    assert table.rows[0][height] == pytest.approx(from_si(answer.height[0], "length", inch.units))
    assert all(len(row) == len(table.columns) for row in table.rows)


def test_json_is_plain_and_complete(answer: RankAnswer, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rank", str(paths.demo_projects()[0]), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told == rank_json(answer)
    assert told["format"] == "gantrywright-rank"
    assert len(told["beams"]) == len(answer.candidates)
    unknown = next(beam for beam in told["beams"] if beam["problem"].startswith("A round"))
    assert unknown["worst_m"] == [None] * len(told["cases"])
    assert not unknown["usable"]


@pytest.mark.parametrize("cost", ["moving_mass", "price"])
def test_lines_tell_the_verdict_the_machines_own_beam_and_the_best(
    project: Project, answer: RankAnswer, cost: str
) -> None:
    lines = rank_lines(answer, project.units, cost)
    text = "\n".join(lines)
    assert rank_headline(answer, project.units, answer.fits, cost).words in lines
    assert answer.candidates[0].name in text
    assert str(len(answer.candidates)) in text
    marked = np.flatnonzero(best(answer, cost, None, answer.fits)).tolist()
    begin = lines.index("Beams to choose from") + 2
    rows = lines[begin : lines.index("", begin)]
    named = least(answer, cost, answer.fits)
    names = [short_name(answer.candidates[row].name) for row in {0, named, *marked} if row is not None]
    assert len(rows) == len(names)
    for name in names:
        assert any(row.startswith(f"{name}  ") for row in rows), (
            name
        )  # in full, so that none is taken for another
    assert not any(" broken " in row for row in rows[1:])


def test_what_is_weighed_is_chosen_and_marked_in_the_file(
    answer: RankAnswer, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["rank", str(paths.demo_projects()[0]), "--by", "price", "--csv", "-"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    marked = best(answer, "price", None, answer.fits)
    assert [row["Best"] == "best" for row in rows] == marked.tolist()
    assert all(row["Limits"] == "hold" for row in rows if row["Best"])


def test_own_beam_over_its_limit_gives_one(project: Project, tmp_path: Path) -> None:
    strict = replace_at(project, "cases.0.limit", 1e-6)
    assert isinstance(strict, Project)
    save_project(tmp_path / "strict.json", strict)
    assert main(["rank", str(tmp_path / "strict.json"), "--csv", str(tmp_path / "out.csv")]) == 1
    assert (tmp_path / "out.csv").read_text(encoding="utf-8").count("\n") == len(candidates(project)) + 1
    assert main(["rank", str(tmp_path / "nowhere.json")]) == 2


def test_wishes_leave_out_what_they_say(answer: RankAnswer) -> None:
    every = wanted_rows(answer, Wanted(usable=False))
    assert every.all()
    usable = wanted_rows(answer, Wanted())
    assert np.array_equal(usable, answer.fits)
    light = wanted_rows(answer, Wanted(beam_mass=20.0))
    assert light.any()
    assert np.all(answer.beam_mass[light] <= 20.0)
    low = wanted_rows(answer, Wanted(height=0.1, holding=True))
    assert low.any()
    assert np.all(answer.height[low] <= 0.1 + 1e-9)
    assert np.all(answer.holds[low])
    slotted = wanted_rows(answer, Wanted(slotted=True))
    assert slotted.any()
    assert all(answer.beams[row].rail_fastening.hold == "T-nut" for row in np.flatnonzero(slotted))
    cheap = wanted_rows(answer, Wanted(price=1e9))
    assert np.array_equal(cheap, usable & np.isfinite(answer.price))
    assert deflections(answer, 1) == pytest.approx(answer.worst[:, 1], nan_ok=True)


def test_no_price_is_said_and_never_a_zero(project: Project) -> None:
    bare = replace_at(project, "prices.rows", ())
    assert isinstance(bare, Project)
    found = find_rank(bare, stock_book(), candidates(bare)[:4])
    assert found is not None
    table = rank_table(found, bare.units)
    price = next(k for k, column in enumerate(table.columns) if column.header == "Price")
    assert {row[price] for row in table.rows} == {NO_PRICE}
