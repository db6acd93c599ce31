"""Bad input is refused with the name of what is wrong; the builder joins values of different batch axes."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from core.errors import BadEntry
from core.frame import Frame, FrameBuilder, Members, Springs
from tests.frame.frames import STEEL, TUBE, random_frame

GOOD = {**STEEL, **TUBE}


def two_nodes(**member):
    b = FrameBuilder()
    b.add_node("a", (0, 0, 0))
    b.add_node("b", (1, 0, 0))
    if member:
        b.add_member("bar", "a", "b", **{"up": (0, 0, 1), **GOOD, **member})
    return b


@pytest.mark.parametrize("field", [*STEEL, *TUBE])
@pytest.mark.parametrize("value", [0.0, -1.0, np.nan])
def test_a_property_that_cannot_be_is_refused_by_name(field, value):
    with pytest.raises(BadEntry) as caught:
        two_nodes(**{field: value}).build()
    assert field in caught.value.where
    assert "bar" in caught.value.where


@pytest.mark.parametrize("field", ["young", "area", "it", "linear_weight"])
def test_an_infinite_property_is_refused(field):
    with pytest.raises(BadEntry):
        two_nodes(**{field: np.inf}).build()


@pytest.mark.parametrize("up", [(1, 0, 0), (-2, 0, 0), (0, 0, 0), (np.nan, 0, 1)])
def test_up_along_the_member_is_refused(up):
    with pytest.raises(BadEntry) as caught:
        two_nodes(up=up).build()
    assert "bar" in caught.value.where


def test_a_member_without_length_is_refused():
    with pytest.raises(BadEntry) as caught:
        two_nodes(offset_i=(1, 0, 0)).build()
    assert caught.value.where == "length of bar"


def test_one_bad_design_of_a_batch_is_refused():
    with pytest.raises(BadEntry) as caught:
        two_nodes(area=np.array([1e-3, -1e-3, 1e-3])).build()
    assert caught.value.value == "-0.001"


def test_missing_and_unknown_properties_are_named():
    b = two_nodes()
    with pytest.raises(BadEntry) as caught:
        b.add_member("bar", "a", "b", (0, 0, 1), **STEEL)
    assert "izz" in caught.value.value
    with pytest.raises(BadEntry) as caught:
        b.add_member("bar", "a", "b", (0, 0, 1), **GOOD, height=3.0)
    assert caught.value.value == "height"


def test_properties_come_from_an_object_and_keywords_go_first():
    b = two_nodes()
    b.add_member("bar", "a", "b", (0, 0, 1), SimpleNamespace(**GOOD), young=70e9)
    members = b.build().members
    assert members.young[0] == 70e9
    assert members.iyy[0] == TUBE["iyy"]
    assert members.component == ("bar",)


def test_names_are_met_once():
    b = two_nodes(component="beam")
    with pytest.raises(BadEntry):
        b.add_node("a", (3, 0, 0))
    b.add_member("bar", "b", "a", up=(0, 0, 1), **GOOD)
    with pytest.raises(BadEntry) as caught:
        b.build()
    assert caught.value.value == "bar"


def test_unknown_names_are_refused_with_the_known():
    frame = two_nodes(component="beam").build()
    assert frame.node("b") == 1
    assert frame.member("bar") == 0
    for find in (frame.node, frame.member, frame.spring):
        with pytest.raises(BadEntry):
            find("nothing")
    with pytest.raises(BadEntry) as caught:
        two_nodes().add_spring("s", "c", -1, (1, 0, 0), 1.0)
    assert "a, b" in caught.value.accepted


@pytest.mark.parametrize(
    ("direction", "stiffness", "arm_j"),
    [((0, 0, 2), 1.0, (0, 0, 0)), ((0, 0, 1), -1.0, (-1, 0, 0)), ((0, 0, 1), np.inf, (-1, 0, 0)),
     ((0, 0, np.nan), 1.0, (-1, 0, 0)), ((0, 0, 1), 1.0, (0, 0, 0))],
)  # fmt: skip
def test_a_bad_spring_is_refused(direction, stiffness, arm_j):
    """The last one holds points that lie apart across its direction: a rigid turn would stretch it."""
    b = two_nodes()
    b.add_spring("s", "a", "b", direction, stiffness, arm_j=arm_j)
    with pytest.raises(BadEntry) as caught:
        b.build()
    assert caught.value.where.endswith("of s")


def test_nodes_that_do_not_exist_are_refused():
    frame = random_frame(1)
    for change in ({"i": frame.members.i + 9}, {"j": frame.members.i}):
        with pytest.raises(BadEntry):
            replace(frame, members=replace(frame.members, **change))
    with pytest.raises(BadEntry):
        replace(frame.members, i=frame.members.i - 1)
    with pytest.raises(BadEntry):
        replace(frame, held=frame.held.astype(float))
    with pytest.raises(BadEntry):
        replace(frame, node_mass=-frame.node_mass)
    with pytest.raises(BadEntry):
        two_nodes().hold("a", (6,))


def test_batch_axes_that_do_not_broadcast_are_refused():
    b = two_nodes(area=np.full(3, 1e-3))
    b.add_spring("s", "a", -1, (1, 0, 0), np.ones(4))
    with pytest.raises(BadEntry):
        b.build()
    with pytest.raises(BadEntry):
        FrameBuilder().add_node("x", ("far", 0, 0)) or two_nodes(area="thick").build()


def test_batch_axes_of_all_entries_join():
    b = two_nodes(area=np.array([1e-3, 2e-3, 3e-3]))
    b.add_spring("s", "a", -1, (1, 0, 0), np.array([[1e6], [2e6]]))
    frame = b.build()
    assert frame.batch == (2, 3)
    assert frame.members.area.shape == (3, 1)
    assert frame.members.young.shape == (1,)


def test_an_empty_frame_is_possible():
    none = np.zeros((0, 6), bool)
    frame = Frame(np.zeros((0, 3)), (), Members.none(), Springs.none(), none, np.zeros(0))
    assert frame.dofs == 0
    assert frame.batch == ()
