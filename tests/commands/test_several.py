"""Several entries set as one step, also where each alone would be refused."""

from __future__ import annotations

import pytest

from core.commands import History, SetEntries
from core.errors import BadEntry
from core.machine.project import Project
from core.sections import FlatBar


def test_entries_that_only_fit_together_are_one_step() -> None:
    project = Project()
    wide = SetEntries((("machine.y_guides.carriages", 4), ("machine.y_guides.spread", 0.6)), "More carriages")
    thick = SetEntries(
        (("machine.gantry.upright.section", FlatBar(height=0.2, width=0.03)),), "Thicker uprights"
    )
    history = History(project)
    history = history.do(wide).do(thick)
    assert history.project.machine.y_guides.carriages == 4
    assert history.project.machine.gantry.upright.section == FlatBar(height=0.2, width=0.03)
    history = history.undo().undo()
    assert history.project == project


def test_what_does_not_fit_is_refused_whole() -> None:
    project = Project()
    for edits in (
        (("machine.y_guides.carriages", 4), ("machine.y_guides.spread", 0.1)),
        (("machine.y_guides.nothing", 4), ("machine.y_guides.spread", 0.3)),
        (("machine.head.travel", "long"), ("machine.y_guides.spread", 0.3)),
        (("machine.head.travel", -1.0), ("machine.y_guides.spread", 0.3)),
    ):
        with pytest.raises(BadEntry):
            SetEntries(edits, "Nothing").apply(project)
    assert SetEntries((), "Nothing").apply(project) == project
