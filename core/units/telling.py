"""Few digits for figures that are known roughly, but always enough to tell a figure from its limit."""

from __future__ import annotations

from collections.abc import Iterable

from core.units.quantities import METRIC, UnitSet
from core.units.showing import from_si, show

FEW, MOST = 2, 6


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


def _told(value: float, limit: float, digits: int) -> bool:
    rounded = float(f"{value:.{digits - 1}e}")
    return value == limit or (rounded != limit and (rounded > limit) == (value > limit))
