"""What a machine costs new, by the prices that are known: for one project, and the difference between two variants."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol

from core.bill.lines import ZERO, BillLine, bill_line
from core.bill.work import WorkLine, work_lines
from core.fasteners import RailAnswer
from core.machine.layout import Layout
from core.machine.project import Project
from core.parts import PartLine
from core.prices import Pricer, exact, rounded, times, total


class Planned(Protocol):
    """What is read of a plan."""

    @property
    def layout(self) -> Layout: ...
    @property
    def rails(self) -> tuple[RailAnswer, ...]: ...
    @property
    def parts(self) -> tuple[PartLine, ...]: ...


@dataclass(frozen=True, slots=True)
class CostAnswer:
    """Cost of everything bought new, whatever is on hand or ordered.

    Attributes:
        lines: the bill's lines, for parts that can be ordered. work: hours at the user's rates.
        goods, tax, labour, shipping: sums of what is known; shipping as expected in the budget.
        known: their sum. unpriced, unpriced_work: names of what has no price and is not in it.
        any_price: whether anything at all has a price; without one, `known` says nothing.
    """

    currency: str
    lines: tuple[BillLine, ...]
    work: tuple[WorkLine, ...]
    goods: Decimal
    tax: Decimal
    labour: Decimal
    shipping: Decimal
    known: Decimal
    unpriced: tuple[str, ...]
    unpriced_work: tuple[str, ...]
    any_price: bool

    @property
    def complete(self) -> bool:
        """Whether everything has a price."""
        return not self.unpriced and not self.unpriced_work


@dataclass(frozen=True, slots=True)
class CostDifference:
    """One variant's cost against another's.

    Attributes:
        known: sum of the differences of all lines that are priced on both sides (or stand on one side only, priced).
        rows: (name, cost before, cost after) of every line that differs; None for no price, zero for not there.
        open: names of lines that differ and have no price on one side or both.
    """

    currency: str
    known: Decimal
    rows: tuple[tuple[str, Decimal | None, Decimal | None], ...]
    open: tuple[str, ...]


def find_cost(
    project: Project, layout: Layout, rails: tuple[RailAnswer, ...], parts: tuple[PartLine, ...]
) -> CostAnswer:
    """The cost of a machine from its parts list."""
    pricer = Pricer(project)
    records = {row.part: row for row in project.stock}
    tax = project.prices.tax
    lines = tuple(bill_line(part, records.get(part.key), pricer, tax) for part in parts if part.counted)
    return cost_from(project, lines, work_lines(project, layout, rails), pricer.currency)


def cost_from(
    project: Project, lines: tuple[BillLine, ...], work: tuple[WorkLine, ...], currency: str
) -> CostAnswer:
    """The sums over lines that are there already."""
    goods = total(line.planned for line in lines)
    tax = times(goods, exact(project.prices.tax))
    labour = total(line.cost for line in work)
    entered = project.budget.shipping
    shipping = ZERO if entered is None else rounded(exact(entered))
    unpriced = tuple(line.part.what for line in lines if line.planned is None)
    bought = [line for line in lines if line.bought]
    priced = any(line.planned is not None for line in bought) or any(line.cost for line in work)
    idle = tuple(line.what for line in work if line.cost is None)
    known = goods + tax + labour + shipping
    return CostAnswer(currency, lines, work, goods, tax, labour, shipping, known, unpriced, idle, priced)


def cost_of(project: Project, plan: Planned) -> CostAnswer:
    """What a project's machine costs new.

    Args:
        plan: of this very project (or variant); only its layout, rails and parts are read.
    """
    return find_cost(project, plan.layout, plan.rails, plan.parts)


def cost_difference(one: CostAnswer, other: CostAnswer) -> CostDifference:
    """`other` less `one`, line by line: lines without a price take no part as long as they are the same on both sides."""
    before, after = _costs(one), _costs(other)
    rows, still_open, known = [], [], ZERO
    for key in dict.fromkeys([*before, *after]):
        name, was, amount = before.get(key, (after[key][0] if key in after else "", ZERO, None))
        _, now, amount_now = after.get(key, (name, ZERO, None))
        if was == now and amount == amount_now:
            continue
        rows.append((name, was, now))
        if was is None or now is None:
            still_open.append(name)
        else:
            known += now - was
    return CostDifference(one.currency, known, tuple(rows), tuple(still_open))


def _costs(answer: CostAnswer) -> dict[str, tuple[str, Decimal | None, object]]:
    """Name, cost and what it is, by key. The specification belongs to the key: another beam is another thing."""
    found: dict[str, tuple[str, Decimal | None, object]] = {}
    for line in answer.lines:
        part = line.part
        amount = (line.bought, part.spec, None if part.length is None else round(part.length, 6))
        # Kinds of screws and nuts are told apart by their specification; a beam is the same line with another one.
        name = f"{part.what}, {part.spec}" if part.group == "Fasteners" else part.what
        found[part.key] = (name, line.planned, amount)
    for work in answer.work:
        found[f"work {work.key}"] = (work.what, work.cost, round(work.hours, 6))
    found["tax"] = ("Tax", answer.tax, None)
    return found
