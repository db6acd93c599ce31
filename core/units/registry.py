"""The units that the program knows, each exactly once, held by pint.

The definitions stand in `units.txt` beside this file; pint resolves spellings, dimensions and factors from
them with exact fractions. Nothing here reads what a person typed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

if TYPE_CHECKING:
    import pint

Dimension = tuple[tuple[str, int], ...]
DEFINITIONS = Path(__file__).with_name("units.txt")


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as a multiple of the product of SI base units (m, kg, s, rad, K).

    Attributes:
        factor: exact, except that pi is taken to 50 digits.
        dimension: sorted pairs of base dimension and exponent; empty for plain numbers.
    """

    factor: Fraction
    dimension: Dimension


@cache
def _registry() -> pint.UnitRegistry[Any]:
    # Loaded at the first need, so that the window's first paint does not wait for it. Our own short file takes a few
    # milliseconds; pint's default one a good part of a second.
    import pint

    return pint.UnitRegistry(str(DEFINITIONS), non_int_type=Fraction)


@cache
def spellings() -> frozenset[str]:
    """Every spelling that `units.txt` lists; pint alone would also take plurals it makes up ("kNs")."""
    lines = DEFINITIONS.read_text(encoding="utf-8").splitlines()
    parts = [line.split(" = ") for line in lines if line and not line.startswith("#")]
    names = {name.strip() for name, _, *others in parts for name in (name, *others)}
    return frozenset(names - {"_", "pi"})


def combine(powers: Mapping[str, int], number: Fraction = Fraction(1)) -> Unit:
    """The unit `number` times the product of known spellings raised to powers."""
    registry = _registry()
    one = registry.Quantity(number, registry.UnitsContainer(dict(powers))).to_base_units()
    dimension = sorted(
        (name.strip("[]"), int(cast(Fraction, power))) for name, power in one.dimensionality.items()
    )
    return Unit(Fraction(one.magnitude), tuple(dimension))
