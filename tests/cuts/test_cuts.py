"""The cut list of a project: pieces of the machine and the user's own, bars that fit, places along them, what is told."""

from __future__ import annotations

import math
from collections import Counter
from decimal import Decimal

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.commands import AddRow, History
from core.cuts import CutAnswer, CutGroup, find_cuts
from core.cuts.pieces import letters
from core.drawing.views.bars import bars_drawing
from core.errors import BadEntry
from core.machine.base import Base, Diagonals, Legs
from core.machine.layout import layout
from core.machine.prices import PriceRow, Prices
from core.machine.project import Machine, Project, replace_at
from core.machine.saw import OwnPiece, Saw, StockBar
from core.parts import PartLine, parts
from core.report import csv_text
from core.report.cut_tables import bars_table, buy_table, order_table, sections_table
from core.report.cut_words import cuts_headline
from core.report.cuts_json import cuts_json
from core.sections import stock_book

BOOK = stock_book()
LAYOUT = layout(Project().machine, BOOK)
OWN = "30 x 30 x 2"


def cuts(project: Project, lines: tuple[PartLine, ...] = (), seconds: float = 5.0) -> CutAnswer:
    answer = find_cuts(project, LAYOUT, lines, seconds)
    assert answer is not None
    return answer


def own(*lengths: float, **more: object) -> tuple[OwnPiece, ...]:
    return tuple(OwnPiece(name=f"Bar {n}", section=OWN, length=x, **more) for n, x in enumerate(lengths))  # type: ignore[arg-type]


def machine_cuts(project: Project) -> tuple[CutAnswer, tuple[PartLine, ...]]:
    lay = layout(project.machine, BOOK)
    lines = parts(project, lay, ())
    answer = find_cuts(project, lay, lines, 5.0)
    assert answer is not None
    return answer, lines


def check(answer: CutAnswer) -> None:
    """What holds of every list: places follow each other, lengths add up, rests are kept or not."""
    saw = answer.saw
    for group, bar in answer.bars:
        at = bar.trim
        for placed in bar.pieces:
            assert placed.start == pytest.approx(at, abs=1e-9)
            assert placed.end - placed.start == pytest.approx(placed.piece.length, abs=1e-9)
            at = placed.end + placed.kerf
            assert placed.kerf <= saw.kerf / math.cos(placed.piece.mitre) + 1e-12
        assert at <= bar.length + 1e-9
        assert bar.pieces[-1].end <= bar.length - bar.trim + 1e-9
        assert bar.offcut == pytest.approx(bar.length - at, abs=2e-6)
        assert bar.in_pieces + bar.in_cuts + bar.saved + bar.scrap == pytest.approx(bar.length)
        assert bar.kept == (bar.offcut > 0.0 and bar.offcut >= saw.least_offcut - 1e-9)
        assert bar in group.bars
    numbers = [bar.number for _, bar in answer.bars]
    assert numbers == list(range(1, len(numbers) + 1))


@settings(max_examples=25)
@given(
    st.lists(st.floats(0.05, 2.9), min_size=1, max_size=9),
    st.floats(0.0, 0.005),
    st.sampled_from((0.0, 0.01, 0.03)),
    st.sampled_from((0.0, 0.4)),
)
def test_any_lengths_are_cut_once_each_and_fit(
    lengths: list[float], kerf: float, trim: float, mitre: float
) -> None:
    project = Project(
        saw=Saw(kerf=kerf, end_trim=trim),
        own_pieces=own(*lengths, mitre=mitre),
        stock_bars=(
            StockBar(section=OWN, length=3.0),
            StockBar(section=OWN, length=1.2, sold=False, on_hand=1),
        ),
    )
    answer = cuts(project)
    check(answer)
    (group,) = answer.groups
    made = Counter(placed.piece.key for bar in group.bars for placed in bar.pieces)
    made.update(piece.key for piece in (*group.too_long, *group.left))
    assert list(made.values()) == [1] * len(lengths)
    assert len(group.bought) >= (group.in_pieces - 1.2) / 3.0 - 1e-9
    if not group.too_long:
        assert group.fewest <= len(group.bought)


def test_every_length_of_the_parts_list_is_cut_as_often_as_it_is_needed() -> None:
    base = Base(stand=Legs(diagonals=Diagonals()))
    project = Project(machine=Machine(base=base))
    answer, lines = machine_cuts(project)
    check(answer)
    wanted = {line.key: line.quantity for line in lines if line.section is not None}
    made = Counter(placed.piece.key for _, bar in answer.bars for placed in bar.pieces)
    assert made == wanted
    lengths = {line.key: line.length for line in lines}
    for _, bar in answer.bars:
        for placed in bar.pieces:
            assert placed.piece.length == lengths[placed.piece.key]
            assert (placed.piece.mitre > 0.0) == placed.piece.key.startswith("diagonal_")
    marks = [placed.piece.mark for _, bar in answer.bars for placed in bar.pieces]
    assert len(set(marks)) == len(marks)
    assert any(key.startswith("diagonal_") for key in made)


def test_own_pieces_are_cut_from_the_same_bars() -> None:
    alone, _ = machine_cuts(Project())
    group = alone.groups[0]
    piece = OwnPiece(section=group.section.partition(",")[0], length=0.1)
    joined, _ = machine_cuts(Project(own_pieces=(piece,)))
    assert len(joined.groups) == len(alone.groups)
    assert joined.pieces == alone.pieces + 1
    apart, _ = machine_cuts(Project(own_pieces=(msgspec.structs.replace(piece, material="Brass"),)))
    assert len(apart.groups) == len(alone.groups) + 1


def test_bars_on_hand_serve_and_are_not_used_twice() -> None:
    bar = StockBar(section=OWN, length=2.0, sold=False, on_hand=1, ends="cut square")
    answer = cuts(Project(own_pieces=own(0.9, 0.9, 0.9), stock_bars=(bar, StockBar(section=OWN, length=3.0))))
    (group,) = answer.groups
    assert [b.source for b in group.bars] == ["on hand", "bought"]
    assert group.bars[0].trim == 0.0
    other = OwnPiece(section=OWN, material="Aluminium", length=0.9)
    both = cuts(Project(own_pieces=(*own(0.9), other), stock_bars=(bar,)))
    assert sum(b.source == "on hand" for _, b in both.bars) == 1


def test_a_bar_of_another_section_is_told_and_not_used() -> None:
    answer = cuts(Project(own_pieces=own(0.9), stock_bars=(StockBar(section="50 x 50 x 3", length=1.0),)))
    codes = {finding.code: finding.where for finding in answer.findings}
    assert codes["bar-idle"] == "stock_bars.0.section"
    assert answer.groups[0].assumed


@pytest.mark.parametrize(
    ("material", "longest", "bar"), [("S235", 2.0, 6.0), ("Aluminium", 2.0, 3.0), ("Aluminium", 2.99, 6.0)]
)
def test_usual_lengths_stand_in_and_are_told(material: str, longest: float, bar: float) -> None:
    answer = cuts(Project(own_pieces=own(longest, material=material)))
    assert [b.length for _, b in answer.bars] == [bar]
    assert [f.code for f in answer.findings] == ["bar-length-assumed"]


def test_too_long_is_grave_when_the_bars_were_entered_and_a_warning_when_they_are_assumed() -> None:
    entered = cuts(Project(own_pieces=own(5.99, 1.0), stock_bars=(StockBar(length=6.0),)))
    (finding,) = entered.findings
    assert (finding.code, finding.severity) == ("piece-too-long", "limit")
    assert [piece.what for piece in entered.groups[0].too_long] == ["Bar 0"]
    assert entered.pieces == 1
    assumed = cuts(Project(own_pieces=own(7.0)))
    assert {f.code: f.severity for f in assumed.findings}["piece-too-long"] == "warning"
    assert assumed.pieces == 0
    used_up = cuts(
        Project(
            own_pieces=own(4.0, 4.0),
            stock_bars=(StockBar(length=3.0), StockBar(section=OWN, length=4.5, sold=False, on_hand=1)),
        )
    )
    assert [f.code for f in used_up.findings] == ["piece-too-long"]
    assert len(used_up.groups[0].left) == 1


def test_without_time_the_gap_is_told() -> None:
    lengths = [0.2345, 0.18, 0.1501, 0.1252, 0.0903, 0.0874, 0.0605]
    project = Project(
        own_pieces=own(*lengths, quantity=6), stock_bars=(StockBar(length=0.6), StockBar(length=0.45))
    )
    answer = cuts(project, seconds=0.0)
    assert "cuts-not-proven" in {f.code for f in answer.findings}
    assert not answer.proven(answer.groups[0])
    assert cuts_headline(answer, project.units).state == "good"


def test_mitred_cuts_take_more_of_the_bar() -> None:
    square = cuts(Project(own_pieces=own(1.0)))
    slanting = cuts(Project(own_pieces=own(1.0, mitre=math.pi / 4)))
    kerfs = [next(answer.bars)[1].pieces[0].kerf for answer in (square, slanting)]
    assert kerfs[1] == pytest.approx(kerfs[0] * math.sqrt(2.0))
    pieces = (*own(0.5, mitre=0.5), *own(0.5), *own(0.4))
    (bar,) = (bar for _, bar in cuts(Project(own_pieces=pieces)).bars)
    assert [placed.piece.mitre for placed in bar.pieces] == [0.0, 0.0, 0.5]


def test_lengths_in_inches_that_fill_a_bar_fill_it() -> None:
    inch = 0.0254
    bars = (StockBar(section=OWN, length=241.0 * inch, ends="cut square"),)
    units = Project().display
    display = msgspec.structs.replace(units, length="in")
    pieces = own(60.0 * inch, quantity=4)
    fits = Project(display=display, saw=Saw(kerf=inch / 8.0), own_pieces=pieces, stock_bars=bars)
    assert len(list(cuts(fits).bars)) == 1
    wider = msgspec.structs.replace(fits, saw=Saw(kerf=inch * 11.0 / 32.0))
    assert len(list(cuts(wider).bars)) == 2


def test_prices_stand_beside_the_bar_or_in_the_price_list_and_never_become_zero() -> None:
    base = Project(own_pieces=own(2.0, quantity=4))
    assert cuts(base).groups[0].price is None
    priced = cuts(msgspec.structs.replace(base, stock_bars=(StockBar(length=6.0, price=12.345),)))
    assert priced.groups[0].price == Decimal("24.690")
    there = StockBar(section=OWN, length=6.0, sold=False, on_hand=2)
    free = cuts(msgspec.structs.replace(base, stock_bars=(there,)))
    assert free.groups[0].price == 0
    listed, _ = machine_cuts(
        Project(prices=Prices(rows=(PriceRow(family="any", material="S235", price=1.0, per="metre"),)))
    )
    steel = [group for group in listed.groups if "S235" in group.material]
    assert steel
    assert all(group.price == Decimal(round(group.length_bought)) for group in steel)


def test_tables_json_and_words_say_the_same() -> None:
    project = Project(
        own_pieces=own(2.5, 1.2, 0.7, quantity=3), stock_bars=(StockBar(length=6.0, price=30.0),)
    )
    answer = cuts(project)
    units = project.units
    group: CutGroup = answer.groups[0]
    order = order_table(answer, units)
    assert len(order.rows) == answer.pieces == 9
    assert [row[0] for row in order.rows] == [bar.number for _, bar in answer.bars for _ in bar.pieces]
    assert csv_text(order).count("\r\n") == 10
    assert len(bars_table(answer, units).rows) == len(group.bars)
    (bought,) = buy_table(answer, units).rows
    count = len(group.bought)
    assert (*bought[2:6], bought[7]) == (6000.0, count, 0, count, 30.0 * count)
    (total,) = sections_table(answer, units).rows
    assert total[-1] == "the best"
    made = cuts_json(answer, project)
    assert made["groups"][0]["bars_bought"] == len(group.bought)
    assert made["groups"][0]["proven"] is True
    assert sum(len(bar["pieces"]) for bar in made["groups"][0]["bars"]) == 9
    msgspec.json.encode(made)


def test_the_drawing_is_to_scale_and_tells_scrap_from_rests_without_colour() -> None:
    project = Project(own_pieces=own(2.9, 1.2, 0.7), stock_bars=(StockBar(length=3.0),))
    answer = cuts(project)
    drawing = bars_drawing(answer, project.units)
    rests = {}
    for _, bar in answer.bars:
        shapes = drawing.of_key(f"bar {bar.number}")
        assert max(shape.bounds().right for shape in shapes) == pytest.approx(bar.length)
        rest = next(s for s in shapes if s.hint.split(": ")[-1].startswith(("keep", "scrap")))
        assert rest.bounds().width == pytest.approx(bar.offcut)
        rests[bar.kept] = rest.role
    assert set(rests) == {True, False}
    assert rests[True] != rests[False]
    words = " ".join(getattr(shape, "text", "") for shape in drawing)
    assert "keep" in words
    assert "scrap" in words


def test_nothing_to_cut() -> None:
    answer = cuts(Project())
    assert answer.groups == ()
    assert bars_drawing(answer, Project().units).items == ()
    assert order_table(answer, Project().units).rows == ()
    assert cuts_headline(answer, Project().units).state == "note"


def test_nobody_waits() -> None:
    assert find_cuts(Project(own_pieces=own(1.0)), LAYOUT, (), 1.0, lambda: True) is None


def test_rows_can_be_added_and_undone() -> None:
    history = History(Project()).do(AddRow("stock_bars", StockBar()))
    assert len(history.project.stock_bars) == 1
    assert history.undo().project == Project()


def test_bad_rows_say_what_would_do() -> None:
    with pytest.raises(BadEntry) as caught:
        StockBar(on_hand=1)
    assert caught.value.where == "section"
    with pytest.raises(BadEntry) as caught:
        OwnPiece(section=" ")
    assert caught.value.where == "section"


def test_letters_go_on_after_z() -> None:
    assert [letters(n) for n in (0, 25, 26, 51, 52, 701, 702)] == ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]


def test_bars_in_millimetres_are_proven_in_inches_too() -> None:
    bars = Project(stock_bars=(StockBar(length=6.0),), own_pieces=own(1.4, 2.5))
    answer = cuts(replace_at(bars, "display.length", "in"))
    assert answer.pieces == 2
    assert all(group.fewest_proven for group in answer.groups)
    assert not [finding for finding in answer.findings if finding.code == "cuts-not-proven"]
