"""Joints against outside figures: torque tables, thread areas, motor flanges, screw groups by hand, forces by a frame library."""

from __future__ import annotations

import csv
import math
import re
from pathlib import Path

import numpy as np
import pytest

from app import paths
from core.fasteners import joints as find_joints
from core.fasteners.joints import FittedJoint, fit
from core.fasteners.joints.pattern import Wish
from core.fasteners.joints.sites import JointSite, clamp, plate_partner
from core.fasteners.joints.tables import hardware, motor_flanges
from core.fasteners.screws import screw
from core.fasteners.strength.alternating import (
    fatigue_limit,
    load_factor,
    parts_resilience,
    screw_resilience,
)
from core.fasteners.strength.base_wrenches import base_wrenches
from core.fasteners.strength.group import group_of, spread
from core.fasteners.strength.preload import TENSILE, allowed_preload, torque_factor
from core.fasteners.strength.thread import carrying, external_area, internal_area, stripping_force
from core.fasteners.strength.weld import line_load
from core.fasteners.strength.wrenches import upper_wrenches
from core.guides.forces import FORCES, SPEEDING, WEIGHT, own_springs, solve_chain
from core.machine.joints import Joint
from core.machine.layout import layout
from core.machine.project import Project
from core.model.export import frame_data
from core.model.setting import Setting
from core.sections import stock_book
from scripts.second_solver import CONSTRAINTS, NUMBERER, SYSTEM, build

DATA = Path(__file__).parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((DATA / name).read_text(encoding="utf-8").splitlines()))


@pytest.mark.outside(
    what="tightening torque of M5, M6 and M8 screws with ISO 4762 heads at friction 0.12, and of hexagon heads",
    source="VDI 2230 part 1, table of assembly preload and tightening torque; recomputed beside the program",
    status="computed",
    tolerance="0.1 % against the recomputed row, 5 % against printed figures, which stand for hexagon heads",
)
@pytest.mark.parametrize("row", rows("fasteners_vdi2230.csv"), ids=lambda r: f"{r['thread']} {r['class']}")
def test_torque(row: dict[str, str]) -> None:
    mu = float(row["mu"])
    force = allowed_preload(row["thread"], row["class"], mu)
    torque = force * torque_factor(row["thread"], mu)
    assert torque == pytest.approx(float(row["MA_Nm_ISO4762_dw"]), rel=1e-3)
    if row["MA_Nm_memory"]:
        assert torque == pytest.approx(float(row["MA_Nm_memory"]), rel=5e-2)


@pytest.mark.outside(
    what="pitch, root and bore diameters of threads M3 to M12",
    source="ISO 724, rows as in the table of fasteners",
    status="memory high",
    tolerance="exact",
)
@pytest.mark.parametrize("row", rows("fasteners_iso.csv"), ids=lambda r: r["thread"])
def test_thread_diameters(row: dict[str, str]) -> None:
    ware = hardware()[row["thread"]]
    ours = [round(v * 1e3, 6) for v in (ware.d2, ware.d3, ware.bore)]
    assert ours == [float(row[name]) for name in ("d2", "d3", "D1")]


@pytest.mark.outside(
    what="shear areas of a thread for each turn",
    source="ISO 68-1 basic profile: flats of P/8 at the outer diameter and of P/4 at the bore leave 7/8 and 3/4 of the cylinders",
    status="memory high",
    tolerance="0.2 %: diameters of ISO 724 are rounded to a micrometre",
)
@pytest.mark.parametrize("thread", ["M3", "M5", "M8", "M12"])
def test_shear_areas(thread: str) -> None:
    size, m = screw(thread), 0.01
    assert internal_area(thread, m) == pytest.approx(7.0 / 8.0 * math.pi * size.diameter * m, rel=2e-3)
    assert external_area(thread, m) == pytest.approx(
        3.0 / 4.0 * math.pi * hardware()[thread].bore * m, rel=2e-3
    )


@pytest.mark.outside(
    what="a standard nut of class 8 holds more than its screw of class 8.8",
    source="design rule of ISO 898-2 (Alexander 1977): the screw breaks before the thread strips; loads ISO 898-1",
    status="memory high",
    tolerance="one-sided; nut of 800 MPa at its lowest height, all of it engaged",
)
@pytest.mark.parametrize("row", rows("fasteners_iso.csv"), ids=lambda r: r["thread"])
def test_nut_outlasts_its_screw(row: dict[str, str]) -> None:
    thread = row["thread"]
    engaged = (
        hardware()[thread].nut_least + 0.8 * screw(thread).pitch
    )  # what the formula takes off is in the nut's rule already
    strips = stripping_force(thread, engaged, "steel", 800e6, TENSILE["8.8"])
    assert strips > 0.95 * float(row["minUTL_8.8_N"])


@pytest.mark.outside(
    what="distance of the holes of motor flanges NEMA 11 to 42",
    source="NEMA ICS 16 bolt circles, in a hobby compilation; spacing recomputed",
    status="found",
    tolerance="1 um",
)
@pytest.mark.parametrize("row", rows("nema_frames.csv")[1:], ids=lambda r: r["frame"])
def test_motor_flanges(row: dict[str, str]) -> None:
    flange = motor_flanges()[row["frame"]]
    assert flange.pitch * 1e3 == pytest.approx(float(row["square_pitch_mm_from_circle"]), abs=1e-3)
    hole = re.match(r"[\d.]+", row["hole_in"])
    if hole:  # a screw that passes the hole
        assert screw(flange.thread).diameter < float(hole.group()) * 0.0254


@pytest.mark.outside(
    what="bolts of a bracket under an eccentric force in their plane and a moment out of it",
    source="elastic bolt group by statics: four bolts on a square of 100 mm, 12 kN at 200 mm: 3 kN down, 8.485 kN across the "
    "arm of 70.7 mm, at 45 degrees: 10.82 kN; 2.4 kN m out of plane: 12 kN a bolt (worked by hand)",
    status="computed",
    tolerance="1e-3",
)
def test_bracket_by_hand() -> None:
    square = [(u, v) for u in (-0.05, 0.05) for v in (-0.05, 0.05)]
    group = group_of(square, 1e-6)
    twisted = spread(group, np.array([0.0, -12e3, 0.0, 0.0, 0.0, -12e3 * 0.2]))
    assert twisted.shear.max() == pytest.approx(10.82e3, rel=1e-3)
    bent = spread(group, np.array([0.0, 0.0, 0.0, 0.0, 2.4e3, 0.0]))
    assert bent.pull.max() == pytest.approx(12e3, rel=1e-6)


@pytest.mark.outside(
    what="weld all round a bar as lines: bending and twist",
    source="properties of a weld treated as a line, box b x d: S = b d + d^2/3, J = (b + d)^3 / 6 (Blodgett, Design of Welded "
    "Structures, table of weld lines)",
    status="memory high",
    tolerance="1e-9",
)
def test_weld_lines() -> None:
    b, d = 0.08, 0.05
    bent = line_load((b, d), 2 * (b + d), np.array([0.0, 0.0, 0.0, 100.0, 0.0, 0.0]))
    assert bent == pytest.approx(100.0 / (b * d + d**2 / 3.0))
    twist = line_load((b, d), 2 * (b + d), np.array([0.0, 0.0, 0.0, 0.0, 0.0, 100.0]))
    assert twist == pytest.approx(100.0 * math.hypot(b / 2, d / 2) / ((b + d) ** 3 / 6.0))


GUIDE = paths.guide() / "joints.md"


def guide_figures() -> dict[str, float]:
    """The figures of the worked joint, by the first words of their row."""
    found = {}
    for line in GUIDE.read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip().strip("|").split("|")]
        number = re.match(r"([\d.]+)", cells[-1]) if line.startswith("|") and len(cells) == 2 else None
        if number:
            found[cells[0]] = float(number.group(1))
    return found


@pytest.mark.outside(
    what="one bolted joint from torque to margins, every step",
    source="worked by hand in the guide (page Joints), whose text this test reads",
    status="computed",
    tolerance="the digits that the guide prints",
)
def test_the_guides_joint() -> None:
    said = guide_figures()

    def figure(start: str) -> float:
        (value,) = [v for words, v in said.items() if words.startswith(start)]
        return value

    ware = hardware()["M6"]
    assert figure("d2 5.350") == pytest.approx((ware.d2 + ware.d3) / 2 * 1e3, abs=5e-5)
    force = allowed_preload("M6", "8.8", 0.12)
    assert figure("sigma =") == pytest.approx(
        force / (math.pi / 4 * ((ware.d2 + ware.d3) / 2) ** 2) / 1e6, abs=0.05
    )
    assert figure("preload of the screw") == pytest.approx(force, abs=0.5)
    assert figure("torque for each newton at friction 0.12") == pytest.approx(
        torque_factor("M6", 0.12) * 1e3, abs=5e-5
    )
    torque = force * torque_factor("M6", 0.12)
    assert said["torque"] == pytest.approx(torque, abs=5e-3)
    m = carrying("M6", 0.012)
    assert figure("engagement that carries") == pytest.approx(m * 1e3, abs=0.05)
    assert figure("shear area") == pytest.approx(internal_area("M6", m) * 1e6, abs=0.2)
    strips = stripping_force("M6", 0.012, "aluminium", 290e6, TENSILE["8.8"])
    assert figure("it strips") == pytest.approx(strips / 1e3, abs=0.05)
    assert figure("low end") == pytest.approx(0.75 * strips / 1e3, abs=0.05)
    low = 0.9 * 0.9 * torque / torque_factor("M6", 0.16)
    likely = 0.95 * torque / torque_factor("M6", 0.12)
    assert figure("preload likely") == pytest.approx(likely, abs=1.0)
    assert figure("preload low") == pytest.approx(low, abs=1.0)
    group = group_of([(u, v) for u in (-0.025, 0.025) for v in (-0.025, 0.025)], 0.015)
    assert figure("sum of u^2") == pytest.approx(group.about_v * 1e6, abs=0.5)
    found = spread(group, np.array([800.0, 0.0, 200.0, 0.0, 96.0, 0.0]))
    pull, edge, shear = (float(a.max()) for a in (found.pull, found.edge, found.shear))
    assert figure("pull at the middle") == pytest.approx(pull, abs=0.05)
    assert figure("pull at its edge") == pytest.approx(edge, abs=0.05)
    assert figure("shear of each") == pytest.approx(shear)
    assert figure("slips, likely") == pytest.approx(0.15 * likely / (shear + 0.15 * pull), abs=5e-3)
    assert figure("slips, all low") == pytest.approx(0.1 * low / (shear + 0.1 * pull), abs=5e-3)
    assert figure("opens, likely") == pytest.approx(likely / edge, abs=5e-3)
    assert figure("opens, low") == pytest.approx(low / edge, abs=5e-3)
    bracket = guide_bracket()
    assert figure("the screw stretches") == pytest.approx(screw_resilience(bracket) * 1e9, abs=5e-3)
    assert figure("its sleeve is squeezed") == pytest.approx(parts_resilience(bracket, 0.015) * 1e9, abs=5e-3)
    share = load_factor(bracket, 0.015)
    assert figure("load factor") == pytest.approx(share, abs=5e-5)
    amplitude = 0.7 * share * pull / 2.0 / screw("M6").stress_area
    assert figure("stress amplitude") == pytest.approx(amplitude / 1e6, abs=5e-3)
    assert figure("the screw bears") == pytest.approx(fatigue_limit(0.006) / 1e6, abs=0.05)
    assert figure("fatigue limit") == pytest.approx(fatigue_limit(0.006) / amplitude, abs=0.05)


def guide_bracket() -> FittedJoint:
    """The guide's bracket as a fitted joint: its stack is all that fatigue reads."""
    joint = Joint(screw="M6", plate=0.02, pitch_along=0.05, pitch_across=0.05, thread=0.012, washer="yes")
    site = JointSite(
        "bracket", "Bracket", "", joint, ("bracket",), clamp(joint, "bracket", 0.02, "en_aw_6082_t6"),
        plate_partner("plate", "en_aw_6082_t6", 0.03), (0.08, 0.08), ("X", "Y"), "M6", Wish(2, 2),
    )  # fmt: skip
    return fit(site)


def opensees_forces(
    library: object, data: dict[str, object], axis: int
) -> tuple[dict[str, float], dict[str, np.ndarray]]:
    """Forces in all springs, and on all members' ends (12), under 1 N on the tip along an axis."""
    ops: object = library
    tip = build(ops, data)  # type: ignore[arg-type]
    for setting, value in (("constraints", CONSTRAINTS), ("numberer", NUMBERER), ("system", SYSTEM)):
        getattr(ops, setting)(value)
    ops.algorithm("Linear")  # type: ignore[attr-defined]
    ops.integrator("LoadControl", 1.0)  # type: ignore[attr-defined]
    ops.analysis("Static", "-noWarnings")  # type: ignore[attr-defined]
    ops.timeSeries("Constant", 1)  # type: ignore[attr-defined]
    ops.pattern("Plain", 1, 1)  # type: ignore[attr-defined]
    ops.load(tip, *(1.0 if k == axis else 0.0 for k in range(6)))  # type: ignore[attr-defined]
    assert ops.analyze(1) == 0  # type: ignore[attr-defined]
    ops.reactions()  # type: ignore[attr-defined]
    springs = {
        row["name"]: float(ops.basicForce(10_000 + k)[0])  # type: ignore[attr-defined,index]
        for k, row in enumerate(data["springs"])  # type: ignore[arg-type]
    }
    members = {
        row["name"]: np.array(ops.eleForce(1 + k))  # type: ignore[attr-defined,index]
        for k, row in enumerate(data["members"])  # type: ignore[arg-type]
    }
    ops.wipe()  # type: ignore[attr-defined]
    return springs, members


@pytest.mark.outside(
    what="forces and moments at the joints of uprights and beam, legs, feet and cross members under a force on the tool tip",
    source="OpenSees through openseespy, the exported frame: its springs at the beam joints and the ends of its members",
    status="reference library",
    tolerance="1e-5 of the largest force or moment of the kind",
)
@pytest.mark.parametrize("axis", [0, 1, 2])
def test_forces_at_joints(axis: int) -> None:
    library = pytest.importorskip("openseespy.opensees", exc_type=ImportError)
    project, book = Project(), stock_book()
    lay = layout(project.machine, book)
    setting = own_springs(Setting(project.machine, lay, "likely", book))
    x, y = 0.21, -0.4
    chain = solve_chain(setting, np.array([x]), np.array([y]))
    ours = upper_wrenches(setting, chain) | base_wrenches(setting, chain)
    springs, members = opensees_forces(library, frame_data(setting, project, x, y), axis)

    seat = ours["seat"][:, 0, :, FORCES][..., axis]
    theirs = []
    for side in ("left", "right"):
        f = [-springs[f"{side} joint {a}"] for a in "XYZ"] + [
            -springs[f"{side} joint about {a}"] for a in "XYZ"
        ]
        theirs.append(
            [f[0], f[1], -f[2], *f[3:]]
        )  # on top: rows along X, across along Y, a push upwards presses
    assert np.abs(seat - np.array(theirs)).max() <= 1e-5 * np.abs(theirs).max()

    number = {name: k for k, name in enumerate(f"{s} {n}" for s in ("left", "right") for n in range(3))}
    for key, piece, end, sign in (("legs", "upper leg", 0, 1.0), ("feet", "lower leg", 6, -1.0)):
        mine = ours[key][:, 0, :, FORCES][..., axis]
        for name, k in number.items():
            side, n = name.split()
            f = sign * members[f"{side} {piece} {n}"][end : end + 6]
            # Rows along Y, the normal downwards: across is normal x along = X.
            theirs_one = np.array([f[1], f[0], f[2], f[4], f[3], -f[5]])
            assert np.abs(mine[k] - theirs_one).max() <= 1e-5 * np.abs(mine).max(), (key, name)
    mine = ours["cross"][:, 0, :, FORCES][..., axis]
    f = members["cross member 1"][:6]  # at the left end the normal is X, rows along Y, across is Z
    assert np.abs(mine[2] - [f[1], f[2], -f[0], f[4], f[5], f[3]]).max() <= 1e-5 * np.abs(mine).max()


@pytest.mark.outside(
    what="what both uprights carry at the beam, and both feet, under all weights",
    source="statics by hand: what stands above a joint weighs on it",
    status="computed",
    tolerance="1e-9 of the weight",
)
def test_weight_on_joints() -> None:
    project, book = Project(), stock_book()
    machine, lay = project.machine, layout(project.machine, book)
    setting = Setting(machine, lay, "likely", book)
    chain = solve_chain(setting, np.array([-0.3, 0.2]), np.array([0.1]))
    found = upper_wrenches(setting, chain)
    g = 9.80665
    rails = 2 * machine.x_guides.data.linear_mass * lay.x_rail_length
    beam = lay.sections.beam.area * 7850 * lay.beam_length + rails + machine.gantry.beam.extra_mass
    saddle, head = machine.saddle, machine.head
    plate = saddle.width * saddle.height * saddle.thickness * 2700 + saddle.extra_mass
    riding = plate + 4 * machine.x_guides.data.carriage_mass + machine.x_drive.mass_each + head.mass
    above = g * (beam + riding)
    pressed = -found["seat"][:, :, 2, WEIGHT].sum(axis=0)
    assert pressed == pytest.approx(above, rel=1e-9)
    post = 2 * g * lay.sections.upright.area * 2700 * (lay.upright_top - lay.upright_bottom)
    assert -found["foot"][:, :, 2, WEIGHT].sum(axis=0) == pytest.approx(above + post, rel=1e-9)


@pytest.mark.outside(
    what="moment on the feet of both uprights while the gantry speeds up",
    source="statics by hand: mass times acceleration times height above the joint, of beam, saddle, head and uprights",
    status="computed",
    tolerance="1e-9",
)
def test_speeding_up_on_feet() -> None:
    project, book = Project(), stock_book()
    machine, lay = project.machine, layout(project.machine, book)
    chain = solve_chain(Setting(machine, lay, "likely", book), np.array([-0.3, 0.2]), np.array([0.1]))
    moment = upper_wrenches(Setting(machine, lay, "likely", book), chain)["foot"][
        :, :, 4, SPEEDING.start + 1
    ].sum(axis=0)
    foot = lay.upright_bottom
    rails = 2 * machine.x_guides.data.linear_mass * lay.x_rail_length
    beam = lay.sections.beam.area * 7850 * lay.beam_length + rails + machine.gantry.beam.extra_mass
    saddle, head = machine.saddle, machine.head
    plate = saddle.width * saddle.height * saddle.thickness * 2700 + saddle.extra_mass
    plate += 4 * machine.x_guides.data.carriage_mass + machine.x_drive.mass_each
    tall = lay.upright_top - foot
    posts = 2 * lay.sections.upright.area * 2700 * tall
    nose = lay.tip_z + machine.cutter.stick_out
    by_hand = (
        beam * (lay.beam_z - foot)
        + plate * (lay.saddle_z - foot)
        + head.mass * (nose - foot)
        + posts * tall / 2
    )
    # Rows along Y, the normal upwards: across is -X, about which what pushes back along -Y high up turns positively.
    assert moment == pytest.approx(by_hand, rel=1e-9)


@pytest.mark.outside(
    what="screws of every joint of a machine counted by hand",
    source="by hand: 4 holes a carriage (ISO 12090-1 flange), 12 carriages; 4 a motor (NEMA ICS 16), 4 motors; 2 uprights "
    "with 4 at foot, seat plate and beam; 4 drives on brackets of 4; 2 end supports of 4; racks of 17, the last "
    "of each side cut to 885 mm with holes at 20 mm + k 60 mm: 15; mount 4; 6 feet of 4",
    status="computed",
    tolerance="exact",
)
def test_screws_counted_by_hand() -> None:
    project, book = Project(), stock_book()
    found, _ = find_joints(project, layout(project.machine, book))
    by_hand = 12 * 4 + 4 * 4 + 2 * (4 + 4 + 4) + 4 * 4 + 2 * 4 + 2 * (17 + 17 + 15) + 4 + 6 * 4
    assert sum(joint.screws for joint in found) == by_hand
