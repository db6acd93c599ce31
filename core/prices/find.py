"""The price of a beam or of a line of the parts list, out of the user's own rows; None when there is none."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from core.errors import NeedsAnalysis
from core.machine.prices import PriceRow
from core.machine.project import Project
from core.machine.stuff import Family
from core.materials import material as find_material
from core.materials import materials
from core.parts.pieces import pieces_of
from core.parts.table import PartLine
from core.prices.match import Pattern, Piece, materials_of, patterns, piece_of, plain
from core.prices.money import exact, shared, show_amount, times
from core.sections import BUILT_UP, Section, properties, stock_book

FOOT = Decimal("0.3048")
POUND = Decimal("0.45359237")
"""Exact by definition: NIST Special Publication 811, B.8."""


@dataclass(frozen=True, slots=True)
class Price:
    """The price of one piece.

    Attributes:
        each: for one piece, whole hundredths when it is worked out from a length or a mass; tax as in the row.
        currency: as entered.
        rule: how it came about ("12.40 EUR a metre x 1.92 m").
        row: number of the row in `Project.prices.rows`; None for a price entered beside the part itself.
    """

    each: Decimal
    currency: str
    rule: str
    row: int | None = None


class Pricer:
    """A project's prices made ready for many look-ups; make a new one when the prices change."""

    def __init__(self, project: Project) -> None:
        self.currency = project.prices.currency.strip()
        self._patterns: tuple[Pattern, ...] = patterns(project.prices.rows)

    def beam(self, section: Section, material: str, length: float, mass: float | None = None) -> Price | None:
        """The price of a length of a section (m); `mass` in kg spares working it out for a price by the kilogram.

        A built-up section costs what its pieces cost, unless a row is for it as a whole; work on it is not in that.
        """
        if not self._patterns:
            return None
        patterns = self._patterns
        if isinstance(section, BUILT_UP):
            patterns = tuple(one for one in patterns if one.row.family == "built-up" or one.row.section)
        found = self._price(piece_of(section, material), length, mass, (section, material), among=patterns)
        if found is None and isinstance(section, BUILT_UP):
            return self._of_pieces(section, material, length, mass)
        return found

    def _of_pieces(self, section: Section, material: str, length: float, mass: float | None) -> Price | None:
        """The sum over the pieces; None as soon as one has no price."""
        mass = _mass(section, material, length) if mass is None else mass
        total, rules = Decimal(0), []
        for piece in pieces_of(section, material, 0.0 if mass is None else mass / length):
            heavy = None if mass is None else piece.linear_mass * length
            found = self._price(
                piece_of(piece.section, piece.metal), length, heavy, (piece.section, piece.metal)
            )
            if found is None:
                return None
            total += times(found.each, piece.count)
            rules.append(f"{piece.count} x {found.rule}")
        return Price(total, self.currency, "; ".join(rules))

    def named(self, names: Piece, length: float) -> Price | None:
        """The price of a length (m) of what is known by its names only; none by mass."""
        return self._price(names, length, None, None) if self._patterns else None

    def line(self, line: PartLine, pack_size: int = 0) -> Price | None:
        """The price of one piece of a line in the parts list; `pack_size` in place of the line's own."""
        if not self._patterns:
            return None
        names = (line.key, line.what, line.spec, f"{line.what} {line.spec}", f"{line.what}, {line.spec}")
        if line.section is not None:
            piece = piece_of(line.section, line.material, names)
        else:
            parts = frozenset(plain(name) for name in names)
            family: Family | None = "flat bar or plate" if line.material else None
            materials = materials_of(line.material) if line.material else frozenset[str]()
            piece = Piece(family, frozenset(), materials, parts)
        return self._price(piece, line.length, line.mass_each, None, pack_size or line.pack_size)

    def _price(
        self,
        piece: Piece,
        length: float | None,
        mass: float | None,
        stuff: tuple[Section, str] | None,
        pack_size: int = 0,
        among: tuple[Pattern, ...] | None = None,
    ) -> Price | None:
        for pattern in self._patterns if among is None else among:
            if pattern.fits(piece):
                found = self._worked_out(pattern, length, mass, stuff, pack_size)
                if found is not None:
                    return found
        return None

    def _worked_out(
        self,
        pattern: Pattern,
        length: float | None,
        mass: float | None,
        stuff: tuple[Section, str] | None,
        pack_size: int,
    ) -> Price | None:
        """None when the row's basis does not suit the piece (a price by the metre for a carriage)."""
        row, currency, number = pattern.row, self.currency, pattern.index
        if row.price is None:
            return None
        price = exact(row.price)
        if row.per == "piece":
            return Price(price, currency, _rule(row, price, currency), number)
        if row.per == "pack":
            if pack_size < 1:
                return None
            return Price(
                shared(price, pack_size), currency, _rule(row, price, currency, f"of {pack_size}"), number
            )
        if row.per in ("metre", "foot"):
            count = _count(length, FOOT if row.per == "foot" else None)
        else:
            if mass is None and stuff is not None and length is not None:
                mass = _mass(*stuff, length)
            count = _count(mass, POUND if row.per == "pound" else None)
        if count is None:
            return None
        return Price(times(price, count), currency, _rule(row, price, currency, f"x {count:.5g}"), number)


def price_of_beam(
    project: Project, section: Section, material: str, length: float, mass: float | None = None
) -> Price | None:
    """The price of one beam, or None when no row of the project's prices is for it.

    Args:
        material: key of `core.materials`. length: m. mass: kg, if known; else it is worked out for a price by mass, and
            a section that has not been analysed yet then has no price. For many beams make one `Pricer`.
    """
    return Pricer(project).beam(section, material, length, mass)


def price_of_line(project: Project, line: PartLine) -> Price | None:
    """The price of one piece of a line of the parts list, or None. For many lines make one `Pricer`."""
    return Pricer(project).line(line)


def prices_by_mass(project: Project) -> dict[str, float]:
    """Money for a kilogram by material key, of rows that give one for a material as such; without tax on top.

    A row for every kind of section goes before one for a single kind; of equals the first.
    """
    rows = [
        row
        for row in project.prices.rows
        if row.per in ("kilogram", "pound") and not (row.part or row.section)
    ]
    rows.sort(key=lambda row: row.family != "any")
    found: dict[str, float] = {}
    for stuff in materials():
        names = materials_of(stuff.key)
        for row in rows:
            if row.price is not None and plain(row.material) in names:
                per = POUND if row.per == "pound" else Decimal(1)
                found[stuff.key] = float(exact(row.price) / per)
                break
    return found


def _count(amount: float | None, unit: Decimal | None) -> Decimal | None:
    """Metres or kilograms (to the thousandth of a millimetre or gram) in the unit of a price."""
    if amount is None:
        return None
    whole = exact(round(amount, 6))
    return whole if unit is None else whole / unit


def _rule(row: PriceRow, price: Decimal, currency: str, amount: str = "") -> str:
    words = f"{show_amount(price)} {currency} a {row.per}"
    words = f"{words} {amount}" if amount else words
    return f"{words} ({row.name.strip()})" if row.name.strip() else words


def _mass(section: Section, material: str, length: float) -> float | None:
    try:
        return (
            properties(section, stock_book(), material).linear_mass(find_material(material).density) * length
        )
    except NeedsAnalysis:
        return None
