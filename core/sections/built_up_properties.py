"""Properties of built-up and imported sections: moments by the parallel-axis theorem, the rest by section analysis.

Pieces that are joined act as one body; unjoined ones share a load by their own stiffness. Figures count in the main
material; a second one is weighted with the ratio of the moduli (transformed section).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from core.errors import BadEntry
from core.materials import material
from core.sections.assembly import Part, box_of, parts_of
from core.sections.built_up import BoltedPlate, BuiltUp, Piece
from core.sections.built_up_words import built_up_label
from core.sections.figures import Moments, moments_of, perimeter, together
from core.sections.outline_section import Outline, moments
from core.sections.properties import SectionProperties
from core.sections.shape import Region, Shape, key_from
from core.sections.shapes import Channel, FlatBar

Find = Callable[[Piece], SectionProperties]
Analysed = Callable[[str, Callable[[], Shape]], SectionProperties]

MESH_OF_WALL = 0.5
"""Largest triangle as a part of the thinnest wall squared."""

LEAST_TRIANGLES, MOST_TRIANGLES = 1000, 60_000
"""Thick solids need more triangles than their walls ask for; a big thin profile gets fewer."""

EXACT = "Area and second moments exact, by the parallel-axis theorem from the pieces."
ANALYSED = (
    "Torsion constant, shear areas and shear centre by finite elements on the outline, Poisson's ratio 0.3."
)
SOURCE = "Timoshenko, Strength of Materials (parallel axes, transformed section)"
BY_LIBRARY = "Pilkey, Analysis and Design of Elastic Beams (2002), by the library sectionproperties"


@dataclass(frozen=True, slots=True)
class _Bodies:
    """The pieces with their own figures and weights."""

    parts: tuple[Part, ...]
    own: tuple[SectionProperties, ...]
    weights: tuple[float, ...]

    def moments(self) -> list[Moments]:
        """Weighted moments of every piece in its place."""
        return [
            _moments(part, own).weighted(weight)
            for part, own, weight in zip(self.parts, self.own, self.weights, strict=True)
        ]


def built_up_properties(
    section: BuiltUp, find: Find, analysed: Analysed, metal: str | None = None
) -> SectionProperties:
    """Figures of a built-up section as it is counted.

    Args:
        find: gives the properties of a piece by itself.
        analysed: gives the properties of a shape, or raises NeedsAnalysis.
        metal: key of the main material; only a bolted plate asks for it.

    Raises:
        NeedsAnalysis: a piece or the whole has no figures yet. BadEntry: a bolted plate without a main material.
    """
    joint = getattr(section, "joint", "fully joined")
    if joint == "unjoined":
        return unjoined(section, find, metal)
    whole = joined(section, find, analysed, metal)
    if joint == "fully joined":
        return whole
    return _between(unjoined(section, find, metal), whole, section.share)  # type: ignore[union-attr]


def joined(section: BuiltUp, find: Find, analysed: Analysed, metal: str | None = None) -> SectionProperties:
    """Figures with the pieces joined without slip: the upper bound of a real joint."""
    bodies = _bodies(section, find, metal)
    whole = together(bodies.moments())
    found = analysed(key_of_parts(bodies.parts, bodies.weights), lambda: shape_of(section, metal))
    return replace(
        _frame(section, bodies, whole, metal),
        iyy=whole.iyy,
        izz=whole.izz,
        iyz=_small(whole),
        it=found.it,
        avy=found.avy,
        avz=found.avz,
        # Measured from the centroid of the chords, which differs from the exact one by a hair.
        shear_centre_y=found.shear_centre_y,
        shear_centre_z=found.shear_centre_z,
        method=f"Joined without slip. {EXACT} {ANALYSED}" + _second(section),
        source=f"{SOURCE}; {BY_LIBRARY}",
    )


def unjoined(section: BuiltUp, find: Find, metal: str | None = None) -> SectionProperties:
    """Figures with pieces that slide on each other but bend and twist alike: the lower bound of a real joint."""
    bodies = _bodies(section, find, metal)
    whole = together(bodies.moments())
    rows = list(zip(bodies.parts, bodies.own, bodies.weights, strict=True))
    iyy, izz = sum(n * p.iyy for _, p, n in rows), sum(n * p.izz for _, p, n in rows)

    def side(part: Part) -> float:
        return -1.0 if part.mirrored else 1.0

    # Each piece takes its share of a load by its own stiffness; the shares' resultant passes the shear centre.
    across = sum(n * p.iyy * (a.y + side(a) * (p.centroid_y + p.shear_centre_y)) for a, p, n in rows) / iyy
    up = sum(n * p.izz * (a.z + p.centroid_z + p.shear_centre_z) for a, p, n in rows) / izz
    return replace(
        _frame(section, bodies, whole, metal),
        iyy=iyy,
        izz=izz,
        iyz=sum(n * side(a) * p.iyz for a, p, n in rows),
        it=sum(n * p.it for _, p, n in rows),
        avy=sum(n * p.avy for _, p, n in rows),
        avz=sum(n * p.avz for _, p, n in rows),
        shear_centre_y=across - whole.y,
        shear_centre_z=up - whole.z,
        method="Unjoined: every piece bends and twists by itself, the figures add up." + _second(section),
        source="Timoshenko, Strength of Materials; each piece as it is by itself",
    )


def _between(low: SectionProperties, high: SectionProperties, share: float) -> SectionProperties:
    mixed = {
        name: (1.0 - share) * getattr(low, name) + share * getattr(high, name)
        for name in ("iyy", "izz", "iyz", "it", "avy", "avz", "shear_centre_y", "shear_centre_z")
    }
    method = f"Partly joined: {share:.0%} of the way from unjoined to fully joined, an estimate of the user. {high.method}"
    return replace(high, **mixed, method=method)


def shape_of(section: BuiltUp, metal: str | None = None) -> Shape:
    """The joined pieces as regions for the analysis."""
    parts = parts_of(section)
    weights = _weights(parts, metal)
    left, bottom, right, top = box_of(parts)
    wall = min(thinnest(part.piece) for part in parts)
    metal_area = sum(moments_of(part.rings()).area for part in parts)
    mesh = _mesh(wall, metal_area, (right - left) * (top - bottom))
    regions = tuple(Region(part.rings(), weight) for part, weight in zip(parts, weights, strict=True))
    return Shape(key=key_of_parts(parts, weights), name=built_up_label(section), regions=regions, mesh=mesh)


def _mesh(wall: float, metal: float, box: float) -> float:
    """Largest triangle, m2: two through the thinnest wall and enough of them in all, but no more than can be solved."""
    return max(min(MESH_OF_WALL * wall**2, metal / LEAST_TRIANGLES), box / MOST_TRIANGLES)


def key_of_parts(parts: Sequence[Part], weights: Sequence[float]) -> str:
    """The key of joined pieces: from their descriptions, so that drawing them is not needed to look them up."""
    rows = []
    for part, weight in zip(parts, weights, strict=True):
        measures = [getattr(part.piece, name) for name in part.piece.__struct_fields__]
        kind = type(part.piece).__name__
        rows.append((kind, measures, part.y, part.z, part.mirrored, f"{weight:.9g}"))
    return key_from(rows)


def outline_properties(section: Outline, analysed: Analysed) -> SectionProperties:
    """Figures of an imported outline. Raises NeedsAnalysis."""
    own = moments(section)
    found = analysed(key_from(("outline", *section.rings)), lambda: outline_shape(section))
    width, height = section.size()
    return SectionProperties(
        name=section.name,
        width=width,
        height=height,
        area=own.area,
        iyy=own.iyy,
        izz=own.izz,
        iyz=_small(own),
        it=found.it,
        avy=found.avy,
        avz=found.avz,
        wall=section.wall,
        shear_centre_y=found.shear_centre_y,
        shear_centre_z=found.shear_centre_z,
        centroid_y=own.y,
        centroid_z=own.z,
        method=f"Area and second moments exact for the drawn points (Green's theorem). {ANALYSED}",
        source=f"outline drawn by the user; {BY_LIBRARY}",
    )


def outline_shape(section: Outline) -> Shape:
    """An imported outline for the analysis; its mesh follows from its mean wall, 2 A / perimeter."""
    own = moments(section)
    width, height = section.size()
    wall = 2.0 * own.area / perimeter(section.rings)
    mesh = _mesh(wall, own.area, width * height)
    key = key_from(("outline", *section.rings))
    return Shape(key=key, name=section.name, regions=(Region(section.rings),), mesh=mesh)


def thinnest(piece: Piece) -> float:
    """Thinnest wall of a piece, m."""
    match piece:
        case FlatBar():
            return min(piece.width, piece.height)
        case Channel():
            return min(piece.web, piece.flange)
        case _:
            return piece.wall


def _moments(part: Part, own: SectionProperties) -> Moments:
    side = -1.0 if part.mirrored else 1.0
    return Moments(
        own.area, part.y + side * own.centroid_y, part.z + own.centroid_z, own.iyy, own.izz, side * own.iyz
    )


def _bodies(section: BuiltUp, find: Find, metal: str | None) -> _Bodies:
    parts = parts_of(section)
    return _Bodies(parts, tuple(find(part.piece) for part in parts), _weights(parts, metal))


def _weights(parts: Sequence[Part], metal: str | None) -> tuple[float, ...]:
    if all(part.metal is None for part in parts):
        return (1.0,) * len(parts)
    if metal is None:
        raise BadEntry(
            "material", "nothing", "is no main material for a plate of another", "a material's key"
        )
    main = material(metal).young
    return tuple(1.0 if part.metal is None else material(part.metal).young / main for part in parts)


def _frame(section: BuiltUp, bodies: _Bodies, whole: Moments, metal: str | None) -> SectionProperties:
    """Sizes, area, mass and place of the centroid; the rest is filled in by the caller."""
    left, bottom, right, top = box_of(bodies.parts)
    other = 0.0
    for part, own, weight in zip(bodies.parts, bodies.own, bodies.weights, strict=True):
        if part.metal is not None and metal is not None:
            other += own.area * (material(part.metal).density - weight * material(metal).density)
    return SectionProperties(
        name=built_up_label(section),
        width=right - left,
        height=top - bottom,
        area=whole.area,
        iyy=0.0,
        izz=0.0,
        it=0.0,
        avy=0.0,
        avz=0.0,
        wall=min(own.wall for own in bodies.own),
        centroid_y=whole.y,
        centroid_z=whole.z,
        other_mass=other,
    )


def _small(body: Moments) -> float:
    """The product of inertia, with rounding at a symmetric section taken for nothing."""
    return 0.0 if abs(body.iyz) < 1e-9 * (body.iyy + body.izz) else body.iyz


def _second(section: BuiltUp) -> str:
    if not isinstance(section, BoltedPlate):
        return ""
    return (
        f" The plate ({material(section.material).name}) counts with the ratio of the moduli; area and moments are those of "
        "the main material that would do the same."
    )
