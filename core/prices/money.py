"""Sums of money: exact decimals, rounded to hundredths once for each line.

A project file holds a price as a plain number. Its shortest decimal text is what was typed (any text of up to 15 digits
survives the way through a double), so a `Decimal` made from that text is exact, and sums of such decimals are too.
Whole cents would not do: a screw at 0.043 has none.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Context, Decimal

CENT = Decimal("0.01")
NO_PRICE = "no price"
MOST_DECIMALS = 5
_EXACT = Context(prec=60, rounding=ROUND_HALF_UP)


def exact(value: float | Decimal) -> Decimal:
    """The amount that was typed, as a decimal."""
    return value if isinstance(value, Decimal) else Decimal(repr(value))


def rounded(amount: Decimal) -> Decimal:
    """The amount in whole hundredths, halves away from zero, as a bill is written."""
    return amount.quantize(CENT, context=_EXACT)


def times(price: Decimal, count: float | Decimal) -> Decimal:
    """Price times count (pieces, metres, kilograms, hours), in whole hundredths."""
    return rounded(_EXACT.multiply(price, exact(count)))


def shared(price: Decimal, count: int) -> Decimal:
    """The price of one out of a pack, unrounded; times the count it gives the pack's price again."""
    return _EXACT.divide(price, Decimal(count))


def total(amounts: Iterable[Decimal | None]) -> Decimal:
    """Sum of those that are known; count the others beside it."""
    summed = Decimal("0.00")
    for amount in amounts:
        if amount is not None:
            summed = _EXACT.add(summed, amount)
    return summed


def show_amount(amount: Decimal | None) -> str:
    """The figure alone: at least two decimals, as many more as it needs up to five; "no price" without one."""
    if amount is None:
        return NO_PRICE
    exponent = amount.normalize(_EXACT).as_tuple().exponent
    decimals = min(max(2, -exponent), MOST_DECIMALS) if isinstance(exponent, int) else 2
    plain = amount.quantize(Decimal(1).scaleb(-decimals), context=_EXACT)
    return f"{plain:,.{decimals}f}".replace(",", "\N{NARROW NO-BREAK SPACE}")


def show_money(amount: Decimal | None, currency: str) -> str:
    """Figure and currency ("12.50 EUR"); "no price" without one."""
    return NO_PRICE if amount is None else f"{show_amount(amount)} {currency}"
