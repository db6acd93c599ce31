"""Units against their published exact definitions, and against pint's own default registry."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any

import pint
import pytest

from core.units import QUANTITIES, UnitSet, parse, unit_label


@pytest.mark.outside(
    what="Inch, foot, yard and pound",
    source="International yard and pound agreement, 1 July 1959 (Federal Register document 59-5442)",
    status="memory high",
    tolerance="exact: the nearest double",
)
@pytest.mark.parametrize(
    ("text", "quantity", "exact"),
    [
        ("1 in", "length", "0.0254"),
        ("1 ft", "length", "0.3048"),
        ("1 yd", "length", "0.9144"),
        ("1 thou", "length", "0.0000254"),
        ("1 lb", "mass", "0.45359237"),
        ("16 oz", "mass", "0.45359237"),
    ],
)
def test_yard_and_pound(text: str, quantity: str, exact: str) -> None:
    assert parse(text, quantity) == float(Fraction(exact))


@pytest.mark.outside(
    what="Pound-force, kilogram-force, horsepower, psi, torque and degrees Fahrenheit",
    source="NIST Special Publication 811 (2008), appendix B.8",
    status="memory high",
    tolerance="exact factors: the nearest double; factors printed with 7 digits: half of the last digit",
)
@pytest.mark.parametrize(
    ("text", "quantity", "value", "relative"),
    [
        ("1 lbf", "force", 4.4482216152605, 0.0),
        ("1 kgf", "force", 9.80665, 0.0),
        ("1 kip", "force", 4448.2216152605, 0.0),
        ("1 bar", "stress", 1e5, 0.0),
        ("212 °F", "temperature", 100.0, 0.0),
        ("32 °F", "temperature", 0.0, 0.0),
        ("0 K", "temperature", -273.15, 0.0),
        ("9 °F", "temperature_difference", 5.0, 0.0),
        ("1 psi", "stress", 6.894757e3, 8e-8),
        ("1 ksi", "stress", 6.894757e6, 8e-8),
        ("1 hp", "power", 7.456999e2, 7e-8),
        ("1 lbf ft", "torque", 1.355818, 4e-7),
        ("1 lbf in", "torque", 1.129848e-1, 5e-7),
        ("1 lbf/in", "stiffness", 1.751268e2, 3e-7),
        ("1 lbf/ft", "line_load", 1.459390e1, 4e-7),
        ("1 lb/ft", "linear_density", 1.488164, 4e-7),
        ("1 lb/in3", "density", 2.767990e4, 2e-7),
        ("1 in2", "area", 6.4516e-4, 0.0),
        ("1 in4", "second_moment", 4.162314e-7, 2e-7),
        ("1 in/min", "speed", 2.54e-2 / 60, 2e-16),
        ("1 deg", "angle", 1.745329e-2, 3e-7),
        ("60 rpm", "rotation_speed", 1.0, 0.0),
    ],
)
def test_published_factors(text: str, quantity: str, value: float, relative: float) -> None:
    assert abs(parse(text, quantity) - value) <= relative * abs(value)


# What the default registry calls what we show; it has no word for the rest.
PINT_NAMES = {
    "N/µm": "newton/micrometer",
    "N/thou": "newton/(0.001*inch)",
    "lbf/in": "force_pound/inch",
    "lbf/mm": "force_pound/millimeter",
    "kN m/rad": "kilonewton*meter/radian",
    "lbf ft/rad": "force_pound*foot/radian",
    "µm per 100 N": "micrometer/(100*newton)",
    "µm per 10 lbf": "micrometer/(10*force_pound)",
    "thou per 100 N": "0.001*inch/(100*newton)",
    "thou per 10 lbf": "0.001*inch/(10*force_pound)",
    "thou": "0.001*inch",
    "lbf": "force_pound",
    "lb": "pound",
    "in": "inch",
    "°": "degree",
    "N/mm2": "newton/millimeter**2",
    "kg/m3": "kilogram/meter**3",
    "lb/in3": "pound/inch**3",
    "mm2": "millimeter**2",
    "in2": "inch**2",
    "cm4": "centimeter**4",
    "in4": "inch**4",
    "N m": "newton*meter",
    "lbf ft": "force_pound*foot",
    "lbf/m": "force_pound/meter",
    "N/ft": "newton/foot",
    "lbf/ft": "force_pound/foot",
    "lb/ft": "pound/foot",
    "µm/(m K)": "micrometer/meter/kelvin",
    "µin/(in °F)": "1e-6/delta_degree_Fahrenheit",
    "hp": "horsepower",
    "cm3": "centimeter**3",
    "in3": "inch**3",
    "m/s2": "meter/second**2",
    "in/s2": "inch/second**2",
    "kg cm2": "kilogram*centimeter**2",
    "lb in2": "pound*inch**2",
    "°F": "delta_degree_Fahrenheit",
}
PINT_SI = {
    "N m/rad": "newton*meter/radian",
    "m4": "meter**4",
    "m2": "meter**2",
    "kg/m3": "kilogram/meter**3",
    "rev/s": "turn/second",
    "N m": "newton*meter",
    "m3": "meter**3",
    "m/s2": "meter/second**2",
    "kg m2": "kilogram*meter**2",
}


@cache
def default_registry() -> Any:
    return pint.UnitRegistry()


def comparable() -> list[tuple[str, UnitSet]]:
    sets = [UnitSet(length, force) for length in ("mm", "in") for force in ("N", "lbf")]
    return [
        (name, units)
        for name, quantity in QUANTITIES.items()
        for units in sets
        if quantity.si not in ("", "°C")
    ]


@pytest.mark.outside(
    what="Every unit that is shown, and its dimension",
    source="pint, its own default registry",
    status="reference library",
    tolerance="relative 2e-15: both round in double precision",
)
@pytest.mark.parametrize(("name", "units"), comparable())
def test_shown_units_against_the_default_registry(name: str, units: UnitSet) -> None:
    registry, label, si = default_registry(), unit_label(name, units), QUANTITIES[name].si
    theirs = registry.parse_expression(PINT_NAMES.get(label, label)) * 1.0
    expected = theirs.to(registry.parse_expression(PINT_SI.get(si, si)).units).magnitude
    assert parse("1", name, units) == pytest.approx(expected, rel=2e-15)
    assert parse(f"7.5 {label}", name) == pytest.approx(7.5 * expected, rel=2e-15)


@pytest.mark.outside(
    what="Temperatures in degrees Fahrenheit and kelvin",
    source="pint, its own default registry",
    status="reference library",
    tolerance="1e-12 K",
)
@pytest.mark.parametrize("reading", [-459.67, -40.0, 0.0, 14.5, 68.0, 1000.0])
def test_temperatures_against_the_default_registry(reading: float) -> None:
    registry = default_registry()
    theirs = registry.Quantity(reading, "degree_Fahrenheit").to("degree_Celsius").magnitude
    assert parse(f"{reading} °F", "temperature") == pytest.approx(theirs, abs=1e-12)
    kelvin = registry.Quantity(reading + 500.0, "kelvin").to("degree_Celsius").magnitude
    assert parse(f"{reading + 500.0} K", "temperature") == pytest.approx(kelvin, abs=1e-12)
