"""Feet, rails and the base's share: against the whole frame, and what must hold for every base."""

from __future__ import annotations

import time
from dataclasses import replace
from functools import reduce

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.fields import band
from core.footing import find_footing
from core.footing.feet import Topples, settle
from core.frame import solve
from core.frame.assemble import self_weight
from core.machine.base import Diagonals, Floor, Legs, UnevenFoot
from core.machine.layout import layout
from core.machine.project import Machine, Project, replace_at
from core.model.place import solve_place
from core.model.setting import Setting
from core.model.whole import whole_frame
from core.plan import make_plan
from core.sections.book import stock_book
from core.stiffness import find_budget
from core.study import make_study

BOOK = stock_book()
FOOT = 3e7


def project_of(**values):
    """The default project; double underscores stand for dots."""
    exact = replace_at(Project(), "machine.base.stand.foot_stiffness", band(FOOT, FOOT, FOOT))
    return reduce(lambda p, item: replace_at(p, item[0].replace("__", "."), item[1]), values.items(), exact)


def setting_of(project):
    return Setting(project.machine, layout(project.machine, BOOK), "likely", BOOK)


def answer_of(project):
    return find_footing(setting_of(project), project)


def uneven(*feet):
    return tuple(UnevenFoot(side=side, number=number, gap=gap) for side, number, gap in feet)


def codes(answer):
    return [f.code for f in answer.findings]


def whole_solution(project, x, y, gaps=None, lifted=()):
    """Feet's forces from the whole frame under all weights, floor lowered by `gaps`, `lifted` feet without springs."""
    setting = setting_of(project)
    frame = whole_frame(setting, x, y).frame
    stiffness = frame.springs.stiffness.copy()
    loads = self_weight(frame)
    springs = [k for k, name in enumerate(frame.springs.names) if "foot" in name and name.endswith(" Z")]
    for number, k in enumerate(springs):
        if number in lifted:
            stiffness[k] = 0.0
        elif gaps is not None:
            loads[6 * frame.springs.i[k] + 2] -= FOOT * gaps[number]
    changed = replace(frame, springs=replace(frame.springs, stiffness=stiffness))
    moved = solve(changed, loads).displacements
    heights = np.array([moved[6 * frame.springs.i[k] + 2] for k in springs])
    zero = np.zeros(len(springs)) if gaps is None else np.asarray(gaps)
    press = -FOOT * (heights + zero)
    press[list(lifted)] = 0.0
    return frame, moved, press, heights


@pytest.mark.parametrize(
    "stand", [Legs(), Legs(diagonals=Diagonals(crossed=True))], ids=["plain", "diagonals"]
)
def test_feet_carry_what_the_whole_frame_says(stand):
    project = project_of(machine__base__stand=stand)
    project = replace_at(project, "machine.base.stand.foot_stiffness", band(FOOT, FOOT, FOOT))
    found = answer_of(project)
    for n, m in ((0, 0), (8, 1), (13, 2)):
        _, _, press, _ = whole_solution(project, found.x[m], found.y[n])
        assert found.press[n, m] == pytest.approx(press, rel=1e-6)
    assert found.press.sum(axis=-1) == pytest.approx(np.full(found.press.shape[:2], found.weight))


def test_the_rails_lie_where_the_whole_frame_says():
    project = project_of()
    found = answer_of(project)
    setting = setting_of(project)
    n, m = 5, 2
    frame, moved, _, _ = whole_solution(project, found.x[m], found.y[n])
    datum = setting.layout.gantry_y(float(found.y[n]))
    heights = {"left": [], "right": []}
    for name, place in zip(frame.node_names, frame.nodes, strict=True):
        for side in heights:
            if name.startswith(f"{side} side beam") and any(
                abs(place[1] - datum - c) < 1e-6 for c in project.machine.y_guides.places()
            ):
                heights[side].append(moved[6 * frame.node(name) + 2])
    assert found.left[n, m] == pytest.approx(np.mean(heights["left"]), rel=1e-6)
    assert found.right[n, m] == pytest.approx(np.mean(heights["right"]), rel=1e-6)


def test_the_share_is_that_of_the_budget():
    project = project_of()
    found, setting = answer_of(project), setting_of(project)
    for n, m in ((3, 1), (16, 0)):
        place = solve_place(setting, float(found.x[m]), float(found.y[n]))
        for axis in range(3):
            budget = dict(find_budget(place, "unit", np.eye(3)[axis]).shares)
            want = budget["side_beams"] + budget["stand"]
            assert found.share[n, m, axis] == pytest.approx(want, rel=1e-6)
            give = want * place.compliance[axis, axis]
            assert found.give[n, m, axis] == pytest.approx(give, rel=1e-6)


def test_a_foot_a_little_low_still_stands_and_the_rails_twist_as_in_the_whole_frame():
    gaps = [2e-6, 0.0, 0.0, 0.0, 0.0, 0.0]
    project = project_of(machine__base__uneven=uneven(("left", 1, 2e-6)))
    found = answer_of(project)
    assert found.hangs.max() == 0.0
    _, _, press, _ = whole_solution(project, found.x[1], found.y[4], gaps)
    assert found.press[4, 1] == pytest.approx(press, rel=1e-6)
    assert "foot-lifts" not in codes(found)


def test_a_foot_that_is_far_too_low_hangs_and_the_others_take_its_weight():
    project = project_of(machine__base__uneven=uneven(("left", 1, 0.002)))
    found = answer_of(project)
    n, m = 4, 1
    up = np.flatnonzero(found.press[n, m] == 0.0)
    assert 0 in up
    _, _, press, heights = whole_solution(project, found.x[m], found.y[n], [0.002, *[0.0] * 5], tuple(up))
    # Saddle and head stiffen the beam against the twist by a hair, which the answer leaves out.
    assert found.press[n, m] == pytest.approx(press, rel=3e-4, abs=1e-6)
    assert found.hangs[n, m, 0] == pytest.approx(heights[0] + 0.002, rel=3e-4)
    assert codes(found)[0] == "foot-lifts"
    deeper = answer_of(project_of(machine__base__uneven=uneven(("left", 1, 0.003))))
    assert deeper.hangs[n, m, 0] - found.hangs[n, m, 0] == pytest.approx(0.001)
    assert deeper.press[n, m] == pytest.approx(found.press[n, m])


def test_a_floor_that_is_one_plane_twists_nothing():
    """Lowering all feet alike only lowers the machine."""
    every = [(side, number, 0.001) for side in ("left", "right") for number in (1, 2, 3)]
    found, even = answer_of(project_of(machine__base__uneven=uneven(*every))), answer_of(project_of())
    assert found.press == pytest.approx(even.press, rel=1e-6)
    assert found.uneven_left == pytest.approx(np.full_like(even.left, -0.001), rel=1e-6)
    assert found.twist == pytest.approx(even.twist, abs=1e-9)


def test_bolted_supports_are_pulled_down():
    project = project_of(machine__base__stand=Floor(), machine__base__uneven=uneven(("right", 2, 0.001)))
    found = answer_of(project)
    assert found.bolted
    assert found.press.min() < 0.0
    assert found.hangs.max() == 0.0
    assert found.press.sum(axis=-1) == pytest.approx(np.full(found.press.shape[:2], found.weight))
    assert {"rail-twist", "rail-level"} <= set(codes(found))
    assert codes(answer_of(project_of(machine__base__stand=Floor()))) == []


def test_diagonals_take_racking_away():
    bare = answer_of(project_of())
    braced = answer_of(project_of(machine__base__stand__diagonals=Diagonals(crossed=True)))
    assert (braced.give[..., :2] < bare.give[..., :2]).all()


def test_findings_of_a_soft_base_and_of_a_foot_that_is_not_there():
    project = project_of(machine__base__stand__foot_stiffness=band(1e5, 1e5, 1e5))
    assert "base-soft" in codes(answer_of(project))
    project = project_of(machine__base__uneven=uneven(("left", 7, 0.001)))
    assert codes(answer_of(project)) == ["no-such-foot"]


@given(
    st.integers(4, 7), st.integers(0, 2**31), st.floats(0.0, 0.01), st.booleans()
)  # fmt: skip
def test_every_settled_foot_presses_or_hangs(count, seed, worst, lifts):
    """A rigid or soft plate on springs: no foot pulls, none sinks into the floor, none does both."""
    rng = np.random.default_rng(seed)
    k = 1e6
    angles = np.sort(rng.uniform(0.0, 2 * np.pi, count)) + np.arange(count) * 0.01
    modes = np.stack([np.ones(count), np.cos(angles), np.sin(angles)], axis=1)
    soft = rng.standard_normal((count, count))
    stiff = k * np.eye(count) + 1e5 * _without(modes, soft @ soft.T)
    give = np.linalg.inv(stiff)
    weight = rng.uniform(100.0, 200.0, count)
    height, gap = -give @ weight, worst * rng.random(count)
    try:
        extra, press, clear = settle(height, gap, give, k, lifts)
    except Topples:
        assert lifts
        return
    assert press == pytest.approx(extra - k * (height + give @ extra), abs=1e-6 * weight.sum())
    assert press.sum() == pytest.approx(weight.sum(), rel=1e-6)
    assert modes.T @ press == pytest.approx(modes.T @ weight, abs=1e-5 * weight.sum())
    if lifts:
        assert press.min() > -1e-6 * weight.sum()
        assert (clear >= 0.0).all()
        assert np.abs(press * clear).max() < 1e-9


def _without(modes, stiffness):
    """Stiffness that feels no rigid motion."""
    q, _ = np.linalg.qr(modes)
    keep = np.eye(len(modes)) - q @ q.T
    return keep @ stiffness @ keep


def test_the_default_machine_is_answered_quickly():
    project = Project(machine=Machine())
    setting = setting_of(project)
    find_footing(setting, project)
    start = time.perf_counter()
    find_footing(setting, project)
    assert time.perf_counter() - start < 0.5


def test_the_study_hands_over_the_same_places():
    """What the plan has solved serves the base, place by place."""
    project = project_of()
    plan = make_plan(project, BOOK)
    study = make_study(plan, BOOK, slow=False)
    alone = answer_of(project)
    assert study.footing.y.tolist() == plan.stiffness.y.tolist()
    assert study.footing.x == pytest.approx(plan.stiffness.x[[0, plan.stiffness.x.size // 2, -1]], abs=1e-12)
    assert study.footing.share == pytest.approx(alone.share, rel=1e-9)
    assert study.footing.press == pytest.approx(alone.press, rel=1e-9)
