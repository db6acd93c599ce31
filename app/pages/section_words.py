"""Sentences of the section page: what the section is, how its figures were found, and between which bounds a joint lies."""

from __future__ import annotations

from core.bars import Bar
from core.bars.answer import WARMER
from core.errors import BadEntry
from core.materials import material
from core.units import UnitSet, show


def told(error: BadEntry) -> str:
    """An error as a sentence for a label beside the button or entry."""
    return f"{error.value[:1].upper()}{error.value[1:]} {error.problem}. Accepted: {error.accepted}."


def bar_words(bar: Bar, units: UnitSet) -> str:
    """A few lines below the drawing."""
    lines = [
        f"{bar.words}; {material(bar.metal).name}"
        + ("; turned by 90 degrees in the machine." if bar.turned else ".")
    ]
    lines.append(f"{bar.used.method} Source: {bar.used.source}.")
    if bar.low is not None:
        lines.append(_bounds(bar, units))
    if bar.welds:
        lines.append(f"{len(bar.welds)} welds along the length, marked in the drawing.")
    bow = max(bar.bow, key=abs)
    if abs(bow) > 1e-6:
        words = show(abs(bow), "deflection", units)
        lines.append(f"{WARMER:g} K warmer it bows by {words} over its length, free and without slip.")
    return "\n".join(lines)


def _bounds(bar: Bar, units: UnitSet) -> str:
    parts = []
    for name, symbol, quantity in (
        ("iyy", "Iy", "second_moment"),
        ("izz", "Iz", "second_moment"),
        ("it", "It", "torsion_constant"),
    ):
        low = show(getattr(bar.low, name), quantity, units)
        high = "not analysed yet" if bar.high is None else show(getattr(bar.high, name), quantity, units)
        parts.append(f"{symbol} {low} to {high}")
    return f"Bounds of the joint, from unjoined to fully joined: {', '.join(parts)}."
