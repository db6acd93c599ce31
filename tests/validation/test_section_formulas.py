"""Torsion, shear and shear centre of plain sections against handbooks and a finite-element library."""

from __future__ import annotations

import math

import pytest
from sectionproperties.analysis import Section as FiniteElements
from sectionproperties.pre import Geometry
from shapely.geometry import Polygon

from core.sections import (
    Angle,
    Channel,
    FlatBar,
    PropertyBook,
    RectangularHollow,
    RoundSolid,
    RoundTube,
    outline,
    properties,
)
from core.sections.hollow import bredt
from core.sections.solid import rectangle_torsion, round_shear_coefficient

BOOK = PropertyBook()


@pytest.mark.outside(
    what="torsion constant of a thin box, midline 100x50, wall 4",
    source="Bredt; Roark's Formulas for Stress and Strain, torsion of closed thin walls",
    status="computed",
    tolerance="1 mm4 of 1 333 333 mm4",
)
def test_closed_cell():
    assert bredt(100 * 50, 300, 4) == pytest.approx(1_333_333, abs=1)


@pytest.mark.outside(
    what="torsion constant of the same box slit open, four strips",
    source="Timoshenko, Strength of Materials: sum of b t3 / 3",
    status="computed",
    tolerance="1e-9 of 6400 mm4",
)
def test_slit_cell():
    """A channel and one more side make the slit box; the channel's strips are the program's own."""
    channel = properties(Channel(height=0.104, width=0.052, web=0.004, flange=0.004), BOOK)
    assert channel.it * 1e12 + 100 * 4**3 / 3 == pytest.approx(6400, rel=1e-9)


@pytest.mark.outside(
    what="torsion coefficient of solid rectangles 1:1, 2:1 and 10:1",
    source="Timoshenko and Goodier, Theory of Elasticity, torsion of rectangular bars",
    status="computed",
    tolerance="half the sixth decimal",
)
@pytest.mark.parametrize(("ratio", "coefficient"), [(1, 0.140577), (2, 0.228682), (10, 0.312325)])
def test_solid_rectangle(ratio, coefficient):
    assert rectangle_torsion(ratio, 1) / ratio == pytest.approx(coefficient, abs=6e-7)


@pytest.mark.outside(
    what="shear coefficients of rectangle, round and thin ring",
    source="Cowper, J. Appl. Mech. 33 (1966) 335-340, Poisson's ratio 0.3",
    status="memory high",
    tolerance="half the third decimal",
)
def test_shear_coefficients():
    plate = properties(FlatBar(height=0.1, width=0.02), BOOK)
    assert plate.avz / plate.area == pytest.approx(0.850, abs=5e-4)
    assert round_shear_coefficient(0.0) == pytest.approx(0.886, abs=5e-4)
    assert round_shear_coefficient(1.0) == pytest.approx(0.531, abs=5e-4)


SECTIONS = {
    "tube": RectangularHollow(height=0.12, width=0.08, wall=0.005),
    "box": RectangularHollow(height=0.1, width=0.1, wall=0.003, finish="hot finished"),
    "square bar": FlatBar(height=0.03, width=0.03),
    "round tube": RoundTube(diameter=0.06, wall=0.004),
    "round": RoundSolid(diameter=0.03),
    "channel": Channel(height=0.1, width=0.05, web=0.006, flange=0.0085),
    "thin channel": Channel(height=0.1, width=0.05, web=0.003, flange=0.003),
    "angle": Angle(height=0.06, width=0.04, thickness=0.005),
}
SHEAR_BAND = {"channel": 0.09, "angle": 0.09, "round tube": 0.07}
"""Thick open walls carry more shear than the thin-wall flow says; the ring's coefficient is an average."""


def finite_elements(section):
    rings = outline(section)
    geometry = Geometry(Polygon(rings[0], rings[1:]))
    area = geometry.geom.area
    geometry.create_mesh(mesh_sizes=[area / 700])
    found = FiniteElements(geometry)
    found.calculate_geometric_properties()
    found.calculate_warping_properties()
    return found


@pytest.mark.outside(
    what="area, second moments, torsion, shear areas and shear centre of eight sections",
    source="finite elements of the library sectionproperties on the drawn outline",
    status="reference library",
    tolerance="0.8 % area and second moments, 3.5 % torsion, 6 % shear (9 % some), 1 % shear centre",
)
@pytest.mark.parametrize("which", SECTIONS)
def test_against_finite_elements(which):
    p, fe = properties(SECTIONS[which], BOOK), finite_elements(SECTIONS[which])
    ixx, iyy, _ = fe.get_ic()
    assert p.area == pytest.approx(fe.get_area(), rel=8e-3)
    assert p.iyy == pytest.approx(ixx, rel=8e-3)
    assert p.izz == pytest.approx(iyy, rel=8e-3)
    assert p.it == pytest.approx(fe.get_j(), rel=0.035)
    as_y, as_z = fe.get_as()
    band = SHEAR_BAND.get(which, 0.06)
    assert p.avy == pytest.approx(as_y, rel=band)
    assert p.avz == pytest.approx(as_z, rel=band)
    (sy, sz), (cy, cz) = fe.get_sc(), fe.get_c()
    size = math.hypot(p.width, p.height)
    assert p.shear_centre_y == pytest.approx(sy - cy, abs=0.01 * size)
    assert p.shear_centre_z == pytest.approx(sz - cz, abs=0.01 * size)
