"""From SI to what a person reads: the user's unit, sensible digits, rounded once from the exact value.

Figures that are not finite are said so in words; `parse` reads none of those back.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import overload

import numpy as np
from numpy.typing import NDArray

from core.units.quantities import (
    METRIC,
    Digits,
    UnitSet,
    quantity_named,
    shown_scale,
    unit_label,
    zero_of,
)

_Array = NDArray[np.float64]
# Outside of these powers of ten a figure is written with an exponent.
_LONGEST_WHOLE, _SMALLEST_DECIMAL = 15, -9


def show(
    value: float, quantity: str, units: UnitSet = METRIC, digits: int | None = None, decimal: str = "."
) -> str:
    """Number and unit ("12.5 mm").

    Args:
        value: in SI (a temperature in degrees Celsius).
        digits: significant digits instead of the quantity's own; those before the point always stay.
        decimal: the decimal mark to write. Text meant for `parse(decimal=",")` must be written with ",".
    """
    number, unit = show_number(value, quantity, units, digits, decimal), unit_label(quantity, units)
    if not unit or not math.isfinite(value):
        return number
    return f"{number}{unit}" if unit == "°" else f"{number} {unit}"


def show_number(
    value: float, quantity: str, units: UnitSet = METRIC, digits: int | None = None, decimal: str = "."
) -> str:
    """The number alone, in the unit of `unit_label`; arguments as for `show`."""
    if math.isnan(value):
        return "not a number"
    if math.isinf(value):
        return "infinite" if value > 0 else "minus infinite"
    own = quantity_named(quantity).digits[units.length == "in"]
    rule = own if digits is None else Digits(0, digits, own.keep_zeros)
    text = _written(_shown(value, quantity, units), rule)
    return text if decimal == "." else text.replace(".", decimal)


@overload
def from_si(value: float, quantity: str, units: UnitSet = METRIC) -> float: ...
@overload
def from_si(value: _Array, quantity: str, units: UnitSet = METRIC) -> _Array: ...
def from_si(value: float | _Array, quantity: str, units: UnitSet = METRIC) -> float | _Array:
    """Numbers in the unit of `unit_label`, in the same shape; a single number is rounded once."""
    if isinstance(value, np.ndarray):
        zero = zero_of(quantity, unit_label(quantity, units))
        return _scaled(value, 1 / shown_scale(quantity, units)) + float(zero)
    return float(_shown(value, quantity, units)) if math.isfinite(value) else float(value)


@overload
def to_si(value: float, quantity: str, units: UnitSet = METRIC) -> float: ...
@overload
def to_si(value: _Array, quantity: str, units: UnitSet = METRIC) -> _Array: ...
def to_si(value: float | _Array, quantity: str, units: UnitSet = METRIC) -> float | _Array:
    """SI from numbers in the unit of `unit_label`, in the same shape; a single number is rounded once."""
    scale, zero = shown_scale(quantity, units), zero_of(quantity, unit_label(quantity, units))
    if isinstance(value, np.ndarray):
        return _scaled(value - float(zero), scale)
    return float((Fraction(float(value)) - zero) * scale) if math.isfinite(value) else float(value)


def _scaled(value: _Array, factor: Fraction) -> _Array:
    # Dividing by 1000 is right to the last digit where multiplying by 0.001 is not.
    if factor.numerator == 1:
        return np.asarray(value / float(factor.denominator))
    return np.asarray(value * float(factor))


def _shown(value: float, quantity: str, units: UnitSet) -> Fraction:
    return Fraction(float(value)) / shown_scale(quantity, units) + zero_of(
        quantity, unit_label(quantity, units)
    )


def _written(value: Fraction, rule: Digits) -> str:
    if value == 0:
        return f"{0:.{rule.decimals}f}" if rule.keep_zeros else "0"
    power = _power_of_ten(abs(value))
    if power >= _LONGEST_WHOLE or (rule.significant and power < _SMALLEST_DECIMAL):
        return _with_exponent(value, power, max(rule.significant, 2) - 1)
    enough = rule.significant - 1 - power if rule.significant else 0
    return _decimals(value, max(rule.decimals, enough, 0), rule.keep_zeros)


def _with_exponent(value: Fraction, power: int, decimals: int) -> str:
    scaled = value / Fraction(10) ** power
    if round(abs(scaled), decimals) >= 10:
        power, scaled = power + 1, scaled / 10
    return f"{_decimals(scaled, decimals, False)}e{power}"


def _decimals(value: Fraction, decimals: int, keep_zeros: bool) -> str:
    scaled = round(abs(value) * 10**decimals)
    whole, part = divmod(scaled, 10**decimals)
    tail = f"{part:0{decimals}d}" if decimals else ""
    if not keep_zeros:
        tail = tail.rstrip("0")
    sign = "-" if value < 0 and scaled else ""
    return f"{sign}{whole}.{tail}" if tail else f"{sign}{whole}"


def _power_of_ten(value: Fraction) -> int:
    """The largest n with 10**n not above the value, which is positive."""
    guess = len(str(value.numerator)) - len(str(value.denominator))
    return guess if value >= Fraction(10) ** guess else guess - 1
