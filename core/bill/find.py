"""Makes the bill of a project: lines, groups, running cost and what is still to come."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from decimal import Decimal

import msgspec

from core.bill.answer import BillAnswer, GroupCost, ToCome
from core.bill.bars import BAR_KEY, BARS, bar_lines, cut_counts, waiting
from core.bill.cost import CostAnswer, cost_from
from core.bill.judge import judge
from core.bill.lines import ZERO, BillLine, bill_line
from core.bill.running import spendings, steps
from core.bill.work import WorkLine, work_lines
from core.cuts import CutAnswer, own_lines, still_answers
from core.fasteners import RailAnswer
from core.machine.layout import Layout
from core.machine.project import Project
from core.parts import PartLine
from core.prices import Pricer, exact, rounded, times, total

NOT_NEEDED = "Not needed"
PURCHASES = {
    "shipping": "Shipping",
    "tax": "Tax paid",
    "tools": "Tools",
    "consumables": "Consumables",
    "other": "Other purchases",
}
"""What each kind of purchase is called among the groups."""


def find_bill(
    project: Project,
    layout: Layout,
    rails: tuple[RailAnswer, ...],
    parts: tuple[PartLine, ...],
    cuts: CutAnswer | None = None,
) -> BillAnswer:
    """The bill of a project from its parts list.

    Args:
        cuts: a cut list. Where the project still asks for it, metal is bought by its bars; else it is left aside, and
            metal stands by its pieces.
    """
    pricer = Pricer(project)
    cuts = None if cuts is None else still_answers(cuts, project, layout, parts)
    lines = _lines(project, parts, cuts, pricer)
    gone = _gone(project, lines, parts, cuts, pricer)
    lines = (*lines, *gone)
    cost = cost_from(project, lines, work_lines(project, layout, rails), pricer.currency)
    spent = spendings(lines, project.purchases)
    entered = project.budget.amount
    bill = BillAnswer(
        currency=pricer.currency,
        lines=lines,
        uncounted=tuple(part.key for part in parts if not part.counted),
        cost=cost,
        groups=_groups(project, lines, cost.work),
        spendings=spent,
        steps=steps(spent),
        spent=total(one.amount for one in spent),
        to_come=_to_come(project, lines, cost),
        budget=None if entered is None else rounded(exact(entered)),
        estimated=sum(one.estimated for one in spent),
        cuts=cuts,
        strays=tuple(line.key for line in gone),
    )
    return replace(bill, findings=judge(project, bill))


def _lines(
    project: Project, parts: tuple[PartLine, ...], cuts: CutAnswer | None, pricer: Pricer
) -> tuple[BillLine, ...]:
    """Bars, where they are known; the parts list; the user's own pieces to cut."""
    records = {row.part: row for row in project.stock}
    tax = project.prices.tax
    every = (*(part for part in parts if part.counted), *own_lines(project, parts))
    bars = () if cuts is None else bar_lines(project, cuts, every, pricer)
    cut = Counter[str]() if cuts is None else cut_counts(cuts)
    first = (bill_line(bar.part, records.get(bar.part.key), pricer, tax, bar=bar) for bar in bars)
    wait = frozenset[str]() if cuts is not None else waiting(project, every)
    rest = (
        bill_line(part, records.get(part.key), pricer, tax, cut=cut[part.key], waits=part.key in wait)
        for part in every
    )
    return (*first, *rest)


def _gone(
    project: Project,
    lines: tuple[BillLine, ...],
    parts: tuple[PartLine, ...],
    cuts: CutAnswer | None,
    pricer: Pricer,
) -> tuple[BillLine, ...]:
    """What is there or was paid for, though nothing asks for it any more: left out, its money would vanish."""
    known = {line.key for line in lines} | {part.key for part in parts}
    made = []
    for row in project.stock:
        if row.part in known or not (row.on_hand or row.ordered or row.arrived or row.fitted):
            continue
        waits = cuts is None and row.part.startswith(BAR_KEY)
        group = BARS if waits else NOT_NEEDED
        name = f"{row.name[:1].upper()}{row.name[1:]}"
        part = PartLine(row.part, group, name, "", 0, None, None, None)
        made.append(bill_line(part, msgspec.structs.replace(row, spare=0), pricer, project.prices.tax))
    return tuple(made)


def _to_come(project: Project, lines: tuple[BillLine, ...], cost: CostAnswer) -> ToCome:
    goods = total(line.to_come for line in lines)
    return ToCome(
        goods=goods,
        tax=times(goods, exact(project.prices.tax)),
        work=max(ZERO, cost.labour - _paid(project, "work")),
        shipping=max(ZERO, cost.shipping - _paid(project, "shipping")),
        unpriced=sum(line.to_come is None for line in lines),
    )


def _paid(project: Project, kind: str) -> Decimal:
    return total(rounded(exact(p.amount)) for p in project.purchases if p.kind == kind)


def _groups(
    project: Project, lines: tuple[BillLine, ...], work: tuple[WorkLine, ...]
) -> tuple[GroupCost, ...]:
    """The parts' groups as they come, without tax on top where it is still to come; then work and other purchases."""
    made = []
    for group in dict.fromkeys(line.part.group for line in lines):
        own = [line for line in lines if line.part.group == group]
        made.append(
            GroupCost(
                group,
                len(own),
                total(line.planned for line in own),
                total(line.spent for line in own),
                total(line.to_come for line in own),
                sum(line.planned is None for line in own),
            )
        )
    labour, paid = total(line.cost for line in work), _paid(project, "work")
    if work or paid:
        idle = sum(line.cost is None for line in work)
        made.append(GroupCost("Work", len(work), labour, paid, max(ZERO, labour - paid), idle))
    entered = project.budget.shipping
    expected = ZERO if entered is None else rounded(exact(entered))
    kinds = dict.fromkeys([*(["shipping"] if expected else []), *(p.kind for p in project.purchases)])
    for kind in kinds:
        if kind != "work":
            paid, planned = _paid(project, kind), expected if kind == "shipping" else ZERO
            count = sum(p.kind == kind for p in project.purchases)
            to_come = max(ZERO, planned - paid) if kind == "shipping" else ZERO
            made.append(GroupCost(PURCHASES[kind], count, planned, paid, to_come, 0))
    return tuple(made)
