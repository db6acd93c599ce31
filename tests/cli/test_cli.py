"""The command line: what each command prints and writes, its exit codes, and what it says of bad input."""

from __future__ import annotations

import csv
import io
import json
import os
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from app import cache, paths
from app.__main__ import main
from app.cli import commands, solving
from core.machine.project import Project, replace_at
from core.storage import load_project, save_project

REPOSITORY = Path(__file__).resolve().parents[2]


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(solving, "section_cache", lambda: tmp_path / "cache" / "sections.json")


def with_limits(limit: float) -> Project:
    project: Any = Project(name="Test", note="Invented data.")
    for path in ("cases.0.limit", "cases.1.limit", "limits.path_error", "limits.sag"):
        project = replace_at(project, path, limit)
    return project


@pytest.fixture
def good(tmp_path: Path) -> Path:
    file = tmp_path / "good.json"
    save_project(file, with_limits(0.05))
    return file


@pytest.fixture
def soft(tmp_path: Path) -> Path:
    file = tmp_path / "soft.json"
    save_project(file, with_limits(1e-7))
    return file


def test_plan_prints_the_verdict_and_exits_by_it(
    good: Path, soft: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["plan", str(good)]) == 0
    said = capsys.readouterr()
    for words in ("Finishing pass", "Rails and fasteners", "Parts", "not a certificate"):
        assert words in said.out
    assert said.err == ""
    assert main(["plan", str(soft)]) == 1
    assert "Over a limit" in capsys.readouterr().out


def test_plan_as_json(good: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(good), "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert np.shape(said["tip_compliance_m_per_N"]) == (9, 3, 3)
    matrix = np.array(said["tip_compliance_m_per_N"])
    assert np.allclose(matrix, matrix.transpose(0, 2, 1), rtol=1e-6, atol=1e-14)
    assert np.all(np.linalg.eigvalsh(matrix) > 0.0)
    assert np.allclose(said["x_m"], np.linspace(-0.65, 0.65, 9))
    assert said["verdict"]["good"] is True
    for budget in said["budgets"]:
        assert sum(share["share"] for share in budget["shares"]) == pytest.approx(1.0)
    assert said["rails"]
    assert said["parts"]
    assert all(rail["hole_count"] == len(rail["holes_m"]) for rail in said["rails"])


def test_out_writes_everything(soft: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "new" / "folder"
    assert main(["plan", str(soft), "--out", str(out), "--json"]) == 1
    printed = json.loads(capsys.readouterr().out)
    names = {file.name for file in out.iterdir()}
    plots = {
        f"{name}.{kind}"
        for name in ("tip_deflection", "sag_and_path_error", "compliance_budget")
        for kind in ("svg", "png")
    }
    tables = {"load_cases.csv", "fasteners.csv", "parts.csv", "variants.csv", "findings.csv"}
    assert names >= plots | tables | {"verdict.txt", "plan.json"}
    assert json.loads((out / "plan.json").read_text("utf-8")) == printed
    for file in out.glob("*.csv"):
        rows = list(csv.reader(io.StringIO(file.read_text("utf-8"), newline="")))
        assert len({len(row) for row in rows}) == 1, file.name
    for name in plots:
        data = (out / name).read_bytes()
        if name.endswith("png"):
            assert data.startswith(b"\x89PNG")
        else:
            assert ElementTree.fromstring(data).tag.endswith("svg")
    assert (out / "verdict.txt").read_text("utf-8").startswith("Test\n")


def test_plots_are_the_same_every_time(good: Path) -> None:
    from app.plots import plot_files

    plan = solving.solve(load_project(good))
    assert plot_files(plan) == plot_files(plan)


def test_any_name_can_be_drawn(tmp_path: Path) -> None:
    from app.plots import plot_files

    project: Any = with_limits(0.05)
    for path, name in (
        ("name", "$\\frac{ 日本 " * 30),
        ("cases.0.name", "_hidden $^"),
        ("cases.1.name", "two\nlines"),
    ):
        project = replace_at(project, path, name)
    assert len(plot_files(solving.solve(project))) == 6


def test_parts(good: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", str(good)]) == 0
    assert capsys.readouterr().out.startswith("Bill of parts")
    assert main(["parts", str(good), "--csv", "-"]) == 0
    printed = capsys.readouterr().out
    rows = list(csv.DictReader(io.StringIO(printed)))
    assert rows
    assert all(int(row["Needed"]) > 0 for row in rows)
    file = tmp_path / "parts.csv"
    assert main(["parts", str(good), "--csv", str(file)]) == 0
    assert file.read_text("utf-8").splitlines() == printed.splitlines()


def test_frame(good: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["frame", str(good)]) == 0
    middle = json.loads(capsys.readouterr().out)
    assert middle["members"]
    assert main(["frame", str(good), "--x", "12 in", "--y=-300"]) == 0
    assert json.loads(capsys.readouterr().out) != middle


@pytest.mark.parametrize("place", [["--x", "far"], ["--x", "9999"], ["--y=-9 m"]])
def test_a_place_that_cannot_be_used(
    place: list[str], good: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["frame", str(good), *place]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("gantrywright: ")


@pytest.mark.parametrize("command", ["plan", "parts", "frame", "open"])
def test_bad_files_are_bad_input(
    command: str, tmp_path: Path, good: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    truncated = tmp_path / "truncated.json"
    truncated.write_bytes(good.read_bytes()[:500])
    for bad in (tmp_path / "none.json", tmp_path, truncated):
        assert main([command, str(bad)]) == 2
        said = capsys.readouterr()
        assert said.out == ""
        assert str(bad) in said.err
        assert "Traceback" not in said.err
        assert said.err.count("\n") == 1


def test_bad_arguments_are_bad_input(capsys: pytest.CaptureFixture[str]) -> None:
    for arguments in (["nonsense"], ["plan"], ["plan", "a", "--colour"]):
        assert main(arguments) == 2
    assert main(["--help"]) == 0
    assert "Exit codes" in capsys.readouterr().out


def test_a_folder_that_cannot_be_written(
    good: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    taken = tmp_path / "taken"
    taken.write_text("a file")
    assert main(["plan", str(good), "--out", str(taken)]) == 2
    assert main(["parts", str(good), "--csv", str(tmp_path)]) == 2
    assert main(["parts", str(good), "--csv", str(tmp_path / "none" / "x.csv")]) == 2
    assert capsys.readouterr().err.count("gantrywright: ") == 3


def test_a_read_only_folder(
    good: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.open

    def refuse(path: Any, flags: int, *rest: Any, **named: Any) -> int:
        if flags & os.O_CREAT:
            raise PermissionError(13, "Permission denied", str(path))
        return real(path, flags, *rest, **named)

    with monkeypatch.context() as patch:
        patch.setattr("core.storage.writer.os.open", refuse)
        assert main(["parts", str(good), "--csv", str(tmp_path / "parts.csv")]) == 2
    assert "may not be written" in capsys.readouterr().err


def test_without_a_display_the_demo_is_solved(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(commands, "has_display", lambda: False)
    monkeypatch.chdir(tmp_path)
    assert main([]) == 0
    assert "no display" in capsys.readouterr().out
    assert (tmp_path / "out" / "plan.json").is_file()


def test_has_display(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    assert not commands.has_display()
    monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-0")
    assert commands.has_display()
    monkeypatch.delenv("WAYLAND_DISPLAY")
    monkeypatch.setattr(sys, "platform", "darwin")
    assert commands.has_display()


def test_with_a_display_the_window_opens(good: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[Path] = []
    monkeypatch.setattr(commands, "has_display", lambda: True)
    monkeypatch.setattr(commands, "_run_window", lambda file: opened.append(file) or 0)
    assert main(["open", str(good)]) == 0
    assert main([]) == 0
    assert opened == [good, paths.demo_projects()[0]]


def test_a_reader_that_has_had_enough(good: Path) -> None:
    script = f"import sys; from app.__main__ import main; sys.exit(main(['plan', {str(good)!r}, '--json']))"
    process = subprocess.Popen(
        [sys.executable, "-c", script], cwd=REPOSITORY, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert process.stdout is not None
    process.stdout.close()
    assert process.stderr is not None
    said = process.stderr.read().decode()
    process.stderr.close()
    assert process.wait(timeout=60) == 0
    assert said == ""


def test_the_terminal_needs_no_qt(good: Path) -> None:
    script = (
        f"import sys; from app.__main__ import main; main(['plan', {str(good)!r}]); "
        "sys.exit(any(name.startswith('PySide6') for name in sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=REPOSITORY, capture_output=True, text=True, timeout=60
    )
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize(
    ("platform", "name", "value", "expected"),
    [
        ("linux", "XDG_CACHE_HOME", os.path.abspath("somewhere"), os.path.abspath("somewhere")),
        ("linux", "XDG_CACHE_HOME", "relative", None),
        ("darwin", "XDG_CACHE_HOME", "", None),
        ("win32", "LOCALAPPDATA", os.path.abspath("local"), os.path.abspath("local")),
    ],
)
def test_cache_folder(
    platform: str, name: str, value: str, expected: str | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "platform", platform)
    monkeypatch.setenv(name, value)
    parent = cache.cache_folder().parent
    assert str(parent) == expected if expected else parent.is_relative_to(Path.home())
