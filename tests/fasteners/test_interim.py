"""The interim plan of a whole machine: what is here is shared out, every axis gets a state, nothing is ever "done"."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.fasteners.interim import InterimAnswer, find_interim
from core.fasteners.interim.supply import claims, share_out, wants
from core.fasteners.rails import rails as find_rails
from core.machine.ordering import StockRow
from core.machine.project import Project
from core.model.setting import Setting
from tests.fasteners.machines import BOOK, changed, laid, slotted


def answer(project: Project, solved: bool = True) -> InterimAnswer:
    lay = laid(project)
    setting = Setting(project.machine, lay, "likely", BOOK)
    return find_interim(setting, project, find_rails(project, lay)[0], None, solved)


def stocked(project: Project, **counts: int) -> Project:
    """A project with so many screws (and nuts) here for the rails of an axis."""
    rows = {}
    for axis, count in counts.items():
        name, _, nuts = axis.partition("_")
        rail = next(r for r in find_rails(project, laid(project))[0] if r.axis == name)
        want = wants(project, rail)
        key = want.nut if nuts else want.screw
        old = rows[key].arrived if key in rows else 0
        rows[key] = StockRow(part=key, arrived=old + count)
    return msgspec.structs.replace(project, stock=tuple(rows.values()))


def states(project: Project) -> dict[str, str]:
    return {axis.axis: axis.state for axis in answer(project).axes}


def test_nothing_recorded_is_no_interim_state() -> None:
    found = answer(changed())
    assert not found.recorded
    assert found.axes == ()
    assert found.findings == ()


def test_a_handful_of_screws_is_refused() -> None:
    found = answer(stocked(changed(), y=3))
    loose = [rail for rail in found.rails if not rail.held]
    assert all(rail.rest_margin is None for rail in loose)
    reasons = {axis.axis: axis.reason for axis in found.axes}
    unknown = {axis.axis: axis.reason for axis in answer(stocked(changed(), y=40), solved=False).axes}
    assert reasons["y"] != unknown["y"]
    assert {axis.axis: axis.state for axis in found.axes}["y"] == "refused"
    codes = {(f.code, f.severity, f.place) for f in found.findings}
    assert ("interim-refused", "warning", "Y axis") in codes
    assert ("interim-refused", "note", "Z axis") in codes


def test_more_screws_allow_more_and_everything_ends_the_plan() -> None:
    project = changed()
    need = {r.axis: 2 * r.count for r in find_rails(project, laid(project))[0]}
    order = ["refused", "by hand", "slow jog", "all here"]
    found = [order.index(states(stocked(project, y=n))["y"]) for n in (0, 4, 8, 20, 60, need["y"])]
    assert found == sorted(found)
    assert found[0] == 0
    assert found[-1] >= 2
    whole = answer(stocked(project, **need))
    assert whole.complete
    assert whole.findings == ()


def test_nuts_that_are_missing_leave_their_screws_unused() -> None:
    found = answer(stocked(slotted(), x=50, x_nuts=7))
    kinds = {kind.what: kind for kind in found.kinds if kind.here}
    assert kinds["T-nut"].used == 7
    assert kinds["Socket head cap screw"].used == 7
    assert sum(len(rail.now) for rail in found.rails if rail.axis == "x") == 7


def test_forces_that_are_not_known_allow_nothing() -> None:
    found = answer(stocked(changed(), y=60), solved=False)
    assert {axis.state for axis in found.axes} == {"refused"}


def test_a_heavy_head_on_few_screws_is_refused_and_the_reason_is_the_margin() -> None:
    project = changed()
    head = msgspec.structs.replace(project.machine.head, mass=200.0)
    heavy = msgspec.structs.replace(project, machine=msgspec.structs.replace(project.machine, head=head))
    found = {}
    for name, each in (("light", project), ("heavy", heavy)):
        few = answer(stocked(each, y=88, z=20))
        rails = [rail for rail in few.rails if rail.axis == "x"]
        assert all(rail.held and rail.still for rail in rails)
        found[name] = (next(a for a in few.axes if a.axis == "x"), min(r.rest_margin[0] for r in rails))
    assert found["light"][0].state != "refused"
    assert found["heavy"][0].state == "refused"
    assert found["heavy"][1] < project.interim.margin < found["light"][1]


def test_an_acceleration_is_told_only_for_a_jog_and_never_over_the_planned_one() -> None:
    found = answer(stocked(changed(), y=60))
    for axis in found.axes:
        assert (axis.acceleration is not None) == (axis.state == "slow jog")
        if axis.acceleration is not None:
            planned = getattr(changed().machine.motion, axis.axis).acceleration
            assert 0.0 < axis.acceleration <= planned


@settings(max_examples=25)
@given(st.integers(0, 120), st.integers(0, 60), st.integers(0, 60))
def test_screws_are_shared_out_and_none_is_made_or_lost(y: int, x: int, nuts: int) -> None:
    project = slotted()
    answers = find_rails(project, laid(project))[0]
    wanted = {rail.key: wants(project, rail) for rail in answers}
    store: dict[str, int] = {}
    for rail in answers:
        store.setdefault(wanted[rail.key].screw, {"y": y, "x": x, "z": 3}[rail.axis])
        if wanted[rail.key].nut:
            store.setdefault(wanted[rail.key].nut, nuts)
    filled, used = share_out(claims(answers, {})[1], wanted, store)
    for key, count in store.items():
        takers = [rail for rail in answers if key in wanted[rail.key].words]
        assert used[key] == sum(len(filled[rail.key]) for rail in takers) <= count
    for rail in answers:
        assert len(set(filled[rail.key])) == len(filled[rail.key])
        ends = list(filled[rail.key][:2])
        assert ends == [1, rail.count][: len(ends)]


@given(st.integers(0, 100), st.integers(0, 20))
def test_more_screws_of_a_kind_carry_on_where_fewer_left_off(first: int, more: int) -> None:
    project = changed()
    answers = find_rails(project, laid(project))[0]
    wanted = {rail.key: wants(project, rail) for rail in answers}
    wishes = claims(answers, {})[1]
    key = wanted["y_left"].screw
    few = share_out(wishes, wanted, {key: first})[0]
    many = share_out(wishes, wanted, {key: first + more})[0]
    for rail in answers:
        assert many[rail.key][: len(few[rail.key])] == few[rail.key]


def test_packs_of_another_size_count_too() -> None:
    project = changed()
    rail = find_rails(project, laid(project))[0][2]
    key = wants(project, rail).screw
    rows = (StockRow(part=key, on_hand=3), StockRow(part=f"{key}_pack_of_25", arrived=25))
    found = answer(msgspec.structs.replace(project, stock=rows))
    assert next(kind.here for kind in found.kinds if kind.key == key) == pytest.approx(28)


def test_a_rail_on_its_end_screws_alone_lets_nothing_be_pushed_along_it() -> None:
    found = answer(stocked(changed(), y=4))
    rails = [rail for rail in found.rails if rail.axis == "y"]
    assert all(rail.held for rail in rails)
    assert max(rail.give or 0.0 for rail in rails) > 0.005
    assert {axis.axis: axis.state for axis in found.axes}["y"] == "refused"
