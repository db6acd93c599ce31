"""The whole bill: every part with its stock, cost by group, running cost, what is still to come, against the budget."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from core.bill.cost import CostAnswer
from core.bill.lines import BillLine
from core.bill.running import Spending, Step
from core.bill.work import WorkLine
from core.cuts import CutAnswer
from core.findings import Finding


@dataclass(frozen=True, slots=True)
class GroupCost:
    """Sums of one group: new, spent and still to come, of what is known; `unpriced` lines are in none of them."""

    group: str
    lines: int
    planned: Decimal
    spent: Decimal
    to_come: Decimal
    unpriced: int


@dataclass(frozen=True, slots=True)
class ToCome:
    """What is still to be paid, as far as prices are known; `unpriced` counts the lines to order without one."""

    goods: Decimal
    tax: Decimal
    work: Decimal
    shipping: Decimal
    unpriced: int

    @property
    def total(self) -> Decimal:
        return self.goods + self.tax + self.work + self.shipping


@dataclass(frozen=True, slots=True)
class BillAnswer:
    """Everything about buying.

    Attributes:
        lines: one for each part that can be ordered: bars, when they are counted, the parts list, the user's own pieces
            to cut; behind them what was recorded of parts that the machine no longer holds, as it is there or paid for.
        strays: keys of these last. uncounted: keys of parts that are none.
        cost: of everything new. groups: by group of the parts list, then work and other purchases.
        spendings: all that was spent. steps: the running cost. spent: their sum, tax and shipping included.
        to_come: still to be paid. budget: None when none was entered.
        estimated: how many sums spent follow the price list for want of a paid price.
        cuts: the cut list whose bars are counted; None as long as metal stands in the bill by its pieces.
    """

    currency: str
    lines: tuple[BillLine, ...]
    uncounted: tuple[str, ...]
    cost: CostAnswer
    groups: tuple[GroupCost, ...]
    spendings: tuple[Spending, ...]
    steps: tuple[Step, ...]
    spent: Decimal
    to_come: ToCome
    budget: Decimal | None
    estimated: int
    findings: tuple[Finding, ...] = ()
    cuts: CutAnswer | None = None
    strays: tuple[str, ...] = ()

    @property
    def work(self) -> tuple[WorkLine, ...]:
        return self.cost.work

    @property
    def expected(self) -> Decimal:
        """Spent and still to come together, as far as known."""
        return self.spent + self.to_come.total

    @property
    def left(self) -> Decimal | None:
        """What the budget leaves when all is bought; below zero when it does not suffice."""
        return None if self.budget is None else self.budget - self.expected

    def line(self, key: str) -> BillLine:
        """The line of a part; KeyError when there is none."""
        for line in self.lines:
            if line.key == key:
                return line
        raise KeyError(key)
