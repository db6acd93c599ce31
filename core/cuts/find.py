"""Makes the cut list of a project: pieces by section, bars for them, the integer program, places along the bars."""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import replace

from core.cuts.answer import CutAnswer, CutGroup, CutPiece
from core.cuts.asked import ask
from core.cuts.judge import judge
from core.cuts.pieces import Wanted
from core.cuts.places import lay_out
from core.cuts.problem import Problem, Stock
from core.cuts.program import GOALS, LEAST_TIME, Overtaken, Search
from core.cuts.relaxation import load_solver
from core.cuts.stock import Bars
from core.machine.layout import Layout
from core.machine.project import Project
from core.machine.saw import Saw
from core.parts import PartLine

SECONDS = 1.5
"""Time for a whole list unless told otherwise. Most shop lists are proven in a fraction of it."""
FIRST = 0.6
"""Share of the time for the bars and lengths to buy, before any for the waste."""
CLOSE = 10
"""A millimetre or so of bought metal is not worth proving; in units of `unit`."""


def unit(project: Project) -> float:
    """The unit that lengths are counted in, m: a tenth of a millimetre, or 1/256 inch where lengths are shown in inches."""
    return 0.0254 / 256.0 if project.display.length == "in" else 1e-4


def find_cuts(
    project: Project,
    layout: Layout,
    parts: tuple[PartLine, ...],
    seconds: float = SECONDS,
    stale: Callable[[], bool] = lambda: False,
) -> CutAnswer | None:
    """The cut list, or None when `stale` says that nobody waits for it any more.

    Args:
        parts: the parts list; its lengths of sections are cut. seconds: after so long the best list so far is taken and
            what is not proven is told.
    """
    asked = ask(project, layout, parts)
    if seconds > 0.0 and asked.groups:
        load_solver()  # once; its third of a second is not time to search
    begin = time.monotonic()
    works = [_Work(project, group, bars, stale) for group, bars in zip(asked.groups, asked.bars, strict=True)]
    try:
        for goals, share in ((GOALS[:-1], FIRST), (GOALS[-1:], 1.0)):
            for number, work in enumerate(works):
                now = time.monotonic()
                rest = max(0.0, begin + share * seconds - now)
                work.search.advance(goals, now + rest / (len(works) - number))
        for work in works:  # what others left of their time
            if time.monotonic() < begin + seconds - LEAST_TIME:
                work.search.advance(work.search.unproven(), begin + seconds)
    except Overtaken:
        return None
    made: list[CutGroup] = []
    for work in works:
        made.append(work.group(1 + sum(len(group.bars) for group in made)))
    answer = CutAnswer(project.saw, tuple(made), CLOSE * unit(project), asked.currency, asked=asked)
    return replace(answer, findings=judge(project, answer, asked.names))


class _Work:
    """One group on its way from metres to whole numbers and back."""

    def __init__(
        self, project: Project, wanted: Wanted, bars: tuple[Bars, ...], stale: Callable[[], bool]
    ) -> None:
        self._wanted, self._bars, self._saw = wanted, bars, project.saw
        self._unit = unit(project)
        stocks = tuple(Stock(self._down(b.length), self._up(b.trim), b.count, b.ordered) for b in bars)
        kerf = self._up(project.saw.kerf)
        rooms = [stock.length - 2 * stock.trim + kerf for stock in stocks]
        self._kinds: dict[int, list[CutPiece]] = {}
        self._too_long: list[CutPiece] = []
        for piece in wanted.pieces:
            size = self._up(taken_along(piece, project.saw) - project.saw.kerf) + kerf
            if size > max(rooms):
                self._too_long.append(piece)
            else:
                self._kinds.setdefault(size, []).append(piece)
        sizes = tuple(sorted(self._kinds, reverse=True))
        counts = tuple(len(self._kinds[size]) for size in sizes)
        problem = Problem(sizes, counts, stocks, kerf, self._up(project.saw.least_offcut))
        self.search = Search(problem, stale, 2 * CLOSE)

    def _up(self, length: float) -> int:
        return math.ceil(length / self._unit - 1e-6)

    def _down(self, length: float) -> int:
        return math.floor(length / self._unit + 1e-6)

    def group(self, first: int) -> CutGroup:
        """The group as solved; its bars are numbered from `first`."""
        solution, problem = self.search.solution(), self.search.problem
        waiting = {size: list(pieces) for size, pieces in self._kinds.items()}
        bars, left = lay_out(solution, problem, waiting, self._bars, self._saw, first)
        words = self._wanted.words
        # Bars are counted a little shorter than they are, down to the unit; a proven length is the true one.
        bought = sum(bar.length for bar in bars if bar.source == "bought")
        least = bought if solution.length.proven else solution.length.bound * self._unit
        return CutGroup(
            words[0],
            words[1],
            bars,
            tuple(b.kind for b in self._bars),
            tuple(self._too_long),
            left,
            solution.bars.bound,
            least,
            (solution.spent.value - solution.spent.bound) / 2.0 * self._unit,
        )


def taken_along(piece: CutPiece, saw: Saw) -> float:
    """Length along the bar that a piece and the cut behind it take, m: a slanting cut takes its kerf over the cosine."""
    return piece.length + saw.kerf / math.cos(piece.mitre)
