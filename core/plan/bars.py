"""The plan with its metal counted by the bar, once the cut list is there; that search takes longer than all the rest."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from core.bill import BillAnswer, find_bill
from core.cuts import SECONDS, CutAnswer, find_cuts
from core.findings import ordered
from core.plan.results import Plan
from core.plan.verdict import judge


def with_cuts(plan: Plan, cuts: CutAnswer) -> Plan | None:
    """The plan with the bars of a cut list in its bill, or None when it asks for another list."""
    bill = find_bill(plan.project, plan.layout, plan.rails, plan.parts, cuts)
    return None if bill.cuts is None else _with_bill(plan, bill)


def by_pieces(plan: Plan) -> Plan:
    """The plan with its metal by net lengths again, as machines are compared."""
    if plan.bill is None or plan.bill.cuts is None:
        return plan
    return _with_bill(plan, find_bill(plan.project, plan.layout, plan.rails, plan.parts))


def _with_bill(plan: Plan, bill: BillAnswer) -> Plan:
    before = () if plan.bill is None else plan.bill.findings
    told = ordered([*(finding for finding in plan.findings if finding not in before), *bill.findings])
    return replace(plan, bill=bill, findings=told, verdict=judge(plan.project, plan.stiffness, told))


def count_bars(
    plan: Plan, seconds: float = SECONDS, stale: Callable[[], bool] = lambda: False
) -> Plan | None:
    """The plan with its cut list searched for up to `seconds`; None when `stale` says that nobody waits any more."""
    cuts = find_cuts(plan.project, plan.layout, plan.parts, seconds, stale)
    return None if cuts is None else with_cuts(plan, cuts)
