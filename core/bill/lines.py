"""Lines of the bill of parts: what is needed, spare, bought in packs, on hand, ordered, arrived, fitted, and its price."""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal

from core.bill.bars import BarLine
from core.machine.ordering import StockRow
from core.parts import PartLine
from core.prices import Price, Pricer, exact, times

ZERO = Decimal("0.00")


@dataclass(frozen=True, slots=True)
class BillLine:
    """One part with what was recorded about it; counts are pieces.

    Attributes:
        part: the line of the parts list. record: the user's own figures; an empty record when there are none.
        needed, spare, wanted: for the machine, on top, both together.
        cut: of those wanted, how many the bars in the bill are cut into; they are not bought as pieces.
        on_hand: as recorded, and for bars those entered beside the cut list too.
        pack_size: pieces in a pack; 0 for what is bought singly.
        bought: pieces that cover what is wanted when nothing is there yet: whole packs. packs: their number, 0 if single.
        to_order, packs_to_order: the same for what on hand, ordered, arrived and fitted leave open: nothing that is there,
            or on its way, is ordered again, even where the records do not agree with each other.
        fitted: as recorded; of bars at least those whose pieces are all fitted.
        awaited: ordered but not arrived. here: on hand or arrived, fitted ones among them. short: still missing for the
            machine, spares left out.
        price: of one, without what tax comes on top; None when no price is known.
        planned, to_come: cost of `bought` and of `to_order`; zero for none, None without a price.
        waits: whether its metal is there or ordered as bars that are not counted yet: what is to order then is not known,
            and stands as nothing until it is.
        spent: for all that was ordered, tax included; None when neither paid nor priced. estimated: no paid price was
            entered, so the price list stands in.
    """

    part: PartLine
    record: StockRow
    needed: int
    spare: int
    wanted: int
    cut: int
    on_hand: int
    pack_size: int
    bought: int
    packs: int
    to_order: int
    packs_to_order: int
    fitted: int
    awaited: int
    here: int
    short: int
    price: Price | None
    planned: Decimal | None
    to_come: Decimal | None
    spent: Decimal | None
    estimated: bool
    waits: bool = False

    @property
    def key(self) -> str:
        return self.part.key

    @property
    def beside(self) -> int:
        """Of those on hand, how many are entered beside the cut list and not in the record."""
        return self.on_hand - self.record.on_hand


def bill_line(
    part: PartLine,
    record: StockRow | None,
    pricer: Pricer,
    tax: float,
    *,
    cut: int = 0,
    bar: BarLine | None = None,
    waits: bool = False,
) -> BillLine:
    """One line; `tax` is the share that comes on top of prices, `cut` as in `BillLine`; `bar` for a line of bars,
    `waits` as in `BillLine`."""
    row = StockRow(part=part.key) if record is None else record
    pack_size = part.pack_size if row.pack_size is None else row.pack_size
    pack_size = 0 if pack_size == 1 else pack_size
    spare = row.spares(part.quantity, part.spare)
    wanted = part.quantity + spare
    alone = max(0, wanted - cut)
    on_hand = row.on_hand + (0 if bar is None else bar.there)
    bought, packs = in_packs(alone, pack_size)
    fitted = max(row.fitted, 0 if bar is None else bar.done)
    got = max(cut + on_hand + max(row.ordered, row.arrived), fitted)
    missing = max(0, wanted - got)
    waits = waits and missing > 0
    to_order, packs_to_order = in_packs(0 if waits else missing, pack_size)
    price = None if cut and not alone else _price(part, row, pricer, pack_size, bar)
    spent, estimated = _spent(row, price, tax)
    return BillLine(
        part=part,
        record=row,
        needed=part.quantity,
        spare=spare,
        wanted=wanted,
        cut=cut,
        on_hand=on_hand,
        pack_size=pack_size,
        bought=bought,
        packs=packs,
        to_order=to_order,
        packs_to_order=packs_to_order,
        fitted=fitted,
        awaited=max(0, row.ordered - row.arrived),
        here=on_hand + row.arrived,
        short=max(0, part.quantity - max(cut + on_hand + row.arrived, fitted)),
        price=price,
        planned=ZERO if bought == 0 else None if price is None else times(price.each, bought),
        to_come=ZERO if to_order == 0 else None if price is None else times(price.each, to_order),
        spent=spent,
        estimated=estimated,
        waits=waits,
    )


def in_packs(pieces: int, pack_size: int) -> tuple[int, int]:
    """(pieces, packs) that are bought to have so many pieces; packs are 0 when bought singly."""
    if pack_size < 2:
        return pieces, 0
    packs = math.ceil(pieces / pack_size)
    return packs * pack_size, packs


def _price(
    part: PartLine, row: StockRow, pricer: Pricer, pack_size: int, bar: BarLine | None
) -> Price | None:
    if row.price is not None:
        return Price(exact(row.price), pricer.currency, "entered beside the part")
    return pricer.line(part, pack_size) if bar is None else bar.price


def _spent(row: StockRow, price: Price | None, tax: float) -> tuple[Decimal | None, bool]:
    if row.ordered == 0:
        return ZERO, False
    if row.paid is not None:
        return times(exact(row.paid), row.ordered), False
    if price is None:
        return None, True
    return times(price.each * (1 + exact(tax)), row.ordered), True
