"""The number at the start of a typed quantity, as an exact fraction.

Takes whole numbers, decimals with a point or a comma, groups of three digits parted by spaces, commas or
points, powers of ten, fractions and mixed numbers. A comma before the last three digits ("1,200") is not
guessed at.
"""

from __future__ import annotations

import re
from fractions import Fraction

from core.units.bad_text import TwoReadings, Unreadable

_FRACTION = re.compile(
    r"(?:(?P<whole>[0-9]{1,3}(?: [0-9]{3})+|[0-9]+)[ -])?(?P<over>[0-9]+) ?/ ?(?P<under>[0-9]+)(?![0-9.,/])"
)
_MANTISSA = re.compile(r"[0-9]+(?: [0-9]{3}(?![0-9]))*(?:[.,][0-9]+)*[.,]?|[.,][0-9]+")
_POWER = re.compile(r"[eE]([+-]?[0-9]+)| ?[*xX] ?10\^([+-]?[0-9]+)")
_GROUPS = re.compile(r"[1-9][0-9]{0,2}(?:[ .,][0-9]{3})+")
_LARGEST_POWER = 99


def read_number(text: str, decimal: str | None = None) -> tuple[Fraction, str]:
    """The number at the start of plain text (see `plain`), and the rest of the text.

    Args:
        text: begins with the number; a sign may stand before it.
        decimal: "." or "," settles which of the two parts whole from decimals; None leaves it to the text.

    Raises:
        Unreadable: there is no number at the start, or its digits are written in no known way.
        TwoReadings: a single comma before three digits, and `decimal` is None.
    """
    sign, unsigned = read_sign(text)
    found = _FRACTION.match(unsigned)
    if found is not None:
        return sign * _fraction(found), unsigned[found.end() :]
    found = _MANTISSA.match(unsigned)
    if found is None:
        raise Unreadable("has no number at its start")
    rest = unsigned[found.end() :]
    power = _POWER.match(rest)
    value = Fraction(_digits(found[0], decimal))
    if power is None:
        return sign * value, rest
    exponent = int((power[1] or power[2])[:6])
    if abs(exponent) > _LARGEST_POWER:
        raise Unreadable(f"has a power of ten beyond {_LARGEST_POWER}")
    return sign * value * Fraction(10) ** exponent, rest[power.end() :]


def read_sign(text: str) -> tuple[int, str]:
    """-1 or 1 for the sign at the start of plain text, and the rest."""
    if text[:1] in ("-", "+"):
        return (-1 if text[0] == "-" else 1), text[1:].lstrip(" ")
    return 1, text


def _fraction(found: re.Match[str]) -> Fraction:
    over, under = int(found["over"]), int(found["under"])
    if under == 0:
        raise Unreadable("divides by zero")
    whole = int((found["whole"] or "0").replace(" ", ""))
    if found["whole"] is not None and over >= under:
        # "1 200/3" may be a grouped number over three, or one and a fraction.
        raise Unreadable(f"has a whole number before {over}/{under}, which is not below one")
    return whole + Fraction(over, under)


def _digits(written: str, decimal: str | None) -> str:
    """The digits with at most one point, groups taken out."""
    tight = written.replace(" ", "")
    marks = [character for character in tight if character in ".,"]
    last = marks[-1] if marks else ""
    if len(set(marks)) == 2:
        parts = _split_mixed(tight, last, decimal)
    elif len(marks) > 1:
        parts = _only_groups(tight, last, decimal), ""
    elif len(marks) == 1:
        parts = _split_single(written, last, decimal)
    else:
        parts = tight, ""
    if " " in written:
        _check_spaces(written, marks)
    return f"{parts[0] or '0'}.{parts[1] or '0'}"


def _split_mixed(tight: str, last: str, decimal: str | None) -> tuple[str, str]:
    # "1.234,5" and "1,234.5": the mark that comes last and once parts the decimals, whatever the habit.
    other = "," if last == "." else "."
    whole, _, decimals = tight.partition(last)
    if last in decimals or other in decimals or not _GROUPS.fullmatch(whole):
        raise Unreadable("mixes commas and points in no known way")
    if decimal is not None and decimal != last:
        raise Unreadable(
            f"has its decimals after a {_word(last)}, but the decimal mark is set to a {_word(decimal)}"
        )
    return whole.replace(other, ""), decimals


def _only_groups(tight: str, mark: str, decimal: str | None) -> str:
    if not _GROUPS.fullmatch(tight) or mark == decimal:
        raise Unreadable(f"has more than one {_word(mark)} but not between groups of three digits")
    return tight.replace(mark, "")


def _split_single(written: str, mark: str, decimal: str | None) -> tuple[str, str]:
    whole, _, decimals = written.partition(mark)
    looks_grouped = _GROUPS.fullmatch(written) is not None and " " not in written
    if looks_grouped and decimal is not None and mark != decimal:
        return whole + decimals, ""
    if looks_grouped and decimal is None and mark == ",":
        raise TwoReadings(written, whole + decimals, f"{whole}.{decimals}".rstrip("0").rstrip("."))
    # A point is read as what it is on every screen of this program: the decimal point.
    return whole.replace(" ", ""), decimals


def _check_spaces(written: str, marks: list[str]) -> None:
    whole = re.split("[.,]", written)[0]
    if len(marks) > 1 or not _GROUPS.fullmatch(whole):
        raise Unreadable("has spaces, but not between groups of three digits")


def _word(mark: str) -> str:
    return "comma" if mark == "," else "point"
