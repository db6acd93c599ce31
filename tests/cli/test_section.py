"""`gantrywright section`: figures of an outline as text and as JSON, and how it refuses."""

from __future__ import annotations

import json
from pathlib import Path

import ezdxf
import pytest

from app import cache
from app.__main__ import main


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cache, "cache_folder", lambda: tmp_path / "cache")


def drawing(tmp_path: Path, units: int = 4, closed: bool = True) -> str:
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = units
    document.modelspace().add_lwpolyline([(0, 0), (20, 0), (20, 40), (0, 40)], close=closed)
    file = tmp_path / "flat.dxf"
    document.saveas(file)
    return str(file)


def test_text(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["section", drawing(tmp_path), "--material", "en_aw_6060_t66"]) == 0
    said = capsys.readouterr().out
    assert "800 mm2" in said
    assert "2.16 kg/m" in said


def test_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["section", drawing(tmp_path, 0), "--unit", "mm", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["format"] == "gantrywright-section"
    assert found["area_m2"] == pytest.approx(8e-4)
    assert found["iyy_m4"] == pytest.approx(20 * 40**3 / 12 * 1e-12)
    assert found["it_m4"] == pytest.approx(0.228682 * 40 * 20**3 * 1e-12, rel=2e-3)
    assert found["wely_m3"] == pytest.approx(20 * 40**2 / 6 * 1e-9)


@pytest.mark.parametrize(("units", "closed", "word"), [(0, True, "--unit"), (4, False, "open")])
def test_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], units: int, closed: bool, word: str
) -> None:
    assert main(["section", drawing(tmp_path, units, closed)]) == 2
    assert word in capsys.readouterr().err


def test_no_such_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["section", str(tmp_path / "none.dxf")]) == 2
    assert "none.dxf" in capsys.readouterr().err
