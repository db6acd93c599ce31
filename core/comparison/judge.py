"""Which of two machines a figure speaks for, how surely, and which rows tell the machines apart.

Most uncertain figures (joints, carriages, cutting pressure) are the same unknown in both machines. Bands that overlap then
need not mean that the order is open: it is settled when one machine is ahead with everything soft, likely and stiff alike.
"""

from __future__ import annotations

from typing import Literal

from core.comparison.answer import ComparisonAnswer, Fact, Figure

ROUNDING = 0.005
"""Figures that differ by less than this share are the same to three digits, and no difference is made of it."""

Grade = Literal["better", "better at both ends", "same", "unclear", "worse at both ends", "worse", "unknown"]


def grade(figure: Figure, one: int, other: int, alike: bool) -> Grade:
    """How machine `one` stands against `other` in a figure that has a better side.

    Args:
        alike: whether both share every uncertain figure, see `ComparisonAnswer.alike`.
    """
    mine, theirs = figure.likely[one], figure.likely[other]
    if mine is None or theirs is None or not figure.better:
        return "unknown"
    if _same(mine, theirs):
        return "same"
    ahead = (mine < theirs) == (figure.better == "less")
    bands = figure.band(one), figure.band(other)
    # Two upper bounds are compared as such: both rails slide, or both hold.
    if figure.upper or bands[0] is None or bands[1] is None or _apart(bands[0], bands[1]):
        return "better" if ahead else "worse"
    pairs = [(getattr(figure.ends[one], end), getattr(figure.ends[other], end)) for end in ("soft", "stiff")]
    if alike and all(_side(figure, *pair) == ahead for pair in pairs):
        return "better at both ends" if ahead else "worse at both ends"
    return "unclear"


def _same(mine: float, theirs: float) -> bool:
    return abs(mine - theirs) <= ROUNDING * max(abs(mine), abs(theirs))


def _apart(one: tuple[float, float], other: tuple[float, float]) -> bool:
    """Whether two bands do not touch."""
    return one[1] < other[0] or other[1] < one[0]


def _side(figure: Figure, mine: float | None, theirs: float | None) -> bool | None:
    """Whether the first is ahead at an end; None when both are the same there."""
    if mine is None or theirs is None or _same(mine, theirs):
        return None
    return (mine < theirs) == (figure.better == "less")


def differing(
    answer: ComparisonAnswer,
) -> tuple[tuple[Figure, ...], tuple[Figure, ...], tuple[Fact, ...], tuple[Fact, ...]]:
    """(figures that differ, largest relative difference first; the others in their order; facts that differ; the others).

    Rows without any figure belong to the others. A figure that one machine has and another lacks differs.
    """
    apart = [f for f in answer.figures if f.spread > ROUNDING or _partly(f, answer)]
    same = tuple(f for f in answer.figures if f not in apart)
    told = tuple(f for f in answer.facts if len(set(f.texts)) > 1)
    return (
        tuple(sorted(apart, key=lambda f: -f.spread)),
        same,
        told,
        tuple(f for f in answer.facts if f not in told),
    )


def _partly(figure: Figure, answer: ComparisonAnswer) -> bool:
    """Whether some of the machines that stand have this figure and some lack it."""
    known = {figure.likely[k] is not None for k, machine in enumerate(answer.machines) if machine.stands}
    return len(known) > 1
