"""One project in, one plan out: verdicts by limit, findings instead of exceptions, never two answers."""

from __future__ import annotations

from functools import reduce

import msgspec
import pytest

from core.machine.guides import Guides
from core.machine.loads import DirectForce, LoadCase
from core.machine.project import Project, replace_at
from core.plan import Place, make_plan
from core.sections.book import stock_book


def changed(**values):
    """The default project; double underscores stand for dots."""
    return reduce(
        lambda p, item: replace_at(p, item[0].replace("__", "."), item[1]), values.items(), Project()
    )


def plan_of(project, **more):
    return make_plan(project, stock_book(), **more)


def codes(plan, severity=None):
    return {f.code for f in plan.findings if severity in (None, f.severity)}


def with_limit(limit):
    case = LoadCase(name="Slotting", load=DirectForce(x=40.0, z=10.0), limit=limit)
    return changed(cases=(case,), limits__sag=0.1, limits__path_error=0.1)


def test_a_limit_above_the_worst_deflection_is_good_and_one_below_is_not():
    worst = plan_of(with_limit(0.05)).stiffness.cases[0]
    for limit, good in (
        (worst.worst * 1.001, True),
        (worst.worst * 0.999, False),
    ):
        plan = plan_of(with_limit(limit))
        assert plan.verdict.good is good
        assert ("deflection-limit" in codes(plan, "limit")) is not good


def test_a_broken_limit_names_figure_limit_and_place():
    plan = plan_of(with_limit(1e-6))
    finding = next(f for f in plan.findings if f.code == "deflection-limit")
    assert finding.value == plan.stiffness.cases[0].worst
    assert finding.limit == 1e-6
    assert finding.where == "cases.0.limit"
    assert finding.place
    assert plan.verdict.code == "deflection-limit"
    assert plan.verdict.text.startswith(finding.message)


def test_sag_and_path_error_have_limits_of_their_own():
    free = plan_of(with_limit(0.05))
    for key, value, code in (
        ("sag", free.sag.beam_worst, "sag-limit"),
        ("path_error", free.sag.worst_residual, "path-error-limit"),
    ):
        for factor, broken in ((1.01, False), (0.99, True)):
            plan = plan_of(replace_at(with_limit(0.05), f"limits.{key}", value * factor))
            assert (code in codes(plan, "limit")) is broken
            assert plan.verdict.good is not broken


def test_a_machine_that_moves_freely_is_a_finding_in_words():
    plan = plan_of(changed(machine__y_guides=Guides(size=20, carriages=1, spread=0.0)))
    first = plan.findings[0]
    assert (first.code, first.severity) == ("moves-freely", "limit")
    assert "turn freely" in first.message or "move freely" in first.message
    assert (plan.stiffness, plan.sag, plan.shape, plan.budgets) == (None, None, None, ())
    assert not plan.verdict.good
    assert plan.verdict.code == "moves-freely"
    assert plan.rails
    assert plan.parts


def test_a_beam_below_its_foot_plates_cannot_stand():
    plan = plan_of(changed(machine__work__clearance=0.0, machine__base__top=0.3))
    assert plan.findings[0].code == "cannot-stand"
    assert plan.stiffness is None
    assert plan.verdict.code == "cannot-stand"


@pytest.mark.parametrize(
    ("values", "code"),
    [
        ({"machine__gantry__beam__length": 1.2}, "beam-too-short"),
        ({"machine__x_guides__spread": 0.4}, "saddle-too-narrow"),
        ({"machine__x_guides__rail_length": 2.5}, "rail-longer-than-beam"),
        ({"machine__x_guides__rail_length": 0.8}, "x-rail-too-short"),
        ({"machine__y_guides__rail_length": 1.5}, "y-rail-too-short"),
        ({"machine__y_guides__rail_length": 5.0, "machine__base__length": 3.0}, "side-beam-too-short"),
        ({"machine__gantry__foot_plate__length": 0.1}, "foot-plate-too-short"),
        ({"machine__x_guides__rail_spacing": 0.5}, "rail-off-face"),
        ({"machine__head__guides__rail_spacing": 0.3}, "rail-off-face"),
    ],
)
def test_what_does_not_fit_is_a_broken_limit(values, code):
    plan = plan_of(changed(**values))
    assert code in codes(plan, "limit")
    assert not plan.verdict.good
    assert code not in codes(plan_of(Project()))
    finding = next(f for f in plan.findings if f.code == code)
    assert finding.where.startswith("machine.")
    if finding.value is not None:
        assert finding.value != finding.limit


def test_an_override_that_fits_is_no_finding():
    automatic = plan_of(Project()).layout.beam_length_automatic
    plan = plan_of(changed(machine__gantry__beam__length=automatic + 0.1))
    assert "beam-too-short" not in codes(plan)
    assert plan.layout.beam_length == automatic + 0.1


def test_findings_that_break_a_limit_stand_first():
    project = changed(machine__x_guides__rail_spacing=0.5, machine__work__clearance=0.2)
    order = [("limit", "warning", "note").index(f.severity) for f in plan_of(project).findings]
    assert order == sorted(order)


def test_a_part_held_rigid_has_no_share_and_the_tip_is_stiffer():
    free, held = plan_of(Project()), plan_of(changed(machine__rigid=("spindle_mount",)))
    assert dict(free.budgets[0].shares)["spindle_mount"] > 0.01
    assert dict(held.budgets[0].shares)["spindle_mount"] < 1e-3
    assert held.stiffness.cases[0].worst < free.stiffness.cases[0].worst


def test_texts_follow_the_units_that_the_project_shows():
    metric = plan_of(with_limit(1e-6))
    inch = plan_of(replace_at(with_limit(1e-6), "display.length", "in"))
    assert " thou" in inch.verdict.text
    assert "µm" not in inch.verdict.text
    assert " thou" not in metric.verdict.text
    assert next(f.place for f in inch.findings if f.place).count(" in") == 2
    assert next(f.place for f in metric.findings if f.place).count(" mm") == 2
    assert [f.value for f in inch.findings] == [f.value for f in metric.findings]


def test_the_place_is_where_the_lines_run():
    plan = plan_of(Project(), place=Place(0.2, -0.3, 1))
    assert (plan.stiffness.place_x, plan.stiffness.place_y) == (0.2, -0.3)
    assert plan.shape.tip[:2] == pytest.approx([0.2, -0.3])
    assert plan_of(Project(), place=Place(case=99)).place.case == len(Project().cases) - 1


def test_a_plan_can_be_made_twice_with_the_same_figures():
    one, two = plan_of(Project()), plan_of(msgspec.structs.replace(Project()))
    assert [c.worst for c in one.stiffness.cases] == [c.worst for c in two.stiffness.cases]
