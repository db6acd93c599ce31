"""Fatigue limit of screws, prying of plates and pulls of belts against outside figures."""

from __future__ import annotations

import msgspec
import numpy as np
import pytest
from scipy.optimize import linprog

from core.fasteners.strength.alternating import fatigue_limit
from core.fasteners.strength.prying import t_stub
from core.fasteners.strength.wrenches import upper_wrenches
from core.guides.forces import FORCES, WEIGHT, solve_chain
from core.machine.drives import ToothedBelt
from core.machine.layout import layout
from core.machine.project import Project
from core.model.setting import Setting
from core.sections import stock_book


@pytest.mark.outside(
    what="stress amplitude that a screw bears without end",
    source="VDI 2230-1, threads rolled before heat treatment, as public programs that cite it give it: M12 48.9, M42 41.3 N/mm2",
    status="found",
    tolerance="0.05 N/mm2, the printed digit",
)
@pytest.mark.parametrize(("diameter", "printed"), [(0.012, 48.9), (0.042, 41.3)])
def test_fatigue_limit(diameter: float, printed: float) -> None:
    assert fatigue_limit(diameter) / 1e6 == pytest.approx(printed, abs=0.051)


@pytest.mark.outside(
    what="a plate bent between bar and screw, levering the screw: pull borne and prying",
    source="lower-bound theorem of plasticity as a linear program (scipy.optimize.linprog): the largest pull for which a strip "
    "held at the bar, bolted, and pressing on its edge stays within its plastic moment and the screw within its strength",
    status="reference library",
    tolerance="1e-6",
)
@pytest.mark.parametrize("thickness", [0.004, 0.006, 0.008, 0.01, 0.012, 0.02])
@pytest.mark.parametrize(("lever", "edge"), [(0.02, 0.012), (0.03, 0.03), (0.012, 0.04)])
def test_t_stub(lever: float, edge: float, thickness: float) -> None:
    width, strength, screw_bears = 0.04, 235e6, 21e3
    found = t_stub(lever, edge, width, thickness, strength, screw_bears)
    moment, n = 0.25 * width * thickness**2 * strength, min(edge, 1.25 * lever)
    # Unknown: pull F and contact force Q at the edge; the screw carries both.
    rows = [[1.0, 1.0], [0.0, n], [lever, -n], [-lever, n]]
    made = linprog(
        [-1.0, 0.0], A_ub=rows, b_ub=[screw_bears, moment, moment, moment], bounds=[(0, None), (0, None)]
    )
    pull, contact = made.x
    assert found.bears == pytest.approx(pull, rel=1e-6)
    if found.mode < 3:
        assert found.levered == pytest.approx(contact, rel=1e-6)


@pytest.mark.outside(
    what="what a belt's pulley support carries at rest, and while it pulls",
    source="statics by hand: a pulley is pulled by both strands, twice the pretension, its axis 25 mm over its foot; the push of "
    "the drive comes on top",
    status="computed",
    tolerance="1e-12",
)
def test_pulley_support() -> None:
    found = {}
    for pretension in (0.0, 250.0):
        drive = ToothedBelt(pretension=pretension)
        machine = msgspec.structs.replace(Project().machine, x_drive=drive)
        setting = Setting(machine, layout(machine, stock_book()), "likely", stock_book())
        chain = solve_chain(setting, np.array([-0.3]), np.array([0.1]))
        found[pretension] = upper_wrenches(setting, chain)["x_ends"][0, 0]
    more = found[250.0] - found[0.0]
    assert more[0, WEIGHT] == pytest.approx(500.0)
    assert np.abs(more[[3, 4], WEIGHT]).max() == pytest.approx(500.0 * 0.025)
    assert np.abs(np.delete(more, WEIGHT, axis=1)).max() < 1e-9
    assert found[0.0][0, FORCES.start] == pytest.approx(1.0, rel=1e-6), (
        "1 N at the tip along X pulls the belt with 1 N"
    )
