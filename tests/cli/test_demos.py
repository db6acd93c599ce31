"""The demo projects: each opens, says that its data is invented, is as good or as soft as meant."""

from __future__ import annotations

from pathlib import Path

import pytest

from app import paths
from app.cli import solving
from core.machine.variants import apply_variant
from core.storage import load_project, project_bytes

DEMOS = paths.demo_projects()


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(solving, "section_cache", lambda: tmp_path / "sections.json")


def test_there_are_three_of_different_size() -> None:
    projects = [load_project(file) for file in DEMOS]
    assert len(projects) >= 3
    assert len({project.machine.work.travel_x for project in projects}) == len(projects)
    assert len({project.machine.gantry.beam.section for project in projects}) == len(projects)
    assert len({project.name for project in projects}) == len(projects)


@pytest.mark.parametrize("file", DEMOS, ids=lambda file: file.stem)
def test_each_says_that_it_is_invented_and_compares_beams(file: Path) -> None:
    project = load_project(file)
    assert "invented" in project.note.lower()
    assert len(project.variants) >= 2
    machines = [apply_variant(project, variant) for variant in project.variants]
    assert all(applied.faults == () for applied in machines)
    kinds = {type(applied.project.machine.gantry.beam.section) for applied in machines}
    assert len(kinds | {type(project.machine.gantry.beam.section)}) >= 2
    assert file.read_bytes() == project_bytes(project), "as the program itself would save it"


@pytest.mark.parametrize("file", DEMOS, ids=lambda file: file.stem)
def test_verdicts_are_the_intended_ones(file: Path) -> None:
    study = solving.study(load_project(file))
    plan, compared = study.plan, study.comparison
    broken = {finding.code for finding in plan.findings if finding.severity == "limit"}
    assert compared is not None
    assert compared.findings == ()
    assert len(compared.machines) == 1 + len(plan.project.variants)
    assert all(machine.stands for machine in compared.machines)
    if file.name.startswith("02"):
        assert not plan.verdict.good
        worst = [value for value in compared.figure("case_0").likely if value is not None]
        assert "deflection-limit" in broken
        assert broken <= {"deflection-limit", "path-error-limit", "sag-limit"}
        assert min(worst) < worst[0]
    else:
        assert broken == set()
        assert plan.verdict.good
