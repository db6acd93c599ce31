"""The study as a whole: its verdict carries the band, it stops when overtaken, and troubles are told."""

from __future__ import annotations

import pytest

from core.findings import Finding
from core.frame import NotTrustworthy
from core.machine.base import Floor
from core.machine.project import Project, replace_at
from core.plan import make_plan
from core.sections import stock_book
from core.study import make as making
from core.study import make_study


@pytest.fixture(scope="module")
def study():
    found = make_study(make_plan(Project(), stock_book()), stock_book(), slow=False)
    assert found is not None
    return found


def test_the_verdict_is_the_plans_with_the_band_behind_it(study):
    if not study.verdict.good:
        pytest.skip("the default machine breaks a limit")
    assert study.verdict.text.startswith(study.plan.verdict.text)
    assert "9 of 10" in study.verdict.text


def test_corners_lie_outside_the_band_and_the_band_around_the_likely_figure(study):
    for case, found in zip(study.bands.cases, study.plan.stiffness.cases, strict=True):
        assert case.best < case.spread.low < found.worst < case.spread.high < case.worst


def test_findings_of_all_answers_stand_with_the_plans_limits_first(study):
    order = ["limit", "warning", "note"]
    ranks = [order.index(finding.severity) for finding in study.findings]
    assert ranks == sorted(ranks)
    assert set(study.plan.findings) <= set(study.findings)


def test_an_overtaken_study_stops():
    asked = []

    def stale():
        asked.append(True)
        return len(asked) > 2

    plan = make_plan(Project(), stock_book())
    assert make_study(plan, stock_book(), stale) is None
    assert len(asked) == 3


def test_an_answer_that_cannot_be_given_is_told_and_leaves_the_others(monkeypatch):
    def fail(_inputs):
        raise NotTrustworthy("a figure is not finite")

    steps = (("heat", "Heat", fail), *[step for step in making.STEPS if step[0] == "form"])
    monkeypatch.setattr(making, "STEPS", steps)
    found = make_study(make_plan(Project(), stock_book()), stock_book())
    assert found.heat is None
    assert found.form is not None
    assert [f.code for f in found.troubles] == ["no-answer"]
    assert isinstance(found.troubles[0], Finding)


def test_a_machine_on_the_floor_has_its_joints_answered():
    project = replace_at(Project(), "machine.base.stand", Floor())
    found = make_study(make_plan(project, stock_book()), stock_book(), slow=False)
    assert found.joints is not None


def test_a_machine_that_cannot_stand_has_no_study_of_its_statics():
    project = replace_at(Project(), "machine.work.clearance", 0.0)
    project = replace_at(project, "machine.base.top", 0.9)
    plan = make_plan(project, stock_book())
    assert plan.stiffness is None
    found = make_study(plan, stock_book(), slow=False)
    assert found.vibration is None
    assert found.bands is None
    assert not found.verdict.good
