"""Ranks beams: every candidate through the whole model, in batches, with a word after each and a stop between two."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import fields, replace

import numpy as np
import numpy.typing as npt

from core.machine.layout import lay_out
from core.machine.project import Machine, Project
from core.model.condensed import Under
from core.model.setting import Setting
from core.rank.answer import RankAnswer
from core.rank.band import Exact, find_spans
from core.rank.batch import Batch, batches, with_beam_alone
from core.rank.candidates import OWN, Candidate, candidates
from core.rank.first_mode import find_first_modes, tuned
from core.rank.fit import Trial, Tried
from core.rank.moving_parts import Below, find_below
from core.rank.statics import Common, Statics, find_common, find_statics
from core.rank.take import Take
from core.sections import PropertyBook

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Tell = Callable[[int, int], None]
MOST_THREADS = 4


def _never() -> bool:
    return False


def find_rank(
    project: Project,
    book: PropertyBook,
    tried: Sequence[Candidate] | None = None,
    *,
    stale: Callable[[], bool] = _never,
    tell: Tell | None = None,
    under: Under | None = None,
    ask: bool = False,
) -> RankAnswer | None:
    """Every candidate in this machine; None as soon as `stale` says so.

    Args:
        tried: the candidates; by default the machine's own beam, those of variants and the whole catalogue.
        tell: told (candidates done, candidates altogether) after each batch. under: the base as a plan solved it.
        ask: raise NeedsAnalysis for beams of variants too, in place of a row that says so.

    Errors: Mechanism when the machine moves freely; NotTrustworthy; NeedsAnalysis when a section other than the beam's has
        no figures yet.
    """
    begin = time.perf_counter()
    every = candidates(project) if tried is None else tuple(tried)
    trial = Trial(project, book, ask)
    known = trial.all(every)
    machine = project.machine
    figures = _Figures(len(every), len(project.cases))
    rows = batches(machine, trial.others, every, [one.shape for one in known], book)
    done = sum(one.shape is None for one in known)
    if tell is not None:
        tell(done, len(every))
    if rows and not stale():
        lay = lay_out(machine, trial.others, machine.x_guides.rail_spacing)
        common = find_common(machine, lay, book, under)
        below = tuned(find_below(Setting(machine, lay, "likely", book)), rows[0])
        for batch, statics, modes in _solved(rows, project, common, below, stale):
            figures.put(batch, statics, modes, common)
            done += batch.rows.size
            if tell is not None:
                tell(done, len(every))
        if stale():
            return None
        solved = [row for row, one in enumerate(known) if one.shape is not None]
        own = next((row for row in solved if every[row].key == OWN), solved[0])
        figures.put_spans(
            project, common, lambda row: _setting(machine, trial, every[row], known[row], book), own
        )
    if stale():
        return None
    if tell is not None:
        tell(len(every), len(every))
    return figures.answer(project, every, known, time.perf_counter() - begin)


Answer = tuple[Batch, Statics, Floats]


def _solved(
    rows: list[Batch], project: Project, common: Common, below: Below, stale: Callable[[], bool]
) -> Iterator[Answer]:
    """Every batch with its figures, in order; nothing more once it is stale.

    Batches are solved side by side: numpy lets other threads run while it works on arrays.
    """

    def solve(batch: Batch) -> Answer | None:
        if stopped:
            return None
        return batch, find_statics(batch, project.cases, common), find_first_modes(batch, below)

    stopped: list[bool] = []
    with ThreadPoolExecutor(min(MOST_THREADS, os.cpu_count() or 1)) as pool:
        try:
            for future in [pool.submit(solve, batch) for batch in rows]:
                if stale():
                    return
                answer = future.result()
                if answer is not None:
                    yield answer
        finally:
            stopped.append(True)  # batches that nobody waits for after a stop or a failure are not begun


def _setting(machine: Machine, trial: Trial, one: Candidate, tried: Tried, book: PropertyBook) -> Setting:
    """The machine with this candidate alone."""
    assert tried.shape is not None
    changed = with_beam_alone(machine, one.beam)
    lay = lay_out(changed, replace(trial.others, beam=tried.shape), one.rail_spacing)
    return Setting(changed, lay, "likely", book)


class _Figures:
    """Arrays that are filled batch by batch."""

    def __init__(self, count: int, cases: int) -> None:
        def empty(*shape: int) -> Floats:
            return np.full(shape, np.nan)

        self.by_case = {name: empty(count, cases) for name in ("worst", "low", "high", "worst_x", "worst_y")}
        self._takes: list[tuple[Ints, tuple[Take, ...]]] = []
        self.single = {name: empty(count) for name in ("sag", "path_error", "first_mode")}

    def put(self, batch: Batch, statics: Statics, modes: Floats, common: Common) -> None:
        self._takes.append((batch.rows, statics.takes))
        for number, take in enumerate(statics.takes):
            self.by_case["worst"][batch.rows, number] = take.size
            self.by_case["worst_x"][batch.rows, number] = common.x[take.column]
            self.by_case["worst_y"][batch.rows, number] = common.y[take.row]
        self.single["sag"][batch.rows] = statics.sag
        self.single["path_error"][batch.rows] = statics.path_error
        self.single["first_mode"][batch.rows] = modes

    def put_spans(self, project: Project, common: Common, exact: Callable[[int], Setting], own: int) -> None:
        """The bands of all, once everything else is known; `exact` gives the setting of a candidate by its number."""
        if common.shares is None or not project.cases:
            return
        rows = np.concatenate([rows for rows, _ in self._takes])
        takes = tuple(
            Take(
                *(
                    np.concatenate([getattr(takes[number], f.name) for _, takes in self._takes])
                    for f in fields(Take)
                )
            )
            for number in range(len(project.cases))
        )
        known = Exact(int(np.flatnonzero(rows == own)[0]), lambda number: exact(int(rows[number])))
        low, high = find_spans(project.cases, takes, known, common.x, common.ground, common.shares)
        self.by_case["low"][rows], self.by_case["high"][rows] = low, high

    def answer(
        self, project: Project, every: tuple[Candidate, ...], known: tuple[Tried, ...], seconds: float
    ) -> RankAnswer:
        def column(name: str) -> Floats:
            return np.array([getattr(one, name) for one in known], dtype=np.float64)  # None becomes NaN

        def size(name: str) -> Floats:
            return np.array([np.nan if one.shape is None else getattr(one.shape, name) for one in known])

        return RankAnswer(
            project=project, candidates=every, case_names=tuple(case.name for case in project.cases),
            limits=np.array([case.limit for case in project.cases]),
            beam_mass=column("beam_mass"), moving_mass=column("moving_mass"), height=size("height"), width=size("width"),
            rail_spacing=np.array([one.rail_spacing for one in every]), bow=column("bow"), twist=column("twist"),
            straight_by=tuple(one.straight_by for one in known), price=column("price"),
            currency=project.prices.currency.strip(), problems=tuple(one.problem for one in known),
            remarks=tuple(one.remark for one in known), seconds=seconds, **self.by_case, **self.single,
        )  # fmt: skip
