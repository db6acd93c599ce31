"""Cutting forces against the worked example, closed mean forces of the literature, and an independent integral."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad

from core.cutting import find_chip, find_cutting, find_turn, pressure_at
from core.fields import band
from core.machine.loads import CutForce, LoadCase
from core.machine.project import Project


def slot(**values):
    given = {
        "diameter": 0.006,
        "width": 0.006,
        "teeth": 2,
        "speed": 300.0,
        "feed": 0.03,
        "depth": 0.003,
        **values,
    }
    return CutForce(**given)


@pytest.mark.outside(
    what="slot in aluminium (6 mm, 2 teeth, 18000 rpm, 3 mm deep): mean chip, pressure, power, mean and peak force",
    source="Kienzle's relation with k_c1.1 700 N/mm2 and m_c 0.25 as in metal-cutting handbooks; worked through once by hand",
    status="computed",
    tolerance="5 digits",
)
def test_worked_milling_example():
    project = Project(cases=(LoadCase(name="slot", load=slot(workpiece="aluminium_wrought")),))
    case = find_cutting(project).cases[0]
    assert case.chip.mean == pytest.approx(0.031831e-3, rel=2e-5)
    assert case.pressure[1] == pytest.approx(1657.2e6, rel=3e-5)
    assert case.power[1] == pytest.approx(894.9, rel=3e-5)
    assert case.tangential[1] == pytest.approx(158.25, rel=4e-5)
    assert case.tooth_peak[1] == pytest.approx(222.05, rel=3e-5)
    assert case.turn.tooth.max() == pytest.approx(222.05, rel=3e-5)


@pytest.mark.outside(
    what="mean forces along and across the feed over a turn, constant pressure, slot and partial width, both directions",
    source="Altintas, Manufacturing Automation, mean milling forces in closed form (from memory)",
    status="memory high",
    tolerance="0.3 % of the tangential force (steps of half a degree)",
)
@pytest.mark.parametrize("climb", [False, True])
@pytest.mark.parametrize("width", [0.006, 0.0041, 0.0012])
def test_mean_forces_in_closed_form(width, climb):
    pressure, ratio = 40e6, 0.35
    cut = slot(pressure=band(pressure, pressure, pressure), radial_share=ratio, width=width, climb=climb)
    chip, turn = find_chip(cut), find_turn(cut)

    def closed(phi):
        k = cut.teeth * cut.depth * chip.feed_tooth / (8.0 * math.pi) * pressure
        along = k * (math.cos(2 * phi) - ratio * (2 * phi - math.sin(2 * phi)))
        across = k * (2 * phi - math.sin(2 * phi) + ratio * math.cos(2 * phi))
        return np.array([along, across])

    want = closed(chip.leave) - closed(chip.entry)
    got = np.array([turn.along.mean(), turn.across.mean()])
    assert got == pytest.approx(want, abs=3e-3 * turn.tangential.max())


@pytest.mark.outside(
    what="mean tangential force over a turn with Kienzle's pressure at every chip, and its peak with a helix",
    source="adaptive quadrature of the same relation with scipy.integrate.quad over the arc and the edge",
    status="reference library",
    tolerance="0.3 %",
)
def test_turn_against_quadrature():
    cut = slot(workpiece="c45e", width=0.002, helix=math.radians(30.0), teeth=3)
    chip, turn = find_chip(cut), find_turn(cut)
    lag = 2.0 * cut.depth * math.tan(cut.helix) / cut.diameter

    def force(phi):
        """Of a straight edge as deep as the cut, N."""
        phi = phi % (2 * math.pi)
        h = chip.feed_tooth * math.sin(phi)
        return pressure_at(cut, h) * h * cut.depth if 0.0 < phi < chip.engagement else 0.0

    area, _ = quad(force, 0.0, chip.engagement)
    assert turn.tangential.mean() == pytest.approx(cut.teeth * area / (2 * math.pi), rel=3e-3)

    def sweep(tip):
        """Helical edge: the mean over the lag between tip and top."""
        low, high = max(tip - lag, 0.0), min(tip, chip.engagement)
        return quad(force, low, high)[0] / lag if high > low else 0.0

    peak = max(sweep(tip) for tip in np.linspace(0.0, chip.engagement + lag, 400))
    assert turn.tooth.max() == pytest.approx(peak, rel=2e-2)  # 24 slices along the edge
