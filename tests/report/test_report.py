"""Tables, CSV, JSON and text lines of a plan whose figures are made up, so that each can be looked up."""

from __future__ import annotations

import csv
import io
import json
import math
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from core.comparison.build import holds_words
from core.findings import Finding
from core.machine.project import Display, Project
from core.report import (
    Column,
    Table,
    cases_table,
    csv_text,
    curve_table,
    fasteners_table,
    findings_table,
    parts_table,
    path_table,
    plan_json,
    table_lines,
    verdict_lines,
)

N = 17
X = np.linspace(-0.65, 0.65, N)
Y = np.array([-1.25, 0.0, 1.25])


def made_up_plan(**changes: Any) -> Any:
    """A plan with the contract's fields; every figure is invented."""
    project = Project(name="=Made up", note="Invented data.", display=Display(**changes.pop("display", {})))
    compliance = np.eye(3) * 1e-6 * (1.0 + X**2)[:, None, None]
    cases = tuple(
        SimpleNamespace(
            name=case.name,
            force=np.array([30.0, 0.0, 10.0]),
            along_x=(k + 1) * 1e-5 * (1.0 + X**2),
            along_y=np.array([1e-5, 2e-5, 1e-5]),
            vectors_x=np.zeros((N, 3)),
            worst=(k + 1) * 9e-5,
            worst_x=0.65,
            worst_y=-1.25,
            direction=math.nan,
        )
        for k, case in enumerate(project.cases)
    )
    rail = SimpleNamespace(
        key="x_low",
        label="X rail, lower",
        axis="x",
        size=20,
        length=1.575,
        pitch=0.06,
        first=0.0375,
        last=0.0375,
        holes=tuple(0.0375 + 0.06 * k for k in range(26)),
        count=26,
        screws=26,
        nuts=26,
        screw="M5",
        screw_length=0.016,
        shortest=0.014,
        longest=0.018,
        screw_text="ISO 4762 M5 x 16, 8.8",
        hold="T-nut",
        engagement=0.0055,
        on_slot=True,
        slot=0,
        note="",
        parked=0,
        pieces=(),
    )
    part = SimpleNamespace(
        key="beam",
        group="Gantry",
        what="Gantry beam",
        spec="-120 x 80",
        quantity=1,
        length=1.8,
        mass_each=None,
        mass=21.5,
        spare=0,
        pack_size=0,
        packs=0,
        where="",
    )
    fields: dict[str, Any] = {
        "project": project,
        "place": SimpleNamespace(x=0.1, y=0.9, case=0),
        "stiffness": SimpleNamespace(x=X, y=Y, place_y=0.9, compliance_x=compliance, cases=cases),
        "sag": SimpleNamespace(
            x=X,
            beam=-1e-4 * (1 - X**2),
            path=np.stack([0 * X, 0 * X, -2e-4 + 1e-5 * X], axis=1),
            tilt=0 * X,
            slope=1e-5,
            offset=-2e-4,
            residual=1e-6 * X,
            worst_residual=3e-5,
            worst_residual_x=0.2,
            removable=2e-4,
            beam_worst=1e-4,
        ),
        "budgets": (
            SimpleNamespace(
                case="Finishing pass",
                x=0.65,
                y=1.25,
                deflection=9e-5,
                shares=(("x_guides", 0.6), ("beam", 0.4)),
            ),
        ),
        "rails": (rail,),
        "parts": (part,),
        "bill": None,
        "findings": (
            Finding("spare", "note", "machine", "A note."),
            Finding(
                "deflection-limit",
                "limit",
                "cases.0.limit",
                "Too soft.",
                9e-5,
                1e-5,
                "deflection",
                "x = 0.65 m",
            ),
        ),
        "verdict": SimpleNamespace(good=False, text="Too soft by far.", code="deflection-limit"),
    }
    return SimpleNamespace(**{**fields, **changes})


def without_answers() -> Any:
    """A plan of a machine that cannot carry a load."""
    return made_up_plan(stiffness=None, sag=None, budgets=(), rails=(), parts=())


def test_json_holds_si_with_the_unit_in_the_key() -> None:
    said = json.loads(json.dumps(plan_json(made_up_plan()), allow_nan=False))
    assert len(said["x_m"]) == 9
    assert said["x_m"][0] == X[0]
    assert said["x_m"][-1] == X[-1]
    assert said["y_m"] == 0.9
    assert np.shape(said["tip_compliance_m_per_N"]) == (9, 3, 3)
    assert said["tip_compliance_m_per_N"][4][1][1] == pytest.approx(1e-6)
    case = said["cases"][0]
    assert case["limit_m"] == 1e-4
    assert case["force_N"] == [30.0, 0.0, 10.0]
    assert len(case["deflection_along_x_m"]) == 9
    assert len(case["curve_x"]["x_m"]) == len(case["curve_x"]["deflection_m"]) == N
    assert case["worst_direction_rad"] is None
    assert case["within_limit"] is True
    rail = said["rails"][0]
    assert (rail["length_m"], rail["first_hole_m"], rail["hole_count"]) == (1.575, 0.0375, 26)
    assert (rail["screws"], rail["t_nuts"], rail["screw_length_m"]) == (26, 26, 0.016)
    assert said["findings"][1]["value_m"] == 9e-5
    assert "value_m" not in said["findings"][0]
    assert said["parts"][0]["mass_kg"] == 21.5
    assert said["path_error"]["worst_m"] == 3e-5
    assert len(said["sag"]["beam_m"]) == N
    assert said["budgets"][0]["shares"][0] == {"component": "x_guides", "label": "X carriages", "share": 0.6}


@pytest.mark.parametrize("count", [1, 2, 5, 9, 16, 33])
def test_json_with_any_number_of_places(count: int) -> None:
    plan = made_up_plan()
    x = np.linspace(-1.0, 1.0, count)
    plan.stiffness = SimpleNamespace(x=x, y=Y, place_y=0.0, compliance_x=np.zeros((count, 3, 3)), cases=())
    plan.project = SimpleNamespace(
        **{name: getattr(plan.project, name) for name in ("name", "note", "limits")}, cases=()
    )
    said = plan_json(plan)
    assert len(said["x_m"]) == len(said["tip_compliance_m_per_N"]) == min(count, 9)
    assert said["x_m"] == sorted(said["x_m"])


def test_a_plan_without_answers_is_still_told() -> None:
    plan = without_answers()
    said = json.loads(json.dumps(plan_json(plan), allow_nan=False))
    assert said["cases"] == []
    assert said["sag"] is None
    assert said["findings"]
    assert any("Too soft" in line for line in verdict_lines(plan))
    for make in (cases_table, fasteners_table, parts_table, curve_table, path_table):
        table = make(plan)
        assert table.rows == ()
        assert len(list(csv.reader(io.StringIO(csv_text(table))))) == 1
        assert table_lines(table)


@pytest.mark.parametrize(
    "make",
    [
        cases_table,
        fasteners_table,
        parts_table,
        findings_table,
        curve_table,
        path_table,
    ],
)
@pytest.mark.parametrize("length", ["mm", "in"])
def test_tables_have_a_cell_for_each_column(make: Any, length: str) -> None:
    table = make(made_up_plan(display={"length": length}))
    assert table.rows
    for row in table.rows:
        assert len(row) == len(table.columns)
        for cell in row:
            assert cell is None or isinstance(cell, (str, int, float))
            assert not isinstance(cell, np.generic)
    read = list(csv.reader(io.StringIO(csv_text(table), newline="")))
    assert len(read) == len(table.rows) + 1
    assert len({len(row) for row in read}) == 1
    assert len(set(read[0])) == len(read[0]), "each header is its own"


def test_tables_follow_the_units() -> None:
    metric = curve_table(made_up_plan())
    inches = curve_table(made_up_plan(display={"length": "in"}))
    assert metric.columns[0].unit == "mm"
    assert inches.columns[0].unit == "in"
    assert metric.rows[0][0] == pytest.approx(-650.0)
    assert inches.rows[0][0] == pytest.approx(-650.0 / 25.4)
    holes = fasteners_table(made_up_plan())
    assert holes.rows[0][[column.header for column in holes.columns].index("First hole")] == pytest.approx(
        37.5
    )


def test_findings_come_gravest_first() -> None:
    rows = findings_table(made_up_plan()).rows
    assert [row[-1] for row in rows] == ["deflection-limit", "spare"]


@pytest.mark.parametrize(
    "text",
    ["=1+1", "+1", "-1", "@now", "\tx", "\rx", " =1", "-120 x 80", "\n=2", "  @x", '=HYPERLINK("a","b")'],
)
def test_text_that_looks_like_a_formula_is_made_safe(text: str) -> None:
    table = Table("t", (Column("=head", align="left"), Column("n")), ((text, -1.5),))
    (head, row) = list(csv.reader(io.StringIO(csv_text(table), newline="")))
    assert row[0] == "'" + text
    assert row[1] == "-1.5"
    assert head[0] == "'=head"


@pytest.mark.parametrize("text", ["a", "", "a=b", "1-2", 'quote " and, comma', "line\nbreak", "Ø 日本"])
def test_other_text_comes_back_as_it_was(text: str) -> None:
    table = Table("t", (Column("head"), Column("other")), ((text, None),))
    assert list(csv.reader(io.StringIO(csv_text(table), newline="")))[1] == [text, ""]


@pytest.mark.parametrize("value", [0.0, -1.5, 1e-9, 123456.789, 1e12, 7])
def test_numbers_are_untouched(value: float) -> None:
    table = Table("t", (Column("n", "mm"),), ((value,),))
    head, row = csv_text(table).splitlines()
    assert head == "n (mm)"
    assert float(row) == pytest.approx(value, rel=1e-8)


def test_lines_for_a_terminal() -> None:
    lines = verdict_lines(made_up_plan())
    text = "\n".join(lines)
    for words in (
        "Too soft by far.",
        "Invented data.",
        "X carriages 60 %",
        "Over a limit: Too soft.",
        "certificate",
    ):
        assert words in text
    table = table_lines(parts_table(made_up_plan()))
    assert table[0] == "Parts"
    assert "Quantity" in table[1]
    assert "Packs" not in table[1], "a column without content is left out"


def test_a_beam_says_which_limits_it_fails() -> None:
    def found(code: str, where: str, severity: Any = "limit") -> Finding:
        return Finding(code, severity, where, "")

    assert holds_words((found("thin-thread", "machine", "warning"),), Project()) == "yes"
    words = holds_words(
        (found("deflection-limit", "cases.0.limit"), found("sag-limit", "limits.sag")), Project()
    )
    assert words.startswith("no")
    assert "Finishing" in words
    assert "sag" in words


def test_a_cell_is_rounded_once_and_says_no_more_than_it_can() -> None:
    column = Column("Deflection", "mm", digits=2, finest=4)
    assert column.text(0.037546) == "0.038"
    assert column.text(0.00094999) == "0.0009"
    assert column.text(-0.00001) == "0"
    assert column.text(12.3456) == "12"
    life = Column("Life", "km", digits=3, rough=True, most=1.0e5)
    assert life.text(12345.6) == "12300"
    assert life.text(4466680.0) == "over 100000"
    assert life.text(math.inf) == "infinite"
