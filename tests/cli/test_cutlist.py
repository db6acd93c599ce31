"""The command `cutlist`: text, CSV, JSON, exit codes, time to search."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import msgspec
import pytest

from app import paths
from app.__main__ import main
from app.cli import solving
from core.machine.saw import OwnPiece, StockBar
from core.storage import load_project, save_project

DEMO = paths.demo_projects()[0]


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(solving, "section_cache", lambda: tmp_path / "sections.json")


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str]:
    code = main(["cutlist", *arguments])
    return code, capsys.readouterr().out


@pytest.mark.parametrize("file", paths.demo_projects(), ids=lambda file: file.stem)
def test_every_demo_is_cut_and_proven(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, text = run(capsys, str(file), "--json")
    made = json.loads(text)
    assert code == 0
    assert made["format"] == "gantrywright-cutlist"
    assert all(group["proven"] for group in made["groups"])
    assert all(not kind["assumed"] for group in made["groups"] for kind in group["bars_to_cut_from"])
    assert made["findings"] == []
    if not file.name.startswith("02"):
        assert any(bar["from"] == "on hand" for group in made["groups"] for bar in group["bars"])


def test_text_names_bars_and_warns_of_the_saw(capsys: pytest.CaptureFixture[str]) -> None:
    code, text = run(capsys, str(DEMO))
    assert code == 0
    assert "Bars to buy" in text
    assert "hands" in text


def test_csv_goes_out_or_into_a_file(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    _, text = run(capsys, str(DEMO), "--csv", "-")
    rows = list(csv.DictReader(io.StringIO(text)))
    assert len(rows) == len({row["Mark"] for row in rows}) > 20
    file = tmp_path / "list.csv"
    code, said = run(capsys, str(DEMO), "--csv", str(file))
    assert code == 0
    assert str(file) in said
    assert file.read_bytes().decode().splitlines() == text.splitlines()


def test_a_piece_too_long_for_the_bars_entered_gives_one(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    project = load_project(DEMO)
    piece = OwnPiece(section="30 x 30 x 2", length=7.0)
    bars = (*project.stock_bars, StockBar(section="30 x 30 x 2", length=6.0))
    file = tmp_path / "long.json"
    save_project(file, msgspec.structs.replace(project, own_pieces=(piece,), stock_bars=bars))
    code, text = run(capsys, str(file), "--json")
    assert code == 1
    assert [finding["code"] for finding in json.loads(text)["findings"]] == ["piece-too-long"]
    code, text = run(capsys, str(file))
    assert code == 1
    assert "Cannot be cut" in text


@pytest.mark.parametrize("seconds", ["x", "-1", "nan", "1e9"])
def test_a_time_that_is_none_is_refused(seconds: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(capsys, str(DEMO), "--seconds", seconds) == (2, "")


def test_no_time_still_gives_a_list(capsys: pytest.CaptureFixture[str]) -> None:
    code, text = run(capsys, str(DEMO), "--seconds", "0", "--json")
    assert code == 0
    assert sum(len(bar["pieces"]) for group in json.loads(text)["groups"] for bar in group["bars"]) > 20


def test_plan_and_its_folder_hold_the_cut_list(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    _, text = run(capsys, str(DEMO), "--json")
    main(["plan", str(DEMO), "--json", "--out", str(tmp_path)])
    made = json.loads(capsys.readouterr().out)
    assert made["cut_list"] == json.loads(text)
    assert made["bill"]["bars_counted"]
    order = list(csv.DictReader(io.StringIO((tmp_path / "cut_list.csv").read_text(encoding="utf-8"))))
    assert {row["Key"] for row in order} <= {line["key"] for line in made["bill"]["lines"]}
    for name in ("cut_list_bars", "cut_list_by_section", "bars_to_buy", "variants_cost"):
        assert (tmp_path / f"{name}.csv").exists()


def test_the_bill_counts_bars_by_itself(capsys: pytest.CaptureFixture[str]) -> None:
    main(["parts", str(DEMO)])
    said = capsys.readouterr().out
    assert "Bar, 6000 mm" in said
    assert "Metal by the bar: 5 bars for 28 pieces" in said
