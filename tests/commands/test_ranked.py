"""What can be done with a ranked beam: it becomes the very machine that was ranked, in one step, and comes back in one."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from core.commands import History
from core.commands.ranked import keep_candidate, use_candidate
from core.machine.project import Project
from core.machine.variants import apply_variant
from core.rank import HERE, Candidate, candidates, same_question
from core.storage import load_project

DEMOS = sorted((Path(__file__).resolve().parents[2] / "demo_projects").glob("*.json"))


@pytest.fixture(scope="module")
def project() -> Project:
    return load_project(DEMOS[0])


def some(project: Project) -> list[Candidate]:
    every = [one for one in candidates(project)[1:] if not one.problem]
    return [one for one in every if one.family == HERE] + every[::17]


def test_the_machine_gets_the_beam_as_it_was_ranked(project: Project) -> None:
    for one in some(project):
        command = use_candidate(one)
        assert command is not None
        done = History(project, saved=project).do(command)
        assert done.project.machine.gantry.beam == one.beam, one.name
        assert done.project.machine.x_guides.rail_spacing == one.rail_spacing
        assert done.undo().project == project


def test_a_variant_gets_the_beam_as_it_was_ranked(project: Project) -> None:
    for one in some(project):
        command = keep_candidate(one)
        if one.family == HERE:
            assert command is None
            continue
        assert command is not None
        done = History(project, saved=project).do(command)
        assert len(done.project.variants) == len(project.variants) + 1
        machine = apply_variant(done.project, done.project.variants[-1]).project.machine
        assert machine.gantry.beam == one.beam, one.name
        assert machine.x_guides.rail_spacing == one.rail_spacing
        assert done.undo().project == project


def test_the_machines_own_beam_has_nothing_to_be_done(project: Project) -> None:
    own = candidates(project)[0]
    assert use_candidate(own) is None
    assert keep_candidate(own) is None


def test_a_ranking_answers_as_long_as_nothing_changes_that_it_rests_on(project: Project) -> None:
    renamed = msgspec.structs.replace(project, name="Another name", note="x")
    assert same_question(project, renamed)
    limits = msgspec.structs.replace(project.limits, sag=project.limits.sag / 2.0)
    assert not same_question(project, msgspec.structs.replace(project, limits=limits))
    assert not same_question(project, msgspec.structs.replace(project, variants=()))
