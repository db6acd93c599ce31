"""The cut list as tables: order of cutting, bars, what to buy, totals by section; and the user's rows behind it."""

from __future__ import annotations

from math import degrees

from core.cuts import CutAnswer, CutBar, CutGroup
from core.machine.project import Project
from core.prices import rounded
from core.report.tables import Cell, Column, Table, amount, figure_column, money_column, number, text_column
from core.units import UnitSet

KEEP, SCRAP = "keep", "scrap"


def order_table(answer: CutAnswer, units: UnitSet) -> Table:
    """One row for each piece, in the order of cutting: bar by bar, from the bar's first end."""
    columns = (
        Column("Bar"),
        text_column("From"),
        text_column("Section"),
        text_column("Material"),
        text_column("Mark"),
        text_column("Piece"),
        figure_column("Length", "length", units),
        figure_column("Begins at", "length", units),
        figure_column("Ends at", "length", units),
        Column("Mitre, from square", "°"),
        text_column("Goes to"),
        text_column("Behind it"),
        text_column("Key"),
    )
    rows: list[tuple[Cell, ...]] = []
    for group, bar in answer.bars:
        for number_in_bar, placed in enumerate(bar.pieces, start=1):
            piece = placed.piece
            rows.append(
                (
                    bar.number,
                    bar.source,
                    group.section,
                    group.material,
                    piece.mark,
                    piece.what,
                    number(piece.length, "length", units),
                    number(placed.start, "length", units),
                    number(placed.end, "length", units),
                    round(degrees(piece.mitre), 2) if piece.mitre else None,
                    piece.where,
                    rest_word(bar) if number_in_bar == len(bar.pieces) else "",
                    piece.key,
                )
            )
    return Table("Order of cutting", columns, tuple(rows))


def rest_word(bar: CutBar) -> str:
    """What becomes of the rest of a bar; empty when nothing is left."""
    return "" if not bar.offcut else KEEP if bar.kept else SCRAP


def bars_table(answer: CutAnswer, units: UnitSet) -> Table:
    """One row for each bar."""
    columns = (
        Column("Bar"),
        text_column("From"),
        text_column("Section"),
        text_column("Material"),
        figure_column("Length", "length", units),
        text_column("Pieces"),
        figure_column("In pieces", "length", units),
        figure_column("Cuts and trim", "length", units),
        figure_column("Rest", "length", units),
        text_column("The rest is"),
    )
    rows = tuple(
        (
            bar.number,
            bar.source,
            group.section,
            group.material,
            number(bar.length, "length", units),
            " ".join(placed.piece.mark for placed in bar.pieces),
            number(bar.in_pieces, "length", units),
            number(bar.in_cuts, "length", units),
            number(bar.offcut, "length", units),
            rest_word(bar),
        )
        for group, bar in answer.bars
    )
    return Table("Bars", columns, rows)


def buy_table(answer: CutAnswer, units: UnitSet) -> Table:
    """Bars to buy, by section and length, those that are ordered already told apart."""
    columns = (
        text_column("Section"),
        text_column("Material"),
        figure_column("Bar", "length", units),
        Column("Needed"),
        Column("Ordered"),
        Column("To buy"),
        money_column("Price of one", answer.currency),
        money_column("Price", answer.currency),
        text_column("Length from"),
    )
    rows: list[tuple[Cell, ...]] = []
    for group in answer.groups:
        kinds: dict[tuple[float, int | None], list[CutBar]] = {}
        for bar in (*group.ordered, *group.bought):
            kinds.setdefault((bar.length, bar.row), []).append(bar)
        for (length, row), bars in kinds.items():
            price = bars[-1].price
            still = sum(bar.source == "bought" for bar in bars)
            rows.append(
                (
                    group.section,
                    group.material,
                    number(length, "length", units),
                    len(bars),
                    len(bars) - still,
                    still,
                    amount(price) if still else None,
                    amount(None if price is None else rounded(price * still)) if still else None,
                    "assumed, common practice" if row is None else f"your bar {row + 1}",
                )
            )
    return Table("Bars to buy", columns, tuple(rows))


def sections_table(answer: CutAnswer, units: UnitSet) -> Table:
    """Totals of each section and material."""
    columns = (
        text_column("Section"),
        text_column("Material"),
        Column("Pieces"),
        Column("Bars to buy"),
        figure_column("Bought", "length", units),
        Column("Ordered"),
        Column("On hand"),
        figure_column("In pieces", "length", units),
        figure_column("Kept for later", "length", units),
        figure_column("Waste", "length", units),
        Column("Waste", "%", digits=2),
        money_column("Price", answer.currency),
        text_column("Proven"),
    )
    rows = tuple(
        (
            group.section,
            group.material,
            sum(len(bar.pieces) for bar in group.bars),
            len(group.bought),
            number(group.length_bought, "length", units),
            len(group.ordered) or None,
            len(group.bars) - len(group.bought) - len(group.ordered) or None,
            number(group.in_pieces, "length", units),
            number(group.saved, "length", units),
            number(group.waste, "length", units),
            100.0 * group.waste_share,
            amount(None if group.price is None else rounded(group.price)) if group.bought else None,
            proven_words(answer, group),
        )
        for group in answer.groups
    )
    return Table("Cut list by section", columns, rows)


def proven_words(answer: CutAnswer, group: CutGroup) -> str:
    """How far the list of a section is proven the best."""
    if group.too_long or group.left:
        return "pieces without a bar"
    if answer.proven(group):
        return "the best"
    return "fewest bars" if group.fewest_proven else f"at least {group.fewest} bars"


def stock_bars_table(project: Project) -> Table:
    """The bars that the user entered, in order."""
    columns = (
        text_column("For"),
        figure_column("Length", "length", project.units),
        text_column("Sold"),
        Column("On hand"),
    )
    rows = tuple(
        (
            row.name,
            number(row.length, "length", project.units),
            "yes" if row.sold else "no",
            row.on_hand or None,
        )
        for row in project.stock_bars
    )
    return Table("Bars to cut from", columns, rows)


def own_pieces_table(project: Project) -> Table:
    """The pieces that the user added, in order."""
    columns = (
        text_column("Piece"),
        text_column("Section"),
        text_column("Material"),
        figure_column("Length", "length", project.units),
        Column("How many"),
    )
    rows = tuple(
        (p.name, p.section, p.material, number(p.length, "length", project.units), p.quantity)
        for p in project.own_pieces
    )
    return Table("Pieces of your own", columns, rows)
