"""The error that reading a typed quantity ends in, and the two ways in which the text itself can fail."""

from __future__ import annotations

from core.errors import BadEntry

_LONGEST_SHOWN = 40


class BadText(BadEntry):
    """Text that cannot be read as the quantity wanted; its text is a full sentence for a person.

    Args:
        where: the quantity in plain words ("length").
        text: what was typed.
        problem: a clause without full stop ("has no number at its start").
        accepted: what would be accepted, a clause without full stop.
    """

    def __init__(self, where: str, text: str, problem: str, accepted: str) -> None:
        value = quoted(text)
        super().__init__(where, value, problem, accepted)
        # A screen shows the sentence beside the entry itself, so the entry's name would only be in the way.
        self.args = (f"{value} {problem}. Accepted: {accepted}.",)


class Unreadable(Exception):
    """Inside this package: what is wrong with the text, as a clause; `parse` knows what would be accepted."""


class TwoReadings(Exception):
    """Inside this package: a number that may be read in two ways; both are written without any doubt."""

    def __init__(self, written: str, grouped: str, decimal: str) -> None:
        super().__init__(written)
        self.written, self.grouped, self.decimal = written, grouped, decimal


def quoted(text: str) -> str:
    """The typed text in quotes, shortened; words for an empty one."""
    plain = " ".join(text.split())
    if not plain:
        return "An empty entry"
    return f"\N{LEFT DOUBLE QUOTATION MARK}{shortened(plain)}\N{RIGHT DOUBLE QUOTATION MARK}"


def shortened(text: str) -> str:
    """At most 40 characters of the text."""
    return text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 1] + "…"
