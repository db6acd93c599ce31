"""The compare command: text, CSV and JSON, what it refuses, and its exit code."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path
from typing import Any

import pytest

from app import paths
from app.__main__ import main
from app.cli import solving
from core.catalogue import entries
from core.commands import AddBeam
from core.machine.project import Project, replace_at
from core.machine.variants import Change, Variant
from core.sections import TSlot
from core.storage import save_project


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(solving, "section_cache", lambda: tmp_path / "cache" / "sections.json")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    section = next(e.section for e in entries() if isinstance(e.section, TSlot) and e.section.height == 0.16)
    project: Any = AddBeam(section, "Slotted").apply(Project(name="Test"))
    project = replace_at(project, "variants", (*project.variants, Variant(name="Same")))
    for path in ("cases.0.limit", "cases.1.limit", "limits.path_error", "limits.sag"):
        project = replace_at(project, path, 0.01)
    save_project(tmp_path / "test.json", project)
    return tmp_path / "test.json"


def test_text_says_what_differs_and_who_wins(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", str(file)]) == 0
    said = capsys.readouterr().out
    assert "What differs" in said
    assert "Slotted, against this machine: " in said
    assert "Same, against this machine: no difference" in said
    assert "no price" not in said.partition("What differs")[2].partition("The same in all")[0]
    assert main(["compare", str(file), "--against", "Slotted"]) == 0
    assert "Same, against slotted" in capsys.readouterr().out


def test_the_ready_pair(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for by, words in (("size", "outer size"), ("mass", "mass")):
        assert main(["compare", str(file), "--builds", by]) == 0
        said = capsys.readouterr().out
        assert f"Held equal: {words}" in said
        assert "Extruded" in said
        assert "Welded" in said
        assert re.search(r"^Welded .*, against extruded .*: (wins|loses|no )", said, re.MULTILINE)
    assert main(["compare", str(file), "--builds", "mass", "--against", "This machine"]) == 0
    assert re.search(r"^Welded .*, against this machine: ", capsys.readouterr().out, re.MULTILINE)


def test_csv_holds_every_figure_with_its_band(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["compare", str(file), "--csv", "-"]) == 0
    rows = list(csv.reader(io.StringIO(capsys.readouterr().out, newline="")))
    assert rows[0][:5] == ["Figure", "Unit", "This machine", "This machine, low", "This machine, high"]
    assert len({len(row) for row in rows}) == 1
    sag = next(row for row in rows if row[0] == "Sag of the beam")
    assert float(sag[3]) <= float(sag[2]) <= float(sag[4])
    assert main(["compare", str(file), "--csv", str(tmp_path / "out.csv")]) == 0
    assert (tmp_path / "out.csv").read_text("utf-8").startswith("Figure,Unit")


def test_json_names_its_units(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", str(file), "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert (said["format"], said["version"], said["against"]) == (
        "gantrywright-comparison",
        1,
        "This machine",
    )
    own, slotted, same = said["variants"]
    assert slotted["changes"][0]["path"].startswith("machine.gantry.beam.")
    figure = slotted["figures"]["case_0_m"]
    assert figure["low"] <= figure["likely"] <= figure["high"]
    assert own["figures"] == same["figures"]
    assert slotted["figures"]["heat_bow_m"]["likely"] is None
    assert slotted["figures"]["heat_bow_m"]["low"] == 0.0
    assert len(own["x_m"]) == len(own["deflection_along_x_m"][0])
    spreads = [row["relative_difference"] for row in said["differing"]]
    assert spreads == sorted(spreads, reverse=True)


def test_the_plan_holds_the_same(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(file), "--json"]) == 0
    plan = json.loads(capsys.readouterr().out)
    assert main(["compare", str(file), "--json"]) == 0
    compared = json.loads(capsys.readouterr().out)
    assert plan["variants"] == compared["variants"]
    assert [beam["name"] for beam in plan["alternatives"]] == ["This machine's beam", "Slotted", "Same"]
    assert plan["alternatives"][1]["sag_m"] == plan["variants"][1]["figures"]["sag_m"]["likely"]
    assert [case["worst_m"] for case in plan["cases"]] == plan["alternatives"][0]["worst_m"]


def test_what_is_wrong_is_said(file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", str(file), "--against", "Nobody"]) == 2
    assert "Nobody" in capsys.readouterr().err
    bad = Variant(name="Old", changes=(Change(path="machine.wings", value=1),))
    project: Any = replace_at(Project(), "variants", (bad,))
    save_project(tmp_path / "bad.json", replace_at(project, "cases.0.limit", 1e-6))
    assert main(["compare", str(tmp_path / "bad.json")]) == 1
    assert "machine.wings" in capsys.readouterr().out


def test_demos_compare(capsys: pytest.CaptureFixture[str]) -> None:
    for demo in paths.demo_projects():
        assert main(["compare", str(demo)]) in (0, 1)
        assert "against this machine" in capsys.readouterr().out
