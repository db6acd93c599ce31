"""T-slot building profiles: description, drawn outline, slot lines and invented stock shapes.

Building profiles follow no standard, so every measure is an entry that a person takes with calipers. The
inside is idealised: skin, lips, walls round the slots, a ring round each core bore and diagonal webs; corners
are sharp.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Annotated, Any

from core.errors import BadEntry
from core.fields import Described, Spec
from core.sections.labels import sizes
from core.sections.outlines import Face, Point, Ring, face_before

TOLERANCE = 1e-9
"""Lengths closer than this (m) count as equal."""

MOST_MODULES = 8
"""Modules along one side; more would be analysed for minutes."""

GRID = 1e-5
"""Grid of the drawn outline, mm."""

SPECK = 1e-3
"""Loose metal up to this area (mm2) is an effect of the grid."""

BORE_STEPS = 8
"""Chords of a quarter of a core bore."""


class TSlot(Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="t_slot"):
    """A T-slot profile of square modules, each with a slot on every face that looks outwards."""

    width: Annotated[float, Spec("length", 0.01, 0.5, "Width", "Outer size along the horizontal")]
    height: Annotated[float, Spec("length", 0.01, 0.5, "Height", "Outer size along the vertical")]
    module: Annotated[float, Spec("length", 0.01, 0.2, "Module", "Side of one square cell; the slot spacing")]
    slot_opening: Annotated[float, Spec("length", 0.001, 0.1, "Slot opening", "Gap between the lips")]
    lip: Annotated[float, Spec("length", 0.0005, 0.05, "Lip thickness", "What a slot nut clamps")]
    inner_width: Annotated[float, Spec("length", 0.002, 0.2, "Slot inner width", "Behind the lips")]
    slot_depth: Annotated[
        float, Spec("length", 0.001, 0.1, "Slot depth", "From the face to the slot's bottom")
    ]
    wall: Annotated[float, Spec("length", 0.0005, 0.02, "Wall thickness", "Skin, inner walls and webs")]
    core_bore: Annotated[float, Spec("length", 0.001, 0.1, "Core bore", "Hole in the middle of a module")]

    def check(self) -> None:
        for name in ("width", "height"):
            self._whole_modules(name)
        half, web = self.module / 2, math.sqrt(2) * self.wall
        self._above("inner_width", self.slot_opening, "the slot opening")
        self._above("slot_depth", self.lip, "the lip thickness")
        # The webs run along the diagonals of a module, and neither slot nor bore may cut them.
        self._at_most("inner_width", 2 * (half - self.lip - web), "what lip and diagonal webs leave")
        self._at_most("slot_depth", half - web - self.slot_opening / 4, "what the diagonal webs leave")
        self._at_most(
            "core_bore", 2 * (half - self.slot_depth - self.wall), "what the slots and a wall leave"
        )

    def _whole_modules(self, name: str) -> None:
        value = getattr(self, name)
        count = round(value / self.module)
        if not 1 <= count <= MOST_MODULES or abs(value - count * self.module) > TOLERANCE:
            raise BadEntry(
                name,
                _mm(value),
                "is not a whole number of modules",
                f"1 to {MOST_MODULES} times the module of {_mm(self.module)}",
            )

    def _above(self, name: str, limit: float, words: str) -> None:
        if getattr(self, name) <= limit + TOLERANCE:
            raise BadEntry(name, _mm(getattr(self, name)), "is too small", f"more than {words}, {_mm(limit)}")

    def _at_most(self, name: str, limit: float, words: str) -> None:
        if getattr(self, name) > limit + TOLERANCE:
            accepted = f"up to {words}, {_mm(limit)}" if limit > 0 else f"a larger module: {words} is nothing"
            raise BadEntry(name, _mm(getattr(self, name)), "is too large", accepted)

    def counts(self) -> tuple[int, int]:
        """Modules along the width and along the height."""
        return round(self.width / self.module), round(self.height / self.module)


def _mm(length: float) -> str:
    return f"{length * 1e3:.6g} mm"


def label(section: TSlot) -> str:
    """The section in words: "160 x 80 T-slot profile, module 40, slot 8.2"."""
    return (
        f"{sizes(section.height, section.width)} T-slot profile, "
        f"module {sizes(section.module)}, slot {sizes(section.slot_opening)}"
    )


def slot_lines(section: TSlot, turned: bool, face: Face) -> tuple[float, ...]:
    """Middles of the slots of one face as it looks once turned, m from the face's middle, rising.

    Top and bottom faces are measured along y, left and right faces along z.
    """
    across, up = section.counts()
    count = across if face_before(face, turned) in ("top", "bottom") else up
    return tuple(_middles(count, section.module))


def _middles(count: int, module: float) -> list[float]:
    return [(i - (count - 1) / 2) * module for i in range(count)]


@lru_cache(maxsize=64)
def outline(section: TSlot) -> tuple[Ring, ...]:
    """Outer ring anticlockwise, then the holes clockwise: (y, z) in m from the middle of the outer box."""
    solid = _solid(section)
    rings = [solid.exterior, *solid.interiors]
    return tuple(_ring(ring, anticlockwise=index == 0) for index, ring in enumerate(rings))


def _ring(ring: Any, anticlockwise: bool) -> Ring:
    points: tuple[Point, ...] = tuple((float(y) / 1e3, float(z) / 1e3) for y, z in ring.coords[:-1])
    return points if bool(ring.is_ccw) == anticlockwise else points[::-1]


def _solid(section: TSlot) -> Any:
    """The metal as a shapely polygon in mm.

    Everything is laid on a fine grid: edges that all but coincide are common here, and without the grid the
    geometry library now and then loses a piece.
    """
    from shapely import Point as Spot
    from shapely import Polygon, box, unary_union

    width, height, module, wall = (
        1e3 * v for v in (section.width, section.height, section.module, section.wall)
    )
    across, up = section.counts()
    outer = box(-width / 2, -height / 2, width / 2, height / 2)
    metal = [outer.difference(box(wall - width / 2, wall - height / 2, width / 2 - wall, height / 2 - wall))]
    bores = []
    for y in _middles(across, module):
        for z in _middles(up, module):
            metal += [*_webs(y, z, module, wall), Spot(y, z).buffer(_bore(section) + wall, BORE_STEPS)]
            bores.append(Spot(y, z).buffer(_bore(section), BORE_STEPS))
    places = _places(across, up, module)
    slot, surround = (Polygon(points) for points in _slot(section))
    metal += [_placed(surround, *place) for place in places]
    slots = unary_union([_placed(slot, *place) for place in places], grid_size=GRID)
    solid = _one_piece(unary_union(metal, grid_size=GRID).intersection(outer, grid_size=GRID))
    solid = _one_piece(solid.difference(slots, grid_size=GRID))
    # No die for extrusion makes hollows as narrow as half a wall; here they are filled.
    hollows = [h for h in (Polygon(r) for r in solid.interiors) if not h.buffer(-wall / 4).is_empty]
    filled = Polygon(solid.exterior, [h.exterior for h in hollows])
    return _one_piece(filled.difference(unary_union(bores), grid_size=GRID))


def _one_piece(shape: Any) -> Any:
    """The polygon of a shape, without loose edges and specks that snapping to the grid leaves."""
    from shapely import get_parts

    pieces = [part for part in get_parts(shape) if part.area > SPECK]
    if len(pieces) != 1:
        raise BadEntry("wall", f"{len(pieces)} pieces of metal", "come of these measures", "one piece")
    return pieces[0]


def _bore(section: TSlot) -> float:
    return 1e3 * section.core_bore / 2


def _webs(y: float, z: float, module: float, wall: float) -> list[Any]:
    from shapely import LineString

    h = module / 2
    ends = (((-h, -h), (h, h)), ((-h, h), (h, -h)))
    return [
        LineString([(y + a, z + b), (y + c, z + d)]).buffer(wall / 2, cap_style="square")
        for (a, b), (c, d) in ends
    ]


def _slot(section: TSlot) -> tuple[list[Point], list[Point]]:
    """The slot cut into a top face at z = 0, and the block of lips and walls that it is cut out of; mm.

    Below the lips the slot is a box whose lower corners are cut off along the diagonal webs.
    """
    half = 1e3 * section.module / 2
    gap, inner = 1e3 * section.slot_opening / 2, 1e3 * section.inner_width / 2
    lip, depth, wall = 1e3 * section.lip, 1e3 * section.slot_depth, 1e3 * section.wall
    reach = half - math.sqrt(2) * wall
    bottom, knee = min(inner, reach - depth), max(lip, min(depth, reach - inner))
    slot = [(bottom, -depth), (inner, -knee), (inner, -lip), (gap, -lip), (gap, 1.0)]
    side = min(inner + wall, half)
    # The slanted sides of the block lie on the diagonals of the module, one wall from the slot's.
    low = depth + wall
    block = [(min(side, half - low), -low), (side, -min(low, half - side)), (side, 0.0)]
    return _both_sides(slot), _both_sides(block)


def _both_sides(right: list[Point]) -> list[Point]:
    return right + [(-y, z) for y, z in reversed(right)]


def _places(across: int, up: int, module: float) -> list[tuple[float, float, int]]:
    """Middle of every slot's mouth on the outline and the quarter turns from the top face."""
    top, side = up * module / 2, across * module / 2
    level = [(y, z, q) for y in _middles(across, module) for z, q in ((top, 0), (-top, 2))]
    upright = [(y, z, q) for z in _middles(up, module) for y, q in ((-side, 1), (side, 3))]
    return level + upright


def _placed(shape: Any, y: float, z: float, quarter: int) -> Any:
    from shapely.affinity import affine_transform

    c, s = ((1, 0), (0, 1), (-1, 0), (0, -1))[quarter]
    return affine_transform(shape, [c, -s, s, c, y, z])


def _stock(module: float, width: float, height: float) -> TSlot:
    """One invented profile in the middle of what is common for its slot size (mm)."""
    shape = {
        30.0: {
            "slot_opening": 8.2,
            "lip": 2.2,
            "inner_width": 16.5,
            "slot_depth": 9.2,
            "wall": 1.7,
            "core_bore": 6.8,
        },
        50.0: {
            "slot_opening": 10.1,
            "lip": 5.5,
            "inner_width": 22.0,
            "slot_depth": 15.5,
            "wall": 2.4,
            "core_bore": 9.0,
        },
        40.0: {
            "slot_opening": 8.2,
            "lip": 4.5,
            "inner_width": 20.0,
            "slot_depth": 12.3,
            "wall": 2.0,
            "core_bore": 6.8,
        },
        45.0: {
            "slot_opening": 10.1,
            "lip": 5.0,
            "inner_width": 21.0,
            "slot_depth": 14.0,
            "wall": 2.2,
            "core_bore": 9.0,
        },
    }[module]
    lengths = {"width": width, "height": height, "module": module, **shape}
    # Rounding makes 0.0082 of 8.2 / 1000 and keeps the files short.
    return TSlot(**{name: round(value / 1e3, 9) for name, value in lengths.items()})


STOCK: tuple[TSlot, ...] = tuple(
    _stock(module, width, height)
    for module, width, height in (
        (40.0, 40.0, 40.0),
        (40.0, 40.0, 80.0),
        (40.0, 80.0, 80.0),
        (40.0, 40.0, 120.0),
        (40.0, 40.0, 160.0),
        (40.0, 80.0, 120.0),
        (40.0, 80.0, 160.0),
        (45.0, 45.0, 45.0),
        (45.0, 45.0, 90.0),
        (45.0, 90.0, 90.0),
        (45.0, 90.0, 180.0),
        (45.0, 45.0, 180.0),
        (45.0, 90.0, 135.0),
        (40.0, 120.0, 120.0),
        (30.0, 30.0, 30.0),
        (30.0, 30.0, 60.0),
        (30.0, 60.0, 60.0),
        (30.0, 30.0, 120.0),
        (30.0, 60.0, 120.0),
        (30.0, 90.0, 90.0),
        (50.0, 50.0, 50.0),
        (50.0, 50.0, 100.0),
        (50.0, 100.0, 100.0),
        (50.0, 50.0, 150.0),
        (50.0, 100.0, 200.0),
    )
)
"""Invented profiles with measures common in the trade (common practice); not any maker's."""
