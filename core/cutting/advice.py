"""What is to be said of a cut: the spindle's power and speed, and chips too thin or too thick."""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.findings import Finding
from core.machine.project import Project
from core.units import UnitSet, show, show_beside, tell

if TYPE_CHECKING:
    from core.cutting.answer import CutCase


def advise(project: Project, case: CutCase) -> list[Finding]:
    """Findings of one load case."""
    units = UnitSet(project.display.length, project.display.force)
    return [*_power(case, units), *_speed(project, case, units), *_chip(case, units)]


def _at(case: CutCase, entry: str) -> str:
    return f"cases.{case.number}.load.{entry}"


def _power(case: CutCase, units: UnitSet) -> list[Finding]:
    likely, high = case.power[1], case.power[2]
    room = show(case.available, "power", units)
    if likely > case.available:
        text = (
            f"{case.name}: the cut asks for {show_beside(likely, case.available, 'power', units)}, but the spindle gives "
            f"{room} to plan with at this speed. Take less depth, width or feed."
        )
        return [
            Finding(
                "spindle-power",
                "warning",
                _at(case, "depth"),
                text,
                likely,
                case.available,
                "power",
                case.name,
            )
        ]
    if high > case.available:
        text = (
            f"{case.name}: likely {show_beside(likely, case.available, 'power', units)} is within the spindle's {room}, but the "
            f"unfavourable end {show_beside(high, case.available, 'power', units)} is not."
        )
        return [
            Finding(
                "spindle-power", "note", _at(case, "depth"), text, high, case.available, "power", case.name
            )
        ]
    return []


def _speed(project: Project, case: CutCase, units: UnitSet) -> list[Finding]:
    spindle, speed = project.machine.head.spindle, case.cut.speed
    if spindle.slowest <= speed <= spindle.fastest:
        return []
    limit = spindle.slowest if speed < spindle.slowest else spindle.fastest
    text = (
        f"{case.name}: {show(speed, 'rotation_speed', units)} lies outside the spindle's "
        f"{show(spindle.slowest, 'rotation_speed', units)} to {show(spindle.fastest, 'rotation_speed', units)}."
    )
    where = _at(case, "speed")
    return [Finding("spindle-speed", "warning", where, text, speed, limit, "rotation_speed", case.name)]


def _chip(case: CutCase, units: UnitSet) -> list[Finding]:
    largest = case.chip.largest
    words = tell(largest, "length", units)
    if largest < case.thinnest:
        text = (
            f"{case.name}: the thickest chip is {words}, under {tell(case.thinnest, 'length', units)}: the edge rubs, "
            "heats and wears. Feed faster, turn slower, or use fewer teeth."
        )
        return [
            Finding(
                "chip-thin", "warning", _at(case, "feed"), text, largest, case.thinnest, "length", case.name
            )
        ]
    if largest > case.thickest:
        text = (
            f"{case.name}: the thickest chip is {words}, over {tell(case.thickest, 'length', units)}: more than a "
            "cutter of this size usually bears. Feed slower, turn faster, or take more teeth."
        )
        return [
            Finding(
                "chip-thick", "warning", _at(case, "feed"), text, largest, case.thickest, "length", case.name
            )
        ]
    return []
