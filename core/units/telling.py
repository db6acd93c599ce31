"""Few digits for figures that are known roughly, but always enough to tell a figure from its limit."""

from __future__ import annotations

import math
from collections.abc import Iterable

from core.units.quantities import METRIC, UnitSet, unit_label
from core.units.showing import from_si, show, to_si

FEW, MOST = 2, 6
TOLD = 3
_FINEST = {"deflection": {"mm": 4, "thou": 2}}
"""Decimals beyond which a computed figure says nothing: a tenth of a micrometre, a hundredth of a thou."""


def digits_beside(
    pairs: Iterable[tuple[float, float]], quantity: str, units: UnitSet = METRIC, least: int = FEW
) -> int:
    """Significant digits at which no figure of the (figure, limit) pairs, in SI, seems to lie on the wrong side.

    A figure of 0.1004 mm over a limit of 0.1 mm needs four digits to be seen over it; one of 0.0375 mm needs two.
    """
    shown = [(from_si(a, quantity, units), from_si(b, quantity, units)) for a, b in pairs]
    return next((d for d in range(least, MOST) if all(_told(a, b, d) for a, b in shown)), MOST)


def show_beside(value: float, limit: float, quantity: str, units: UnitSet = METRIC, least: int = FEW) -> str:
    """Number and unit of a figure in SI with no more digits than it takes to tell it from its limit."""
    return show(value, quantity, units, digits_beside([(value, limit)], quantity, units, least))


def tell(value: float, quantity: str, units: UnitSet = METRIC, digits: int = TOLD) -> str:
    """Number and unit of a computed figure in SI, for a sentence: rounded to so many digits, those before the point too.

    4068.8 N is told as 4070 N. What a user has entered is written with `show`, which rounds nothing away.
    """
    if not math.isfinite(value):
        return show(value, quantity, units)
    number = from_si(value, quantity, units)
    places = digits - 1 - (math.floor(math.log10(abs(number))) if number else 0)
    finest = finest_decimals(quantity, units)
    rounded = round(number, places if finest is None else min(places, finest))
    return show(to_si(rounded, quantity, units), quantity, units, digits)


def finest_decimals(quantity: str, units: UnitSet = METRIC) -> int | None:
    """Decimals of a computed figure of this quantity beyond which it says nothing; None where there is no such end."""
    return _FINEST.get(quantity, {}).get(unit_label(quantity, units))


def _told(value: float, limit: float, digits: int) -> bool:
    rounded = float(f"{value:.{digits - 1}e}")
    return value == limit or (rounded != limit and (rounded > limit) == (value > limit))
