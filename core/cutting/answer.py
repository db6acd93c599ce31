"""The whole answer about cutting: one block of figures for each load case that is described by its cut."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from core.cutting.advice import advise
from core.cutting.chip import Chip, find_chip
from core.cutting.force import mean_power, mean_tangential
from core.cutting.pressure import SIDES, edge_force, pressure_at
from core.cutting.turn import Turn, find_turn
from core.findings import Finding
from core.machine.loads import CutForce
from core.machine.project import Project
from core.materials.workpieces import Triple, metal

THIN = {"metal": 1.0e-5, "other": 3.0e-5}  # m, common practice
THICK = {"metal": 0.02, "other": 0.06}  # of the diameter, common practice
PLUNGE_FEED = 1.0 / 3.0  # of the feed, common practice
PLUNGE_SHARE = (0.5, 0.7, 1.0)  # axial of tangential force at the end of the cutter, common practice


@dataclass(frozen=True, slots=True)
class Plunge:
    """Going straight down with the whole cutter, an estimate by common practice.

    Attributes:
        feed: m/s. feed_tooth: m. force: low, likely, high along Z, N. power: W. torque: N m.
    """

    feed: float
    feed_tooth: float
    force: Triple
    power: Triple
    torque: Triple


@dataclass(frozen=True, slots=True)
class CutCase:
    """One load case by its cut. Figures of three are low, likely and high.

    Attributes:
        number, name: of the load case. cut: as described. chip: see `Chip`.
        stuff, source, status: workpiece in words; where its pressure comes from and how sure it is.
        thinnest, thickest: chip thickness to stay between, m.
        pressure: at the mean chip, Pa. power: W. torque: N m. tangential: mean over a turn, N.
        radial, axial: likely mean parts across the tangential force and along Z, N.
        tooth_mean: of one tooth while it cuts, at the mean chip, N. tooth_peak: at the thickest chip, straight edge, N.
        turn: likely forces over one turn. available: spindle power to plan with at this speed, W.
        edge_speed: m/s. volume: chip volume in unit time, m3/s. plunge: see `Plunge`.
    """

    number: int
    name: str
    cut: CutForce
    chip: Chip
    stuff: str
    source: str
    status: str
    thinnest: float
    thickest: float
    pressure: Triple
    power: Triple
    torque: Triple
    tangential: Triple
    radial: float
    axial: float
    tooth_mean: Triple
    tooth_peak: Triple
    turn: Turn
    available: float
    edge_speed: float
    volume: float
    plunge: Plunge


@dataclass(frozen=True, slots=True)
class CuttingAnswer:
    """Every load case described by its cut, in their order, and what is to be said of them."""

    cases: tuple[CutCase, ...]
    findings: tuple[Finding, ...]


def find_cutting(project: Project) -> CuttingAnswer:
    """Answer for a project; load cases given as a force are left out."""
    spindle = project.machine.head.spindle
    cases = []
    for number, case in enumerate(project.cases):
        if isinstance(case.load, CutForce):
            available = spindle.available(case.load.speed)
            cases.append(_cut_case(number, case.name, case.load, available))
    findings = [finding for case in cases for finding in advise(project, case)]
    return CuttingAnswer(tuple(cases), tuple(findings))


def _cut_case(number: int, name: str, cut: CutForce, available: float) -> CutCase:
    chip = find_chip(cut)
    group = "metal" if cut.workpiece else "other"
    stuff = metal(cut.workpiece) if cut.workpiece else None
    thinnest, thickest = cut.thinnest_chip, cut.thickest_chip
    power = _three(lambda k: mean_power(cut, SIDES[k]))
    pressure = _three(lambda k: pressure_at(cut, chip.mean, SIDES[k]))
    tangential = _three(lambda k: mean_tangential(cut, SIDES[k]))
    largest = np.array([chip.largest])
    return CutCase(
        number=number,
        name=name,
        cut=cut,
        chip=chip,
        stuff=stuff.name if stuff else "By the pressure entered",
        source=stuff.source if stuff else "as entered",
        status=stuff.status if stuff else "as entered",
        thinnest=THIN[group] if thinnest is None else thinnest,
        thickest=THICK[group] * cut.diameter if thickest is None else thickest,
        pressure=pressure,
        power=power,
        torque=_three(lambda k: power[k] / (2.0 * math.pi * cut.speed)),
        tangential=tangential,
        radial=cut.radial_share * tangential[1],
        axial=cut.axial_share * tangential[1],
        tooth_mean=_three(lambda k: pressure[k] * cut.depth * chip.mean),
        tooth_peak=_three(lambda k: float(edge_force(cut, largest, cut.depth, SIDES[k])[0])),
        turn=find_turn(cut),
        available=available,
        edge_speed=math.pi * cut.diameter * cut.speed,
        volume=cut.depth * cut.width * cut.feed,
        plunge=_plunge(cut),
    )


def _three(figure: Callable[[int], float]) -> Triple:
    return figure(0), figure(1), figure(2)


def _plunge(cut: CutForce) -> Plunge:
    """Straight down: each tooth cuts over its radius with the plunge feed per tooth as its chip.

    Torque T = k_c f_z z D^2 / 8 and force k_c f_z z D / 2 times a share, as for drilling in metal-cutting handbooks
    (from memory); the share of an end mill's centre is common practice.
    """
    feed = cut.feed * PLUNGE_FEED if cut.plunge_feed is None else cut.plunge_feed
    feed_tooth = feed / (cut.speed * cut.teeth)
    radius = cut.diameter / 2.0
    edges = [float(edge_force(cut, np.array([feed_tooth]), radius, side)[0]) * cut.teeth for side in SIDES]
    torque = _three(lambda k: edges[k] * radius / 2.0)
    return Plunge(
        feed=feed,
        feed_tooth=feed_tooth,
        force=_three(lambda k: edges[k] * PLUNGE_SHARE[k]),
        power=_three(lambda k: torque[k] * 2.0 * math.pi * cut.speed),
        torque=torque,
    )
