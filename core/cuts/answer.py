"""The cut list: which bar is cut into which pieces, where, what is left over and what has to be bought. All in SI."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Literal

from core.findings import Finding
from core.machine.saw import Saw

if TYPE_CHECKING:
    from core.cuts.asked import Asked

Source = Literal["bought", "ordered", "on hand"]


@dataclass(frozen=True, slots=True)
class CutPiece:
    """One piece to cut.

    Attributes:
        mark: to be written on it ("C2": the second of kind C). key: of its line in the bill.
        what, where: words. length: m, from tip to tip. mitre: angle of its ends from square, rad.
    """

    mark: str
    key: str
    what: str
    where: str
    length: float
    mitre: float = 0.0


@dataclass(frozen=True, slots=True)
class PlacedPiece:
    """A piece in a bar: from `start` to `end`, m from the bar's first end; the cut behind it takes `kerf` along the bar."""

    piece: CutPiece
    start: float
    end: float
    kerf: float


@dataclass(frozen=True, slots=True)
class CutBar:
    """One bar with its pieces in the order of cutting.

    Attributes:
        number: over the whole list, from 1. source: still to be bought, ordered (on its way or here), or on hand. row: in
            `Project.stock_bars`; None for an
            assumed length. length: m. trim: taken off its first end, m.
        offcut: length left behind the last cut, m. kept: whether that is worth keeping.
        price: of the bar; None when it has none or nothing is to be paid any more.
    """

    number: int
    source: Source
    row: int | None
    length: float
    trim: float
    pieces: tuple[PlacedPiece, ...]
    offcut: float
    kept: bool
    price: Decimal | None = None

    @property
    def in_pieces(self) -> float:
        return sum(placed.piece.length for placed in self.pieces)

    @property
    def in_cuts(self) -> float:
        """Length that saw cuts and the first end's trim take."""
        return self.length - self.in_pieces - self.offcut

    @property
    def scrap(self) -> float:
        """Length of a rest too short to keep."""
        return 0.0 if self.kept else self.offcut

    @property
    def saved(self) -> float:
        """Length of a rest worth keeping."""
        return self.offcut if self.kept else 0.0


@dataclass(frozen=True, slots=True)
class BarKind:
    """Bars that a group may be cut from. `count` is None for as many as are bought; `assumed` when nobody entered them."""

    length: float
    count: int | None
    assumed: bool


@dataclass(frozen=True, slots=True)
class CutGroup:
    """All pieces of one section and material.

    Attributes:
        section, material: words. bars: in order of cutting. kinds: bars that there are for it.
        too_long: pieces that no bar takes. left: pieces that only a bar on hand takes, when these are used up.
        fewest: bars that still have to be bought at least. least_length: length that has to be bought at least, m.
        saving: by how much another list of so many bars of such lengths might use up less metal, m; metal on hand counts
            half. Not above `CutAnswer.close` when the list is proven the best.
    """

    section: str
    material: str
    bars: tuple[CutBar, ...]
    kinds: tuple[BarKind, ...]
    too_long: tuple[CutPiece, ...]
    left: tuple[CutPiece, ...]
    fewest: int
    least_length: float
    saving: float

    @property
    def label(self) -> str:
        return ", ".join(word for word in (self.section, self.material) if word)

    @property
    def bought(self) -> tuple[CutBar, ...]:
        return tuple(bar for bar in self.bars if bar.source == "bought")

    @property
    def ordered(self) -> tuple[CutBar, ...]:
        """Bars that are ordered already."""
        return tuple(bar for bar in self.bars if bar.source == "ordered")

    @property
    def length_bought(self) -> float:
        return sum(bar.length for bar in self.bought)

    @property
    def in_pieces(self) -> float:
        return sum(bar.in_pieces for bar in self.bars)

    @property
    def saved(self) -> float:
        return sum(bar.saved for bar in self.bars)

    @property
    def waste(self) -> float:
        """Scrap, cuts and trims together, m."""
        return sum(bar.scrap + bar.in_cuts for bar in self.bars)

    @property
    def waste_share(self) -> float:
        """Waste as a share of the length that is used up: all bars less the rests kept."""
        gone = sum(bar.length - bar.saved for bar in self.bars)
        return self.waste / gone if gone else 0.0

    @property
    def assumed(self) -> bool:
        """Whether a bar of a length that nobody entered is bought."""
        return any(bar.row is None and bar.source == "bought" for bar in self.bars)

    @property
    def fewest_proven(self) -> bool:
        """Whether no list buys fewer bars, or as many of less length together."""
        return len(self.bought) <= self.fewest and self.length_bought <= self.least_length + 1e-6

    @property
    def price(self) -> Decimal | None:
        """Of the bars to buy; None when one of them has no price, zero when there is nothing to buy."""
        prices = [bar.price for bar in self.bought]
        return sum((p for p in prices if p is not None), Decimal(0)) if None not in prices else None


@dataclass(frozen=True, slots=True)
class CutAnswer:
    """The whole cut list.

    Attributes:
        close: a difference in metal used up that was not worth proving, m for each group.
        currency: of all prices. asked: what it answers; None in an answer made by hand.
    """

    saw: Saw
    groups: tuple[CutGroup, ...]
    close: float
    currency: str
    findings: tuple[Finding, ...] = ()
    asked: Asked | None = None

    @property
    def bars(self) -> Iterator[tuple[CutGroup, CutBar]]:
        """Every bar with its group, in order of cutting."""
        return ((group, bar) for group in self.groups for bar in group.bars)

    @property
    def pieces(self) -> int:
        """How many pieces are cut."""
        return sum(len(bar.pieces) for _, bar in self.bars)

    def gap(self, group: CutGroup) -> float:
        """By how much another list might use up less metal, m; zero when it is proven that none does."""
        return group.saving if group.saving > self.close + 1e-9 else 0.0

    def proven(self, group: CutGroup) -> bool:
        """Whether bars, length and metal used up are proven to be the least."""
        return group.fewest_proven and self.gap(group) == 0.0
