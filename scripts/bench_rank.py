"""How long a ranking takes: a thousand hollow sections as the gantry beam, each through the whole model."""

from __future__ import annotations

import statistics
import time
from typing import Any

from core.machine.project import Project
from core.rank import candidate, find_rank
from core.sections import RectangularHollow
from core.sections.book import stock_book

Figures = dict[str, Any]
SECTIONS = 1000
AIM = 1.0  # s


def bench_rank(project: Project) -> Figures:
    """Median of three rankings; candidates and book are made beforehand."""
    sections = [
        RectangularHollow(
            height=0.1 + 0.002 * (k % 50), width=0.06 + 0.004 * (k // 50), wall=0.005, finish="cold formed"
        )
        for k in range(SECTIONS)
    ]
    tried = [candidate(project, section, str(k), "bench") for k, section in enumerate(sections)]
    book, taken, solved = stock_book(), [], 0
    for _ in range(3):
        begin = time.perf_counter()
        answer = find_rank(project, book, tried)
        taken.append(time.perf_counter() - begin)
        assert answer is not None  # nothing overtakes it here
        solved = int(answer.solved.sum())
    return {"sections": SECTIONS, "solved": solved, "seconds": statistics.median(taken)}


def rank_rows(found: Figures) -> list[tuple[str, str]]:
    """Rows of the table."""
    words = f"{found['seconds']:.2f} s (aim {AIM:g}), {found['solved']} with figures"
    return [(f"{found['sections']:,} beams ranked", words)]
