"""The bow that welds along a beam add when they cool and shrink: each pulls the beam's ends towards its own side."""

from __future__ import annotations

from core.form.delivered import remedy
from core.form.results import Deviation, PartBow, WeldBow
from core.machine.form import Weld
from core.machine.layout import Layout
from core.machine.project import Project


def weld_bow(area: float, length: float, offset: float, second_moment: float) -> float:
    """Bow in m of a steel beam by weld metal of cross-section `area` (m2) over `length` (m), `offset` m off its axis.

    Source: O. W. Blodgett, Design of Welded Structures: bow = 0.005 Aw L^2 d / I (from memory).
    """
    return 0.005 * area * length**2 * offset / second_moment


def find_weld_bows(project: Project, lay: Layout) -> tuple[WeldBow, ...]:
    """One for each row; a weld shorter than its beam leaves straight ends, which lengthen the bow's arm."""
    return tuple(_bow(weld, lay) for weld in project.straightness.welds)


def _bow(weld: Weld, lay: Layout) -> WeldBow:
    on_beam = weld.part == "gantry beam"
    shape = lay.sections.beam if on_beam else lay.sections.side_beam
    whole = lay.beam_length if on_beam else lay.side_beam_length
    second = shape.iyy if weld.direction == "up and down" else shape.izz
    length = min(weld.length or whole, whole)
    area = weld.count * weld.filled * weld.leg**2 / 2.0
    bow = weld_bow(area, length, weld.offset, second) * (2.0 * whole / length - 1.0)
    return WeldBow(weld.name, weld.part, weld.direction, area, -bow)


def sum_bows(
    project: Project, deviations: tuple[Deviation, ...], welds: tuple[WeldBow, ...]
) -> tuple[PartBow, ...]:
    """Delivered bow and welds, for both beams and both directions; a direction without welds is left out."""
    wishes = project.straightness
    found = []
    for part in ("gantry beam", "side beam"):
        delivered = next((d.allowed for d in deviations if d.part == part and d.what == "bow"), None)
        for direction in ("up and down", "front and back"):
            own = [w.bow for w in welds if (w.part, w.direction) == (part, direction)]
            if not own:
                continue
            worst = abs(sum(own)) + (delivered or 0.0)
            todo = remedy(worst, wishes.rail_straightness, wishes)
            found.append(
                PartBow(part, direction, delivered or 0.0, sum(own), worst, wishes.rail_straightness, todo)
            )
    return tuple(found)
