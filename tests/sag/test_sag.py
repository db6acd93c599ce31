"""What weight does to the tool's path: the removed line is the best one, and weight is all that bends it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.machine.drives import BallScrew, RackPinion
from core.machine.layout import layout
from core.machine.project import Machine, replace_at
from core.model.condensed import condense_gantry
from core.model.setting import Setting
from core.sag import find_sag
from core.sections import PropertyBook


def sag_of(machine, y=0.0):
    book = PropertyBook()
    setting = Setting(machine, layout(machine, book), "likely", book)
    return find_sag(setting, condense_gantry(setting, np.array([y])))


def changed(**entries):
    machine = Machine(x_drive=RackPinion())
    for path, value in entries.items():
        machine = replace_at(machine, path.replace("__", "."), value)
    return machine


@given(
    st.floats(0.0, 60.0),
    st.floats(0.6, 2.5),
    st.floats(-1.0, 1.0),
    st.sampled_from([BallScrew(), RackPinion()]),
)
@settings(max_examples=12)
def test_nothing_of_a_straight_line_is_left(mass, travel, y, drive):
    sag = sag_of(changed(head__mass=mass, work__travel_x=travel, x_drive=drive), y)
    scale = np.abs(sag.path[:, 2]).max()
    assert abs(sag.residual.sum()) <= 1e-9 * scale * sag.x.size
    assert abs(sag.residual @ sag.x) <= 1e-9 * scale * sag.x.size
    assert np.allclose(
        sag.slope * sag.x + sag.offset + sag.residual, sag.path[:, 2], rtol=0, atol=1e-9 * scale
    )
    assert sag.worst_residual == np.abs(sag.residual).max()
    assert sag.removable == pytest.approx(abs(sag.slope) * travel)


def test_the_path_is_zeroed_in_the_middle():
    sag = sag_of(changed())
    assert sag.x[sag.x.size // 2] == pytest.approx(0.0, abs=1e-12)
    assert np.all(sag.path[sag.x.size // 2] == 0.0)


def test_a_machine_with_one_half_like_the_other_has_nothing_to_shim():
    sag = sag_of(changed())
    scale = np.abs(sag.path[:, 2]).max()
    assert abs(sag.slope) * np.ptp(sag.x) <= 1e-7 * scale
    assert np.allclose(sag.path[:, 2], sag.path[::-1, 2], rtol=0, atol=1e-7 * scale)


def test_a_heavier_head_bends_the_path_more_and_the_bare_beam_not_at_all():
    light, heavy = sag_of(changed(head__mass=4.0)), sag_of(changed(head__mass=16.0))
    assert heavy.worst_residual > 1.2 * light.worst_residual
    assert np.array_equal(light.beam, heavy.beam)


def test_the_path_error_grows_in_line_with_the_head_mass():
    """The frame is linear: equal steps of mass make equal steps of the path."""
    paths = [sag_of(changed(head__mass=m)).path for m in (5.0, 15.0, 25.0)]
    assert np.allclose(paths[2] - paths[1], paths[1] - paths[0], rtol=1e-7, atol=1e-13)


def test_a_lighter_beam_of_the_same_shape_sags_in_proportion_to_its_weight():
    bare = [sag_of(changed(gantry__beam__extra_mass=m)).beam for m in (0.0, 10.0, 20.0)]
    assert np.allclose(bare[2] - bare[1], bare[1] - bare[0], rtol=1e-7, atol=1e-13)
    assert np.abs(bare[2]).max() > np.abs(bare[0]).max()


def test_the_beam_hangs_below_the_line_between_its_joints():
    sag = sag_of(changed())
    assert np.all(sag.beam < 0.0)
    assert int(np.argmax(np.abs(sag.beam))) == sag.x.size // 2
