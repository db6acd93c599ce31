"""Preload, slip of few screws, pieces of rail and the DXF of the drilling list against tables, hand and a library."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import numpy as np
import pytest

from core.fasteners.drilling import find_drilling
from core.fasteners.holes import place_holes
from core.fasteners.interim.loads import UnitForces, on_one_screw
from core.fasteners.interim.margin import Demand, RailSection, slip_margin, weight_demand
from core.fasteners.pieces import cut_pair, pieces
from core.fasteners.rails import rails as find_rails
from core.fasteners.strength import allowed_preload
from core.report.drill_dxf import drill_dxf
from core.units import METRIC, UnitSet
from tests.fasteners.machines import changed, laid

DATA = Path(__file__).parent / "data" / "fasteners_vdi2230.csv"
ROWS = list(csv.DictReader(DATA.read_text(encoding="utf-8").splitlines()))


@pytest.mark.outside(
    what="assembly preload FM Tab of M5, M6 and M8 screws of classes 8.8, 10.9 and 12.9 at friction 0.12",
    source="VDI 2230 part 1, table of assembly preload and tightening torque; recomputed beside the program",
    status="computed",
    tolerance="0.2 %: stress areas of ISO 898-1 are rounded to three figures",
)
@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['thread']} {row['class']}")
def test_preload(row: dict[str, str]) -> None:
    found = allowed_preload(row["thread"], row["class"], float(row["mu"])) / 1000.0
    assert found == pytest.approx(float(row["FM_kN_computed"]), rel=2e-3)
    if row["FM_Tab_kN_memory"]:
        assert found == pytest.approx(float(row["FM_Tab_kN_memory"]), rel=5e-3)


@pytest.mark.outside(
    what="slip margin of a rail on few screws under weight",
    source="statics by hand: two carriages of 150 N each sideways, 0.18 m apart, screws 0.36 m apart: 150 + 150/2 + rail 2.2 "
    "kg/m x 9.80665 x 0.36 + 60 N drag on 6 screws; pull 80 + 80/2 of 4000 N; friction 0.1: 388 / 242.7668 N",
    status="computed",
    tolerance="1e-6 relative",
)
def test_slip_by_hand() -> None:
    lateral, pull = np.zeros((1, 2, 7)), np.zeros((1, 2, 7))
    lateral[0, :, 3], pull[0, :, 3] = (150.0, -150.0), (80.0, 80.0)
    unit = UnitForces(lateral, pull, np.array([-0.09, 0.09]))
    demand = weight_demand(unit, 0.36, 2.2, 60.0, 6)
    assert demand.slip[0] == pytest.approx(242.7667, abs=1e-3)
    assert demand.pull[0] == pytest.approx(120.0)
    assert slip_margin(demand, 0.1, 4000.0) == pytest.approx(388.0 / 242.766668, rel=1e-6)


@pytest.mark.outside(
    what="bound of the force on one screw of a rail that runs over many screws",
    source="law of the lever on a row of simple beams (statics by hand): 100 N and 60 N, 0.2 m apart on screws 0.5 m apart, "
    "the 100 N right over a screw: 100 + 60 x 0.3/0.5 = 136 N",
    status="computed",
    tolerance="1e-9 relative",
)
def test_lever_by_hand() -> None:
    assert on_one_screw(np.array([[100.0, 60.0]]), np.array([0.0, 0.2]), 0.5)[0] == pytest.approx(136.0)


@pytest.mark.outside(
    what="give of a rail between two screws",
    source="Roark's Formulas table 8.1, simply supported beam with a load in its middle: F L^3 / (48 E I)",
    status="memory high",
    tolerance="1e-9 relative",
)
def test_give_by_handbook() -> None:
    section = RailSection.of(7850.0 * 0.02 * 0.017, 0.02, 0.017)
    demand = Demand(np.array([200.0]), np.array([0.0]))
    inertia = 0.017 * 0.02**3 / 12.0
    assert section.give(demand, 0.6) == pytest.approx(200.0 * 0.6**3 / (48.0 * 210e9 * inertia), rel=1e-9)


@pytest.mark.outside(
    what="end distances at butt joints of a rail of 2900 mm at 60 mm pitch out of pieces up to 2000 mm",
    source="by hand: 48 holes from 40 mm, joint between holes 33 and 34 at 1990 mm: 30 mm to each hole, 30 + 30 = pitch "
    "(common practice of butted profiled rails)",
    status="computed",
    tolerance="1e-9 m",
)
def test_joint_by_hand() -> None:
    holes = place_holes(2.9, 0.06, 0.02).places
    one, two = pieces(2.9, holes, cut_pair(2.9, holes, 2.0, 0.084).joints[0])
    assert (one.length, one.holes, one.last) == (pytest.approx(1.99), (1, 33), pytest.approx(0.03))
    assert (two.length, two.holes, two.first) == (pytest.approx(0.91), (34, 48), pytest.approx(0.03))


@pytest.mark.outside(
    what="drilling list as DXF, read again: units, layers, holes and joints at their places",
    source="ezdxf, a general-purpose DXF library, with its audit",
    status="reference library",
    tolerance="1e-6 of the drawing's unit",
)
@pytest.mark.parametrize(("length", "code", "factor"), [("mm", 4, 1000.0), ("in", 1, 1.0 / 0.0254)])
def test_dxf_read_again(length: str, code: int, factor: float) -> None:
    import ezdxf

    project = changed(y_guides__pieces__longest=1.0)
    lay = laid(project)
    rails = find_drilling(project, lay, find_rails(project, lay)[0]).rails
    units = METRIC if length == "mm" else UnitSet("in", "lbf")
    document = ezdxf.read(io.StringIO(drill_dxf(rails, units).decode("utf-8")))
    assert not document.audit().errors
    assert document.header["$INSUNITS"] == code
    space = document.modelspace()
    centres = sorted(
        (round(c.dxf.center.y, 3), c.dxf.center.x) for c in space.query('CIRCLE[layer=="Holes"]')
    )
    wanted = sorted(
        (round(-row * 0.2 * factor, 3), (max(rail.margin, 0.0) + mark.place) * factor)
        for row, rail in enumerate(rails)
        for mark in rail.holes
    )
    assert np.allclose(centres, wanted, atol=1e-6)
    joints = sorted(line.dxf.start.x for line in space.query('LINE[layer=="Joints"]'))
    ends = [(max(r.margin, 0.0) + m.place) * factor for r in rails for m in r.marks if m.kind == "joint"]
    assert joints == pytest.approx(sorted(ends), abs=1e-6)
    assert {"Beam", "Rail", "Holes", "Centres", "Joints", "Words"} <= {
        layer.dxf.name for layer in document.layers
    }
