"""Typed text made plain before it is read: one space, one minus, one micro, one prime, one slash.

Only the way of writing changes here, never what is said.
"""

from __future__ import annotations

import re
import unicodedata

_SAME = str.maketrans(
    {
        "\N{MINUS SIGN}": "-",
        "\N{EN DASH}": "-",
        "\N{NON-BREAKING HYPHEN}": "-",
        "\N{MICRO SIGN}": "u",
        "\N{GREEK SMALL LETTER MU}": "u",
        "\N{FRACTION SLASH}": "/",
        "\N{DIVISION SLASH}": "/",
        "\N{MIDDLE DOT}": "*",
        "\N{DOT OPERATOR}": "*",
        "\N{MULTIPLICATION SIGN}": "*",
        "\N{PRIME}": "'",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{LEFT SINGLE QUOTATION MARK}": "'",
        "\N{DOUBLE PRIME}": '"',
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{LEFT DOUBLE QUOTATION MARK}": '"',
        "\N{MASCULINE ORDINAL INDICATOR}": "°",
        "\N{RING ABOVE}": "°",
        "\N{DEGREE CELSIUS}": "°C",
        "\N{DEGREE FAHRENHEIT}": "°F",
    }
)
_RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻", "0123456789+-")


def plain(text: str) -> str:
    """The text with every accepted variant of a sign replaced by one; runs of spaces become one space."""
    text = text.strip()
    text = "".join(_plain_character(text, place) for place in range(len(text)))
    text = re.sub(r"[⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻]+", lambda raised: "^" + raised[0].translate(_RAISED), text)
    return re.sub(" +", " ", text.translate(_SAME).replace("''", '"').replace("**", "^")).strip(" ")


def _plain_character(text: str, place: int) -> str:
    character = text[place]
    kind = unicodedata.category(character)
    if kind == "Zs":
        return " "
    if kind == "No":
        written = unicodedata.normalize("NFKC", character)
        if "\N{FRACTION SLASH}" in written:
            # "3½" is three and a half, never thirty-one halves; "½2" is nothing.
            before = " " if text[:place][-1:].isdigit() else ""
            after = " " if text[place + 1 :][:1].isdigit() else ""
            return before + written + after
    return character
