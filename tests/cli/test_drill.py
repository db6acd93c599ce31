"""The drill command: list, CSV, DXF and strips; exit codes."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from app.__main__ import main
from core.machine.project import Project, replace_at
from core.storage import save_project


def saved(folder: Path, **entries: object) -> str:
    project = Project()
    for path, value in entries.items():
        made = replace_at(project, "machine." + path.replace("__", "."), value)
        assert isinstance(made, Project)
        project = made
    file = folder / "machine.json"
    save_project(file, project)
    return str(file)


def test_list_on_the_terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["drill", saved(tmp_path), "--rail", "y_left"]) == 0
    out = capsys.readouterr().out
    assert "Left Y rail" in out
    assert "Right Y rail" not in out


def rows(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text)))[1:]


def test_csv_counts_running_places_and_steps_from_either_end(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = saved(tmp_path, y_guides__pieces__longest=1.0)
    lists = []
    for more in ([], ["--from-end"]):
        assert main(["drill", file, "--rail", "y_right", "--csv", "-", *more]) == 0
        lists.append(rows(capsys.readouterr().out))
    forth, back = lists
    assert len(forth) == len(back)
    running = [float(row[3]) for row in forth]
    assert running == pytest.approx([sum(float(row[4]) for row in forth[: k + 1]) for k in range(len(forth))])
    assert [running[-1] - float(row[3]) for row in back[::-1]] == pytest.approx(running)
    assert [row[2] for row in back[::-1]] == [row[2] for row in forth]
    assert sum(row[1] == "joint" for row in forth) >= 2


def test_files(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    files = {kind: tmp_path / f"rails.{kind}" for kind in ("csv", "dxf", "pdf")}
    arguments = [word for kind, file in files.items() for word in (f"--{kind}", str(file))]
    assert main(["drill", saved(tmp_path), *arguments]) == 0
    assert files["csv"].read_text(encoding="utf-8").startswith("Rail,")
    assert b"$INSUNITS" in files["dxf"].read_bytes()
    assert files["pdf"].read_bytes().startswith(b"%PDF")
    assert "Written" in capsys.readouterr().out


def test_an_unknown_rail_is_bad_input(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["drill", saved(tmp_path), "--rail", "q"]) == 2
    assert "y_left" in capsys.readouterr().err


def test_a_joint_on_a_hole_breaks_a_limit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["drill", saved(tmp_path), "--rail", "y_left", "--csv", "-"]) == 0
    hole = float(rows(capsys.readouterr().out)[20][3]) / 1000.0
    file = saved(tmp_path, y_guides__pieces__longest=2.0, y_guides__pieces__first=hole)
    assert main(["drill", file, "--rail", "y_left"]) == 1
