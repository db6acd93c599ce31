"""Deflection of the tip under a force: the worst direction is the worst, and forces add up."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from core.stiffness.deflection import deflection, worst_force

# The direction is searched in steps of 2 degrees; the curve at its top is flat, so this much may be missed.
MISSED = 1.0 - np.cos(np.radians(1.0)) + 2e-4
FINE = np.linspace(0.0, 2.0 * np.pi, 7200, endpoint=False)

factors = arrays(float, (3, 3), elements=st.floats(-1.0, 1.0))
parts = st.floats(-300.0, 300.0)
forces = st.tuples(parts, parts, parts).map(np.array)


def compliance_from(factor):
    """A symmetric positive compliance, m/N."""
    return (factor @ factor.T + 0.05 * np.eye(3)) * 1e-7


@given(factors, forces)
def test_worst_direction_is_the_worst_of_all(factor, force):
    compliance = compliance_from(factor)
    moved, direction = deflection(compliance, force, True)
    size = np.hypot(force[0], force[1])
    turned = np.stack([size * np.cos(FINE), size * np.sin(FINE), np.full_like(FINE, force[2])])
    worst = np.linalg.norm(compliance @ turned, axis=0).max()
    found = np.linalg.norm(moved)
    assert found <= worst * (1.0 + 1e-5)  # the fine search misses a little itself
    assert found >= worst * (1.0 - MISSED)
    assert np.allclose(compliance @ worst_force(force, float(direction), True), moved, rtol=1e-9, atol=1e-16)


@given(factors, forces)
def test_worst_direction_is_never_milder_than_the_force_as_entered(factor, force):
    compliance = compliance_from(factor)
    as_entered, direction = deflection(compliance, force, False)
    turned, _ = deflection(compliance, force, True)
    assert np.linalg.norm(turned) >= np.linalg.norm(as_entered) * (1.0 - MISSED)
    assert direction == pytest.approx(np.arctan2(force[1], force[0]))


@given(factors, forces, forces, st.floats(-3.0, 3.0))
def test_forces_in_a_fixed_direction_add_up(factor, one, other, share):
    compliance = compliance_from(factor)
    together, _ = deflection(compliance, one + share * other, False)
    apart = deflection(compliance, one, False)[0] + share * deflection(compliance, other, False)[0]
    assert np.allclose(together, apart, rtol=1e-9, atol=1e-15)


def test_a_batch_answers_as_its_places_do_one_by_one():
    rng = np.random.default_rng(3)
    many = np.array([compliance_from(rng.uniform(-1, 1, (3, 3))) for _ in range(6)]).reshape(2, 3, 3, 3)
    force = np.array([30.0, 10.0, 5.0])
    moved, directions = deflection(many, force, True)
    for row in range(2):
        for column in range(3):
            alone, direction = deflection(many[row, column], force, True)
            assert np.array_equal(alone, moved[row, column])
            assert direction == directions[row, column]


def test_a_force_along_z_alone_is_not_turned():
    compliance = compliance_from(np.eye(3))
    moved, _ = deflection(compliance, np.array([0.0, 0.0, 9.0]), True)
    assert np.array_equal(moved, compliance @ np.array([0.0, 0.0, 9.0]))
