"""Ball screws by beam theory: the speed at which a turning shaft whirls, the load at which it buckles, lead accuracy.

Lengths m, forces N, speeds rev/s. What practice allows of the theoretical figure stands beside each.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.machine.drives import LeadGrade

YOUNG = 206e9
"""Young's modulus that screw handbooks use, Pa."""
DENSITY = 7850.0
"""Steel, kg/m3."""
SPEED_SHARE = 0.8
"""Share of the critical speed that common practice allows."""
LOAD_SHARE = 0.5
"""Share of the buckling load that common practice allows."""


@dataclass(frozen=True, slots=True)
class EndFixity:
    """How the ends hold a shaft: root lambda of the bending frequency equation, factor of Euler's load."""

    lambda_: float
    euler: float


ENDS: dict[str, EndFixity] = {
    "fixed-free": EndFixity(1.8751040687, 0.25),
    "supported-supported": EndFixity(math.pi, 1.0),
    "fixed-supported": EndFixity(3.9266023120, 2.0457),
    "fixed-fixed": EndFixity(4.7300407449, 4.0),
}
"""Source: roots of 1 + cos cosh, sin, tan - tanh and 1 - cos cosh; Euler's cases (Timoshenko, Theory of Elastic Stability)."""

V300P: dict[LeadGrade, float] = {"1": 6e-6, "3": 12e-6, "5": 23e-6, "7": 52e-6, "10": 210e-6}
"""Variation of travel permitted within 300 mm, m. Source: ISO 3408-3."""


def critical_speed(diameter: float, length: float, ends: str) -> float:
    """Turning speed at which the shaft whirls, rev/s, without any margin.

    Source: lambda^2 / (2 pi L^2) sqrt(E I / (rho A)), the first bending frequency (Timoshenko, Vibration Problems).
    """
    wave = diameter / 4.0 * math.sqrt(YOUNG / DENSITY)
    return ENDS[ends].lambda_ ** 2 * wave / (2.0 * math.pi * length**2)


def buckling_load(diameter: float, length: float, ends: str) -> float:
    """Axial load at which the shaft buckles, N, without any margin. Source: Euler, n pi^2 E I / L^2."""
    second_moment = math.pi * diameter**4 / 64.0
    return ENDS[ends].euler * math.pi**2 * YOUNG * second_moment / length**2


def screw_torque(force: float, lead: float, efficiency: float) -> float:
    """Torque that pushes with a force, N m. Source: energy in one turn, T = F p / (2 pi eta)."""
    return force * lead / (2.0 * math.pi * efficiency)


def lead_error(grade: LeadGrade, travel: float) -> float:
    """Error over a travel, m, taking the grade's 300 mm in proportion (common practice; grades 1 to 5 promise less)."""
    return V300P[grade] * max(travel / 0.3, 1.0)
