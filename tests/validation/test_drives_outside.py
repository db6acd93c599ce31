"""Drives against beam theory worked out beside the program, worked examples, standards, and a second frame library."""

from __future__ import annotations

import csv
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq

from core.drives import find_drives, screw
from core.drives.stiffness import in_series, parts_along
from core.drives.turning import Train, drive_inertia, moved_inertia, round_inertia, train
from core.fields import band
from core.machine.drives import BallScrew, RackPinion, ToothedBelt
from core.machine.layout import layout
from core.machine.motion import AxisMotion, StepMotor
from core.machine.project import Machine, Project
from core.model.export import frame_data
from core.model.setting import Setting
from core.sections import PropertyBook
from scripts import second_solver

DATA = Path(__file__).parent / "data" / "ball_screw_coefficients.csv"
ROWS = list(csv.DictReader(DATA.read_text(encoding="utf-8").splitlines()))
IDS = [row["ends"] for row in ROWS]

# Frequency equations of a uniform shaft in bending, and where their first root lies.
EQUATIONS = {
    "fixed-free": (lambda b: 1.0 + math.cos(b) * math.cosh(b), 1.0, 2.5),
    "supported-supported": (math.sin, 2.0, 4.0),
    "fixed-supported": (lambda b: math.tan(b) - math.tanh(b), 3.5, 4.5),
    "fixed-fixed": (lambda b: 1.0 - math.cos(b) * math.cosh(b), 4.0, 5.0),
}


@pytest.mark.outside(
    what="critical speed and buckling load of a screw, root 13 mm, length 1300 mm, four end fixities",
    source="coefficients of exact beam theory and Euler's cases, worked out beside the program (E 206 GPa)",
    status="computed",
    tolerance="3e-4 relative (printed digits)",
)
@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_whirl_and_buckling_rows(row: dict[str, str]) -> None:
    speed = screw.critical_speed(0.013, 1.3, row["ends"])
    assert 60.0 * speed == pytest.approx(float(row["ncrit_rpm_d13_L1300"]), rel=3e-4)
    load = screw.buckling_load(0.013, 1.3, row["ends"])
    assert load == pytest.approx(float(row["Fbuckling_N_d13_L1300"]), rel=3e-4)
    # The handbook's form: n = f d / L^2 x 1e7 rpm, F = m d^4 / L^2 x 1e4 N, with d and L in mm.
    assert 60.0 * speed * 1300.0**2 / 13.0 / 1e7 == pytest.approx(float(row["f_no_margin_x1e7"]), rel=6e-4)
    assert load * 1300.0**2 / 13.0**4 / 1e4 == pytest.approx(float(row["m_no_margin_x1e4"]), rel=6e-4)


@pytest.mark.outside(
    what="roots of the bending frequency equations and Euler factors behind the screw's end fixities",
    source="frequency equations of a uniform beam (Timoshenko, Vibration Problems in Engineering); tan x = x for the "
    "propped column (Timoshenko, Theory of Elastic Stability); roots by SciPy",
    status="computed",
    tolerance="1e-9 relative for roots, 3e-5 for the propped column",
)
@pytest.mark.parametrize("ends", list(EQUATIONS))
def test_roots(ends: str) -> None:
    equation, low, high = EQUATIONS[ends]
    root = brentq(equation, low, high, xtol=1e-14)
    assert screw.ENDS[ends].lambda_ == pytest.approx(root, rel=1e-9)
    propped = (brentq(lambda x: math.tan(x) - x, 4.4, 4.6, xtol=1e-14) / math.pi) ** 2
    euler = {"fixed-free": 0.25, "supported-supported": 1.0, "fixed-supported": propped, "fixed-fixed": 4.0}
    assert screw.ENDS[ends].euler == pytest.approx(euler[ends], rel=3e-5)


@pytest.mark.outside(
    what="buckling load and first bending frequency of a fixed-supported screw by finite differences",
    source="fourth-order difference scheme of the beam's equation solved as a matrix eigenproblem by NumPy",
    status="computed",
    tolerance="1e-3 relative (200 steps)",
)
def test_against_finite_differences() -> None:
    count, length, diameter = 200, 1.3, 0.0175
    h = length / count
    inner = count - 1
    second = (
        np.diag(np.full(inner, -2.0)) + np.diag(np.ones(inner - 1), 1) + np.diag(np.ones(inner - 1), -1)
    ) / h**2
    fourth = second @ second
    fourth[0, 0] += (
        2.0 / h**4
    )  # clamped: the point beyond the wall mirrors the first; supported needs nothing
    stiff = screw.YOUNG * math.pi * diameter**4 / 64.0
    mass = screw.DENSITY * math.pi * diameter**2 / 4.0
    load = np.linalg.eigvals(np.linalg.solve(-second, fourth)).real.min() * stiff
    assert screw.buckling_load(diameter, length, "fixed-supported") == pytest.approx(load, rel=1e-3)
    turn = math.sqrt(np.linalg.eigvalsh(0.5 * (fourth + fourth.T)).min() * stiff / mass) / (2.0 * math.pi)
    assert screw.critical_speed(diameter, length, "fixed-supported") == pytest.approx(turn, rel=1e-3)


@pytest.mark.outside(
    what="torque of a screw of 5 mm lead under 1000 N at efficiency 0.9: 0.884194 N m",
    source="T = F p / (2 pi eta), machine element handbooks; worked example",
    status="computed",
    tolerance="1e-6 relative",
)
def test_screw_torque() -> None:
    assert screw.screw_torque(1000.0, 0.005, 0.9) == pytest.approx(0.884194, rel=1e-6)
    ours = Train(0.005, np.array([0.9, 0.9, 0.9]), 0.0, 0.0, 0.0).torque(np.full(3, 1000.0), 0.0)
    assert ours == pytest.approx(np.full(3, 0.884194), rel=1e-6)


@pytest.mark.outside(
    what="axis example: 40 kg on a screw of 20 mm, lead 10 mm, 1200 mm long, to 0.25 m/s in 0.2 s against 60 N",
    source="worked example: reflected inertia m (p / 2 pi)^2 1.0132e-4, shaft pi rho L d^4 / 32 1.4797e-4 kg m2, "
    "motor torque 0.3422 N m with a rotor of 4e-5 kg m2 and efficiency 0.9",
    status="computed",
    tolerance="printed digits",
)
def test_axis_example() -> None:
    assert moved_inertia(40.0, 0.01) == pytest.approx(1.0132e-4, abs=5e-9)
    assert round_inertia(0.02, 1.2) == pytest.approx(1.4797e-4, abs=5e-9)
    motion = AxisMotion(gear_inertia=0.0, motor=StepMotor(rotor_inertia=4e-5))
    drive = BallScrew(diameter=0.0175, nominal_diameter=0.02, lead=0.01, efficiency=band(0.9, 0.9, 0.9))
    axis = train(motion, drive, 1.2, 40.0)
    assert axis.torque(np.full(3, 60.0), 0.25 / 0.2)[1] == pytest.approx(0.3422, abs=5e-5)
    assert axis.acceleration(60.0, 0.3422) == pytest.approx(1.25, rel=2e-4)


@pytest.mark.outside(
    what="lead variation within 300 mm of accuracy grades 1, 3, 5, 7, 10",
    source="ISO 3408-3, v300p: 6, 12, 23, 52, 210 micrometres",
    status="memory high",
    tolerance="exact",
)
def test_lead_grades() -> None:
    assert {grade: round(v * 1e6) for grade, v in screw.V300P.items()} == {
        "1": 6,
        "3": 12,
        "5": 23,
        "7": 52,
        "10": 210,
    }
    assert screw.lead_error("7", 1.5) == pytest.approx(5.0 * 52e-6)


@pytest.mark.outside(
    what="pitch of racks of module 1, 1.25, 1.5, 2, 2.5, 3 and travel of a pinion in one turn",
    source="ISO 53 and ISO 54: pitch is pi times the module; table values 3.1416, 3.9270, 4.7124, 6.2832, 7.8540, 9.4248 mm",
    status="memory high",
    tolerance="printed digits",
)
@pytest.mark.parametrize(
    ("module_mm", "pitch_mm"),
    [(1.0, 3.1416), (1.25, 3.9270), (1.5, 4.7124), (2.0, 6.2832), (2.5, 7.8540), (3.0, 9.4248)],
)
def test_rack_pitch(module_mm: float, pitch_mm: float) -> None:
    drive = RackPinion(module=module_mm / 1000.0, teeth=20)
    assert drive.travel_per_turn == pytest.approx(20.0 * pitch_mm / 1000.0, abs=20.0 * 5e-8)


@pytest.mark.outside(
    what="stiffness of screw shafts and belt strands along the travel",
    source="A E / x for a screw fixed at one end, A E L / (a b) at both, c (1/a + 1/b) for two strands (handbook)",
    status="computed",
    tolerance="1e-12 relative",
)
def test_stiffness_along_the_travel() -> None:
    place, length = np.array([0.3, 0.6, 0.9]), 1.2
    rigid = 210e9 * math.pi * 0.02**2 / 4.0
    single = parts_along(BallScrew(diameter=0.02, ends="fixed-supported"), place, length)["screw shaft"][1]
    both = parts_along(BallScrew(diameter=0.02, ends="fixed-fixed"), place, length)["screw shaft"][1]
    strands = in_series(parts_along(ToothedBelt(specific_stiffness=band(5e5, 6e5, 7e5)), place, length))[1]
    assert single == pytest.approx(rigid / place, rel=1e-12)
    assert both == pytest.approx(rigid * 1.2 / (place * (1.2 - place)), rel=1e-12)
    assert strands == pytest.approx(6e5 * (1.0 / place + 1.0 / (1.2 - place)), rel=1e-12)


@pytest.mark.outside(
    what="inertia of a steel pinion, module 2, 20 teeth, 20 mm wide, as a full disc",
    source="m r^2 / 2 worked out by hand: 7850 kg/m3, 0.1973 kg, 3.946e-5 kg m2",
    status="computed",
    tolerance="1e-3 relative",
)
def test_pinion_inertia() -> None:
    drive = RackPinion(module=0.002, teeth=20, face_width=0.02)
    assert drive_inertia(drive, 1.0) == pytest.approx(3.946e-5, rel=1e-3)


def _lagging(library: Any, data: dict[str, Any], side: str, lag: float) -> float:
    """Tip's movement along Y when the motor of one side lags, by the library."""
    tip = second_solver.build(library, data)
    number = {node["name"]: tag for tag, node in enumerate(data["nodes"], start=1)}
    spring = next(row for row in data["springs"] if row["name"] == f"{side} Y drive")
    pull = spring["stiffness_N_per_m"] * lag * spring["direction"][1]
    library.constraints("Transformation")
    library.numberer("RCM")
    library.system("FullGeneral")
    library.algorithm("Linear")
    library.integrator("LoadControl", 1.0)
    library.analysis("Static", "-noWarnings")
    library.timeSeries("Constant", 1)
    library.pattern("Plain", 1, 1)
    library.load(number[spring["to"]], 0.0, -pull, 0.0, 0.0, 0.0, 0.0)
    library.load(number[spring["from"]], 0.0, pull, 0.0, 0.0, 0.0, 0.0)
    assert library.analyze(1) == 0
    return float(library.nodeDisp(tip)[1])


@pytest.mark.outside(
    what="squareness lost at the tip when one side of the gantry lags, head solved at both ends of X",
    source="the exported frame solved by OpenSees with a pull at the lagging drive; ours solves one end and mirrors it",
    status="reference library",
    tolerance="1e-4 relative (the X drive is not the same from both ends)",
)
def test_lag_against_a_second_library() -> None:
    library = pytest.importorskip("openseespy.opensees")
    machine = Machine(y_drive=BallScrew(diameter=0.0175, lead=0.01), rigid=())
    project = Project(machine=machine)
    setting = Setting(machine, layout(machine, PropertyBook()))
    span, lag = machine.work.travel_x, machine.motion.lag
    ends = [
        _lagging(library, frame_data(setting, project, x, 0.2), "left", lag) for x in (-span / 2, span / 2)
    ]
    library.wipe()
    racking = find_drives(setting, project, 0.2).racking
    assert racking is not None
    assert racking.offset_elastic == pytest.approx(ends[1] - ends[0], rel=1e-4)
