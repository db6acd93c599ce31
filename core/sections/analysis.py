"""Section analysis by finite elements, for profiles that no closed formula covers.

The only module that imports the analysis library, and only inside functions, since that takes a second.
Its mesher embeds Triangle, whose licence limits commercial redistribution: anything else that fills a
`SectionProperties` can take this module's place, and nothing here runs for the stock sizes.
"""

from __future__ import annotations

import math
import warnings
from typing import Any

from core.errors import BadEntry
from core.sections.hollow import POISSON
from core.sections.outlines import Ring
from core.sections.properties import SectionProperties
from core.sections.t_slot import TSlot, label, outline

MESH_OF_WALL = 0.5
"""Largest triangle as a part of the wall squared: two quadratic triangles through each wall."""

MOST_TRIANGLES = 60_000
"""A finer mesh than this would be refused rather than fill the memory."""


def analyse(section: TSlot, mesh: float | None = None) -> SectionProperties:
    """Area, second moments, torsion constant and shear areas of a T-slot profile; takes seconds.

    Args:
        section: the profile.
        mesh: largest area of a triangle, m2; half the wall squared when left out.

    Raises:
        BadEntry: the mesh is not above zero, or so fine that the analysis would not end.

    Source: Pilkey, Analysis and Design of Elastic Beams (2002), as built into the library sectionproperties.
    """
    rings = outline(section)
    least = section.width * section.height / MOST_TRIANGLES
    if mesh is not None and not (math.isfinite(mesh) and mesh >= least):
        raise BadEntry("mesh", f"{mesh:g} m2", "is too fine for this section", f"{least:.2g} m2 or more")
    # A big thin profile gets a coarser mesh than asked for by its wall rather than no answer.
    size = max(MESH_OF_WALL * section.wall**2, least) if mesh is None else mesh
    found = solve_rings(rings, size)
    return SectionProperties(
        name=label(section),
        width=section.width,
        height=section.height,
        wall=section.lip,
        method="Finite elements, six-node triangles, Poisson's ratio 0.3; sharp corners, so that the torsion "
        "constant lies up to 1 % above that of an endlessly fine mesh. The outline idealises the inside.",
        source="Pilkey, Analysis and Design of Elastic Beams (2002), by the library sectionproperties",
        **found,
    )


def solve_rings(rings: tuple[Ring, ...], mesh: float) -> dict[str, float]:
    """Figures of a section with two axes of symmetry, by their names in `SectionProperties`.

    Args:
        rings: the outer ring and any holes, (y, z) in m.
        mesh: largest area of a triangle, m2.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the library's plotting half warns on import
        from sectionproperties.analysis.section import Section
        from sectionproperties.pre.geometry import Geometry
        from sectionproperties.pre.pre import Material
        from shapely import Polygon

    # In mm, since the mesher has fixed tolerances.
    outer, *holes = [[(1e3 * y, 1e3 * z) for y, z in ring] for ring in rings]
    # Modulus 1 makes every figure that the library weights with the modulus the bare figure.
    metal = Material(
        name="metal", elastic_modulus=1, poissons_ratio=POISSON, yield_strength=1, density=1, color="w"
    )
    geometry: Any = Geometry(Polygon(outer, holes), material=metal)
    solved: Any = Section(geometry.create_mesh(mesh_sizes=[1e6 * mesh]))
    solved.calculate_geometric_properties()
    solved.calculate_warping_properties()
    about_y, about_z, _ = solved.get_eic()  # the library's x is our y, its y our z
    shear_y, shear_z = solved.get_eas()
    return {
        "area": float(solved.get_area()) * 1e-6,
        "iyy": float(about_y) * 1e-12,
        "izz": float(about_z) * 1e-12,
        "it": float(solved.get_ej()) * 1e-12,
        "avy": float(shear_y) * 1e-6,
        "avz": float(shear_z) * 1e-6,
    }
