"""The drilling list as a DXF drawing: each rail laid flat at full size, holes and joints on layers with plain names."""

from __future__ import annotations

import io
from collections.abc import Sequence

from core.fasteners.drilling import RailMarks
from core.units import UnitSet, from_si, show

LAYERS = {"Beam": 8, "Rail": 7, "Holes": 5, "Centres": 1, "Joints": 3, "Words": 2}
"""Layers and their colour numbers (ACI)."""
UNIT_CODES = {"mm": 4, "in": 1}
"""$INSUNITS of the DXF reference: 1 inches, 4 millimetres."""
APART = 0.2
CROSS = 0.006
Point = tuple[float, float]


def drill_dxf(rails: Sequence[RailMarks], units: UnitSet) -> bytes:
    """Every rail's list as a drawing in the user's unit of length; x runs from the beam's start, rails stand above each other.

    The rail's width is drawn to scale; a circle is the rail's own hole, its centre what is marked on the beam.
    """
    import ezdxf  # takes a moment; only this export wants it
    from ezdxf.enums import TextEntityAlignment

    def long(value: float) -> float:
        return float(from_si(value, "length", units))

    document = ezdxf.new("R2010", setup=False)  # type: ignore[attr-defined]
    document.header["$INSUNITS"] = UNIT_CODES[units.length]
    document.header["$MEASUREMENT"] = 0 if units.length == "in" else 1
    for name, colour in LAYERS.items():
        document.layers.add(name, color=colour)
    space = document.modelspace()
    height = long(0.005)
    for row, rail in enumerate(rails):
        middle, half = -row * APART, rail.width / 2.0
        start = max(rail.margin, 0.0)

        def box(left: float, right: float, half: float, layer: str, middle: float = middle) -> None:
            corners = [
                (left, middle - half),
                (right, middle - half),
                (right, middle + half),
                (left, middle + half),
            ]
            points = [(long(x), long(y)) for x, y in corners]
            space.add_lwpolyline(points, close=True, dxfattribs={"layer": layer})

        def line(start: Point, end: Point, layer: str) -> None:
            ends = [(long(x), long(y)) for x, y in (start, end)]
            space.add_line(ends[0], ends[1], dxfattribs={"layer": layer})

        def write(x: float, y: float, text: str) -> None:
            words = space.add_text(text, height=height, dxfattribs={"layer": "Words"})
            words.set_placement((long(x), long(y)), align=TextEntityAlignment.LEFT)

        box(start - rail.margin, start - rail.margin + rail.beam_length, half + 0.02, "Beam")
        box(start, start + rail.length, half, "Rail")
        write(start, middle + half + 0.03, f"{rail.label}: {rail.work}")
        for mark in rail.marks:
            x = start + mark.place
            if mark.kind == "hole":
                centre = (long(x), long(middle))
                space.add_circle(centre, long(rail.hole / 2.0), dxfattribs={"layer": "Holes"})
                for dx, dy in ((CROSS, 0.0), (0.0, CROSS)):
                    line((x - dx, middle - dy), (x + dx, middle + dy), "Centres")
                write(x, middle - half - 0.012, f"{mark.number}: {show(mark.place, 'length', units)}")
            elif mark.kind == "joint":
                line((x, middle - half - 0.01), (x, middle + half + 0.01), "Joints")
    text = io.StringIO()
    document.write(text)
    return text.getvalue().encode("utf-8")
