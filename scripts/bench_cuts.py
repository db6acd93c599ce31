"""Cut lists of 60 pieces, drawn by chance but the same each time: how long until they are proven; a part of the bench."""

from __future__ import annotations

import random
import time
from typing import Any

from core.cuts import find_cuts
from core.machine.layout import layout
from core.machine.project import Project
from core.machine.saw import OwnPiece, StockBar
from core.sections.book import stock_book

Figures = dict[str, Any]
PIECES = 60
SECTION = "80 x 40 x 3"


def _lists() -> dict[str, Project]:
    chance = random.Random(60)
    few = [chance.randrange(250, 2400) for _ in range(12)]
    repeated = [chance.choice(few) for _ in range(PIECES)]
    different = [chance.randrange(250, 2400) for _ in range(PIECES)]
    sold = (StockBar(length=6.0),)
    rest = StockBar(section=SECTION, length=1.7, sold=False, on_hand=3, ends="cut square")

    def project(lengths: list[int], bars: tuple[StockBar, ...], sections: int = 1) -> Project:
        own = tuple(
            OwnPiece(section=f"{SECTION}, {n % sections}" if sections > 1 else SECTION, length=x / 1000.0)
            for n, x in enumerate(lengths)
        )
        return Project(own_pieces=own, stock_bars=bars)

    return {
        "five sections": project(repeated, sold, 5),
        "12 lengths": project(repeated, sold),
        "60 lengths": project(different, sold),
        "60 lengths, rests on hand": project(different, (*sold, rest)),
    }


def bench_cuts() -> Figures:
    """For each list: seconds, bars, whether bars and length are proven, and what might be used up less, m."""
    found: Figures = {}
    lay = layout(Project().machine, stock_book())
    for name, project in _lists().items():
        begin = time.perf_counter()
        answer = find_cuts(project, lay, ())
        taken = time.perf_counter() - begin
        if answer is None:
            raise RuntimeError("The cut list was given up.")
        found[name] = {
            "seconds": taken,
            "bars": sum(len(group.bought) for group in answer.groups),
            "fewest_proven": all(group.fewest_proven for group in answer.groups),
            "gap_m": sum(answer.gap(group) for group in answer.groups),
        }
    return found


def cut_rows(found: Figures) -> list[tuple[str, str]]:
    """The rows of the bench's table."""
    table = []
    for name, figures in found.items():
        sure = "fewest bars proven" if figures["fewest_proven"] else "bars not proven"
        gap = (
            f"metal within {figures['gap_m'] * 1e3:.0f} mm of the least"
            if figures["gap_m"]
            else "the best proven"
        )
        words = f"{figures['seconds']:.2f} s (aim 2), {figures['bars']} bars: {sure}, {gap}"
        table.append((f"cut list, {PIECES} pieces: {name}", words))
    return table
