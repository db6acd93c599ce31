"""What each variant costs more or less than the machine, everything new: lines that are alike in both need no price."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from core.bill import CostDifference, cost_difference
from core.comparison.answer import Ends, VariantAnswer

KEY = "cost_difference"


def cost_differences(machines: Sequence[VariantAnswer]) -> tuple[CostDifference | None, ...]:
    """Of each machine against the first; None where one of the two has no answer."""
    own = machines[0].cost
    return tuple(
        None if own is None or machine.cost is None else cost_difference(own, machine.cost)
        for machine in machines
    )


def with_difference(machine: VariantAnswer, found: CostDifference | None) -> VariantAnswer:
    """The machine with the figure of its row; none while a line that differs has no price."""
    priced = machine.cost is not None and machine.cost.any_price
    figure = Ends(None if found is None or found.open or not priced else float(found.known))
    if machine.values.get(KEY) == figure:
        return machine  # as an earlier comparison left it
    return replace(machine, values={**machine.values, KEY: figure})
