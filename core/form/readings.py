"""Measured heights from text, as typed or pasted from a spreadsheet: one reading a line, hole or place, then height.

"#3  0.05", "hole 3; 0.05 mm" and "120 mm, 0.05" are all read; a rail's number or name may stand in front, behind a comma.
"""

from __future__ import annotations

import re

from core.errors import BadEntry
from core.machine.form import Heights, Reading
from core.units import METRIC, UnitSet, parse, show
from core.units.bad_text import shortened

_HOLE = re.compile(r"(?:#|h|hole)\s*(\d+)", re.IGNORECASE)
_SPACED = re.compile(r"((?:#|h|hole)\s*\d+|\S+(?:\s+(?:mm|cm|m|in|ft))?)\s+(\S.*)", re.IGNORECASE)
_SECOND = {"2", "second", "upper", "back", "right"}
_FIRST = {"1", "first", "lower", "front", "left"}
_ACCEPTED = 'lines such as "#3  0.05" (hole, height) or "120  0.05" (place, height)'
MOST = 2000


def read_heights(text: str, units: UnitSet = METRIC) -> Heights:
    """Readings of both rails; lines without a rail belong to the first.

    Bare places are in the units' length, bare heights in what deflections are shown in. Empty lines and one line of headings
    at the top are passed over. Raises BadEntry naming the line.
    """
    rails: dict[str, list[Reading]] = {"first": [], "second": []}
    lines = text.splitlines()
    if len(lines) > MOST:
        raise BadEntry("readings", f"{len(lines)} lines", "are too many", f"up to {MOST} lines")
    holes = False
    started = False
    for number, line in enumerate(lines, start=1):
        cells = _cells(line)
        if not cells:
            continue
        if not started and not any(re.search(r"\d", cell) for cell in cells[-1:]):
            holes = any("hole" in cell.lower() for cell in cells)
            started = True
            continue
        started = True
        rail, reading = _reading(cells, number, line, holes, units)
        rails[rail].append(reading)
    return Heights(first=tuple(rails["first"]), second=tuple(rails["second"]))


def _cells(line: str) -> list[str]:
    for mark in ("\t", ";", ","):
        if mark in line:
            parts = [part.strip() for part in line.split(mark)]
            while parts and not parts[-1]:
                parts.pop()
            return parts
    spaced = _SPACED.fullmatch(line.strip())
    return [spaced[1], spaced[2]] if spaced else ([line.strip()] if line.strip() else [])


def _reading(cells: list[str], number: int, line: str, holes: bool, units: UnitSet) -> tuple[str, Reading]:
    rail = "first"
    if len(cells) == 3:
        word = cells[0].lower().split()[0] if cells[0] else ""
        known = word in _FIRST | _SECOND
        if not known:
            raise _bad(number, line, "names no rail", "1 or 2, lower, upper, front, back, left or right")
        rail = "second" if word in _SECOND else "first"
        cells = cells[1:]
    if len(cells) != 2:
        raise _bad(number, line, "has no hole or place and height", _ACCEPTED)
    spot, height = cells
    hole = _HOLE.fullmatch(spot)
    try:
        high = parse(height, "deflection", units)
        if hole or (holes and spot.isdigit()):
            return rail, Reading(height=high, hole=int(hole[1] if hole else spot))
        return rail, Reading(height=high, place=parse(spot, "length", units))
    except BadEntry as error:
        raise _bad(number, f"{error.value} ({error.where})", error.problem, error.accepted) from error


def _bad(number: int, line: str, problem: str, accepted: str) -> BadEntry:
    return BadEntry("readings", f"line {number}: {shortened(line.strip())}", problem, accepted)


def write_heights(readings: tuple[Reading, ...], units: UnitSet = METRIC) -> str:
    """The readings as lines that `read_heights` reads again."""
    lines = []
    for reading in readings:
        spot = f"#{reading.hole}" if reading.hole is not None else show(reading.place or 0.0, "length", units)
        lines.append(f"{spot}\t{show(reading.height, 'deflection', units)}")
    return "\n".join(lines)
