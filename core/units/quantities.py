"""The quantities of the program: the SI unit each is kept in, the unit it is shown in, its sensible digits.

A `UnitSet` is the user's choice. Every shown unit is a text that `parse` reads as well, so its factor is
found in one place only.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from types import MappingProxyType
from typing import Literal

from core.errors import BadEntry
from core.units.bad_text import Unreadable
from core.units.plain_text import plain
from core.units.registry import Unit
from core.units.unit_text import read_unit


@dataclass(frozen=True, slots=True)
class UnitSet:
    """The units that figures are shown in and that bare numbers are read in."""

    length: Literal["mm", "in"] = "mm"
    force: Literal["N", "lbf"] = "N"

    def __post_init__(self) -> None:
        if self.length not in ("mm", "in"):
            raise BadEntry("length", str(self.length), "is not a unit to show lengths in", "mm or in")
        if self.force not in ("N", "lbf"):
            raise BadEntry("force", str(self.force), "is not a unit to show forces in", "N or lbf")


METRIC = UnitSet("mm", "N")


@dataclass(frozen=True, slots=True)
class Digits:
    """How far a figure is written out: at least so many decimals and so many significant digits (0: any).

    Digits before the point are never rounded away. Zeros at the end go, unless `keep_zeros`.
    """

    decimals: int = 0
    significant: int = 4
    keep_zeros: bool = False


@dataclass(frozen=True, slots=True)
class Quantity:
    """One quantity.

    Attributes:
        words: with its article, for sentences ("a length").
        si: the unit that the engine keeps it in.
        shown: unit for (length mm, force N), (mm, lbf), (in, N), (in, lbf).
        digits: for lengths in mm and in inches.
        examples: texts that are accepted, beside a bare number.
        whole: only whole numbers.
    """

    words: str
    si: str
    shown: tuple[str, str, str, str]
    digits: tuple[Digits, Digits]
    examples: tuple[str, ...]
    whole: bool = False

    @property
    def name(self) -> str:
        """The words without their article."""
        return self.words.split(" ", 1)[1]


# Most figures are known no better, and any typed figure of four digits shows as typed.
_FOUR = Digits()


def _by_length(metric: str, inch: str) -> tuple[str, str, str, str]:
    return metric, metric, inch, inch


def _by_force(newton: str, pound: str) -> tuple[str, str, str, str]:
    return newton, pound, newton, pound


def _quantity(
    words: str,
    si: str,
    shown: tuple[str, str, str, str],
    examples: str,
    digits: Digits = _FOUR,
    inch: Digits | None = None,
) -> Quantity:
    return Quantity(words, si, shown, (digits, inch or digits), tuple(examples.split("; ")))


_PLAIN = ("", "", "", "")
_PERCENT = ("%", "%", "%", "%")
# An American shop keeps Fahrenheit; one that only measures in inches may not.
_DEGREES = ("°C", "°C", "°C", "°F")

QUANTITIES: Mapping[str, Quantity] = MappingProxyType(
    {
        "length": _quantity(
            "a length",
            "m",
            _by_length("mm", "in"),
            "1.2 m; 48 in; 4 ft 6 1/2 in; 5' 3 1/2\"",
            Digits(2, 3),
            Digits(3, 3),
        ),
        "distance_run": _quantity(
            "a distance to run", "m", _by_length("km", "mi"), "5000 km; 3000 mi", Digits(0, 3)
        ),
        "deflection": _quantity(
            "a deflection", "m", _by_length("mm", "thou"), "0.1 mm; 80 µm; 4 thou; 0.004 in"
        ),
        "force": _quantity("a force", "N", _by_force("N", "lbf"), "50 N; 1.2 kN; 25 lbf", Digits(1, 4)),
        "mass": _quantity("a mass", "kg", _by_force("kg", "lb"), "12.5 kg; 800 g; 27 1/2 lb", Digits(2, 3)),
        "stiffness": _quantity(
            "a stiffness", "N/m", ("N/µm", "lbf/mm", "N/thou", "lbf/in"), "20 N/µm; 20 kN/mm; 1.2e5 lbf/in"
        ),
        "rotational_stiffness": _quantity(
            "a turning stiffness",
            "N m/rad",
            _by_force("kN m/rad", "lbf ft/rad"),
            "150 kN m/rad; 5e4 lbf ft/rad",
        ),
        "compliance": _quantity(
            "a compliance",
            "m/N",
            ("µm per 100 N", "µm per 10 lbf", "thou per 100 N", "thou per 10 lbf"),
            "3 µm per 100 N; 0.03 µm/N; 0.5 thou per 10 lbf",
        ),
        "specific_stiffness": _quantity(
            "a specific stiffness", "N", _by_force("N", "lbf"), "600 kN; 130000 lbf", Digits(0, 4)
        ),
        "angle": _quantity("an angle", "rad", ("°",) * 4, "90°; 0.2 mrad; 3 arcmin"),
        "stress": _quantity("a stress", "Pa", _by_force("MPa", "psi"), "210 MPa; 70 GPa; 36 ksi"),
        "cutting_pressure": _quantity(
            "a cutting pressure", "Pa", _by_force("N/mm2", "psi"), "700 N/mm2; 30 MPa; 4000 psi"
        ),
        "density": _quantity(
            "a density", "kg/m3", _by_force("kg/m3", "lb/in3"), "2700 kg/m3; 7.85 g/cm3; 0.098 lb/in3"
        ),
        "area": _quantity("an area", "m2", _by_length("mm2", "in2"), "1200 mm2; 12 cm2; 1.9 in2"),
        "second_moment": _quantity(
            "a second moment of area", "m4", _by_length("cm4", "in4"), "353 cm4; 3.53e6 mm4; 8.5 in4"
        ),
        "torsion_constant": _quantity(
            "a torsion constant", "m4", _by_length("cm4", "in4"), "400 cm4; 4e6 mm4; 9.6 in4"
        ),
        "section_modulus": _quantity(
            "a section modulus", "m3", _by_length("cm3", "in3"), "58 cm3; 58000 mm3; 3.5 in3"
        ),
        "temperature": _quantity("a temperature", "°C", _DEGREES, "20 °C; 68 °F; 293.15 K", Digits(1, 0)),
        "temperature_difference": _quantity(
            "a temperature difference", "K", ("K", "K", "K", "°F"), "10 K; 10 °C; 18 °F", Digits(1, 3)
        ),
        "torque": _quantity(
            "a torque", "N m", _by_force("N m", "lbf ft"), "5 N m; 5 Nm; 45 lbf in; 4 ft-lbf"
        ),
        "speed": _quantity(
            "a speed", "m/s", _by_length("m/min", "in/min"), "3 m/min; 3000 mm/min; 120 in/min; 50 mm/s"
        ),
        "acceleration": _quantity(
            "an acceleration", "m/s2", _by_length("m/s2", "in/s2"), "0.8 m/s2; 800 mm/s2; 40 in/s2"
        ),
        "inertia": _quantity(
            "a moment of inertia",
            "kg m2",
            _by_force("kg cm2", "lb in2"),
            "0.8 kg cm2; 8e-5 kg m2; 0.3 lb in2",
        ),
        "rotation_speed": _quantity("a speed of rotation", "rev/s", ("rpm",) * 4, "18000 rpm; 300 rev/s"),
        "frequency": _quantity("a frequency", "Hz", ("Hz",) * 4, "120 Hz; 1.2 kHz"),
        "line_load": _quantity(
            "a load on a length", "N/m", ("N/m", "lbf/m", "N/ft", "lbf/ft"), "140 N/m; 0.14 N/mm; 10 lbf/ft"
        ),
        "linear_density": _quantity(
            "a mass on a length", "kg/m", _by_force("kg/m", "lb/ft"), "2.5 kg/m; 1.7 lb/ft", Digits(2, 3)
        ),
        "expansion": _quantity(
            "a coefficient of expansion",
            "1/K",
            ("µm/(m K)", "µm/(m K)", "µm/(m K)", "µin/(in °F)"),
            "23 µm/(m K); 23e-6/K; 12.8 µin/(in °F)",
        ),
        "power": _quantity("a power", "W", _by_force("W", "hp"), "800 W; 2.2 kW; 3 hp"),
        "ratio": _quantity("a plain number", "", _PLAIN, "0.25; 1/4; 25 %"),
        "share": _quantity("a share", "", _PERCENT, "10 %; 2.5 %"),
        "money": _quantity("a sum of money", "", _PLAIN, "12.50; 1200", Digits(2, 0, keep_zeros=True)),
        "unit_price": _quantity("a price", "", _PLAIN, "12.50; 0.043", Digits(2, 5)),
        "count": Quantity(
            "a whole number", "", _PLAIN, (Digits(0, 0), Digits(0, 0)), ("4", "120"), whole=True
        ),
    }
)


def quantity_named(name: str) -> Quantity:
    """The quantity of that name; raises BadEntry for a name that is none of `QUANTITIES`."""
    try:
        return QUANTITIES[name]
    except KeyError:
        raise BadEntry("quantity", name, "is not known", ", ".join(QUANTITIES)) from None


def unit_label(quantity: str, units: UnitSet = METRIC) -> str:
    """The unit that the quantity is shown in ("mm"); empty for plain numbers."""
    shown = quantity_named(quantity).shown
    return shown[2 * (units.length == "in") + (units.force == "lbf")]


@cache
def si_unit(quantity: str) -> Unit:
    """The unit that the engine keeps the quantity in. The scale of a temperature has degC's step."""
    return read_unit(quantity_named(quantity).si)


@cache
def shown_scale(quantity: str, units: UnitSet) -> Fraction:
    """The shown unit as a multiple of the unit that the engine keeps, exact."""
    return read_unit(unit_label(quantity, units)).factor / si_unit(quantity).factor


_SCALE_BEGINS = {"C": Fraction(0), "F": Fraction(32), "K": Fraction("273.15"), "kelvin": Fraction("273.15")}


def zero_of(quantity: str, unit: str) -> Fraction:
    """The reading of the unit's scale at zero SI: 32 for a temperature in °F, 273.15 in K, 0 for all else.

    Raises:
        Unreadable: the unit is no scale of temperature ("m K/m").

    Source: the scales by their exact definitions, NIST Special Publication 811, B.8.
    """
    if quantity != "temperature":
        return Fraction(0)
    scale = re.sub("^(°|deg) ?", "", plain(unit))
    if scale not in _SCALE_BEGINS:
        raise Unreadable("has no scale of temperature as its unit")
    return _SCALE_BEGINS[scale]
