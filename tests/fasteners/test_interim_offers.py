"""What the rails leave for joints: rails first, whole joints only, nothing handed out twice."""

from __future__ import annotations

from dataclasses import replace

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.fasteners import joints as find_joints
from core.fasteners import rails as find_rails
from core.fasteners.interim import InterimAnswer, find_interim
from core.fasteners.interim.answer import AxisInterim
from core.fasteners.interim.carried import held_by_joints
from core.fasteners.interim.offers import Offer, find_offers
from core.fasteners.interim.supply import wants
from core.fasteners.totals import joint_rows
from core.machine.joints import Joint
from core.machine.ordering import StockRow
from core.machine.project import Project
from core.model.setting import Setting
from core.parts.keys import fastener_key
from core.report.study.interim import (
    interim_headline,
    interim_json,
    interim_table,
    offers_table,
    offers_words,
)
from core.units import METRIC
from tests.fasteners.machines import BOOK, changed, laid

SHARING = changed(joints__mount=Joint(screw="M5", plate=0.008, washer="no"))
"""The mount's screws are those of the X rails."""


def with_stock(project: Project, **counts: int) -> Project:
    rows = tuple(StockRow(part=part, arrived=count) for part, count in counts.items())
    return msgspec.structs.replace(project, stock=rows)


def answer(project: Project) -> InterimAnswer:
    lay = laid(project)
    setting = Setting(project.machine, lay, "likely", BOOK)
    joints = find_joints(project, lay)[0]
    return find_interim(setting, project, find_rails(project, lay)[0], None, False, joints=joints)


def shared_screw() -> tuple[str, int, int]:
    """Key of the screw that X rails and mount share, pieces of the rails, pieces of the mount."""
    lay = laid(SHARING)
    rails = find_rails(SHARING, lay)[0]
    mount = next(joint for joint in find_joints(SHARING, lay)[0] if joint.key == "mount")
    key = fastener_key("Socket head cap screw", mount.screw_text)
    need = sum(rail.screws for rail in rails if wants(SHARING, rail).screw == key)
    assert need > 0
    return key, need, mount.screws


@pytest.mark.parametrize(("more", "can"), [(-20, 0), (0, 0), (3, 0), (4, 1), (50, 1)])
def test_rails_have_the_first_claim_on_a_shared_screw(more: int, can: int) -> None:
    key, need, mount = shared_screw()
    found = answer(with_stock(SHARING, **{key: need + more}))
    offer = next(offer for offer in found.offers if offer.key == "mount")
    assert offer.can == can
    assert offer.without_rails == 1
    assert offer.shared
    assert dict(offer.left)[offer.shared[0]] == max(0, more)
    missing = dict(offer.short).get(offer.shared[0], 0)
    assert missing == max(0, mount - max(0, more))
    assert offer.shared[0] in offers_words(found)
    assert ("Spindle mount" in offers_words(found).partition("What is left")[2]) or can == 0
    told = interim_json(found)
    assert told["rails_come_first"] is True
    assert len(offers_table(found, METRIC).rows) == len(told["offers_to_joints"]) == len(found.offers)


@settings(max_examples=40, deadline=None)
@given(stock=st.lists(st.integers(0, 60), min_size=30, max_size=30), taken=st.integers(0, 30))
def test_whole_joints_only_and_nothing_twice(stock: list[int], taken: int) -> None:
    project = changed()
    joints = find_joints(project, laid(project))[0]
    keys = sorted(
        {fastener_key(what, spec) for j in joints for (what, spec, _), n in joint_rows(j, project) if n}
    )
    here = dict(zip(keys, stock, strict=False))
    used = {keys[0]: min(taken, here[keys[0]])}
    offers = {o.key: o for o in find_offers(with_stock(project, **here), joints, used)}
    spent = dict(used)
    for joint in joints:
        for (what, spec, _), number in joint_rows(joint, project):
            if number:
                key = fastener_key(what, spec)
                offer = offers[joint.key]
                assert 0 <= offer.can <= offer.without_rails <= joint.count
                each = -(-number // joint.count)
                spent[key] = spent.get(key, 0) + min(number, offer.can * each)
    assert all(spent[key] <= here.get(key, 0) for key in spent)
    whole = find_offers(with_stock(project, **dict.fromkeys(keys, 10_000)), joints, {})
    assert all(offer.can == offer.count and not offer.short for offer in whole)


def all_here(project: Project, *without: str) -> Project:
    """A project with everything for its joints here but a screw or two of some, and the rails' screws but two."""
    lay = laid(project)
    rows: dict[str, int] = {}
    for joint in find_joints(project, lay)[0]:
        for (what, spec, _), number in joint_rows(joint, project):
            key = fastener_key(what, spec)
            rows[key] = rows.get(key, 0) + (0 if joint.key in without else number)
    for rail in find_rails(project, lay)[0]:
        want = wants(project, rail)
        short = 1 if rail.axis == "y" else 0
        for key in want.words:
            rows[key] = rows.get(key, 0) + rail.screws - short
    return with_stock(project, **{key: number for key, number in rows.items() if number > 0})


def axis_states(project: Project) -> dict[str, tuple[str, str]]:
    lay = laid(project)
    setting = Setting(project.machine, lay, "likely", BOOK)
    joints = find_joints(project, lay)[0]
    found = find_interim(setting, project, find_rails(project, lay)[0], None, True, joints=joints)
    return {axis.axis: (axis.state, axis.reason) for axis in found.axes}


def test_an_axis_waits_for_the_joints_that_carry_it_and_for_those_that_drive_it() -> None:
    project = changed()
    whole = axis_states(all_here(project))
    assert whole["y"][0] == "slow jog"
    assert whole["x"][0] != "refused"
    carried = axis_states(all_here(project, "y_blocks"))
    assert carried["y"][0] == carried["x"][0] == "refused"
    label = next(j.label for j in find_joints(project, laid(project))[0] if j.key == "y_blocks")
    assert label in carried["y"][1]
    driven = axis_states(all_here(project, "y_nut"))
    assert driven["y"][0] == "by hand"
    assert driven["x"][0] == whole["x"][0]


@pytest.mark.parametrize(
    ("open_", "states"),
    [
        ("mount", {"x": "slow jog", "y": "slow jog", "z": "refused"}),
        ("x_motor", {"x": "by hand", "y": "slow jog", "z": "slow jog"}),
        ("x_blocks", {"x": "refused", "y": "slow jog", "z": "refused"}),
        ("feet", {"x": "slow jog", "y": "refused", "z": "slow jog"}),
        ("seat", {"x": "refused", "y": "refused", "z": "slow jog"}),
    ],
)
def test_which_joint_holds_up_which_axis(open_: str, states: dict[str, str]) -> None:
    offers = [Offer(key, key, 2, 2 - (key == open_), 2, (), (), ()) for key in (open_, "cap")]
    for axis, state in states.items():
        free = AxisInterim(axis, "slow jog", "Good.", 0.5)
        found = held_by_joints(free, offers)
        assert (found.state, found.acceleration is None) == (state, state != "slow jog")
        assert state == "slow jog" or open_ in found.reason
        still = AxisInterim(axis, "refused", "Loose.", None)
        assert held_by_joints(still, offers) == still


def test_rails_that_are_complete_do_not_hide_joints_that_are_not() -> None:
    project = changed()
    lay = laid(project)
    rows: dict[str, int] = {}
    for rail in find_rails(project, lay)[0]:
        for key in wants(project, rail).words:
            rows[key] = rows.get(key, 0) + rail.screws
    found = answer(with_stock(project, **rows))
    assert found.complete
    assert {axis.axis: axis.state for axis in found.axes} == dict.fromkeys("yxz", "refused")
    assert {finding.code for finding in found.findings} == {"interim-refused"}
    assert interim_headline(found).state == "note"
    assert found.offers[0].label in interim_headline(found).words
    whole = replace(found, offers=tuple(replace(offer, can=offer.count) for offer in found.offers))
    assert interim_headline(whole).state == "good"
    z = next(row for row in interim_table(found, METRIC).rows if row[0] == "Left Z rail")
    assert z[4] is None, "nobody knows where a rail that moves rests"
