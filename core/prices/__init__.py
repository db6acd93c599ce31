"""What things cost by the user's own prices; what has none has none, never a zero. Sums are exact decimals."""

from __future__ import annotations

from core.prices.find import Price, Pricer, price_of_beam, price_of_line, prices_by_mass
from core.prices.money import NO_PRICE, exact, rounded, show_amount, show_money, times, total

__all__ = [
    "NO_PRICE",
    "Price",
    "Pricer",
    "exact",
    "price_of_beam",
    "price_of_line",
    "prices_by_mass",
    "rounded",
    "show_amount",
    "show_money",
    "times",
    "total",
]
