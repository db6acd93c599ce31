"""Life, static safety and findings of the carriages, and the worst directions by brute force."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.guides import cubic_mean, find_guides
from core.guides.answer import travel_shares
from core.guides.forces import CarriageForces
from core.guides.life import lost_preload, with_preload
from core.guides.states import most_pull, worst_turn
from core.machine.layout import layout
from core.machine.loads import DirectForce, LoadCase
from core.machine.project import Project, replace_at
from core.model.setting import Setting
from core.plan import begin_plan
from core.sections import PropertyBook
from core.stiffness.answer import table_grid

BOOK = PropertyBook()


def answer_of(**changes):
    project = Project()
    for path, value in changes.items():
        project = replace_at(project, path.replace("__", "."), value)
    return find_guides(Setting(project.machine, layout(project.machine, BOOK), "likely", BOOK), project)


def codes(answer):
    return {f.code for f in answer.findings}


def test_the_machine_as_it_begins_has_nothing_over_a_limit():
    answer = answer_of()
    assert not [f for f in answer.findings if f.severity == "limit"]
    assert answer.use.max() < 1.0
    assert answer.use[answer.tightest] == answer.use.max()
    assert len(answer.carriages) == 12
    assert sum(answer.shares) == pytest.approx(1.0)
    assert np.all(answer.largest >= np.stack([s.load for s in answer.states]).max(axis=0) - 1e-9)


@pytest.mark.parametrize(
    ("path", "value", "code"),
    [
        ("machine__x_guides__rating__static", 200.0, "carriage-static-safety"),
        ("machine__y_guides__rating__static", 200.0, "carriage-static-safety"),
        ("machine__head__guides__rating__dynamic", 100.0, "carriage-life"),
        ("machine__x_guides__rating__dynamic", 500.0, "carriage-life"),
        ("machine__x_guides__rating__preload", 0.0, "carriage-uplift"),
    ],
)
def test_each_finding_names_its_axis(path, value, code):
    assert code not in codes(answer_of())
    answer = answer_of(**{path: value})
    found = [f for f in answer.findings if f.code == code]
    assert [f.where.split(".rating.")[0] for f in found] == [path.replace("__", ".").split(".rating.")[0]]
    assert found[0].value is not None
    assert found[0].place in {c.name for c in answer.carriages}


def test_use_reaches_one_exactly_where_the_limit_does():
    base = answer_of(machine__x_guides__rating__static=2000.0, machine__x_guides__rating__dynamic=1500.0)
    x = [k for k, c in enumerate(base.carriages) if c.axis == "X"]
    changes = {"machine__x_guides__rating__static": 2000.0, "machine__x_guides__rating__dynamic": 1500.0}
    for field, value in (("wanted_static_safety", min(base.safety[x])), ("wanted_life", min(base.life[x]))):
        edge = answer_of(**changes, **{f"machine__x_guides__rating__{field}": float(value)})
        other = base.use[x].max()
        assert edge.use[x].max() == pytest.approx(max(1.0, other))
        assert other < 1.0


def test_a_rating_for_50_km_is_turned_into_one_for_100_km():
    by = [answer_of(machine__x_guides__rating__rated_for=f"{d} km") for d in (100, 50)]
    assert by[0].dynamic == pytest.approx(by[1].dynamic)  # the automatic figure is the same carriage
    given = {"machine__x_guides__rating__dynamic": 10000.0}
    by = [answer_of(**given, machine__x_guides__rating__rated_for=f"{d} km").dynamic[0] for d in (100, 50)]
    assert by[0] / by[1] == pytest.approx(2 ** (1 / 3))


@given(st.floats(0.0, 1e4), st.floats(0.0, 1e3))
def test_preload_never_eases_a_carriage_and_fades_with_load(load, preload):
    found = float(with_preload(np.array(load), np.array(preload)))
    assert found >= load * (1 - 1e-12)
    assert found >= preload * (1 - 1e-12)
    ends = float(lost_preload(np.array(preload)))
    if load >= ends:
        assert found == load


def test_more_acceleration_never_eases_a_carriage():
    slow, fast = answer_of(), answer_of(machine__motion__y__acceleration=5.0)
    assert np.all(fast.largest >= slow.largest - 1e-9)
    assert fast.largest.max() > slow.largest.max()


def test_shares_of_the_travel():
    case = lambda name, duty: LoadCase(name=name, duty=duty)  # noqa: E731
    assert travel_shares((case("a", None), case("b", None))) == pytest.approx((0.3, 0.3, 0.4))
    assert travel_shares((case("a", 0.5), case("b", None))) == pytest.approx((0.5, 0.1, 0.4))
    assert travel_shares((case("a", 0.9), case("b", None))) == pytest.approx((0.9, 0.0, 0.1))
    assert travel_shares((case("a", 1.0), case("b", 1.0))) == pytest.approx((0.5, 0.5, 0.0))


@given(st.lists(st.floats(1e-3, 1e5), min_size=1, max_size=5), st.data())
def test_the_mean_lies_between_and_never_below_the_plain_mean(loads, data):
    shares = np.array(data.draw(st.lists(st.floats(0.01, 1.0), min_size=len(loads), max_size=len(loads))))
    mean = cubic_mean(np.array(loads)[:, None], shares)[0]
    assert min(loads) * (1 - 1e-9) <= mean <= max(loads) * (1 + 1e-9)
    assert mean >= np.average(loads, weights=shares) * (1 - 1e-9)


@given(st.integers(0, 2**31), st.booleans())
def test_worst_direction_beats_every_direction_tried(seed, vertical):
    rng = np.random.default_rng(seed)
    unit = rng.normal(size=(2, 2, 3, 7))
    forces = CarriageForces((), np.zeros(2), np.zeros(2), unit[0], unit[1], 0.0)
    still = rng.normal(size=(2, 1, 2, 3)) * 3
    force = np.array([*rng.normal(size=2), float(vertical)])
    found = worst_turn(forces, still[0], still[1], force, True)
    angles = np.linspace(0, 2 * np.pi, 721)
    size = np.hypot(*force[:2])
    turned = np.stack([size * np.cos(angles), size * np.sin(angles), np.full(721, force[2])])
    tried = [still[k][..., None] + (unit[k][..., :3] @ turned) for k in (0, 1)]
    best = (np.abs(tried[0]) + np.abs(tried[1])).max(axis=-1)
    load = np.abs(found[0]) + np.abs(found[1])
    assert np.all(load >= best - 1e-9)
    assert np.all(load <= best * (1 + 1e-4) + 1e-4)
    pull = most_pull(forces, still[0], force, True)
    assert pull == pytest.approx(np.maximum(0, -tried[0].min(axis=(0, 1, 3))), abs=1e-3)


def test_a_force_that_may_not_turn_is_taken_as_it_is():
    fixed = (LoadCase(name="Push", load=DirectForce(x=100.0), any_direction=False),)
    free = (LoadCase(name="Push", load=DirectForce(x=100.0)),)
    a, b = answer_of(cases=fixed), answer_of(cases=free)
    named = [next(s for s in answer.states if s.name == "Push") for answer in (a, b)]
    assert np.all(named[1].load >= named[0].load - 1e-9)
    assert named[1].load.max() > named[0].load.max()


def test_the_base_that_the_plan_solved_gives_the_same_answer():
    project = Project()
    setting = Setting(project.machine, layout(project.machine, BOOK), "likely", BOOK)
    plan = begin_plan(project, BOOK)
    assert plan.under is not None
    assert plan.under.at(setting, table_grid(setting)[1][[0, -1]]) is not None
    assert plan.under.at(setting, np.array([0.0123])) is None
    once, again = find_guides(setting, project), find_guides(setting, project, plan.under)
    assert again.largest == pytest.approx(once.largest, rel=1e-9)
