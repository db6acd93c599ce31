"""Answers about whole machines, held against closed formulas, a worked example and another frame library.

A machine with all but one part held rigid has that part's deflection alone, which a handbook's formula gives.
"""

from __future__ import annotations

import json
import math
from functools import reduce
from pathlib import Path

import numpy as np
import pytest

from core.cutting import mean_power, mean_tangential, tip_force
from core.fields import band
from core.machine.drives import RackPinion
from core.machine.layout import layout
from core.machine.loads import CutForce, LoadCase
from core.machine.project import COMPONENTS, Machine, replace_at
from core.materials import material
from core.model.condensed import condense_gantry
from core.model.export import frame_data
from core.model.moving import condense_head, ride, tip_compliance
from core.model.setting import Setting
from core.sag import find_sag
from core.sections import PropertyBook
from core.sections.book import stock_book
from core.storage import load_project
from scripts import second_solver

DEMOS = sorted((Path(__file__).resolve().parents[2] / "demo_projects").glob("*.json"))
GRAVITY = 9.80665


def all_rigid_but(*soft, **values):
    """The default machine without overhang, its two halves alike, with all parts rigid but these."""
    rigid = tuple(sorted(set(COMPONENTS) - set(soft)))
    machine = Machine(rigid=rigid, x_drive=RackPinion())
    machine = replace_at(machine, "gantry.beam.overhang", 0.0)
    return reduce(lambda m, item: replace_at(m, item[0].replace("__", "."), item[1]), values.items(), machine)


def setting_of(machine):
    book = PropertyBook()
    return Setting(machine, layout(machine, book), "likely", book)


def own_sag(machine):
    setting = setting_of(machine)
    return find_sag(setting, condense_gantry(setting, np.array([0.0]))).beam_worst


def tip_at(machine, x, y=0.0):
    setting = setting_of(machine)
    gantry = condense_gantry(setting, np.array([y]))
    return tip_compliance(gantry, ride(setting, gantry, np.array([x])), condense_head(setting))[0, 0]


def beam_figures(machine):
    """(load N/m, span m, steel, section) of the beam with what lies on it."""
    lay, stuff = layout(machine, PropertyBook()), material(machine.gantry.beam.material)
    section, span = lay.sections.beam, lay.upright_spacing
    # Two rails and the other mass are spread along the whole beam.
    riders = 2 * machine.x_guides.data.linear_mass * lay.x_rail_length + machine.gantry.beam.extra_mass
    return GRAVITY * (stuff.density * section.area + riders / span), span, stuff, section


def turning_stiffness(machine):
    """How the beam's ends are held against turning when all else is rigid, N m/rad.

    A carriage line does not hold its foot against turning about the line, so an end can turn by as much as the beam lets
    the uprights' tops move apart: a portal on pinned feet with rigid uprights.
    """
    lay = layout(machine, PropertyBook())
    _, span, stuff, section = beam_figures(machine)
    height = lay.beam_z - lay.y_carriage[1]
    return 2 * stuff.young * section.area * height**2 / span


@pytest.mark.outside(
    what="the gantry beam's own sag on rigid uprights with feet that can turn",
    source="portal on pinned feet from 5 w L^4 / (384 E I), w L^3 / (24 E I), M L / (2 E "
    "I), M L^2 / (8 E I): beam tables of any handbook of engineering (from memory)",
    status="memory high",
    tolerance="0.2 %",
)
@pytest.mark.parametrize("travel", [0.7, 1.3, 2.4])
def test_sag_of_a_beam_on_rigid_uprights(travel):
    machine = all_rigid_but("beam", work__travel_x=travel)
    w, span, stuff, section = beam_figures(machine)
    ei = stuff.young * section.iyy
    moment = w * span**3 / (24 * ei) / (1 / turning_stiffness(machine) + span / (2 * ei))
    shear = w * span**2 / (8 * stuff.shear * section.avz)
    sag = 5 * w * span**4 / (384 * ei) - moment * span**2 / (8 * ei) + shear
    assert own_sag(machine) == pytest.approx(sag, rel=2e-3)


@pytest.mark.outside(
    what="the gantry beam's own sag on joints that hardly turn the beam",
    source="5 w L^4 / (384 E I) + w L^2 / (8 G A_v): beam tables of any handbook of engineering (from memory)",
    status="memory high",
    tolerance="0.5 %",
)
def test_sag_of_a_beam_on_pins():
    machine = all_rigid_but(
        "beam",
        "beam_joint",
        gantry__upright__joint_turning=band(50.0, 50.0, 50.0),
        gantry__upright__joint_stiffness=band(1e12, 1e12, 1e12),
        gantry__upright__seat="between",
    )
    w, span, stuff, section = beam_figures(machine)
    span -= 0.02  # between the uprights' inner faces
    w = (
        GRAVITY * stuff.density * section.area
        + (w - GRAVITY * stuff.density * section.area) * (span + 0.02) / span
    )
    bending = 5 * w * span**4 / (384 * stuff.young * section.iyy)
    shear = w * span**2 / (8 * stuff.shear * section.avz)
    assert own_sag(machine) == pytest.approx(bending + shear, rel=5e-3)


@pytest.mark.outside(
    what="the gantry beam's own sag with every part as soft as described lies between held fast and pinned",
    source="w L^4 / (384 E I) and 5 w L^4 / (384 E I), with shear: beam tables of any handbook of engineering (from memory)",
    status="memory high",
    tolerance="bounds",
)
def test_sag_lies_between_held_fast_and_pinned():
    machine = all_rigid_but(*COMPONENTS)
    w, span, stuff, section = beam_figures(machine)
    fast = w * span**4 / (384 * stuff.young * section.iyy)
    shear = w * span**2 / (8 * stuff.shear * section.avz)
    assert fast + shear < own_sag(machine) < 5 * fast + shear


@pytest.mark.outside(
    what="tip compliance along Y and Z with the tool at mid-span and the beam alone soft: bending, shear and torsion",
    source="two equal loads a from the ends: held fast in plan; across the feet pinned with "
    "end moments: beam tables of any handbook of engineering (from memory)",
    status="memory high",
    tolerance="0.3 % of the largest entry",
)
@pytest.mark.parametrize("spread", [0.15, 0.26])
def test_tip_compliance_of_the_beam_alone(spread):
    """The carriages pass half of the load on at each end of their spread, and the load's arm as torsion."""
    machine = all_rigid_but("beam", x_guides__spread=spread)
    lay = layout(machine, PropertyBook())
    _, span, stuff, s = beam_figures(machine)
    a = (span - spread) / 2
    flat = a**3 * (2 * span - 3 * a) / (12 * span * stuff.young * s.izz)
    ei = stuff.young * s.iyy
    moment = a * (span - a) / (4 * ei) / (1 / turning_stiffness(machine) + span / (2 * ei))
    upright = a**2 * (3 * span - 4 * a) / (12 * ei) - moment * a * (span - a) / (2 * ei)
    sheared, turned = a / (2 * stuff.shear), a / (2 * stuff.shear * s.it)
    ahead, below = lay.beam_y - lay.spindle_y, lay.beam_z - lay.tip_z
    assert ahead > 0.1  # the load's arms are no small matter
    assert below > 0.1
    expected = np.array(
        [
            [flat + sheared / s.avy + below**2 * turned, -ahead * below * turned],
            [-ahead * below * turned, upright + sheared / s.avz + ahead**2 * turned],
        ]
    )
    found = tip_at(machine, 0.0)[1:, 1:]
    assert np.abs(found - expected).max() <= 3e-3 * np.abs(expected).max()


@pytest.mark.outside(
    what="tip compliance with the cutter shank alone soft: a cantilever of its stick-out",
    source="L^3 / (3 E I) + L / (G A_v), L / (E A): beam tables of any handbook of "
    "engineering (from memory); shear of the circle by Cowper (1966)",
    status="memory high",
    tolerance="0.2 %",
)
@pytest.mark.parametrize(("diameter", "stick_out"), [(0.006, 0.02), (0.008, 0.03), (0.012, 0.06)])
def test_tip_compliance_of_the_shank_alone(diameter, stick_out):
    machine = all_rigid_but("cutter", cutter__diameter=diameter, cutter__stick_out=stick_out)
    stuff = material(machine.cutter.material)
    area, inertia = math.pi * diameter**2 / 4, math.pi * diameter**4 / 64
    nu = stuff.young / (2 * stuff.shear) - 1
    shear_area = area * 6 * (1 + nu) / (7 + 6 * nu)
    side = stick_out**3 / (3 * stuff.young * inertia) + stick_out / (stuff.shear * shear_area)
    found = tip_at(machine, 0.2, -0.3)
    assert found[0, 0] == pytest.approx(side, rel=2e-3)
    assert found[1, 1] == pytest.approx(side, rel=2e-3)
    longer = tip_at(replace_at(machine, "cutter.stick_out", 1.5 * stick_out), 0.2, -0.3)
    assert longer[2, 2] - found[2, 2] == pytest.approx(0.5 * stick_out / (stuff.young * area), rel=2e-3)


@pytest.mark.outside(
    what="power and mean tangential force of a full slot in aluminium (6 mm, 2 teeth, 18000 rpm, 3 mm deep, 0.05 mm a tooth)",
    source="Kienzle's relation with k_c1.1 700 N/mm2 and m_c 0.25 at the mean chip; worked through once by hand",
    status="computed",
    tolerance="4 digits",
)
def test_cutting_force_of_a_slot_in_aluminium():
    diameter, teeth, feed_tooth, speed = 0.006, 2, 0.00005, 300.0
    chip_mm = 0.05 * 2.0 / math.pi  # fz (1 - cos 180 deg) / pi
    pressure = 700.0 * chip_mm**-0.25 * 1e6
    assert chip_mm == pytest.approx(0.031831, rel=1e-4)
    assert pressure == pytest.approx(1657.2e6, rel=1e-4)
    cut = CutForce(
        pressure=band(0.5 * pressure, pressure, 2.0 * pressure), diameter=diameter, teeth=teeth, speed=speed,
        feed=feed_tooth * teeth * speed, depth=0.003, width=diameter, radial_share=0.4, axial_share=-0.25,
    )  # fmt: skip
    assert mean_power(cut) == pytest.approx(894.9, rel=1e-4)
    assert mean_tangential(cut) == pytest.approx(158.25, rel=1e-4)
    force = tip_force(LoadCase(name="slot", load=cut))
    assert force == pytest.approx([158.25, 0.4 * 158.25, -0.25 * 158.25], rel=1e-4)
    assert tip_force(LoadCase(name="slot", load=cut), "low") == pytest.approx(force / 2)


@pytest.mark.outside(
    what="exported frames of the three demo projects, solved again from the file's figures alone",
    source="OpenSees through openseespy: ElasticTimoshenkoBeam, zeroLength springs, rigidLink beam",
    status="reference library",
    tolerance="1e-6 of the largest entry",
)
@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
@pytest.mark.parametrize(("u", "v"), [(0.0, 0.0), (0.71, -0.43)])
def test_exported_frame_solved_by_another_program(demo, u, v):
    library = pytest.importorskip("openseespy.opensees", exc_type=ImportError)
    project, book = load_project(demo), stock_book()
    setting = Setting(project.machine, layout(project.machine, book), "likely", book)
    work = project.machine.work
    x, y = u * work.travel_x / 2, v * work.travel_y / 2
    data = json.loads(json.dumps(frame_data(setting, project, x, y)))
    try:
        theirs = second_solver.tip_compliance(library, second_solver.build(library, data), "FullGeneral")
        quick = second_solver.tip_compliance(library, second_solver.build(library, data), "UmfPack")
    finally:
        library.wipe()
    ours = np.array(data["tip_compliance_m_per_N"])
    assert np.abs(ours - theirs).max() <= 1e-6 * np.abs(theirs).max()
    assert np.abs(ours - quick).max() <= 1e-6 * np.abs(theirs).max()


def test_there_are_three_demos():
    assert len(DEMOS) == 3
