"""One sentence for each machine on where it wins and where it loses; no difference is called one that is not clear."""

from __future__ import annotations

from core.comparison.answer import ComparisonAnswer, Figure
from core.comparison.judge import Grade, grade
from core.units import UnitSet, show, show_number, unit_label

MOST = 5
"""Figures named on each side; the table has the rest."""


def sentences(answer: ComparisonAnswer, units: UnitSet, against: int = 0) -> tuple[str, ...]:
    """One for each machine, compared with one of them; that one is compared with all the others."""
    return tuple(sentence(answer, number, units, against) for number in range(len(answer.machines)))


def sentence(answer: ComparisonAnswer, number: int, units: UnitSet, against: int = 0) -> str:
    """Where one machine wins and loses against another, or, when it is that one itself, against all others."""
    machine = answer.machines[number]
    if not machine.stands:
        why = machine.findings[0].message if machine.findings else "it has no answer."
        return f"{machine.name} has no figures: {why}"
    if number == against:
        return _against_all(answer, number)
    other = answer.machines[against]
    if not other.stands:
        return f"{machine.name}: nothing to compare with, for {other.name} has no figures."
    alike = answer.alike(number, against)
    found: dict[str, list[tuple[float, str]]] = {"wins": [], "loses": [], "unclear": []}
    for figure in _told(answer):
        graded = grade(figure, number, against, alike)
        side = _side(graded)
        if side:
            words = (
                _lower(figure.label) if side == "unclear" else _words(figure, number, against, graded, units)
            )
            found[side].append((_apart(figure, number, against), words))
    parts = []
    if found["wins"]:
        parts.append(f"wins in {_join(found['wins'])}")
    if found["loses"]:
        parts.append(f"loses in {_join(found['loses'])}")
    if found["unclear"]:
        parts.append(f"no clear difference (bands overlap) in {_join(found['unclear'])}")
    told = "; ".join(parts) or "no difference in any figure"
    return f"{machine.name}, against {_lower(other.name)}: {told}."


def _told(answer: ComparisonAnswer) -> list[Figure]:
    return [figure for figure in answer.figures if figure.told]


def _side(graded: Grade) -> str:
    sides = {"better": "wins", "better at both ends": "wins", "worse": "loses", "worse at both ends": "loses"}
    return "unclear" if graded == "unclear" else sides.get(graded, "")


def _against_all(answer: ComparisonAnswer, number: int) -> str:
    name = answer.machines[number].name
    others = [k for k, machine in enumerate(answer.machines) if k != number and machine.stands]
    if not others:
        return f"{name}: nothing to compare it with."
    best, last = [], []
    for figure in _told(answer):
        sides = {_side(grade(figure, number, k, answer.alike(number, k))) for k in others}
        spread = max(_apart(figure, number, k) for k in others)
        if sides == {"wins"}:
            best.append((spread, _lower(figure.label)))
        elif sides == {"loses"}:
            last.append((spread, _lower(figure.label)))
    parts = [f"{words} in {_join(rows)}" for words, rows in (("best", best), ("last", last)) if rows]
    others_words = "the other" if len(others) == 1 else "all others"
    return f"{name}, against {others_words}: {'; '.join(parts) or 'neither best nor last in any figure'}."


def _apart(figure: Figure, one: int, other: int) -> float:
    mine, theirs = figure.likely[one], figure.likely[other]
    if mine is None or theirs is None:
        return 0.0
    return abs(mine - theirs) / max(abs(mine), abs(theirs), 1e-300)


def _words(figure: Figure, number: int, against: int, graded: Grade, units: UnitSet) -> str:
    mine, theirs = figure.likely[number], figure.likely[against]
    assert mine is not None
    assert theirs is not None
    whole = figure.quantity in ("count", "money")
    digits = None if whole else _digits(mine, theirs, figure.quantity, units)
    unit = unit_label(figure.quantity, units)
    first = show_number(mine, figure.quantity, units, digits)
    second = (
        show(theirs, figure.quantity, units, digits)
        if unit
        else show_number(theirs, figure.quantity, units, digits)
    )
    side = "ahead" if graded.startswith("better") else "behind"
    more = f", {side} at both ends" if graded.endswith("both ends") else ""
    return f"{_lower(figure.label)} ({first} against {second}{more})"


def _digits(mine: float, theirs: float, quantity: str, units: UnitSet) -> int:
    """As few digits as show that the figures differ."""
    return next(
        (
            d
            for d in range(2, 6)
            if show_number(mine, quantity, units, d) != show_number(theirs, quantity, units, d)
        ),
        6,
    )


def _lower(words: str) -> str:
    """With a small first letter, unless the second is none (X rail)."""
    return words[:1].lower() + words[1:] if words[1:2].islower() else words


def _join(rows: list[tuple[float, str]]) -> str:
    """The largest differences first, no more than `MOST`."""
    ordered = [words for _, words in sorted(rows, key=lambda row: -row[0])]
    shown = ordered if len(ordered) == MOST + 1 else ordered[:MOST]
    rest = len(ordered) - len(shown)
    return ", ".join(shown) + (f" and {rest} more" if rest else "")
