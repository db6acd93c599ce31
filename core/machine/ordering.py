"""What is bought: parts of the user's own, what is on hand, ordered, arrived and fitted, other purchases, the budget.

Records name their part by the key that it has in the parts list (`core.parts`), so they outlive changes of the machine.
"""

from __future__ import annotations

import math
import re
from datetime import date as Date
from typing import Annotated, Literal

from core.errors import BadEntry
from core.fields import Described, Spec

PurchaseKind = Literal["shipping", "tax", "tools", "work", "consumables", "other"]
MOST_PIECES = 1_000_000
MOST_MONEY = 1e9
_COUNT = ("count", 0, MOST_PIECES)


def check_date(field: str, text: str) -> None:
    """Raise BadEntry for a text that is neither empty nor a day written as 2026-03-14."""
    if not text:
        return
    try:
        good = Date.fromisoformat(text).isoformat() == text
    except ValueError:
        good = False
    if not good:
        raise BadEntry(
            field, repr(text), "is not a day of the calendar", "year-month-day, as 2026-03-14, or nothing"
        )


class OwnPart(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A part that the description does not imply: cable chain, paint, switches."""

    key: Annotated[str, Spec("count", None, None, "Key", "Stays the same when the part is renamed.")]
    name: Annotated[str, Spec("count", None, None, "Part")] = "Part"
    spec: Annotated[str, Spec("count", None, None, "Specification")] = ""
    group: Annotated[str, Spec("count", None, None, "Group")] = "Other"
    quantity: Annotated[int, Spec(*_COUNT, "Needed")] = 1
    length: Annotated[float | None, Spec("length", 0.0001, 100.0, "Length of one", "Automatic: none.")] = None
    mass_each: Annotated[float | None, Spec("mass", 0.0, 10000.0, "Mass of one", "Automatic: not known.")] = (
        None
    )
    where: Annotated[str, Spec("count", None, None, "Goes to")] = ""

    def check(self) -> None:
        if not self.key.startswith("own_") or not self.key.replace("_", "").isalnum():
            raise BadEntry(
                "key", repr(self.key), "is no key of a part of your own", "own_ and letters or figures"
            )
        if not self.name.strip():
            raise BadEntry("name", "nothing", "names no part", "a word or two")


def _words(key: str) -> str:
    """A part's key as far as it can be read back: fastener_t_nut_slot_8p2_m5 is T-nut slot 8.2 M5."""
    words = re.sub(r"(?<=\d)p(?=\d)", ".", key.removeprefix("fastener_").replace("_", " "))
    return re.sub(r"\b(iso|m\d)", lambda found: found[0].upper(), words.replace("t nut", "T-nut"))


class StockRow(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What the user has recorded about one line of the parts list; counts are pieces, not packs."""

    part: Annotated[str, Spec("count", None, None, "Part", "Key in the parts list.")]
    on_hand: Annotated[int, Spec(*_COUNT, "On hand", "Had before anything was ordered.")] = 0
    ordered: Annotated[int, Spec(*_COUNT, "Ordered", "Pieces ordered so far, arrived or not.")] = 0
    arrived: Annotated[int, Spec(*_COUNT, "Arrived", "Of those ordered.")] = 0
    fitted: Annotated[int, Spec(*_COUNT, "Fitted", "In the machine by now.")] = 0
    price: Annotated[
        float | None, Spec("unit_price", 0.0, MOST_MONEY, "Price of one", "Goes before the price list.")
    ] = None
    paid: Annotated[
        float | None, Spec("unit_price", 0.0, MOST_MONEY, "Paid for one", "As it was paid, tax included.")
    ] = None
    date: Annotated[str, Spec("day", None, None, "Paid on", "2026-03-14")] = ""
    spare: Annotated[int | None, Spec(*_COUNT, "Spare pieces", "In place of the spare share.")] = None
    spare_share: Annotated[float | None, Spec("share", 0.0, 10.0, "Spare share")] = None
    pack_size: Annotated[int | None, Spec("count", 1, 100000, "In a pack")] = None
    note: Annotated[
        str, Spec("count", None, None, "Source and note", "Where it comes from; your own words.")
    ] = ""
    link: Annotated[str, Spec("count", None, None, "Link", "Page of the shop or the offer.")] = ""

    def check(self) -> None:
        if not self.part:
            raise BadEntry("part", "nothing", "names no part", "the key of a line in the parts list")
        check_date("date", self.date)

    def spares(self, needed: int, usual: int) -> int:
        """Pieces on top of those needed: a number of the user's, else a share of the user's, else the usual ones."""
        if self.spare is not None:
            return self.spare
        if self.spare_share is not None:
            return math.ceil(needed * self.spare_share - 1e-9)
        return usual

    @property
    def name(self) -> str:
        """What the history, and the bill once the part is gone, call the record."""
        return _words(self.part)

    @property
    def empty(self) -> bool:
        """Whether nothing but the part's key is recorded."""
        return self == StockRow(part=self.part)


class Purchase(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Money spent that belongs to no line of the parts list: shipping, tax, tools. A refund is below zero."""

    date: Annotated[str, Spec("day", None, None, "Day", "2026-03-14")] = ""
    what: Annotated[str, Spec("count", None, None, "What")] = "Purchase"
    kind: Annotated[PurchaseKind, Spec("count", None, None, "Kind")] = "other"
    amount: Annotated[
        float, Spec("money", -MOST_MONEY, MOST_MONEY, "Amount", "As paid; a refund with a minus.")
    ] = 0.0
    note: Annotated[str, Spec("count", None, None, "Note")] = ""

    def check(self) -> None:
        check_date("date", self.date)

    @property
    def name(self) -> str:
        """What the history calls the purchase."""
        return self.what


class Budget(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What may be spent, and what shipping is expected to cost."""

    amount: Annotated[float | None, Spec("money", 0.0, MOST_MONEY, "Budget", "For the whole machine.")] = None
    shipping: Annotated[
        float | None,
        Spec("money", 0.0, MOST_MONEY, "Shipping expected", "Altogether; what is paid is taken off it."),
    ] = None
