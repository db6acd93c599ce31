"""What people type, and what it is in SI: every way of writing on purpose, every doubt refused."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadEntry, GantrywrightError
from core.units import METRIC, QUANTITIES, BadText, UnitSet, accepts, parse, show

INCH = UnitSet("in", "lbf")
MILLIMETRES_PER_INCH = Fraction("25.4")


def inches(value: Fraction | int) -> float:
    return float(Fraction(value) * MILLIMETRES_PER_INCH / 1000)


@pytest.mark.parametrize(
    ("text", "inch"),
    [
        ("48 in", Fraction(48)),
        ("48in", Fraction(48)),
        ("48 Inches", Fraction(48)),
        ('48"', Fraction(48)),
        ("48\N{DOUBLE PRIME}", Fraction(48)),
        ("48''", Fraction(48)),
        ("4 ft", Fraction(48)),
        ("4 ft 6 in", Fraction(54)),
        ("4 ft 6", Fraction(54)),
        ("4 ft 6 1/2 in", Fraction(109, 2)),
        ("4ft6 1/2in", Fraction(109, 2)),
        ("5' 3 1/2\"", Fraction(127, 2)),
        ("5'3½\"", Fraction(127, 2)),
        ("5\N{PRIME} 3\N{NO-BREAK SPACE}½\N{DOUBLE PRIME}", Fraction(127, 2)),
        ("5\N{RIGHT SINGLE QUOTATION MARK} 3½\N{RIGHT DOUBLE QUOTATION MARK}", Fraction(127, 2)),
        ("5'-3 1/2\"", Fraction(127, 2)),
        ("5' - 3-1/2\"", Fraction(127, 2)),
        ("-5' 3\"", Fraction(-63)),
        ("\N{MINUS SIGN}5' 3\"", Fraction(-63)),
        ("5' 0\"", Fraction(60)),
        ("5' ½\"", Fraction(121, 2)),
        ("5' 3,5\"", Fraction(127, 2)),
        ("½ in", Fraction(1, 2)),
        ("-½ in", Fraction(-1, 2)),
        ("3 1/2 in", Fraction(7, 2)),
        ("3-1/2 in", Fraction(7, 2)),
        ("3½ in", Fraction(7, 2)),
        ("3 ½ in", Fraction(7, 2)),
        ("3 1\N{FRACTION SLASH}2 in", Fraction(7, 2)),
        ("2 ⅞ in", Fraction(23, 8)),
        ("1/64 in", Fraction(1, 64)),
        ("1 2/3 ft", Fraction(20)),
        ("1 200 1/2 in", Fraction(2401, 2)),
        ("3 100/200 in", Fraction(7, 2)),
        ("4 thou", Fraction(4, 1000)),
        ("2 mil", Fraction(2, 1000)),
        ("2 yd", Fraction(72)),
    ],
)
def test_feet_inches_and_fractions_are_exact(text: str, inch: Fraction) -> None:
    assert parse(text, "length") == inches(inch)
    assert parse(text, "length", INCH) == inches(inch)


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("1200", "1200"),
        ("+1200", "1200"),
        (" 1200\n", "1200"),
        ("1.2 m", "1200"),
        ("1,2 m", "1200"),
        ("120cm", "1200"),
        ("12 MM", "12"),
        ("80 \N{MICRO SIGN}m", "0.08"),
        ("80 \N{GREEK SMALL LETTER MU}m", "0.08"),
        ("80 um", "0.08"),
        ("1 200 mm", "1200"),
        ("1\N{THIN SPACE}200 mm", "1200"),
        ("1\N{NARROW NO-BREAK SPACE}200\N{NO-BREAK SPACE}mm", "1200"),
        ("1 234 567,8", "1234567.8"),
        ("1 200,500", "1200.5"),
        ("1.234,5 mm", "1234.5"),
        ("1,234.5 mm", "1234.5"),
        ("1.234.567,5", "1234567.5"),
        ("1,234,567", "1234567"),
        ("1.234.567", "1234567"),
        ("1.250", "1.25"),
        ("0,125", "0.125"),
        ("1234,200", "1234.2"),
        ("1,20", "1.2"),
        ("1,2000", "1.2"),
        (".5", "0.5"),
        (",5", "0.5"),
        ("12.", "12"),
        ("12,", "12"),
        ("1.2e3", "1200"),
        ("1.2E+3 mm", "1200"),
        ("1,2e-3 m", "1.2"),
        ("1.2×10³ mm", "1200"),
        ("1.2 x 10^3", "1200"),
        ("1.2·10⁻³ m", "1.2"),
        ("1/2", "0.5"),
        ("\N{MINUS SIGN}12", "-12"),
        ("- 12", "-12"),
        ("0", "0"),
        ("-0", "0"),
    ],
)
def test_metric_lengths_and_ways_of_writing_numbers(text: str, millimetres: str) -> None:
    assert parse(text, "length") == float(Fraction(millimetres) / 1000)


@pytest.mark.parametrize(
    ("text", "quantity", "si"),
    [
        ("20 N/um", "stiffness", 20e6),
        ("20 N/µm", "stiffness", 20e6),
        ("20000 N/mm", "stiffness", 20e6),
        ("20 kN/mm", "stiffness", 20e6),
        ("20 kN per mm", "stiffness", 20e6),
        ("150 kN m/rad", "rotational_stiffness", 150e3),
        ("150 kN·m/rad", "rotational_stiffness", 150e3),
        ("150 kNm/rad", "rotational_stiffness", 150e3),
        ("3 µm per 100 N", "compliance", 3e-8),
        ("3 um/100 N", "compliance", 3e-8),
        ("0.03 µm/N", "compliance", 3e-8),
        ("5 Nm", "torque", 5.0),
        ("5 N m", "torque", 5.0),
        ("5 N·m", "torque", 5.0),
        ("5 N-m", "torque", 5.0),
        ("1.5 daN", "force", 15.0),
        ("353 cm4", "second_moment", 353e-8),
        ("353 cm^4", "second_moment", 353e-8),
        ("353 cm⁴", "second_moment", 353e-8),
        ("353 cm**4", "second_moment", 353e-8),
        ("12 mm²", "area", 12e-6),
        ("7.85 g/cm³", "density", 7850.0),
        ("700 N/mm2", "cutting_pressure", 700e6),
        ("210 GPa", "stress", 210e9),
        ("18000", "rotation_speed", 300.0),
        ("18000 rpm", "rotation_speed", 300.0),
        ("18000 1/min", "rotation_speed", 300.0),
        ("18000 min⁻¹", "rotation_speed", 300.0),
        ("300 rev/s", "rotation_speed", 300.0),
        ("3", "speed", 0.05),
        ("3000 mm/min", "speed", 0.05),
        ("20", "temperature", 20.0),
        ("20 °C", "temperature", 20.0),
        ("20C", "temperature", 20.0),
        ("68 °F", "temperature", 20.0),
        ("-40 °F", "temperature", -40.0),
        ("293.15 K", "temperature", 20.0),
        ("-273.15", "temperature", -273.15),
        ("10 °C", "temperature_difference", 10.0),
        ("18 °F", "temperature_difference", 10.0),
        ("23 µm/(m K)", "expansion", 23e-6),
        ("23e-6 1/K", "expansion", 23e-6),
        ("23e-6/°C", "expansion", 23e-6),
        ("25 %", "ratio", 0.25),
        ("1/4", "ratio", 0.25),
        ("12,50", "money", 12.5),
        ("1,200.00", "money", 1200.0),
        ("12", "count", 12.0),
        ("12.0", "count", 12.0),
        ("1 200", "count", 1200.0),
        ("90°", "angle", 1.5707963267948966),
        ("90 deg", "angle", 1.5707963267948966),
    ],
)
def test_other_quantities(text: str, quantity: str, si: float) -> None:
    assert parse(text, quantity) == si


def test_pounds_are_a_force_only_where_a_force_is_wanted() -> None:
    assert parse("50 lb", "force") == parse("50 lbf", "force")
    assert parse("4 ft-lb", "torque") == parse("4 lbf ft", "torque")
    assert parse("1e5 lb/in", "stiffness") == parse("1e5 lbf/in", "stiffness")
    assert parse("50 lb", "mass") == 50 * 0.45359237
    with pytest.raises(BadText):
        parse("50 kg", "force")


def test_a_bare_number_is_in_the_fields_own_unit() -> None:
    assert parse("48", "length", INCH) == inches(48)
    assert parse("4", "deflection", INCH) == inches(Fraction(4, 1000))
    assert parse("68", "temperature", INCH) == 20.0
    assert parse("50", "force", UnitSet("mm", "lbf")) == 222.411080763025
    assert parse("50", "force", UnitSet("in", "N")) == 50.0


@pytest.mark.parametrize(
    ("text", "decimal", "millimetres"),
    [
        ("1,200", ",", "1.2"),
        ("1,200", ".", "1200"),
        ("1.200", ",", "1200"),
        ("1.200", ".", "1.2"),
        ("1.200", None, "1.2"),
        ("12,5", ".", "12.5"),
        ("12.5", ",", "12.5"),
        ("1,200 ft 3 in", ".", Fraction(14403) * MILLIMETRES_PER_INCH),
    ],
)
def test_the_decimal_mark_settles_doubts(text: str, decimal: str | None, millimetres: str | Fraction) -> None:
    assert parse(text, "length", METRIC, decimal) == float(Fraction(millimetres) / 1000)


@pytest.mark.parametrize("text", ["1,200", "1,200 mm", "-12,345 m", "1,200e3", "5' 1,200\""])
def test_a_doubtful_comma_is_refused_with_both_readings(text: str) -> None:
    with pytest.raises(BadText) as caught:
        parse(text, "length")
    # 1,200 is 1200 or 1.2; zeros at the end are not written.
    assert text.replace(",", "") in str(caught.value)
    assert text.replace(",200", ".2").replace(",345", ".345") in str(caught.value)
    for good in caught.value.accepted.split(",")[0].split(" or "):
        parse(good, "length")


def test_only_the_reading_that_fits_is_offered() -> None:
    with pytest.raises(BadText) as caught:
        parse("4,500 ft 3 in", "length")
    assert "4500 ft 3 in" in caught.value.accepted
    assert "4.5 ft 3 in" not in caught.value.accepted


BAD_LENGTHS = r"""
abc|nan|NaN|inf|-inf|infinity|∞|mm|-|+|.|,|e5|--4|+-5|-+5' 2"|1e300|1e-300|1e999999999|1/0|3 5/2|1 200/3|1/2/3
1.5/2|1.5 2/3|3 kg|5 Nm|5 %|20 °C|1 m 20 cm|5 mm mm|4 ft ft|5 ft 3 mm|5' 3'|5'' 3|4.5 ft 6 in|4 ft 13 in|4 ft 12
4 ft -3 in|5' --3"|1,2,3|1,20,300|12 34|1200 300|0 200|1 200.300.400|1.234,567,8|1,234.567.8|1,2.3|0,200,300
1_000|1'000'000|٣ mm|１２ mm|12 xyz|12 mms|12 kin|12 Ns|5 (mm)|5 mm/|/mm|5 mm^|5 m^99|5 mm)|0x10|1e|1e5.5|½2|½½|12 + 3
3*4|$5|5 mm; 6 mm|5 ft 3 in 2|5 ft 1/0 in|2 pi|1\t200|1\n200
"""


@pytest.mark.parametrize("text", ["", "   ", "\t", *BAD_LENGTHS.strip().replace("\n", "|").split("|")])
def test_what_cannot_be_read_is_refused_with_what_would_be_accepted(text: str) -> None:
    text = text.replace("\\t", "\t").replace("\\n", "\n")
    with pytest.raises(BadText) as caught:
        parse(text, "length")
    shown = str(caught.value)
    assert shown.endswith(".")
    assert "mm" in caught.value.accepted
    assert caught.value.accepted in shown
    assert isinstance(caught.value, (BadEntry, GantrywrightError, ValueError))


@pytest.mark.parametrize(
    ("text", "quantity"),
    [
        ("60 rpm", "frequency"),
        ("300 Hz", "rotation_speed"),
        ("150 N m", "rotational_stiffness"),
        ("150 N m/rad", "torque"),
        ("5'", "angle"),
        ("-274 °C", "temperature"),
        ("-460 °F", "temperature"),
        ("-1 K", "temperature"),
        ("5 m K/m", "temperature"),
        ("4.5", "count"),
        ("1/2", "count"),
        ("4 mm", "count"),
        ("400 %", "count"),
        ("5 %", "money"),
        ("5 mn", "force"),
        ("5 mpa", "stress"),
        ("5 mW", "power"),
        ("5 kN/mm/m", "stiffness"),
        ("5 kN/(mm", "stiffness"),
        ("5 kN/100", "stiffness"),
        ("5 kN/7 mm", "stiffness"),
    ],
)
def test_the_wrong_kind_of_unit_is_refused(text: str, quantity: str) -> None:
    with pytest.raises(BadText) as caught:
        parse(text, quantity)
    assert caught.value.where == QUANTITIES[quantity].name


def test_very_long_text_is_refused_and_shortened() -> None:
    with pytest.raises(BadText) as caught:
        parse("9" * 5000, "length")
    assert len(str(caught.value)) < 300


def test_unknown_names_are_refused() -> None:
    for wrong in (
        lambda: parse("5", "colour"),
        lambda: show(5.0, "colour"),
        lambda: UnitSet("cm", "N"),  # type: ignore[arg-type]
        lambda: UnitSet("mm", "kgf"),  # type: ignore[arg-type]
        lambda: parse("5", "length", METRIC, ";"),
    ):
        with pytest.raises(BadEntry):
            wrong()


@pytest.mark.parametrize("quantity", QUANTITIES)
@pytest.mark.parametrize("units", [METRIC, INCH, UnitSet("mm", "lbf"), UnitSet("in", "N")])
def test_every_example_is_accepted_and_named(quantity: str, units: UnitSet) -> None:
    sentence = accepts(quantity, units)
    assert sentence.endswith(".")
    assert sentence[0].isupper()
    for example in QUANTITIES[quantity].examples:
        assert example in sentence
        parse(example, quantity, units)


@given(
    st.integers(0, 400),
    st.integers(0, 11),
    st.sampled_from([2, 4, 8, 16, 32, 64]).flatmap(lambda d: st.tuples(st.integers(1, d - 1), st.just(d))),
    st.booleans(),
    st.sampled_from(
        ["{f} ft {i} {n}/{d} in", "{f}' {i} {n}/{d}\"", "{f}'-{i}-{n}/{d}\"", "{f}′{i} {n}⁄{d}″"]
    ),
)
def test_feet_inches_and_binary_fractions_equal_fraction_arithmetic(
    feet: int, inch: int, part: tuple[int, int], minus: bool, form: str
) -> None:
    text = ("-" if minus else "") + form.format(f=feet, i=inch, n=part[0], d=part[1])
    exact = (12 * feet + inch + Fraction(*part)) * (-1 if minus else 1)
    assert parse(text, "length") == inches(exact)


@given(st.integers(0, 10**9), st.integers(0, 9999), st.sampled_from([" ", "\N{THIN SPACE}", ",", "."]))
def test_grouped_digits_equal_plain_ones(whole: int, part: int, mark: str) -> None:
    point = "," if mark == "." else "."
    grouped = f"{whole:,}".replace(",", mark) + f"{point}{part:04d}"
    assert parse(grouped, "length") == parse(f"{whole}.{part:04d}", "length")


@given(st.text(max_size=30), st.sampled_from(sorted(QUANTITIES)), st.sampled_from([None, ".", ","]))
def test_any_text_gives_a_finite_number_or_a_sentence(text: str, quantity: str, decimal: str | None) -> None:
    assert _finite_or_sentence(text, quantity, decimal)


@given(
    st.text(alphabet="0123456789 .,/'\"-eftinm½", max_size=14),
    st.sampled_from(["length", "angle", "temperature"]),
)
def test_near_misses_too(text: str, quantity: str) -> None:
    assert _finite_or_sentence(text, quantity, None)


def _finite_or_sentence(text: str, quantity: str, decimal: str | None) -> bool:
    try:
        return math.isfinite(parse(text, quantity, METRIC, decimal))
    except BadText as refused:
        return str(refused).endswith(".") and bool(refused.accepted)


@pytest.mark.parametrize(
    ("text", "value"), [("10", 0.1), ("10 %", 0.1), ("2.5", 0.025), ("0", 0.0), ("0.1 %", 0.001)]
)
def test_a_bare_share_is_in_percent(text: str, value: float) -> None:
    assert parse(text, "share") == value
    assert parse(show(value, "share"), "share") == value


@pytest.mark.parametrize("text", ["0.1", "-0.25", "1/4", "0,5"])
def test_a_bare_share_below_one_is_refused_with_both_readings(text: str) -> None:
    with pytest.raises(BadText) as caught:
        parse(text, "share")
    assert "%" in caught.value.accepted
