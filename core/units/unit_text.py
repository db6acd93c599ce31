"""The unit after a number, in a small strict grammar: products, division, one level of brackets, powers.

"N/um", "kN m/rad", "kg/m3", "um per 100 N", "ft-lbf" and "1/K" are units; sums, guesses and made-up
prefixes are not.
"""

from __future__ import annotations

import re
from functools import lru_cache

from core.units.bad_text import Unreadable, shortened
from core.units.plain_text import plain
from core.units.registry import Unit, combine, spellings

_TOKEN = re.compile(
    r" ?(?:(?P<name>[A-Za-z]+)(?:\^(?P<power>-?[1-9])|(?P<tight>[2-4]))?|(?P<other>[0-9]+|[*/()]))"
)
_SIGNS = (("°C", "degC"), ("°F", "degF"), ("° C", "degC"), ("° F", "degF"), ("°", "deg"), ("%", "percent"))
# Spellings in any case where no other unit could be meant; "mn" or "mpa" must say which they are.
_ANY_CASE = frozenset(
    {
        "mm",
        "cm",
        "um",
        "in",
        "inch",
        "inches",
        "ft",
        "foot",
        "feet",
        "thou",
        "mil",
        "mils",
        "lb",
        "lbs",
        "lbf",
    }
    | {"kip", "kg", "rpm", "psi", "ksi", "deg", "degrees", "rad", "rev"}
)
_ROUND_NUMBERS = frozenset({"10", "100", "1000"})


@lru_cache(maxsize=512)
def read_unit(text: str, pounds_are_force: bool = False) -> Unit:
    """The unit that the whole text names; empty text is a plain number.

    Args:
        text: as typed, without the number.
        pounds_are_force: read lb and oz as pound-force and ounce-force, as in "ft-lb" and "lb/in".

    Raises:
        Unreadable: an unknown name, or a form outside the grammar.
    """
    powers, number = _Reader(_tokens(_spelled_out(text)), text).whole()
    if pounds_are_force:
        swap = {"lb": "lbf", "lbs": "lbf", "pounds": "lbf", "pound": "lbf", "oz": "ozf"}
        powers = [(swap.get(name, name), power) for name, power in powers]
    total: dict[str, int] = {}
    for name, power in powers:
        total[name] = total.get(name, 0) + power
    unit = combine(total)
    return Unit(unit.factor / number, unit.dimension)


def _spelled_out(text: str) -> str:
    text = plain(text)
    if text in ("'", '"'):
        return "ft" if text == "'" else "in"
    for sign, name in _SIGNS:
        text = text.replace(sign, name)
    # "ft-lbf" is a product; "per" divides.
    text = re.sub(r"(?<=[A-Za-z])-(?=[A-Za-z])", "*", text)
    return re.sub(r"(?<![A-Za-z])per(?![A-Za-z])", "/", text)


def _tokens(text: str) -> list[re.Match[str]]:
    tokens, place = [], 0
    while place < len(text):
        token = _TOKEN.match(text, place)
        if token is None:
            raise Unreadable(f"has “{shortened(text[place:].strip())}” where a unit was expected")
        tokens.append(token)
        place = token.end()
    return tokens


class _Reader:
    """Walks the tokens once: product, then any number of divisions, each by one factor or one bracket."""

    def __init__(self, tokens: list[re.Match[str]], text: str) -> None:
        self._tokens = tokens
        self._text = text
        self._place = 0

    def whole(self) -> tuple[list[tuple[str, int]], int]:
        """Names with powers, and the round number that the whole is divided by."""
        powers: list[tuple[str, int]] = []
        number = 1
        if not self._tokens:
            return powers, number
        if self._peek() == "1":
            self._place += 1
        elif self._peek() != "/":
            powers += self._product()
        while self._peek() == "/":
            self._place += 1
            if self._peek() in _ROUND_NUMBERS:
                number *= int(self._peek())
                self._place += 1
            powers += [(name, -power) for name, power in self._divisor()]
        if self._place < len(self._tokens) or not powers:
            raise self._wrong()
        return powers, number

    def _peek(self) -> str:
        return self._tokens[self._place][0].strip() if self._place < len(self._tokens) else ""

    def _product(self) -> list[tuple[str, int]]:
        factors = [self._factor()]
        while self._peek() == "*" or self._at_name():
            self._place += self._peek() == "*"
            factors.append(self._factor())
        return factors

    def _divisor(self) -> list[tuple[str, int]]:
        if self._peek() != "(":
            return [self._factor()]
        self._place += 1
        factors = self._product()
        if self._peek() != ")":
            raise self._wrong()
        self._place += 1
        return factors

    def _at_name(self) -> bool:
        return self._place < len(self._tokens) and self._tokens[self._place]["name"] is not None

    def _factor(self) -> tuple[str, int]:
        if not self._at_name():
            raise self._wrong()
        token = self._tokens[self._place]
        self._place += 1
        return _known(token["name"]), int(token["power"] or token["tight"] or 1)

    def _wrong(self) -> Unreadable:
        return Unreadable(f"has “{shortened(self._text.strip())}” where a unit was expected")


def _known(name: str) -> str:
    if name in spellings():
        return name
    if name.lower() in _ANY_CASE:
        return name.lower()
    raise Unreadable(f"has the unit “{shortened(name)}”, which is not known here")
