"""Metal by the bar: what the cut list takes stands in the bill as bars, and its pieces are not bought a second time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from core.cuts import CutAnswer, CutBar, CutGroup
from core.cuts.pieces import OWN_GROUP, Wanted
from core.cuts.stock import BAR_KEY, bar_key, fits
from core.machine.project import Project
from core.parts import PartLine
from core.parts.keys import slug, told_apart
from core.prices import Price, Pricer, exact
from core.prices.match import Piece, piece_of, plain
from core.sections import label
from core.units import show

__all__ = ["BARS", "BAR_KEY", "BarLine", "bar_lines", "cut_counts", "waiting"]

BARS = "Bars"
MOST_PLACES = 4


@dataclass(frozen=True, slots=True)
class BarLine:
    """Bars of one section and length as a line of the bill.

    Attributes:
        there: of them on hand, as entered beside the cut list. price: of one; None when it is not known.
        done: of them cut up, as all that is cut from them is fitted.
    """

    part: PartLine
    there: int
    price: Price | None
    done: int = 0


def cut_counts(cuts: CutAnswer) -> Counter[str]:
    """How many pieces of each line of the bill come out of the bars."""
    return Counter(placed.piece.key for _, bar in cuts.bars for placed in bar.pieces)


def waiting(project: Project, parts: Iterable[PartLine]) -> frozenset[str]:
    """Keys of lines for whose metal bars are recorded or lie there, so that only the cut list knows what is still to order."""
    recorded = [row.part for row in project.stock if row.part.startswith(BAR_KEY) and not row.empty]
    there = [row for row in project.stock_bars if row.on_hand]
    found = set()
    for part in parts:
        if part.length is None or not (recorded or there):
            continue
        if part.section is not None:
            start = f"{BAR_KEY}{slug(label(part.section))}_{part.material}_"
            names = piece_of(part.section, part.material)
        elif part.group == OWN_GROUP:
            start = f"{BAR_KEY}{slug(part.spec)}_"
            section, _, metal = part.spec.partition(", ")
            names = Piece(None, frozenset({plain(section)}), frozenset({plain(metal)}))
        else:
            continue
        if any(key.startswith(start) for key in recorded) or any(fits(row, names) for row in there):
            found.add(part.key)
    return frozenset(found)


def bar_lines(
    project: Project, cuts: CutAnswer, parts: Iterable[PartLine], pricer: Pricer
) -> tuple[BarLine, ...]:
    """A line for each length of bar of each section, in the order of the cut list."""
    fitted = Counter({row.part: row.fitted for row in project.stock if row.fitted})
    linear = {
        (line.section, line.material): line.mass_each / line.length
        for line in parts
        if line.section is not None and line.length and line.mass_each is not None
    }
    assert cuts.asked is not None  # only an answer that was asked for is matched
    made: list[BarLine] = []
    for group, wanted in zip(cuts.groups, cuts.asked.groups, strict=True):
        each = linear.get((wanted.section, wanted.metal)) if wanted.section is not None else None
        for bars in _alike(group):
            line = _line(project, pricer, group, wanted, each, bars)
            made.append(replace(line, done=_cut_up(bars, fitted)))
    parts_told = told_apart(line.part for line in made)
    return tuple(replace(line, part=part) for part, line in zip(parts_told, made, strict=True))


def _cut_up(bars: Iterable[CutBar], fitted: Counter[str]) -> int:
    """How many bars the fitted pieces account for; these are taken out of `fitted`."""
    done = 0
    for bar in bars:
        pieces = Counter(placed.piece.key for placed in bar.pieces)
        if pieces <= fitted:
            fitted -= pieces
            done += 1
    return done


def _alike(group: CutGroup) -> Iterator[list[CutBar]]:
    """Bars of one row and length together, bought or on hand."""
    kinds: dict[tuple[float, int | None], list[CutBar]] = {}
    for bar in group.bars:
        kinds.setdefault((bar.length, bar.row), []).append(bar)
    yield from kinds.values()


def _line(
    project: Project,
    pricer: Pricer,
    group: CutGroup,
    wanted: Wanted,
    linear: float | None,
    bars: list[CutBar],
) -> BarLine:
    length, row = bars[0].length, bars[0].row
    mass = None if linear is None else linear * length
    places = list(dict.fromkeys(placed.piece.what for bar in bars for placed in bar.pieces))
    assumed = row is None and any(bar.source == "bought" for bar in bars)
    key = bar_key((group.section, group.material), wanted.metal, length)
    if row is not None and not project.stock_bars[row].sold:
        key = f"{key}_on_hand"  # or an order of the same bars would be taken for this line's
    where = ", ".join(places[:MOST_PLACES]) + (" and more" if len(places) > MOST_PLACES else "")
    part = PartLine(
        key,
        BARS,
        f"Bar, {show(length, 'length', project.units)}" + (", length assumed" if assumed else ""),
        group.label,
        len(bars),
        length,
        mass,
        None if mass is None else mass * len(bars),
        where=f"cut into {where}",
        section=wanted.section,
        material=wanted.metal,
    )
    used = sum(bar.source == "on hand" for bar in bars)
    there = 0 if not used or row is None else project.stock_bars[row].on_hand
    return BarLine(part, there, _price(project, pricer, wanted, length, row))


def _price(project: Project, pricer: Pricer, wanted: Wanted, length: float, row: int | None) -> Price | None:
    own = None if row is None else project.stock_bars[row].price
    if own is not None:
        return Price(exact(own), pricer.currency, f"entered beside bar {(row or 0) + 1} of the cut list")
    if wanted.section is None or not wanted.metal:
        return pricer.named(wanted.names, length)
    return pricer.beam(wanted.section, wanted.metal, length)
