"""What a cut list was asked: pieces, bars, saw. Equal questions need no new search, and new prices only new sums."""

from __future__ import annotations

from dataclasses import dataclass, replace

from core.cuts.answer import CutAnswer, CutBar, CutGroup
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
    """The answer, at the project's prices, when the project still asks for the same list; else None.

    A list whose bars are being ordered stays the list: a longer search could not buy fewer than those left. Only when more
    bars are ordered than it wants while others are still to be bought, or an order is taken back, another may be better.
    """
    asked = ask(project, layout, parts)
    if asked == answer.asked:
        return answer
    if answer.asked is None or _plain(asked) != _plain(answer.asked):
        return None
    groups = []
    for group, now, before in zip(answer.groups, asked.bars, answer.asked.bars, strict=True):
        told = _told(group, now, before)
        if told is None:
            return None
        groups.append(told)
    return replace(answer, groups=tuple(groups), currency=asked.currency, asked=asked)


def _plain(asked: Asked) -> Asked:
    """The question without prices, and without what is ordered."""
    bars = tuple(tuple(replace(one, price=None) for one in own if not one.ordered) for own in asked.bars)
    return replace(asked, bars=bars, currency="")


def _counts(bars: tuple[Bars, ...]) -> dict[tuple[int | None, float], int]:
    return {(one.row, one.length): one.count or 0 for one in bars if one.ordered}


def _told(group: CutGroup, now: tuple[Bars, ...], before: tuple[Bars, ...]) -> CutGroup | None:
    """The group with its bars as ordered or still to buy, at the new prices; None when another list may be better."""
    free, were = _counts(now), _counts(before)
    if any(free.get(kind, 0) < count for kind, count in were.items()):
        return None
    made: list[CutBar] = []
    for bar in group.bars:
        if bar.source == "on hand":
            made.append(bar)
        elif free.get((bar.row, bar.length), 0):
            free[bar.row, bar.length] -= 1
            made.append(replace(bar, source="ordered", price=None))
        else:
            price = next(one.price for one in now if one.row == bar.row and one.count is None)
            made.append(replace(bar, source="bought", price=price))
    told = replace(group, bars=tuple(made))
    if any(free.values()) and free != were and told.bought:
        return None
    fewer = len(group.bought) - len(told.bought)
    less = group.length_bought - told.length_bought
    return replace(
        told, fewest=max(0, group.fewest - fewer), least_length=max(0.0, group.least_length - less)
    )
