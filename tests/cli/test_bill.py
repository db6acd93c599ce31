"""The commands about buying: the bill in every format, prices and stock into the project file, exit codes."""

from __future__ import annotations

import csv
import io
import zipfile
from pathlib import Path

import pytest

from app.__main__ import main
from app.cli import solving
from core.machine.prices import PriceRow
from core.machine.project import Project, replace_at
from core.storage import load_project, save_project


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(solving, "section_cache", lambda: tmp_path / "cache" / "sections.json")


@pytest.fixture
def project(tmp_path: Path) -> Path:
    file = tmp_path / "project.json"
    made: object = Project(name="Test", note="Invented data.")
    for path in ("cases.0.limit", "cases.1.limit", "limits.path_error", "limits.sag"):
        made = replace_at(made, path, 0.05)  # type: ignore[arg-type]
    save_project(file, made)  # type: ignore[arg-type]
    return file


def written(folder: Path, name: str, text: str) -> Path:
    file = folder / name
    file.write_text(text, "utf-8")
    return file


def test_the_bill_goes_into_every_format(project: Path, tmp_path: Path, qapp: object) -> None:
    files = {kind: tmp_path / f"list.{kind}" for kind in ("csv", "markdown", "html", "xlsx", "pdf")}
    wishes = [word for kind, file in files.items() for word in (f"--{kind}", str(file))]
    assert main(["parts", str(project), *wishes]) == 0
    assert files["markdown"].read_text("utf-8").startswith("# Test")
    assert "<table" in files["html"].read_text("utf-8")
    assert zipfile.is_zipfile(files["xlsx"])
    assert files["pdf"].read_bytes().startswith(b"%PDF")
    assert files["csv"].read_text("utf-8").startswith("Group,Part")


def test_prices_are_imported_reported_and_saved(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    prices = written(tmp_path, "prices.csv", "Part,Price,Per\nX carriage,31.5,piece\nY carriage,30,piece\n")
    before = project.read_bytes()
    assert main(["import", str(project), str(prices), "--into", "prices", "--dry-run"]) == 0
    assert project.read_bytes() == before
    assert main(["import", str(project), str(prices), "--into", "prices"]) == 0
    assert [row.price for row in load_project(project).prices.rows] == [31.5, 30.0]
    capsys.readouterr()
    again = written(
        tmp_path, "again.csv", "Part,Price\nX carriage,33\nY carriage,x\nGhost,2\nX carriage,34\n"
    )
    assert main(["import", str(project), str(again), "--into", "prices"]) == 1
    said = capsys.readouterr().out
    assert all(f"Row {number}" in said for number in (2, 3, 4, 5))
    assert [row.price for row in load_project(project).prices.rows] == [31.5, 30.0]
    assert main(["import", str(project), str(again), "--into", "prices", "--replace", "--unknown"]) == 1
    assert [row.price for row in load_project(project).prices.rows] == [33.0, 30.0, 2.0]


def test_stock_goes_round_through_the_bill(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    stock = written(tmp_path, "stock.csv", "Key,Ordered,Arrived,Paid\nx_carriage,4,2,30.25\n")
    assert main(["import", str(project), str(stock), "--into", "stock"]) == 0
    (record,) = load_project(project).stock
    assert (record.ordered, record.arrived, record.paid) == (4, 2, 30.25)
    capsys.readouterr()
    assert main(["parts", str(project), "--csv", "-"]) == 0
    rows = {row["Key"]: row for row in csv.DictReader(io.StringIO(capsys.readouterr().out))}
    assert rows["x_carriage"]["Arrived"] == "2"
    assert rows["x_carriage"]["Spent (EUR)"] == "121.0"


@pytest.mark.parametrize("text", ["", "A,B\n1,2\n", "Part,Price\n"])
def test_what_is_no_table_of_prices_is_bad_input(
    text: str, project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = written(tmp_path, "x.csv", text)
    assert main(["import", str(project), str(file), "--into", "prices"]) == 2
    assert main(["import", str(project), str(tmp_path / "none.csv"), "--into", "stock"]) == 2
    assert "none.csv" in capsys.readouterr().err


def test_plan_and_parts_hold_the_same_money_against_the_budget(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    made = load_project(project)
    row = PriceRow(family="rectangular hollow", price=2.9, per="kilogram")
    for path, value in (("prices.rows", (row,)), ("budget.amount", 100.0)):
        made = replace_at(made, path, value)
    save_project(project, made)
    told = []
    for command in ("plan", "parts"):
        main([command, str(project)])
        told.append([line for line in capsys.readouterr().out.splitlines() if "over the budget" in line])
    assert told[0]
    assert told[0] == told[1]
