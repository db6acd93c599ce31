"""Standard holes and hardware of joints: carriages, motor flanges, washers, nuts and thread diameters."""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from core.fasteners.screws import screws

INCH = 0.0254


@dataclass(frozen=True, slots=True)
class CarriageHoles:
    """Tapped holes in a flanged carriage, m. Source: ISO 12090-1 series, memory high; depths memory medium."""

    across: float
    along: float
    thread: str
    depth: float


@dataclass(frozen=True, slots=True)
class MotorFlange:
    """Four holes of a motor's flange, m and kg.

    Attributes:
        pitch: side of the square of holes. thread: of the screws that go through or into it. tapped: whether the flange
            itself is tapped. flange: thickness, or depth of its thread. mass: of a usual motor.

    Source: NEMA ICS 16 for the bolt circles and holes (found in a hobby compilation, spacing recomputed); flange and mass
    from memory, low.
    """

    pitch: float
    thread: str
    tapped: bool
    flange: float
    mass: float


@dataclass(frozen=True, slots=True)
class Hardware:
    """Washer, nut and thread of one size, m.

    Attributes:
        washer_outer, washer: ISO 7089. nut_least, nut_most: height of an ISO 4032 nut. nut_across: flats.
        bearing: least diameter of the head's bearing face (ISO 4762). d2, d3: pitch and root diameter of the screw (ISO 724);
        bore: minor diameter D1 of the nut thread.

    Source: ISO 7089, ISO 4032, ISO 4762, ISO 724; memory high.
    """

    washer_outer: float
    washer: float
    nut_least: float
    nut_most: float
    nut_across: float
    bearing: float
    d2: float
    d3: float
    bore: float


def _rows(name: str) -> list[dict[str, str]]:
    text = files(__package__).joinpath(name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@cache
def carriage_holes() -> dict[int, CarriageHoles]:
    """By rail size. The mapping is made once: do not change it."""
    return {
        int(r["size"]): CarriageHoles(
            float(r["across_mm"]) / 1e3, float(r["along_mm"]) / 1e3, r["thread"], float(r["depth_mm"]) / 1e3
        )
        for r in _rows("carriages.csv")
    }


@cache
def motor_flanges() -> dict[str, MotorFlange]:
    """By frame name. The mapping is made once: do not change it."""
    return {
        r["frame"]: MotorFlange(
            float(r["bolt_circle_in"]) * INCH / math.sqrt(2.0),
            r["tapped"] or _passing(float(r["hole_in"]) * INCH),
            bool(r["tapped"]),
            float(r["flange_mm"]) / 1e3,
            float(r["mass_kg"]),
        )
        for r in _rows("motors.csv")
    }


def _passing(hole: float) -> str:
    """The largest screw whose medium clearance hole (ISO 273) is no larger than this hole, m."""
    return [s.thread for s in screws().values() if s.hole <= hole + 2e-4][-1]


@cache
def hardware() -> dict[str, Hardware]:
    """By thread. The mapping is made once: do not change it."""
    return {
        r["thread"]: Hardware(*(float(value) / 1e3 for name, value in r.items() if name != "thread"))
        for r in _rows("washers.csv")
    }
