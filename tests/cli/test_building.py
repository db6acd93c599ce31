"""The joints and interim commands: text, CSV of every table, JSON, exit codes."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from app import paths
from app.__main__ import main
from app.cli.shop_arguments import INTERIM_TABLES, JOINT_TABLES
from core.machine.joints import Joint
from core.machine.project import Project, replace_at
from core.storage import save_project

HALF = paths.demo_projects()[0]
"""The demo whose order has half arrived."""


def saved(folder: Path, path: str = "", value: object = None) -> str:
    project = Project()
    if path:
        made = replace_at(project, path, value)
        assert isinstance(made, Project)
        project = made
    file = folder / "machine.json"
    save_project(file, project)
    return str(file)


def test_joints_in_words(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["joints", saved(tmp_path)]) == 0
    out = capsys.readouterr().out
    assert "Uprights to beam" in out
    assert "Tightest" in out


def test_a_screw_without_a_length_breaks_a_limit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["joints", saved(tmp_path, "machine.joints.x.blocks", Joint(spacer=0.1))]) == 1
    assert "Over a limit" in capsys.readouterr().out


@pytest.mark.parametrize("table", JOINT_TABLES)
def test_every_table_of_joints_is_a_csv(table: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["joints", str(HALF), "--csv", "-", "--table", table]) == 0
    rows = list(csv.reader(io.StringIO(capsys.readouterr().out)))
    assert len(rows) > 2
    assert len({len(row) for row in rows}) == 1


@pytest.mark.parametrize("table", INTERIM_TABLES)
def test_every_table_of_the_interim_plan_is_a_csv(
    table: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "table.csv"
    assert main(["interim", str(HALF), "--csv", str(file), "--table", table]) == 0
    assert "Written" in capsys.readouterr().out
    assert len(list(csv.reader(io.StringIO(file.read_text(encoding="utf-8"))))) > 2


def test_json_of_both(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["joints", str(HALF), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["format"] == "gantrywright-joints"
    nuts = sum(len(slot["nuts"]) * len(slot["bars"]) for slot in told["t_nuts"]["slots"])
    assert nuts >= sum(joint["nuts"] for joint in told["t_nuts"]["joints"]) > 0
    assert main(["interim", str(HALF), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["format"] == "gantrywright-interim"
    assert told["recorded"]
    assert not told["complete"]


def test_the_half_arrived_demo_says_what_may_be_done(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["interim", str(HALF)]) == 0
    out = capsys.readouterr().out
    assert "Y by hand only" in out
    assert "Y racks (0 of 6)" in out
    assert "X slow jog" in out
    assert "Z not to be moved" in out
    assert "first claim" in out
    assert any("Feet to legs" in line and "8 of 8" in line for line in out.splitlines())
    assert "no cutting" in out


def test_nothing_recorded_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["interim", saved(tmp_path)]) == 0
    assert "Nothing is recorded" in capsys.readouterr().out
