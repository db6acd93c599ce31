"""Properties of square and rectangular tubes by the annex formulas of their standards."""

from __future__ import annotations

import math

from core.sections.labels import closed_label
from core.sections.properties import SectionProperties
from core.sections.shapes import RectangularHollow

POISSON = 0.3
"""Enters the shear coefficients only, and weakly; the value of both design codes for steel and aluminium."""

_CORNER = {
    "k": (10 - 3 * math.pi) / (12 - 3 * math.pi),
    "c": 1 / 3 - math.pi / 16 - 1 / (3 * (12 - 3 * math.pi)),
}


def hollow_properties(section: RectangularHollow) -> SectionProperties:
    """Area and second moments exact for round corners; torsion by the annex; shear areas by Cowper.

    Source: annexes of EN 10219-2 and EN 10210-2; Cowper, J. Appl. Mech. 33 (1966) 335-340.
    """
    h, b, t = section.height, section.width, section.wall
    ro, ri = section.radii()
    area = 2 * t * (b + h - 2 * t) - (4 - math.pi) * (ro**2 - ri**2)
    iyy, izz = second_moment(h, b, t, ro, ri), second_moment(b, h, t, ro, ri)
    return SectionProperties(
        name=closed_label(section),
        width=b,
        height=h,
        area=area,
        iyy=iyy,
        izz=izz,
        # The annex formula passes the polar second moment, which nothing can, when the wall is very thick.
        it=min(torsion_constant(h, b, t, (ro + ri) / 2), iyy + izz),
        avy=area * box_shear_coefficient(b - t, h - t, t, t),
        avz=area * box_shear_coefficient(h - t, b - t, t, t),
        wall=t,
        method="Closed formulas. For walls up to a tenth of the smaller side the torsion constant lies 0.2 to 0.3 % "
        "(cold formed) or 1 to 2.5 % (hot finished) below finite elements; thicker walls stray by a few per cent. "
        "Shear areas: thin-box coefficient times area, Poisson's ratio 0.3.",
        source=f"{'EN 10219-2' if section.finish == 'cold formed' else 'EN 10210-2'} annex; Cowper (1966)",
    )


def second_moment(h: float, b: float, t: float, ro: float, ri: float) -> float:
    """Second moment of a tube of depth `h` about the axis across the depth, m4. Source: EN 10219-2 annex."""
    k, c = _CORNER["k"], _CORNER["c"]
    outer = b * h**3 / 12 - 4 * (c * ro**4 + (1 - math.pi / 4) * ro**2 * (h / 2 - k * ro) ** 2)
    inner_h, inner_b = h - 2 * t, b - 2 * t
    inner = inner_b * inner_h**3 / 12 - 4 * (
        c * ri**4 + (1 - math.pi / 4) * ri**2 * (inner_h / 2 - k * ri) ** 2
    )
    return outer - inner


def torsion_constant(h: float, b: float, t: float, rc: float) -> float:
    """Torsion constant of a closed tube with midline corner radius `rc`, m4.

    Bredt's closed cell plus the strip torsion of the wall. Source: EN 10219-2 annex.
    """
    perimeter = 2 * ((b - t) + (h - t)) - 2 * rc * (4 - math.pi)
    enclosed = (b - t) * (h - t) - rc**2 * (4 - math.pi)
    return t**3 * perimeter / 3 + bredt(enclosed, perimeter, t)


def bredt(enclosed: float, perimeter: float, t: float) -> float:
    """Torsion constant of a thin closed cell of even wall, m4. Source: Bredt; Roark's Formulas."""
    return 4 * enclosed**2 * t / perimeter


def box_shear_coefficient(h: float, b: float, t: float, t1: float, nu: float = POISSON) -> float:
    """Shear coefficient of a thin box, shear along `h`; midline sizes, webs `t` thick, flanges `t1`.

    Source: Cowper, J. Appl. Mech. 33 (1966) 335-340.
    """
    m, n = b * t1 / (h * t), b / h
    below = (
        12
        + 72 * m
        + 150 * m**2
        + 90 * m**3
        + nu * (11 + 66 * m + 135 * m**2 + 90 * m**3)
        + 10 * n**2 * ((3 + nu) * m + 3 * m**2)
    )
    return 10 * (1 + nu) * (1 + 3 * m) ** 2 / below
