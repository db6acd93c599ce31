"""Square and rectangular tubes against the formulas and tables of their standards."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from core.sections import PropertyBook, RectangularHollow, properties
from core.sections.hollow import box_shear_coefficient

DATA = Path(__file__).parent / "data" / "hollow_sections.csv"
ROWS = list(csv.DictReader(DATA.read_text(encoding="utf-8").splitlines()))


def name(row):
    return f"{row['standard']} {row['h_mm']}x{row['b_mm']}x{row['t_mm']}"


def tube(row):
    sizes = (float(row[column]) / 1e3 for column in ("h_mm", "b_mm", "t_mm"))
    height, width, wall = sizes
    finish = "cold formed" if "cold" in row["standard"] else "hot finished"
    return properties(RectangularHollow(height=height, width=width, wall=wall, finish=finish), PropertyBook())


def test_the_table_is_whole():
    assert len(ROWS) == 18


@pytest.mark.outside(
    what="area, mass, both second moments and torsion constant of 18 tubes",
    source="annex formulas of EN 10219-2 and EN 10210-2, recomputed",
    status="computed",
    tolerance="half the last digit of the table",
)
@pytest.mark.parametrize("row", ROWS, ids=name)
def test_annex_figures(row):
    p = tube(row)
    assert p.area * 1e4 == pytest.approx(float(row["A_cm2"]), abs=6e-4)
    assert p.area * 7850 == pytest.approx(float(row["mass_kg_per_m"]), abs=6e-4)
    assert p.iyy * 1e8 == pytest.approx(float(row["Iyy_major_cm4"]), abs=6e-3)
    assert p.izz * 1e8 == pytest.approx(float(row["Izz_minor_cm4"]), abs=6e-3)
    assert p.it * 1e8 == pytest.approx(float(row["It_annex_cm4"]), abs=6e-3)


@pytest.mark.outside(
    what="area, mass, both second moments and torsion constant of the 15 printed tubes",
    source="SCI publication P363, tables of hollow sections",
    status="found",
    tolerance="0.55 % (three printed figures; hot-finished 200x100x5 prints Iyy 1500 for 1494.6)",
)
@pytest.mark.parametrize("row", [r for r in ROWS if r["published_mass"]], ids=name)
def test_printed_figures(row):
    p = tube(row)
    ours = {
        "published_mass": p.area * 7850,
        "published_A": p.area * 1e4,
        "published_Iyy": p.iyy * 1e8,
        "published_Izz": p.izz * 1e8,
        "published_It": p.it * 1e8,
    }
    for column, value in ours.items():
        assert value == pytest.approx(float(row[column]), rel=5.5e-3)


@pytest.mark.outside(
    what="torsion constant of 18 tubes against St-Venant torsion by finite elements",
    source="finite-element torsion of the same outlines, recomputed",
    status="computed",
    tolerance="ours 0.1 to 0.5 % low (cold formed), 1.0 to 2.5 % low (hot finished)",
)
@pytest.mark.parametrize("row", ROWS, ids=name)
def test_torsion_against_finite_elements(row):
    low = 1 - tube(row).it * 1e8 / float(row["J_SaintVenant_FE_cm4"])
    least, most = (0.001, 0.005) if "cold" in row["standard"] else (0.010, 0.025)
    assert least < low < most


@pytest.mark.outside(
    what="shear coefficient of the tube 120x80x5 on edge",
    source="Cowper, J. Appl. Mech. 33 (1966) 335-340, thin box",
    status="computed",
    tolerance="the fourth digit of 0.5591; 2 % of the finite-element figure 0.5670",
)
def test_shear_coefficient_of_a_box():
    p = properties(RectangularHollow(height=0.12, width=0.08, wall=0.005), PropertyBook())
    assert p.avz / p.area == pytest.approx(0.5591, abs=5e-5)
    assert p.avz / p.area == pytest.approx(0.5670, rel=0.02)
    assert box_shear_coefficient(115, 75, 5, 5) == pytest.approx(0.5591, abs=5e-5)
