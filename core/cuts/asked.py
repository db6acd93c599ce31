"""What a cut list was asked: pieces, bars, saw. Equal questions need no new search, and new prices only new sums."""

from __future__ import annotations

from dataclasses import dataclass, replace

from core.cuts.answer import CutAnswer, CutBar
from core.cuts.pieces import Wanted, wanted_pieces
from core.cuts.stock import Bars, bars_for
from core.machine.layout import Layout
from core.machine.project import Project
from core.machine.saw import Saw
from core.parts import PartLine
from core.prices.match import Piece


@dataclass(frozen=True, slots=True)
class Asked:
    """Groups of pieces, the bars of each, and all else that a list or its words depend on.

    `names` is what all lengths of the project may be called, those that are there or ordered as pieces too.
    """

    groups: tuple[Wanted, ...]
    bars: tuple[tuple[Bars, ...], ...]
    saw: Saw
    display: object
    currency: str
    names: tuple[Piece, ...]


def ask(project: Project, layout: Layout, parts: tuple[PartLine, ...]) -> Asked:
    """The question that a project puts."""
    every = wanted_pieces(project, layout, parts)
    groups = tuple(group for group in every if group.pieces)
    bars = bars_for(project, groups, (project.saw.end_trim, 0.0))
    names = tuple(group.names for group in every)
    return Asked(groups, bars, project.saw, project.display, project.prices.currency.strip(), names)


def still_answers(
    answer: CutAnswer, project: Project, layout: Layout, parts: tuple[PartLine, ...]
) -> CutAnswer | None:
    """The answer, at the project's prices, when the project still asks for the same list; else None."""
    asked = ask(project, layout, parts)
    if asked == answer.asked:
        return answer
    if answer.asked is None or _unpriced(asked) != _unpriced(answer.asked):
        return None
    groups = tuple(
        replace(group, bars=tuple(_priced(bar, bars) for bar in group.bars))
        for group, bars in zip(answer.groups, asked.bars, strict=True)
    )
    return replace(answer, groups=groups, currency=asked.currency, asked=asked)


def _unpriced(asked: Asked) -> Asked:
    bars = tuple(tuple(replace(one, price=None) for one in own) for own in asked.bars)
    return replace(asked, bars=bars, currency="")


def _priced(bar: CutBar, bars: tuple[Bars, ...]) -> CutBar:
    if bar.source != "bought":
        return bar
    own = next(one for one in bars if one.row == bar.row and one.count is None)
    return replace(bar, price=own.price)
