"""What was spent, day by day: ordered parts on the day they were paid, and purchases that belong to no part."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date as Date
from decimal import Decimal

import numpy as np
import numpy.typing as npt

from core.bill.lines import BillLine
from core.machine.ordering import Purchase
from core.prices import exact, rounded

Array = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Spending:
    """Money spent once.

    Attributes:
        day: None when no day was entered. amount: tax included; below zero for a refund.
        kind: "parts", or the kind of purchase. part: key of the part, empty for a purchase.
        estimated: by the price list, as no paid price was entered.
    """

    day: Date | None
    amount: Decimal
    what: str
    kind: str
    part: str = ""
    estimated: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """The running cost after all that was spent up to and on one day."""

    day: Date
    spent: Decimal
    total: Decimal
    what: tuple[str, ...]


def spendings(lines: Iterable[BillLine], purchases: Iterable[Purchase]) -> tuple[Spending, ...]:
    """Everything spent, in order of days; what has no day comes last."""
    found = [
        Spending(_day(line.record.date), line.spent, line.part.what, "parts", line.key, line.estimated)
        for line in lines
        if line.record.ordered and line.spent is not None
    ]
    found += [Spending(_day(p.date), rounded(exact(p.amount)), p.what, p.kind) for p in purchases]
    return tuple(sorted(found, key=lambda one: (one.day is None, one.day or Date.min)))


def steps(found: Iterable[Spending]) -> tuple[Step, ...]:
    """The running cost, one step for each day on which something was spent."""
    days: dict[Date, list[Spending]] = {}
    for one in found:
        if one.day is not None:
            days.setdefault(one.day, []).append(one)
    made, running = [], Decimal("0.00")
    for day in sorted(days):
        spent = sum((one.amount for one in days[day]), Decimal("0.00"))
        running += spent
        made.append(Step(day, spent, running, tuple(one.what for one in days[day])))
    return tuple(made)


def running_curve(made: Sequence[Step]) -> tuple[Array, Array]:
    """Days of the calendar (`date.toordinal`) and the running cost, as the corners of a stair that begins at zero; both of
    one length.

    The last step goes on for a day, or a twentieth of the whole time, so that it can be seen.
    """
    days: list[float] = []
    sums: list[float] = []
    for step in made:
        day = float(step.day.toordinal())
        days += [day, day]
        sums += [float(step.total - step.spent), float(step.total)]
    if days:
        days.append(days[-1] + max(1.0, 0.05 * (days[-1] - days[0])))
        sums.append(sums[-1])
    return np.array(days), np.array(sums)


def _day(text: str) -> Date | None:
    return Date.fromisoformat(text) if text else None
