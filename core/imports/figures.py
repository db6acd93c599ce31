"""Figures and days out of table cells; what cannot be read is told in words."""

from __future__ import annotations

import re
from datetime import date as Date

from core.units import BadText, parse

_SIGNS = re.compile(r"[€$£¥]|CHF|kr\b", re.IGNORECASE)
_DOTTED = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})")


class BadCell(ValueError):
    """A cell that cannot be read; the text is a whole sentence."""


def read_money(text: str, currency: str, decimal: str | None) -> float:
    """A price or a sum, with or without its currency."""
    bare = _SIGNS.sub("", text.replace(currency, "")).strip() if currency else _SIGNS.sub("", text).strip()
    try:
        value = parse(bare, "unit_price", decimal=decimal)
    except BadText as error:
        raise BadCell(f"“{text.strip()}” is no price. Accepted: {error.accepted}.") from error
    if value < 0.0:
        raise BadCell(f"“{text.strip()}” is below zero.")
    return value


def read_count(text: str, decimal: str | None) -> int:
    """A number of pieces."""
    try:
        value = int(parse(text.strip(), "count", decimal=decimal))
    except BadText as error:
        raise BadCell(f"“{text.strip()}” is no number of pieces. Accepted: a whole number.") from error
    if not 0 <= value <= 1_000_000:
        raise BadCell(f"“{text.strip()}” is no number of pieces. Accepted: 0 to 1000000.")
    return value


def read_day(text: str) -> str:
    """A day as 2026-03-14; 14.3.2026 is read too, what could be two days is not."""
    bare = text.strip()
    dotted = _DOTTED.fullmatch(bare)
    try:
        if dotted:
            return Date(int(dotted[3]), int(dotted[2]), int(dotted[1])).isoformat()
        return Date.fromisoformat(bare).isoformat()
    except ValueError as error:
        raise BadCell(f"“{bare}” is no day. Accepted: year-month-day, as 2026-03-14.") from error
