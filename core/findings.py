"""What checks say: a finding names its code, how grave it is, where, the figure and the limit.

The screen lists findings and tests assert codes; the codes are listed in DEVELOPERS.md.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Severity = Literal["limit", "warning", "note"]


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding.

    Attributes:
        code: short stable name ("deflection-limit").
        severity: "limit" breaks a limit or cannot be built as described, "warning" wants a look, "note" informs.
        where: dotted path of the entry that it concerns ("machine.gantry.beam.length").
        message: full sentence for a person.
        value, limit: figure and limit in SI, if there are any; `quantity` is their name in `core.units`.
        place: where in the machine, in words.
    """

    code: str
    severity: Severity
    where: str
    message: str
    value: float | None = None
    limit: float | None = None
    quantity: str = "length"
    place: str = ""


def ordered(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Limits first, then warnings, then notes; within each as they came."""
    return tuple(sorted(findings, key=lambda f: ("limit", "warning", "note").index(f.severity)))


def first_sentence(text: str) -> str:
    """The first sentence of a text."""
    for place, letter in enumerate(text[:-2]):
        if letter in ".!?" and text[place + 1] == " " and text[place + 2].isupper():
            return text[: place + 1]
    return text
