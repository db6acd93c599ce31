"""Beams whose centroid, shear centre or main axes lie askew: a ranking against the answers for one machine at a time."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.machine.project import Project
from core.plan import begin_plan
from core.rank import candidate, find_rank
from core.sections import Angle, Channel, RectangularHollow, Section, TwoProfiles, stock_book
from tests.rank.test_rank import SAME, single, with_entries

CHANNEL = Channel(height=0.12, width=0.055, web=0.007, flange=0.009)
SECTIONS: tuple[Section, ...] = (
    CHANNEL,
    Angle(height=0.12, width=0.1, thickness=0.012),
    TwoProfiles(
        first=RectangularHollow(height=0.08, width=0.08, wall=0.004, finish="cold formed"), second=CHANNEL,
        way="stacked", joint="unjoined",
    ),
    RectangularHollow(height=0.12, width=0.08, wall=0.005, finish="cold formed"),
)  # fmt: skip


@pytest.mark.parametrize("face", ["front", "top"])
def test_off_axis_beams_are_what_the_single_answer_says(face: str) -> None:
    project, book = with_entries(Project(), gantry__beam__rail_face=face), stock_book()
    tried = [
        replace(candidate(project, section, f"s{k}{turned}", "tried", turned=turned), problem="")
        for k, section in enumerate(SECTIONS)
        for turned in (False, True)
    ]
    answer = find_rank(project, book, tried)
    assert answer is not None
    checked = 0
    for row in np.flatnonzero(answer.solved):
        plan = begin_plan(single(project, tried[row]), book)
        assert plan.stiffness is not None
        assert plan.sag is not None
        assert answer.worst[row] == pytest.approx([c.worst for c in plan.stiffness.cases], rel=SAME)
        assert answer.sag[row] == pytest.approx(plan.sag.beam_worst, rel=SAME)
        assert answer.path_error[row] == pytest.approx(plan.sag.worst_residual, rel=SAME)
        checked += 1
    assert checked >= 6
