"""Which bars a group of pieces may be cut from: the user's own rows, else the lengths that are usually sold."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from core.cuts.answer import BarKind
from core.cuts.pieces import Wanted
from core.machine.project import Project
from core.machine.saw import StockBar
from core.materials import material
from core.parts.keys import slug
from core.prices import Pricer, exact
from core.prices.match import Piece, plain, stuff_fits

BAR_KEY = "bar_"
_LENGTH = re.compile(r"[1-9]\d{0,5}(?:p\d)?")
STEEL_LENGTHS = (6.0,)
ALUMINIUM_LENGTHS = (3.0, 6.0)
"""Bars that are usually sold, m: common practice, not any one seller's list. The shortest that takes the longest piece
is assumed."""


@dataclass(frozen=True, slots=True)
class Bars:
    """Bars of one kind for one group.

    Attributes:
        row: number in `Project.stock_bars`; None when the length is assumed. trim: taken off each end, m.
        count: how many there are; None for as many as are bought. price: of one to be bought.
        ordered: whether they are bars bought already, by the record of their line in the bill: on their way or here.
    """

    row: int | None
    length: float
    trim: float
    count: int | None
    price: Decimal | None = None
    ordered: bool = False

    @property
    def kind(self) -> BarKind:
        return BarKind(self.length, self.count, self.row is None and not self.ordered)


def bar_key(words: tuple[str, str], metal: str, length: float) -> str:
    """The key of bars (of a length in m) in the bill. `words` are section and material; `metal` the material's key, if known."""
    return f"{BAR_KEY}{slug(words[0])}_{metal or slug(words[1])}_{slug(f'{round(length * 1000, 1):g}')}"


def fits(row: StockBar, names: Piece) -> bool:
    """Whether bars of a row are of this section and material."""
    return stuff_fits(row.family, plain(row.section), plain(row.material), names)


def bars_for(
    project: Project, groups: Sequence[Wanted], trims: tuple[float, float]
) -> tuple[tuple[Bars, ...], ...]:
    """Bars for each group. What lies there serves one group only: the first that it fits. What is ordered is never bought
    again: it stands beside what is sold, as bars of which there are so many.

    Args:
        trims: what the saw takes off each end of a bar as delivered, and of one cut square, m.
    """
    pricer = Pricer(project)
    taken: set[int] = set()
    recorded = {row.part: row.on_hand + max(row.ordered, row.arrived) for row in project.stock}
    found = []
    for group in groups:
        own: list[Bars] = []

        def bought(
            number: int | None,
            length: float,
            trim: float,
            price: float | None,
            group: Wanted = group,
            own: list[Bars] = own,
        ) -> None:
            count = recorded.pop(bar_key(group.words, group.metal, length), 0)
            if count:
                own.append(Bars(number, length, trim, count, ordered=True))
            own.append(Bars(number, length, trim, None, _price(pricer, group, length, price)))

        for number, row in enumerate(project.stock_bars):
            if not fits(row, group.names):
                continue
            trim = trims[0] if row.ends == "as delivered" else trims[1]
            if row.on_hand and number not in taken:
                taken.add(number)
                own.append(Bars(number, row.length, trim, row.on_hand))
            if row.sold:
                bought(number, row.length, trim, row.price)
        if all(bars.count is not None for bars in own):
            length = _usual(group, trims[0])
            bought(None, length, trims[0], None)
        own += _no_longer_offered(group, recorded, trims[0])
        found.append(tuple(own))
    return tuple(found)


def _no_longer_offered(group: Wanted, recorded: dict[str, int], trim: float) -> list[Bars]:
    """Bars that were ordered in a length that no row offers any more; taken out of `recorded`."""
    start = bar_key(group.words, group.metal, 0.0).removesuffix("0")
    found = []
    for key in [key for key, count in recorded.items() if count and key.startswith(start)]:
        millimetres = _LENGTH.fullmatch(key.removeprefix(start))
        if millimetres is not None:
            length = float(millimetres.group().replace("p", ".")) / 1000.0
            found.append(Bars(None, length, trim, recorded.pop(key), ordered=True))
    return found


def _price(pricer: Pricer, group: Wanted, length: float, own: float | None) -> Decimal | None:
    if own is not None:
        return exact(own)
    if group.section is None or not group.metal:
        found = pricer.named(group.names, length)
    else:
        found = pricer.beam(group.section, group.metal, length)
    return None if found is None else found.each


def _usual(group: Wanted, trim: float) -> float:
    """The shortest usual length that takes the longest piece, else the longest usual one."""
    lengths = ALUMINIUM_LENGTHS if _aluminium(group) else STEEL_LENGTHS
    longest = max(piece.length for piece in group.pieces) + 2.0 * trim
    return next((length for length in lengths if length >= longest), lengths[-1])


def _aluminium(group: Wanted) -> bool:
    if group.metal:
        return material(group.metal).family == "aluminium"
    return any("alumin" in name for name in group.names.materials)
