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
from core.sections.shape import Region, Shape
from core.sections.t_slot import TSlot, label, outline

MESH_OF_WALL = 0.5
"""Largest triangle as a part of the wall squared: two quadratic triangles through each wall."""

FUSE, SPECK = 1e-6, 1e-3
"""Grid on which pieces are fused, mm; loose metal up to this area (mm2) is an effect of the grid."""

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


def analyse_shape(shape: Shape) -> SectionProperties:
    """Figures of a built-up or imported shape, weighted with the regions' moduli; about a second.

    Sizes and places count from the outer box and its middle.

    Raises:
        BadEntry: the library cannot mesh the shape.

    Source: Pilkey, Analysis and Design of Elastic Beams (2002), as built into the library sectionproperties.
    """
    y = [p[0] for region in shape.regions for p in region.rings[0]]
    z = [p[1] for region in shape.regions for p in region.rings[0]]
    middle = (max(y) + min(y)) / 2, (max(z) + min(z)) / 2
    try:
        found = solve_regions(shape.regions, shape.mesh)
    except (RuntimeError, ValueError, ArithmeticError, IndexError) as error:
        raise BadEntry(
            "section",
            shape.name,
            f"cannot be analysed ({error})",
            "an outline without slivers; redraw very short edges and sharp notches",
        ) from error
    found["centroid_y"] -= middle[0]
    found["centroid_z"] -= middle[1]
    return SectionProperties(
        name=shape.name,
        width=max(y) - min(y),
        height=max(z) - min(z),
        wall=math.sqrt(2.0 * shape.mesh),
        method="Finite elements, six-node triangles, Poisson's ratio 0.3.",
        source="Pilkey, Analysis and Design of Elastic Beams (2002), by the library sectionproperties",
        **found,
    )


def analyse_any(section: TSlot | Shape) -> SectionProperties:
    """What `NeedsAnalysis` asks for."""
    return analyse(section) if isinstance(section, TSlot) else analyse_shape(section)


def solve_rings(rings: tuple[Ring, ...], mesh: float) -> dict[str, float]:
    """Figures of a section with two axes of symmetry, by their names in `SectionProperties`.

    Args:
        rings: the outer ring and any holes, (y, z) in m.
        mesh: largest area of a triangle, m2.
    """
    found = solve_regions((Region(rings),), mesh)
    return {name: found[name] for name in ("area", "iyy", "izz", "it", "avy", "avz")}


def solve_regions(regions: tuple[Region, ...], mesh: float) -> dict[str, float]:
    """Figures of regions joined along the lines where they touch, by their names in `SectionProperties`.

    The centroid counts from the origin of the points, the shear centre from the centroid.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the library's plotting half warns on import
        from sectionproperties.analysis.section import Section
        from sectionproperties.pre.geometry import CompoundGeometry, Geometry

    bodies: list[Any] = []
    for number, weight in enumerate(dict.fromkeys(region.weight for region in regions)):
        alike = [region for region in regions if region.weight == weight]
        bodies.append(Geometry(_fused(alike), material=_metal(number, weight)))
    geometry: Any = bodies[0] if len(bodies) == 1 else CompoundGeometry(bodies)
    solved: Any = Section(geometry.create_mesh(mesh_sizes=[1e6 * mesh] * len(bodies)))
    solved.calculate_geometric_properties()
    solved.calculate_warping_properties()
    about_y, about_z, mixed = solved.get_eic()  # the library's x is our y, its y our z
    shear_y, shear_z = solved.get_eas()
    centre, shear_centre = solved.get_c(), solved.get_sc()
    return {
        "area": float(solved.get_ea()) * 1e-6,
        "iyy": float(about_y) * 1e-12,
        "izz": float(about_z) * 1e-12,
        "iyz": float(mixed) * 1e-12,
        "it": float(solved.get_ej()) * 1e-12,
        "avy": float(shear_y) * 1e-6,
        "avz": float(shear_z) * 1e-6,
        "centroid_y": float(centre[0]) * 1e-3,
        "centroid_z": float(centre[1]) * 1e-3,
        "shear_centre_y": float(shear_centre[0] - centre[0]) * 1e-3,
        "shear_centre_z": float(shear_centre[1] - centre[1]) * 1e-3,
    }


def _fused(regions: list[Region]) -> Any:
    """Touching regions as one polygon, in mm, since the mesher has fixed tolerances."""
    from shapely import Polygon, get_parts, set_precision, unary_union

    polygons = []
    for region in regions:
        outer, *holes = [[(1e3 * y, 1e3 * z) for y, z in ring] for ring in region.rings]
        polygons.append(Polygon(outer, holes))
    if len(polygons) == 1:
        return polygons[0]
    whole = unary_union([set_precision(polygon, FUSE) for polygon in polygons], grid_size=FUSE)
    pieces = [piece for piece in get_parts(whole) if piece.area > SPECK]
    if len(pieces) != 1:
        raise BadEntry(
            "section", f"{len(pieces)} pieces", "do not touch each other", "pieces whose walls meet"
        )
    return pieces[0].simplify(0.0)


def _metal(number: int, weight: float) -> Any:
    """A material whose modulus is the weight, so that what the library weights with it is the transformed figure."""
    from sectionproperties.pre.pre import Material

    return Material(
        name=f"metal {number}",
        elastic_modulus=weight,
        poissons_ratio=POISSON,
        yield_strength=1,
        density=1,
        color="w",
    )
