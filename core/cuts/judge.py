"""What the cut list has to say: pieces too long for every bar, lengths nobody entered, lists not proven, idle rows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from core.cuts.answer import CutAnswer, CutGroup, CutPiece
from core.cuts.stock import fits
from core.findings import Finding, ordered
from core.machine.project import Project
from core.prices.match import Piece
from core.units import show

MOST_MARKS = 6


def judge(project: Project, answer: CutAnswer, names: Sequence[Piece]) -> tuple[Finding, ...]:
    """Findings about the list, gravest first. `names` is what the project's lengths may be called."""
    return ordered(
        (
            *(finding for group in answer.groups for finding in _too_long(project, group)),
            *_assumed(project, answer),
            *_not_proven(project, answer),
            *_idle(project, names),
        )
    )


def _marks(pieces: Sequence[CutPiece]) -> str:
    shown = ", ".join(piece.mark for piece in pieces[:MOST_MARKS])
    return f"{shown} and {len(pieces) - MOST_MARKS} more" if len(pieces) > MOST_MARKS else shown


def _too_long(project: Project, group: CutGroup) -> Iterator[Finding]:
    units = project.units
    if group.too_long:
        piece = max(group.too_long, key=lambda p: p.length)
        bar = max(kind.length for kind in group.kinds)
        entered = not any(kind.assumed for kind in group.kinds)
        text = (
            f"No bar is long enough for {_marks(group.too_long)} of {group.label}. The longest, {piece.what}, is "
            f"{show(piece.length, 'length', units)}; the longest bar is {show(bar, 'length', units)}, less its trims. What would "
            "help: a longer bar (ask the seller, enter it), a smaller trim, or a splice, away from the middle and from the "
            "carriages and designed by somebody who knows how."
        )
        yield Finding(
            "piece-too-long", "limit" if entered else "warning", "stock_bars", text, piece.length, bar, place=group.label
        )  # fmt: skip
    if group.left:
        piece = max(group.left, key=lambda p: p.length)
        bar = max((kind.length for kind in group.kinds if kind.count is None), default=0.0)
        text = (
            f"No bar is left for {_marks(group.left)} of {group.label}. Only bars on hand are long enough, too few of them. "
            f"Enter a bar that is sold and longer than {show(piece.length, 'length', units)}."
        )
        yield Finding("piece-too-long", "limit", "stock_bars", text, piece.length, bar, place=group.label)


def _assumed(project: Project, answer: CutAnswer) -> Iterator[Finding]:
    groups = [group for group in answer.groups if any(kind.assumed for kind in group.kinds)]
    if groups:
        lengths = sorted({kind.length for group in groups for kind in group.kinds if kind.assumed})
        words = " and ".join(show(length, "length", project.units) for length in lengths)
        text = (
            f"Nobody entered which bars can be bought for {len(groups)} of {len(answer.groups)} sections; bars of {words} "
            "are assumed (common practice). Ask your seller and enter them."
        )
        yield Finding("bar-length-assumed", "note", "stock_bars", text, float(len(groups)), None, "count")


def _not_proven(project: Project, answer: CutAnswer) -> Iterator[Finding]:
    units = project.units
    for group in answer.groups:
        if group.fewest_proven and not answer.gap(group):
            continue
        if len(group.bought) > group.fewest:
            text = f"{len(group.bought)} bars are bought; that fewer than {group.fewest} never suffice is proven, more is not."
            value, limit, quantity = float(len(group.bought)), float(group.fewest), "count"
        elif not group.fewest_proven:
            text = (
                f"{show(group.length_bought, 'length', units)} are bought in the fewest bars; not less than "
                f"{show(group.least_length, 'length', units)} is proven."
            )
            value, limit, quantity = group.length_bought, group.least_length, "length"
        else:
            gap = show(answer.gap(group), "length", units)
            text = f"The bars to buy are proven the fewest; another list might use up to {gap} less of them."
            value, limit, quantity = answer.gap(group), answer.close, "length"
        text = f"{group.label}: {text} More time may close the gap."
        yield Finding("cuts-not-proven", "note", "saw", text, value, limit, quantity, group.label)


def _idle(project: Project, names: Sequence[Piece]) -> Iterator[Finding]:
    for number, row in enumerate(project.stock_bars):
        if not any(fits(row, piece) for piece in names):
            text = f"Bar {number + 1} ({row.name}) fits no piece of this list; look at its kind, section and material."
            yield Finding("bar-idle", "note", f"stock_bars.{number}.section", text, place=row.name)
