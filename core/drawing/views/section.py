"""A cross-section to scale as it is built: outline, sizes, axes, centroid, shear centre, slots and welds."""

from __future__ import annotations

import math
from collections.abc import Iterator

from core.drawing.primitives import Circle, Dimension, Drawing, Line, Shape, Text
from core.drawing.views.boxes import outline_shape, stuff_role
from core.sections import (
    BUILT_UP,
    Section,
    SectionProperties,
    WeldLine,
    label,
    parts_of,
    slot_lines,
    solids,
)
from core.sections.outlines import Face
from core.units import UnitSet, show

NEAR = 0.01
"""Centroid and shear centre nearer than this share of the size to each other are one mark."""


def section_drawing(
    section: Section,
    turned: bool,
    units: UnitSet,
    found: SectionProperties | None = None,
    metal: str = "",
    welds: tuple[WeldLine, ...] = (),
) -> Drawing:
    """The section as it stands, middle of its outer box at the origin.

    Args:
        found: properties as it stands, for centroid, shear centre and main axes; without them the axes run through the middle.
        metal: key of the main material, which tells the filling; empty draws all alike.
        welds: of the section before it is turned.
    """
    pieces = solids(section, turned)
    points = [point for rings in pieces for point in rings[0]]
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    bottom, top = min(y for _, y in points), max(y for _, y in points)
    size = max(right - left, top - bottom)
    items: list[Shape] = [
        outline_shape(rings, 0.0, 0.0, role, "section", hint)
        for rings, role, hint in zip(pieces, *_pieces(section, metal), strict=True)
    ]
    items += _axes(found, (left, bottom, right, top), 0.1 * size)
    items += _slots(section, turned, (left, bottom, right, top), 0.05 * size)
    items += [_weld(weld, turned, 0.012 * size) for weld in welds]
    items += _marks(found, size)
    items += [
        Dimension(start=(left, bottom), end=(right, bottom), offset=-0.25 * size,
                  label=show(right - left, "length", units)),
        Dimension(start=(left, bottom), end=(left, top), offset=0.25 * size,
                  label=show(top - bottom, "length", units)),
    ]  # fmt: skip
    items += _inner_sizes(section, turned, units, (right, top, size))
    return Drawing(items=tuple(items), title=label(section))


def _pieces(section: Section, metal: str) -> tuple[list[str], list[str]]:
    """Role and hint of every piece."""
    if not isinstance(section, BUILT_UP):
        return [stuff_role(metal) if metal else "beam"], [label(section)]
    parts = parts_of(section)
    roles = [stuff_role(part.metal or metal) if metal else "beam" for part in parts]
    return roles, [f"{part.what[:1].upper()}{part.what[1:]}: {label(part.piece)}" for part in parts]


def _axes(
    found: SectionProperties | None, box: tuple[float, float, float, float], out: float
) -> Iterator[Shape]:
    left, bottom, right, top = box
    y, z = (0.0, 0.0) if found is None else (found.centroid_y, found.centroid_z)
    yield Line(
        start=(left - out, z), end=(right + out, z), role="axis", hint="y-y axis, through the centroid"
    )
    yield Line(
        start=(y, bottom - out), end=(y, top + out), role="axis", hint="z-z axis, through the centroid"
    )
    if found is None:
        return
    yield Text(at=(right + 1.15 * out, z), text="y", role="note")
    yield Text(at=(y, top + 1.3 * out), text="z", anchor="centre", role="note")
    if abs(found.iyz) <= 0.02 * math.sqrt(found.iyy * found.izz):
        return
    angle, reach = found.principal()[2], 0.5 * math.hypot(right - left, top - bottom) + out
    for number, turn in enumerate((angle, angle + math.pi / 2)):
        step = (reach * math.cos(turn), reach * math.sin(turn))
        hint = ("Axis of the largest second moment", "Axis of the smallest second moment")[number]
        yield Line(start=(y - step[0], z - step[1]), end=(y + step[0], z + step[1]), role="hidden", hint=hint)


def _marks(found: SectionProperties | None, size: float) -> Iterator[Shape]:
    """Centroid S and shear centre M."""
    if found is None:
        return
    s = (found.centroid_y, found.centroid_z)
    m = (s[0] + found.shear_centre_y, s[1] + found.shear_centre_z)
    together = math.dist(s, m) < NEAR * size
    radius = 0.013 * size
    yield Circle(
        centre=s, radius=radius, role="screw", key="centroid", hint="S: centroid, through which the axes run"
    )
    words = "S = M" if together else "S"
    yield Text(at=(s[0] + 2.0 * radius, s[1] + 2.0 * radius), text=words, role="note")
    if not together:
        hint = "M: shear centre; a load through it bends without twisting"
        yield Circle(centre=m, radius=radius, role="grip", key="shear_centre", hint=hint)
        yield Text(at=(m[0] - 2.0 * radius, m[1] - 4.0 * radius), text="M", anchor="right", role="note")


def _slots(
    section: Section, turned: bool, box: tuple[float, float, float, float], out: float
) -> Iterator[Shape]:
    """A short mark at the middle line of every slot."""
    left, bottom, right, top = box
    middle_y, middle_z = (left + right) / 2, (bottom + top) / 2
    faces: tuple[tuple[Face, float, bool], ...] = (
        ("top", top, True),
        ("bottom", bottom, True),
        ("left", left, False),
        ("right", right, False),
    )
    for face, edge, level in faces:
        side = out if face in ("top", "right") else -out
        for at in slot_lines(section, turned, face):
            ends = (
                ((middle_y + at, edge - side), (middle_y + at, edge + side))
                if level
                else ((edge - side, middle_z + at), (edge + side, middle_z + at))
            )
            yield Line(start=ends[0], end=ends[1], role="slot", hint="Middle line of a slot")


def _weld(weld: WeldLine, turned: bool, radius: float) -> Circle:
    place = (-weld.z, weld.y) if turned else (weld.y, weld.z)
    return Circle(
        centre=place, radius=radius, role="finding", key="weld", hint=f"Weld along the length: {weld.joins}"
    )


def _inner_sizes(
    section: Section, turned: bool, units: UnitSet, corner: tuple[float, float, float]
) -> Iterator[Shape]:
    """Heights of the pieces of a built-up section, at its right, where they lie above each other."""
    right, _, size = corner
    if not isinstance(section, BUILT_UP) or turned:
        return
    spans = sorted({(round(part.box()[1], 9), round(part.box()[3], 9)) for part in parts_of(section)})
    if len(spans) < 2 or len(spans) > 4:
        return
    edge = right + 0.03 * size
    for low, high in spans:
        yield Dimension(
            start=(edge, low), end=(edge, high), offset=-0.2 * size, label=show(high - low, "length", units)
        )
