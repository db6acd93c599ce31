"""Properties of solid rectangles, rounds and round tubes by closed formulas."""

from __future__ import annotations

import math
from functools import lru_cache

from core.sections.hollow import POISSON
from core.sections.labels import closed_label
from core.sections.properties import SectionProperties
from core.sections.shapes import FlatBar, RoundSolid, RoundTube


def flat_properties(section: FlatBar) -> SectionProperties:
    """Solid rectangle. Source: Timoshenko and Goodier, Theory of Elasticity (torsion); Cowper (1966)."""
    h, b = section.height, section.width
    area = b * h
    shear = area * 10 * (1 + POISSON) / (12 + 11 * POISSON)
    return SectionProperties(
        name=closed_label(section),
        width=b,
        height=h,
        area=area,
        iyy=b * h**3 / 12,
        izz=h * b**3 / 12,
        it=rectangle_torsion(h, b),
        avy=shear,
        avz=shear,
        wall=min(h, b),
        method="Closed formulas; torsion by the exact series. Shear coefficient of the rectangle with "
        "Poisson's ratio 0.3, the same both ways.",
        source="Timoshenko and Goodier, Theory of Elasticity; Cowper (1966)",
    )


@lru_cache(maxsize=256)
def rectangle_torsion(a: float, b: float) -> float:
    """Torsion constant of a solid rectangle, m4, by the series with tanh; the tenth term is below 1e-8."""
    a, b = max(a, b), min(a, b)
    # Beyond an argument of 20 tanh is 1 to the last digit; math.tanh handles it without overflow.
    series = sum(math.tanh(n * math.pi * a / (2 * b)) / n**5 for n in range(1, 100, 2))
    return a * b**3 / 3 * (1 - 192 / math.pi**5 * (b / a) * series)


def round_properties(section: RoundSolid | RoundTube) -> SectionProperties:
    """Solid round or round tube. Source: Cowper (1966) for shear; the rest is exact."""
    outer = section.diameter / 2
    inner = outer - section.wall if isinstance(section, RoundTube) else 0.0
    area = math.pi * (outer**2 - inner**2)
    inertia = math.pi * (outer**4 - inner**4) / 4
    shear = area * round_shear_coefficient(inner / outer)
    return SectionProperties(
        name=closed_label(section),
        width=2 * outer,
        height=2 * outer,
        area=area,
        iyy=inertia,
        izz=inertia,
        it=2 * inertia,
        avy=shear,
        avz=shear,
        wall=section.wall if isinstance(section, RoundTube) else section.diameter,
        method="Exact formulas; shear coefficient with Poisson's ratio 0.3.",
        source="Roark's Formulas; Cowper (1966)",
    )


def round_shear_coefficient(m: float, nu: float = POISSON) -> float:
    """Shear coefficient of a round tube, `m` inner over outer radius; m 0 is the solid round.

    Source: Cowper, J. Appl. Mech. 33 (1966) 335-340.
    """
    ring = (1 + m**2) ** 2
    return 6 * (1 + nu) * ring / ((7 + 6 * nu) * ring + (20 + 12 * nu) * m**2)
