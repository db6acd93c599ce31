"""From typed text to SI: number, unit, feet and inches, in exact fractions with one rounding at the end."""

from __future__ import annotations

import re
from fractions import Fraction

from core.errors import BadEntry
from core.units.bad_text import BadText, TwoReadings, Unreadable, shortened
from core.units.number_text import read_number, read_sign
from core.units.plain_text import plain
from core.units.quantities import (
    METRIC,
    QUANTITIES,
    Quantity,
    UnitSet,
    quantity_named,
    si_unit,
    unit_label,
    zero_of,
)
from core.units.registry import Dimension, Unit
from core.units.unit_text import read_unit

_FEET = re.compile(r" ?(?:'|ft|feet|foot)(?: - |-| |)(?P<inches>[0-9.,].*)?", re.IGNORECASE)
_INCHES = re.compile(r" ?(?:\"|in|inch|inches)?", re.IGNORECASE)
_LONGEST = 100
# As a speed of rotation is often written; only there can it mean nothing else.
_PER_MINUTE = ("1/min", "/min", "min^-1")
_ABSOLUTE_ZERO = Fraction("-273.15")


def parse(text: str, quantity: str, units: UnitSet = METRIC, decimal: str | None = None) -> float:
    """The typed quantity in SI (a temperature in degrees Celsius), finite and rounded once.

    Args:
        text: as typed; a bare number is in the unit that the field shows. A share below one without a sign could be
            a part of one or of a hundred ("0.1"), and is refused.
        quantity: a name of `QUANTITIES`.
        units: whose units a bare number is in.
        decimal: "." or "," settles readings like "1,200"; None refuses them. A lone point before three
            digits is the decimal point unless the comma is set here.

    Raises:
        BadText: a full sentence that says what is wrong and what would be accepted.
    """
    if decimal not in (None, ".", ","):
        raise BadEntry("decimal", str(decimal), "is not a decimal mark", "a point or a comma")
    wanted = quantity_named(quantity)
    try:
        return _rounded(_exact(plain(text), quantity, units, decimal), wanted)
    except Unreadable as wrong:
        raise BadText(wanted.name, text, str(wrong), _accepted(quantity, units)) from None
    except TwoReadings as two:
        raise BadText(wanted.name, text, *_both(plain(text), two, quantity, units)) from None


def accepts(quantity: str, units: UnitSet = METRIC) -> str:
    """A sentence that names what the entry of a quantity takes."""
    text = _accepted(quantity, units)
    return f"{text[:1].upper()}{text[1:]}."


def _accepted(quantity: str, units: UnitSet) -> str:
    wanted = quantity_named(quantity)
    *firsts, last = wanted.examples
    listed = f"{', '.join(firsts)} or {last}"
    unit = unit_label(quantity, units)
    return (
        f"a number in {unit}, or {wanted.words} with its unit such as {listed}"
        if unit
        else f"{wanted.words} such as {listed}"
    )


def _exact(text: str, quantity: str, units: UnitSet, decimal: str | None) -> Fraction:
    if not text:
        raise Unreadable(f"is not {quantity_named(quantity).words}")
    if len(text) > _LONGEST:
        raise Unreadable(f"is longer than {_LONGEST} characters")
    if si_unit(quantity).dimension == si_unit("length").dimension:
        length = _feet_and_inches(text, decimal)
        if length is not None:
            return length
    number, rest = read_number(text, decimal)
    if quantity == "share" and not rest.strip(" ") and 0 < abs(number) < 1:
        raise TwoReadings(text, f"{text} %", f"{float(100 * number):g} %")
    unit_text = rest.strip(" ") or unit_label(quantity, units)
    if quantity == "rotation_speed" and unit_text in _PER_MINUTE:
        unit_text = "rpm"
    unit = _fitting_unit(unit_text, quantity)
    kept = si_unit(quantity).factor
    value = (number - zero_of(quantity, unit_text)) * unit.factor / kept
    if quantity == "temperature" and value < _ABSOLUTE_ZERO:
        raise Unreadable("is colder than absolute zero")
    return value


def _feet_and_inches(text: str, decimal: str | None) -> Fraction | None:
    """Metres if the text has inches after its feet, otherwise None."""
    sign, unsigned = read_sign(text)
    feet, rest = read_number(unsigned, decimal)
    found = _FEET.fullmatch(rest)
    if found is None or found["inches"] is None or unsigned[:1] in ("+", "-"):
        return None
    inches, last = read_number(found["inches"], decimal)
    if _INCHES.fullmatch(last) is None:
        raise Unreadable(f"has “{shortened(last.strip())}” after its feet, where inches were expected")
    if feet.denominator != 1:
        raise Unreadable("has inches after feet that are not whole")
    if inches >= 12:
        raise Unreadable("has twelve inches or more after its feet")
    return sign * (feet * read_unit("ft").factor + inches * read_unit("in").factor)


def _fitting_unit(text: str, quantity: str) -> Unit:
    wanted = si_unit(quantity).dimension
    unit = read_unit(text)
    if unit.dimension != wanted:
        # In the trade "lb" is also the force; where only a force fits, there is no doubt.
        unit_of_force = read_unit(text, pounds_are_force=True)
        if unit_of_force.dimension != wanted:
            raise Unreadable(_misfit(unit.dimension, quantity_named(quantity)))
        unit = unit_of_force
    if not wanted and text and (quantity_named(quantity).whole or quantity in ("money", "unit_price")):
        raise Unreadable(f"has “{shortened(text)}” after the number, where nothing was expected")
    return unit


def _misfit(found: Dimension, wanted: Quantity) -> str:
    if not found:
        return f"is a plain number with a sign for parts, not {wanted.words}"
    for name, other in QUANTITIES.items():
        if si_unit(name).dimension == found:
            return f"is {other.words}, not {wanted.words}"
    return f"has a unit that does not measure {wanted.words}"


def _both(text: str, two: TwoReadings, quantity: str, units: UnitSet) -> tuple[str, str]:
    """Problem and accepted texts that write out both readings of the whole entry."""
    readings = [text.replace(two.written, reading, 1) for reading in (two.grouped, two.decimal)]
    good = [reading for reading in readings if _is_good(reading, quantity, units)]
    problem = f"can be read as {shortened(readings[0])} or as {shortened(readings[1])}"
    if not good:
        return problem, _accepted(quantity, units)
    return problem, f"{' or '.join(map(shortened, good))}, written like this"


def _is_good(text: str, quantity: str, units: UnitSet) -> bool:
    try:
        parse(text, quantity, units, ".")
    except BadText:
        return False
    return True


def _rounded(value: Fraction, wanted: Quantity) -> float:
    if wanted.whole and value.denominator != 1:
        raise Unreadable("is not whole")
    try:
        result = float(value)
    except OverflowError:
        raise Unreadable("is too large to be worked with") from None
    if result == 0.0 and value != 0:
        raise Unreadable("is too small to be worked with")
    return result
