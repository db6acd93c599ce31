"""Days on an axis: figures are days of the calendar counted through (`date.toordinal`), ticks whole days, weeks, months, years.

Labels are written as ISO 8601 has them: 2026-03-14, 2026-03, 2026.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date as Date
from typing import Literal

LETTER = 6.5
"""Width of a letter of a tick's label in pixels, about."""
Unit = Literal["day", "month", "year"]
_STEPS: tuple[tuple[Unit, int], ...] = (
    ("day", 1), ("day", 2), ("day", 7), ("day", 14),
    ("month", 1), ("month", 2), ("month", 3), ("month", 6),
    ("year", 1), ("year", 2), ("year", 5), ("year", 10), ("year", 20), ("year", 50), ("year", 100), ("year", 1000),
)  # fmt: skip
_LETTERS: dict[Unit, int] = {"day": 10, "month": 7, "year": 4}
_DAYS: dict[Unit, int] = {"day": 1, "month": 28, "year": 365}


def day_at(x: float) -> str:
    """The day that a place on the axis lies in."""
    return _day(math.floor(x)).isoformat()


def date_ticks(limits: tuple[float, float], room: float) -> tuple[list[float], list[str]]:
    """Places of ticks within limits and their labels, as close as labels stand clear of each other in `room` pixels.

    Weeks begin on Mondays, two months on odd ones. There are two ticks at least where there are two days.
    """
    ends = [_day(math.ceil(limits[0] - 1e-9)), _day(math.floor(limits[1] + 1e-9))]
    finer = [
        (end, end.isoformat()) for end in ends if limits[0] - 1e-9 <= end.toordinal() <= limits[1] + 1e-9
    ]
    if ends[1].toordinal() - ends[0].toordinal() < 2:
        return _split(list(dict.fromkeys(finer)))
    most = room / LETTER
    for unit, step in _STEPS:
        if (limits[1] - limits[0]) / (step * _DAYS[unit]) > most:
            continue  # far too many even to be counted
        found = list(_days(limits, step)) if unit == "day" else list(_months(limits, unit, step))
        if len(found) < 2:
            break
        made = [(place, place.isoformat()[: _LETTERS[unit]]) for place in found]
        if len(found) * LETTER * (_LETTERS[unit] + 2.0) <= room:
            return _split(made)
        finer = [made[0], made[-1]]
    return _split(finer)


def _split(found: list[tuple[Date, str]]) -> tuple[list[float], list[str]]:
    return [float(place.toordinal()) for place, _ in found], [label for _, label in found]


def _day(number: int) -> Date:
    return Date.fromordinal(min(max(number, Date.min.toordinal()), Date.max.toordinal()))


def _days(limits: tuple[float, float], step: int) -> Iterator[Date]:
    """Every so many days; ordinal 1 was a Monday, so sevens are Mondays."""
    first = math.ceil((limits[0] - 1.0) / step - 1e-9)
    for number in range(first, math.floor((limits[1] - 1.0) / step + 1e-9) + 1):
        yield _day(1 + number * step)


def _months(limits: tuple[float, float], unit: Unit, step: int) -> Iterator[Date]:
    """First days of every so many months or years."""
    months = step * (12 if unit == "year" else 1)
    first, last = _day(math.ceil(limits[0] - 1e-9)), _day(math.floor(limits[1] + 1e-9))
    number = (first.year * 12 + first.month - 1) // months * months
    while number < 10_000 * 12:
        year, month = divmod(number, 12)
        number += months
        if year < 1:
            continue
        place = Date(year, month + 1, 1)
        if place > last:
            return
        if place >= first:
            yield place
