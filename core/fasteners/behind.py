"""What lies behind the face that carries a rail, by stretches along the rail: uprights, legs, cross members.

Nuts on through bolts cannot be reached there; other screws may stand over it, and the drilling list names it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.fasteners.rails import RailAnswer
from core.findings import Finding
from core.machine.base import Legs
from core.machine.layout import Layout, support_places
from core.machine.project import Project
from core.units import UnitSet, show


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part behind a rail, from start to end along the rail, m from the rail's start."""

    start: float
    end: float
    what: str

    def covers(self, place: float) -> bool:
        return self.start <= place <= self.end


def behind(project: Project, lay: Layout, axis: str) -> tuple[Stretch, ...]:
    """The parts behind the rails of an axis; both rails have the same. Rails lie in the middle of their beam."""
    if axis == "x":
        return _behind_x(project, lay)
    return _behind_y(project, lay) if axis == "y" else ()


def _behind_x(project: Project, lay: Layout) -> tuple[Stretch, ...]:
    gantry = project.machine.gantry
    facing = {"top": "on top", "front": "in front"}[gantry.beam.rail_face]
    if gantry.upright.seat != facing:
        return ()
    half, middle = lay.sections.upright.width / 2.0, lay.x_rail_length / 2.0
    places = (("left upright", -lay.upright_spacing / 2.0), ("right upright", lay.upright_spacing / 2.0))
    return tuple(Stretch(middle + x - half, middle + x + half, what) for what, x in places)


def _behind_y(project: Project, lay: Layout) -> tuple[Stretch, ...]:
    base = project.machine.base
    legs = isinstance(base.stand, Legs) and lay.sections.leg is not None and lay.sections.cross is not None
    start = lay.side_y - lay.y_rail_length / 2.0
    if not legs and base.rail_face != "top":
        return ()
    assert not legs or (lay.sections.leg is not None and lay.sections.cross is not None)
    if not legs:
        word, wide = "support", lay.sections.side_beam.width
    elif base.rail_face == "top":
        word, wide = "leg", lay.sections.leg.height  # type: ignore[union-attr]
    else:
        word, wide = "cross member", lay.sections.cross.width  # type: ignore[union-attr]
    return tuple(
        Stretch(y - start - wide / 2.0, y - start + wide / 2.0, f"{word} {number}")
        for number, y in enumerate(support_places(project.machine, lay), start=1)
    )


def about_behind(project: Project, lay: Layout, rails: Sequence[RailAnswer]) -> list[Finding]:
    """Through bolts whose nuts would stand in an upright, a leg or a cross member; one finding for each pair of rails."""
    found = []
    for axis in dict.fromkeys(rail.axis for rail in rails):
        rail = next(r for r in rails if r.axis == axis)
        if rail.hold != "through bolt":
            continue
        held = {
            number: part.what
            for number, place in enumerate(rail.holes, start=1)
            for part in behind(project, lay, axis)
            if part.covers(place)
        }
        if not held:
            continue
        names = ", ".join(f"{number} ({what})" for number, what in held.items())
        text = (
            f"Nuts of the {axis.upper()} rails' through bolts cannot be reached at hole{'s' if len(held) > 1 else ''} {names}. "
            "Tapped bars or rivet nuts there, or another hold, would help."
        )
        path = {"x": "machine.gantry.beam", "y": "machine.base"}[axis]
        found.append(
            Finding(
                "hole-under-plate",
                "warning",
                f"{path}.rail_fastening.hold",
                text,
                float(len(held)),
                0.0,
                "count",
                f"{axis.upper()} rails",
            )
        )
    return found


def stretches_in_words(stretches: Sequence[Stretch], units: UnitSet) -> str:
    """All stretches in one sentence; empty where there is nothing behind."""
    if not stretches:
        return ""
    each = (f"{s.what} {show(s.start, 'length', units)} to {show(s.end, 'length', units)}" for s in stretches)
    return f"Behind it: {'; '.join(each)}."
