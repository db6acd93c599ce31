"""Quantities in, quantities out: typed text becomes an SI number, an SI number becomes text for a person.

A strict grammar of our own reads the text, pint gives the units' factors and dimensions (`units.txt`),
fractions keep all of it exact until the one rounding at the end.
"""

from core.units.bad_text import BadText
from core.units.quantities import METRIC, QUANTITIES, Quantity, UnitSet, unit_label
from core.units.reading import accepts, parse
from core.units.showing import from_si, show, show_number, to_si
from core.units.telling import digits_beside, finest_decimals, show_beside, tell

__all__ = [
    "METRIC",
    "QUANTITIES",
    "BadText",
    "Quantity",
    "UnitSet",
    "accepts",
    "digits_beside",
    "finest_decimals",
    "from_si",
    "parse",
    "show",
    "show_beside",
    "show_number",
    "tell",
    "to_si",
    "unit_label",
]
