"""The load's arrow points where the force points, as each view sees it, and says when it points at the reader."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.drawing.primitives import Arrow, Circle, Line
from core.drawing.views.load import load_shapes
from core.units import METRIC

VIEWS = {"front": ("x", "z"), "side": ("y", "z"), "plan": ("x", "y")}
TIP = (0.3, 0.1)


def shapes(force, view):
    return load_shapes(TIP, np.array(force, float), *VIEWS[view], METRIC, 0.08)


@given(st.floats(0.0, 2.0 * math.pi), st.sampled_from(sorted(VIEWS)))
def test_a_force_in_the_view_has_an_arrow_onto_the_tip_in_its_direction(angle, view):
    force = np.zeros(3)
    across, up = ("xyz".index(axis) for axis in VIEWS[view])
    force[across], force[up] = 80.0 * math.cos(angle), 80.0 * math.sin(angle)
    (arrow,) = shapes(force, view)
    assert isinstance(arrow, Arrow)
    step = np.subtract(arrow.end, arrow.start)
    assert step / np.linalg.norm(step) == pytest.approx([math.cos(angle), math.sin(angle)], abs=1e-9)
    left = np.subtract(TIP, arrow.end)
    assert 0.0 < np.linalg.norm(left) < 0.03
    assert np.dot(left, step) > 0.0


@pytest.mark.parametrize(
    ("force", "view", "towards"),
    [
        ((0, -50, 0), "front", True),
        ((0, 50, 0), "front", False),
        ((50, 0, 0), "side", True),
        ((0, 0, 50), "plan", True),
        ((0, 0, -50), "plan", False),
    ],
)
def test_a_force_along_the_line_of_sight_has_a_dot_or_a_cross(force, view, towards):
    found = shapes(force, view)
    assert not [shape for shape in found if isinstance(shape, Arrow)]
    assert len([shape for shape in found if isinstance(shape, Circle)]) == (2 if towards else 1)
    assert len([shape for shape in found if isinstance(shape, Line)]) == (0 if towards else 2)


def test_a_slanting_force_has_both():
    kinds = {type(shape) for shape in shapes((30.0, 60.0, 0.0), "front")}
    assert {Arrow, Circle, Line} == kinds


def test_no_force_no_sign():
    assert not shapes((0, 0, 0), "front")
    assert not load_shapes(TIP, None, "x", "z", METRIC, 0.08)
