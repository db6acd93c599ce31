"""Figures and days out of table cells; what cannot be read is told in words."""

from __future__ import annotations

import re
from datetime import date as Date

from core.units import BadText, parse

_SIGNS = {
    "€": ("eur", "euro"),
    "$": ("usd", "cad", "aud", "nzd", "sgd", "hkd", "mxn", "dollar", "us$", "c$", "a$"),
    "£": ("gbp", "pound"),
    "¥": ("jpy", "cny", "yen", "yuan"),
    "kr": ("sek", "nok", "dkk", "isk", "krona", "krone"),
    "zł": ("pln", "zloty"),
    "₹": ("inr", "rupee"),
}
"""Signs of money with the currencies, in small letters, that are written with them."""
_CODES = frozenset(
    {
        "aed", "ars", "aud", "bgn", "brl", "cad", "chf", "clp", "cny", "cop", "czk", "dkk", "eur", "gbp", "hkd", "huf", "idr",
        "ils", "inr", "isk", "jpy", "krw", "mxn", "myr", "nok", "nzd", "php", "pln", "ron", "rsd", "rub", "sar", "sek", "sgd",
        "thb", "try", "twd", "uah", "usd", "vnd", "zar",
    }
)  # fmt: skip
"""Codes of ISO 4217 that a price list may name."""
_MONEY = re.compile(rf"(?<![^\W\d_])(?:{'|'.join(sorted(_CODES))}|kr)(?![^\W\d_])|zł|[€$£¥₹]", re.IGNORECASE)
_DOTTED = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})")


class BadCell(ValueError):
    """A cell that cannot be read; the text is a whole sentence."""


def other_money(text: str, currency: str) -> str:
    """The first sign or code of another currency than the project's in a text; empty when there is none."""
    own = currency.strip().casefold()
    same = _SIGNS.get(own, ())  # the project may name its money by a sign
    rest = re.sub(re.escape(own), " ", text.casefold()) if own else text.casefold()
    for found in _MONEY.finditer(rest):
        sign = found.group()
        if own and sign != own and own not in _SIGNS.get(sign, ()) and sign not in (*same, *own):
            return sign.upper() if sign in _CODES else sign
    return ""


def same_money(told: str, currency: str) -> bool:
    """Whether a word or sign that a table gives for its money may be the project's."""
    word, own = told.strip().casefold(), currency.strip().casefold()
    return word == own or own in _SIGNS.get(word, ()) or word in _SIGNS.get(own, ())


def read_money(text: str, currency: str, decimal: str | None) -> float:
    """A price or a sum, with or without its currency; another currency is refused, as nothing is converted."""
    other = other_money(text, currency)
    if other:
        raise BadCell(f"“{text.strip()}” is in {other}, this project's money is {currency}.")
    own = re.escape(currency.strip())
    bare = _MONEY.sub("", re.sub(own, "", text, flags=re.IGNORECASE) if own else text).strip()
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
