"""The shims command: readings in, table or CSV out, and what it says of bad input."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from app.__main__ import main
from core.machine.project import Project
from core.storage import save_project


@pytest.fixture
def project(tmp_path: Path) -> str:
    file = tmp_path / "machine.json"
    save_project(file, Project())
    return str(file)


def readings(tmp_path: Path, text: str) -> str:
    file = tmp_path / "seats.csv"
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_shims_for_both_rails_as_csv(
    project: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = readings(tmp_path, "rail,hole,height\n1,1,0\n1,5,0.3\n1,9,0\n2,1,0.1\n2,5,0.1\n2,9,0.1\n")
    assert main(["shims", project, "--readings", file, "--csv", "-"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert {row["Rail"] for row in rows} == {"Lower X rail", "Upper X rail"}
    fifth = next(row for row in rows if row["Hole"] == "5" and row["Rail"] == "Lower X rail")
    assert float(fifth["Shim (mm)"]) == 0.0  # the highest spot takes none
    ends = next(row for row in rows if row["Hole"] == "1" and row["Rail"] == "Lower X rail")
    assert float(ends["Shim (mm)"]) == pytest.approx(0.3)


def test_table_and_file(project: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = readings(tmp_path, "#1 0\n#5 0.3\n#9 0\n")
    assert main(["shims", project, "--readings", file, "--axis", "y"]) == 0
    assert "Left Y rail" in capsys.readouterr().out
    out = tmp_path / "shims.csv"
    assert main(["shims", project, "--readings", file, "--csv", str(out)]) == 0
    assert out.read_text(encoding="utf-8").startswith("Rail,")


def test_bad_readings_are_bad_input(project: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["shims", project]) == 2
    assert main(["shims", project, "--readings", readings(tmp_path, "#1 0\n#2 far\n")]) == 2
    assert "line 2" in capsys.readouterr().err
    assert main(["shims", project, "--readings", str(tmp_path)]) == 2
    (tmp_path / "seats.csv").write_bytes(b"\xff\xfe\x00")
    assert main(["shims", project, "--readings", str(tmp_path / "seats.csv")]) == 2
    assert "Traceback" not in capsys.readouterr().err
