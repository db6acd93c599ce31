"""The integer program against exhaustive search on small lists, and what holds for every list."""

from __future__ import annotations

import time
from collections import Counter
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.cuts.problem import LEFT, Problem, Solution, Stock
from core.cuts.program import GOALS, Overtaken, Search, solve

Score = tuple[int, int, int, int]  # left over, bars bought, length bought, metal spent


def problem(lengths: list[int], stocks: tuple[Stock, ...], kerf: int = 0, least: int = 10**9) -> Problem:
    count = Counter(length + kerf for length in lengths)
    sizes = tuple(sorted(count, reverse=True))
    return Problem(sizes, tuple(count[size] for size in sizes), stocks, kerf, least)


def by_search(case: Problem) -> Score:
    """The best score of all ways to cut the list: pieces one by one into every open bar, a new bar or none."""
    sizes = [size for size, n in zip(case.sizes, case.demand, strict=True) for _ in range(n)]

    @cache
    def best(i: int, bars: tuple[tuple[int, int], ...]) -> Score:
        if i == len(sizes):
            bought = [case.stocks[k].length for k, _ in bars if case.stocks[k].bought]
            return 0, len(bought), sum(bought), sum(case.spent(k, total) for k, total in bars)
        found = []
        for n, (k, total) in enumerate(bars):
            if bars.index((k, total)) == n and total + sizes[i] <= case.room(k):
                found.append(best(i + 1, tuple(sorted((*bars[:n], (k, total + sizes[i]), *bars[n + 1 :])))))
        for k, bar in enumerate(case.stocks):
            open_bars = sum(stock == k for stock, _ in bars)
            if sizes[i] <= case.room(k) and (bar.limit is None or open_bars < bar.limit):
                found.append(best(i + 1, tuple(sorted((*bars, (k, sizes[i]))))))
        longest_sold = max((case.room(k) for k, bar in enumerate(case.stocks) if bar.bought), default=0)
        if sizes[i] > longest_sold:
            left, *rest = best(i + 1, bars)
            found.append((left + 1, *rest))
        return min(found)

    return best(0, ())


def check(case: Problem, made: Solution) -> None:
    """Every piece exactly once, no bar overfull, no more bars than there are, figures as they follow from the cuts."""
    cut = [0] * len(case.sizes)
    for pattern, times in made.cuts:
        cut = [n + times * count for n, count in zip(cut, pattern.counts, strict=True)]
        if pattern.stock != LEFT:
            assert 0 < case.total(pattern.counts) <= case.room(pattern.stock)
    assert tuple(cut) == case.demand
    for k, bar in enumerate(case.stocks):
        used = sum(times for pattern, times in made.cuts if pattern.stock == k)
        assert bar.limit is None or used <= bar.limit
    bars = [(p, n) for p, n in made.cuts if p.stock != LEFT]
    bought = [(p, n) for p, n in bars if case.stocks[p.stock].bought]
    assert made.left.value == sum(n for p, n in made.cuts if p.stock == LEFT)
    assert made.bars.value == sum(n for _, n in bought)
    assert made.length.value == sum(n * case.stocks[p.stock].length for p, n in bought)
    assert made.spent.value == sum(n * case.spent(p.stock, case.total(p.counts)) for p, n in bars)
    for goal in (made.left, made.bars, made.length, made.spent):
        assert goal.bound <= goal.value


@st.composite
def cases(draw: st.DrawFn) -> Problem:
    kerf = draw(st.sampled_from((0, 1, 3)))
    trim = draw(st.sampled_from((0, 2)))
    sold = draw(st.lists(st.sampled_from((40, 60, 75)), min_size=1, max_size=2, unique=True))
    there = draw(st.lists(st.tuples(st.integers(8, 80), st.integers(1, 2), st.booleans()), max_size=2))
    stocks = [
        *(Stock(length, trim) for length in sold),
        *(Stock(n, 0, count, paid) for n, count, paid in there),
    ]
    longest = max(max(sold) - 2 * trim, *(n for n, *_ in there), 0)
    lengths = draw(st.lists(st.integers(4, longest), min_size=1, max_size=7))
    return problem(lengths, tuple(stocks), kerf, draw(st.sampled_from((0, 15, 10**9))))


@given(cases())
def test_as_good_as_exhaustive_search_in_every_goal(case: Problem) -> None:
    made = solve(case)
    check(case, made)
    goals = (made.left, made.bars, made.length, made.spent)
    assert tuple(goal.value for goal in goals) == by_search(case)
    assert all(goal.proven for goal in goals)


@settings(max_examples=12)
@given(st.lists(st.integers(300, 2500), min_size=20, max_size=40))
def test_longer_lists_hold_and_never_beat_their_bounds(lengths: list[int]) -> None:
    case = problem(lengths, (Stock(6000, 10), Stock(1700, 0, 2)), 25, 300)
    made = solve(case, seconds=0.15)
    check(case, made)
    missing = case.total(case.demand) - 2 * (1700 + 25)
    assert made.bars.value >= made.bars.bound >= -(-missing // case.room(0))


def test_bars_on_hand_go_before_bars_to_buy() -> None:
    made = solve(problem([900, 900, 900], (Stock(6000), Stock(1000, 0, 3)), 2))
    assert made.bars.value == 0
    assert sum(n for _, n in made.cuts) == 3


def test_the_kerf_decides_whether_a_bar_takes_one_piece_more() -> None:
    assert solve(problem([1000] * 6, (Stock(6000),), 0)).bars.value == 1
    assert solve(problem([1000] * 6, (Stock(6000),), 1)).bars.value == 2
    assert solve(problem([1000] * 6, (Stock(6005),), 1)).bars.value == 1  # the last piece needs no cut


def test_a_piece_that_only_bars_on_hand_take_is_left_over_when_they_are_used_up() -> None:
    case = problem([4000, 4000, 500], (Stock(3000), Stock(6000, 0, 1)), 2)
    made = solve(case)
    check(case, made)
    assert made.left.value == 1
    assert made.bars.value == 0  # the short piece still fits behind the long one


def test_without_time_there_is_a_list_and_an_honest_bound() -> None:
    case = problem([2345, 1800, 1501, 1252, 903, 874, 605] * 6, (Stock(6000, 10), Stock(4500, 10)), 25, 300)
    made = solve(case, seconds=0.0)
    check(case, made)
    assert not made.spent.proven


def test_nobody_waits() -> None:
    with pytest.raises(Overtaken):
        solve(problem([100, 200], (Stock(600),)), stale=lambda: True)


def test_time_is_kept() -> None:
    case = problem(list(range(3000, 25000, 370)), (Stock(60000, 100),), 25, 3000)
    begin = time.monotonic()
    solve(case, seconds=0.2)
    assert time.monotonic() - begin < 10.0  # far too much even for a busy machine


def test_what_time_did_not_suffice_for_is_taken_up_again() -> None:
    stocks = (Stock(60000, 0, None), Stock(30000, 0, None))
    search = Search(problem([34350, 34350], stocks, 40, 3000))
    search.advance(GOALS, time.monotonic() - 1.0)
    assert search.unproven() == GOALS[2:]  # two bars are plain, their length is not
    search.advance(search.unproven(), time.monotonic() + 10.0)
    assert search.unproven() == ()
    assert search.solution().length.bound == 120000
