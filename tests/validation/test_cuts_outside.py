"""The cut list against published cutting-stock examples, a second formulation, and sums worked by hand."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import LinearConstraint, milp
from scipy.sparse import coo_array

from core.cuts import find_cuts
from core.cuts.problem import Problem, Stock
from core.cuts.program import Search, solve
from core.cuts.tables import make_tables
from core.machine.layout import layout
from core.machine.project import Project
from core.machine.saw import OwnPiece, Saw, StockBar
from core.sections import stock_book

DATA = Path(__file__).parent / "data" / "cutting_stock.csv"


def example(name: str) -> Problem:
    with DATA.open(encoding="utf-8") as stream:
        rows = [row for row in csv.DictReader(stream) if row["example"] == name]
    pieces = sorted(((int(row["length"]), int(row["count"])) for row in rows), reverse=True)
    sizes, counts = zip(*pieces, strict=True)
    return Problem(sizes, counts, (Stock(int(rows[0]["bar"])),), 0, 10**9)


def patterns(case: Problem) -> int:
    """How many ways there are to cut one bar, the demand set aside."""
    bar = case.stocks[0].length
    many = tuple(bar // size for size in case.sizes)
    tables = make_tables(case.sizes, many, np.zeros(len(many)), bar)
    return sum(1 for _ in tables.all(np.zeros_like(tables.worth[-1]), -1.0))


@pytest.mark.outside(
    what="thirteen widths, 219 pieces from rolls of 5600 mm: 308 patterns, 73 rolls, 0.401 % waste",
    source="example of the encyclopaedia article Cutting stock problem, quoted in Mathematics Stack Exchange, question 374156",
    status="found",
    tolerance="none; waste to its last digit",
)
def test_thirteen_widths() -> None:
    case = example("paper13")
    assert patterns(case) == 308
    made = solve(case)
    assert (made.bars.value, made.bars.bound) == (73, 73)
    waste = 1.0 - case.total(case.demand) / made.length.value
    assert round(100.0 * waste, 3) == 0.401


@pytest.mark.outside(
    what="the same example as pieces of a project, in metres, through the whole cut list",
    source="example of the encyclopaedia article Cutting stock problem, quoted in Mathematics Stack Exchange, question 374156",
    status="found",
    tolerance="none; waste to its last digit",
)
def test_thirteen_widths_as_a_project() -> None:
    case = example("paper13")
    own = tuple(
        OwnPiece(section="roll", length=size / 1000.0, quantity=count)
        for size, count in zip(case.sizes, case.demand, strict=True)
    )
    saw = Saw(kerf=0.0, end_trim=0.0, least_offcut=10.0)
    project = Project(own_pieces=own, saw=saw, stock_bars=(StockBar(length=5.6),))
    answer = find_cuts(project, layout(project.machine, stock_book()), (), 10.0)
    assert answer is not None
    (group,) = answer.groups
    assert len(group.bought) == group.fewest == 73
    assert answer.proven(group)
    assert round(100.0 * group.waste_share, 3) == 0.401


@pytest.mark.outside(
    what="four widths from raws of 100 in: 37 patterns, relaxation 452.25, 453 raws",
    source="V. Chvátal, Linear Programming (1983), chapter 13, as solved in the public notebook Cutting Stock of JuliaOpt",
    status="found",
    tolerance="relaxation 1e-6, counts none",
)
def test_four_widths() -> None:
    case = example("raws100")
    assert patterns(case) == 37
    search = Search(case)
    relaxed, complete = search._relax("bars", math.inf)
    assert complete
    assert relaxed.value == pytest.approx(452.25, abs=1e-6)
    made = solve(case)
    assert (made.bars.value, made.bars.bound) == (453, 453)


def by_arc_flow(case: Problem) -> int:
    """Fewest bars of one kind by another formulation: flow through the places along a bar, a piece being an arc."""
    room = case.room(0)
    arcs = [(0, 0, -1)]  # the arc back counts the bars; the others are start, end, kind
    arcs += [(at, at + 1, -1) for at in range(room)]
    for kind, size in enumerate(case.sizes):
        arcs += [(at, at + size, kind) for at in range(room - size + 1)]
    rows, columns, values = [], [], []
    for number, (start, end, kind) in enumerate(arcs):
        start, end = (room, 0) if number == 0 else (start, end)
        rows += [start, end]
        columns += [number, number]
        values += [-1.0, 1.0]
        if kind >= 0:
            rows.append(room + 1 + kind)
            columns.append(number)
            values.append(1.0)
    matrix = coo_array((values, (rows, columns)), shape=(room + 1 + len(case.sizes), len(arcs))).tocsr()
    low = np.concatenate((np.zeros(room + 1), case.demand))
    high = np.concatenate((np.zeros(room + 1), np.full(len(case.sizes), np.inf)))
    cost = np.zeros(len(arcs))
    cost[0] = 1.0
    result = milp(cost, integrality=np.ones(len(arcs)), constraints=LinearConstraint(matrix, low, high))
    assert result.status == 0
    return round(result.fun)


@pytest.mark.outside(
    what="five widths from rolls of 110: 47 rolls",
    source="data of the cutting example in Fourer, Gay and Kernighan, AMPL (2003), file cut.dat; solved again as a flow of arcs "
    "(J. M. Valério de Carvalho, Annals of Operations Research 86 (1999), from memory)",
    status="computed",
    tolerance="none",
)
def test_five_widths_by_arc_flow() -> None:
    case = example("rolls110")
    assert by_arc_flow(case) == 47
    assert solve(case).bars.value == 47


@pytest.mark.outside(
    what="fewest bars of random lists of up to 24 pieces, kerf and trim included",
    source="a second formulation, a flow of arcs (J. M. Valério de Carvalho, Annals of Operations Research 86 (1999), from "
    "memory), solved by HiGHS",
    status="computed",
    tolerance="none",
)
@settings(max_examples=8)
@given(st.lists(st.integers(5, 30), min_size=6, max_size=24), st.integers(0, 2), st.integers(0, 3))
def test_random_lists_by_arc_flow(lengths: list[int], kerf: int, trim: int) -> None:
    sizes = tuple(sorted({length + kerf for length in lengths}, reverse=True))
    counts = tuple(sum(length + kerf == size for length in lengths) for size in sizes)
    case = Problem(sizes, counts, (Stock(44, trim),), kerf, 10)
    made = solve(case)
    assert made.bars.value == by_arc_flow(case)
    assert made.bars.proven
    assert made.bars.value >= -(-case.total(counts) // case.room(0))


@pytest.mark.outside(
    what="twelve pieces of 1043 mm from 6 m bars with trims and kerfs: five a bar, rest 762.5 mm",
    source="worked by hand in the guide, page Cut list",
    status="computed",
    tolerance="1e-9 m",
)
def test_twelve_pieces_by_hand() -> None:
    project = Project(
        own_pieces=(OwnPiece(section="30 x 30 x 2", length=1.043, quantity=12),),
        saw=Saw(kerf=0.0025, end_trim=0.01),
        stock_bars=(StockBar(length=6.0),),
    )
    answer = find_cuts(project, layout(project.machine, stock_book()), ())
    assert answer is not None
    (group,) = answer.groups
    assert sorted(len(bar.pieces) for bar in group.bars) == [2, 5, 5]
    full = next(bar for bar in group.bars if len(bar.pieces) == 5)
    assert full.offcut == pytest.approx(0.7625, abs=1e-9)
    assert full.pieces[1].start == pytest.approx(0.01 + 1.043 + 0.0025, abs=1e-9)
