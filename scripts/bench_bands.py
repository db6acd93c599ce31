"""Speed of what follows an edit: bands of 2,048 machines, the advice, and the whole recompute, for `bench`."""

from __future__ import annotations

import itertools
import statistics
import time
from collections.abc import Callable
from typing import Any

from core.advice import changes, find_advice
from core.certainty import find_bands, uncertain_inputs
from core.certainty.bands import deflections, draw, load_inputs, tip_samples
from core.certainty.chain import make_chain
from core.certainty.chance import band_of
from core.certainty.springs import SpringShares
from core.commands import value_at
from core.machine.project import Project, replace_at
from core.model.setting import Setting
from core.plan import begin_plan, make_plan
from core.sections.book import stock_book
from core.study import make_study

Figures = dict[str, Any]
BAND, LIBRARY_DESIGNS = 2048, 20
ROUNDS = 12


def bench_bands(project: Project, seconds: Callable[..., float]) -> Figures:
    """A band of 2,048 machines: of one load case's worst deflection alone, of all figures, and the advice."""
    book = stock_book()
    plan = make_plan(project, book)
    setting = Setting(project.machine, plan.layout, "likely", book)
    if plan.stiffness is None:
        return {"missing": plan.verdict.text}
    case, worst = project.cases[0], plan.stiffness.cases[0]

    def one() -> object:
        shares = SpringShares(setting, uncertain_inputs(setting.machine))
        drawn = draw(shares.inputs, load_inputs(project.cases), BAND)
        found = tip_samples(make_chain(setting, worst.worst_y, shares), worst.worst_x, drawn)
        return band_of(deflections(found, case), worst.worst)

    return {
        "samples": BAND, "seconds_one_case": seconds(one), "seconds_all": seconds(lambda: find_bands(setting, plan)),
        "changes": len(changes(setting.machine)), "seconds_advice": seconds(lambda: find_advice(setting, plan), 3),
    }  # fmt: skip


def bench_recompute(project: Project) -> Figures:
    """All that follows an edit, as the window asks for it: the plan, then the study without what is asked for by itself.

    Twice: for an edit above the base, which is kept, and for one that changes the base too.
    """
    book = stock_book()
    found: Figures = {}
    for name, path in (("above", "machine.head.reach"), ("base", "machine.work.travel_x")):
        start = value_at(project, path)
        assert isinstance(start, float)
        versions = itertools.cycle([replace_at(project, path, start * (1.0 + 1e-3 * k)) for k in range(1, 4)])
        under = None
        stages: dict[str, list[float]] = {"statics": [], "whole": []}
        for _ in range(ROUNDS):
            version = next(versions)
            assert isinstance(version, Project)
            begin = time.perf_counter()
            plan = begin_plan(version, book, under=under)
            stages["statics"].append(time.perf_counter() - begin)
            make_study(plan, book, slow=False)
            stages["whole"].append(time.perf_counter() - begin)
            under = plan.under
        found[name] = {stage: statistics.median(times[1:]) for stage, times in stages.items()}
    return found


def band_rows(bands: Figures, library: Figures) -> list[tuple[str, str]]:
    """Rows of the table for `bench_bands`."""
    if "missing" in bands:
        return [("bands", f"not measured: {bands['missing']}")]
    one, every = bands["seconds_one_case"], bands["seconds_all"]
    table = [
        (f"band of {bands['samples']:,} samples", f"{one * 1e3:.0f} ms; of all figures {every * 1e3:.0f} ms"),
        ("  what to stiffen first", f"{bands['seconds_advice'] * 1e3:.0f} ms, {bands['changes']} changes"),
    ]
    if "missing" not in library:
        theirs = LIBRARY_DESIGNS / library["positions_per_s"]
        words = f"{theirs / every:.2f} (aim 1); of one load case {theirs / one:.1f}"
        table.insert(1, (f"  {LIBRARY_DESIGNS} designs by library / all", words))
    return table


def recompute_rows(found: Figures) -> list[tuple[str, str]]:
    """Rows of the table for `bench_recompute`."""
    above, base = found["above"], found["base"]
    return [
        (
            "whole recompute after an edit",
            f"{above['whole'] * 1e3:.0f} ms (aim 150): statics, modes, bands, fasteners; "
            f"statics shown after {above['statics'] * 1e3:.0f}",
        ),
        ("  of the base too", f"{base['whole'] * 1e3:.0f} ms, statics after {base['statics'] * 1e3:.0f}"),
    ]
