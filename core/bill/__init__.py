"""The bill of parts: needed, ordered, arrived, fitted, and what it costs by the user's own prices."""

from __future__ import annotations

from core.bill.answer import BillAnswer, GroupCost, ToCome
from core.bill.cost import CostAnswer, CostDifference, cost_difference, cost_of, find_cost
from core.bill.find import find_bill
from core.bill.lines import BillLine, bill_line, in_packs
from core.bill.running import Spending, Step, running_curve
from core.bill.work import WorkLine, weld_length

__all__ = [
    "BillAnswer",
    "BillLine",
    "CostAnswer",
    "CostDifference",
    "GroupCost",
    "Spending",
    "Step",
    "ToCome",
    "WorkLine",
    "bill_line",
    "cost_difference",
    "cost_of",
    "find_bill",
    "find_cost",
    "in_packs",
    "running_curve",
    "weld_length",
]
