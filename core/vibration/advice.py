"""Findings about speeds that meet a mode and about cuts that are deeper than the machine bears."""

from __future__ import annotations

from core.findings import Finding
from core.machine.project import Project
from core.units import UnitSet, show, tell
from core.vibration.chatter import Stability
from core.vibration.speeds import SpeedMap, nearest_quiet

ENDLESS = 1.0  # m, deeper than any cut


def advise(
    project: Project, speeds: tuple[SpeedMap, ...], stability: tuple[Stability, ...]
) -> tuple[Finding, ...]:
    """All findings about vibration."""
    units = UnitSet(project.display.length, project.display.force)
    found = [finding for map_ in speeds for finding in _speed(map_, units)]
    return (*found, *(finding for cut in stability for finding in _chatter(cut, units)))


def _speed(speeds: SpeedMap, units: UnitSet) -> list[Finding]:
    found = []
    where = f"cases.{speeds.case}.load.speed"
    spindle = next((hit for hit in speeds.hits if hit.harmonic == 0), None)
    teeth = next((hit for hit in speeds.hits if hit.harmonic > 0), None)
    if teeth is not None:
        times = "" if teeth.harmonic == 1 else f"{teeth.harmonic} times "
        text = (
            f"{speeds.name}: {times}the tooth-passing frequency at {show(speeds.speed, 'rotation_speed', units)} is "
            f"{tell(teeth.harmonic * speeds.teeth * speeds.speed, 'frequency', units)}, near the mode at "
            f"{tell(teeth.frequency, 'frequency', units)}. {_elsewhere(speeds, units)}"
        )
        severity = "warning" if teeth.harmonic == 1 else "note"
        found.append(
            Finding("near-tooth-passing", severity, where, text, speeds.speed, teeth.centre, "rotation_speed")  # type: ignore[arg-type]
        )
    if spindle is not None:
        text = (
            f"{speeds.name}: the spindle turns at {show(speeds.speed, 'frequency', units)}, near the mode "
            f"at {tell(spindle.frequency, 'frequency', units)}; what is out of balance shakes it. {_elsewhere(speeds, units)}"
        )
        found.append(
            Finding("near-spindle", "warning", where, text, speeds.speed, spindle.centre, "rotation_speed")
        )
    return found


def _elsewhere(speeds: SpeedMap, units: UnitSet) -> str:
    """Where the nearest quiet speed lies."""
    nearest = nearest_quiet(speeds)
    if nearest is None:
        return "No speed within the spindle's range is free of it; another number of teeth may be."
    return f"The nearest quiet speed is {tell(nearest, 'rotation_speed', units)}."


def _chatter(cut: Stability, units: UnitSet) -> list[Finding]:
    low, likely, _ = cut.limit
    if not cut.depth > low:
        return []
    here_low, here = cut.here
    # Borders lie between figures of a grid: a depth within 2 % of one is not told apart from it.
    at_risk = cut.depth > 0.98 * here_low
    sure = "is likely to chatter" if cut.depth > here else "may chatter" if at_risk else "leans on its speed"
    text = (
        f"{cut.name} {sure}: the cut is {show(cut.depth, 'length', units)} deep. Free of chatter at every speed are "
        f"{tell(low, 'length', units)} with little damping and high cutting pressure, {tell(likely, 'length', units)} with "
        f"likely figures; at this speed {_or_any(here_low, units)} and {_or_any(here, units)}. It would ring at about "
        f"{tell(cut.frequency, 'frequency', units)}."
    )
    where = f"cases.{cut.case}.load.depth"
    return [Finding("chatter-depth", "warning" if at_risk else "note", where, text, cut.depth, low, "length")]


def _or_any(depth: float, units: UnitSet) -> str:
    return tell(depth, "length", units) if depth < ENDLESS else "any depth"
