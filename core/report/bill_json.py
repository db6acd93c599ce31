"""The bill as plain JSON: counts are pieces, sums are texts of exact decimals in the currency named, null for no price."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from core.bill import BillAnswer


def bill_json(bill: BillAnswer | None) -> dict[str, Any] | None:
    """Everything the bill says."""
    if bill is None:
        return None
    come = bill.to_come
    return {
        "currency": bill.currency,
        "bars_counted": bill.cuts is not None,
        "lines": [
            {
                "key": line.key,
                "group": line.part.group,
                "what": line.part.what,
                "spec": line.part.spec,
                "length_m": line.part.length,
                "needed": line.needed,
                "spare": line.spare,
                "cut_from_bars": line.cut,
                "pack_size": line.pack_size,
                "bought_when_new": line.bought,
                "on_hand": line.on_hand,
                "ordered": line.record.ordered,
                "arrived": line.record.arrived,
                "fitted": line.fitted,
                "to_order": None if line.waits else line.to_order,
                "packs_to_order": line.packs_to_order,
                "short": line.short,
                "price_of_one": _text(None if line.price is None else line.price.each),
                "price_from": None if line.price is None else line.price.rule,
                "paid_for_one": line.record.paid,
                "cost_new": _text(line.planned),
                "spent": _text(line.spent),
                "to_come": None if line.waits else _text(line.to_come),
                "paid_on": line.record.date,
                "note": line.record.note,
                "link": line.record.link,
            }
            for line in bill.lines
        ],
        "work": [
            {"key": w.key, "what": w.what, "hours": w.hours, "rate": _text(w.rate), "cost": _text(w.cost)}
            for w in bill.work
        ],
        "groups": [
            {
                "group": g.group,
                "cost_new": _text(g.planned),
                "spent": _text(g.spent),
                "to_come": _text(g.to_come),
                "lines_without_price": g.unpriced,
            }
            for g in bill.groups
        ],
        "running_cost": [{"day": step.day.isoformat(), "total": _text(step.total)} for step in bill.steps],
        "cost_new": _text(bill.cost.known if bill.cost.any_price else None),
        "spent": _text(bill.spent),
        "to_come": {
            "goods": _text(come.goods),
            "tax": _text(come.tax),
            "work": _text(come.work),
            "shipping": _text(come.shipping),
            "lines_without_price": come.unpriced,
        },
        "budget": _text(bill.budget),
    }


def _text(amount: Decimal | None) -> str | None:
    return None if amount is None else f"{amount:f}"
