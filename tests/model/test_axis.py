"""The true axis of a section in the model: where it lies, what it leaves alone, and that every way to an answer follows it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.frame import FrameBuilder
from core.frame.mass import mass, rigid_motions
from core.guides.forces import carriage_forces
from core.machine.layout import layout
from core.machine.project import Project
from core.model.axis import find_axis
from core.model.masses import with_lumps
from core.model.place import solve_place
from core.model.setting import Setting
from core.model.whole import whole_frame
from core.modes import find_modes
from core.rank import candidate, find_rank
from core.sections import (
    Angle,
    Channel,
    FlatBar,
    PropertyBook,
    RectangularHollow,
    RoundTube,
    SectionProperties,
    TwoProfiles,
    closed_properties,
    properties,
    stock_book,
)
from core.stiffness.answer import compliance_map
from tests.rank.test_rank import with_entries

CHANNEL = Channel(height=0.12, width=0.055, web=0.007, flange=0.009)
ANGLE = Angle(height=0.12, width=0.09, thickness=0.012)
SIDEWAYS = TwoProfiles(
    first=CHANNEL, second=FlatBar(height=0.12, width=0.01), way="side by side", joint="unjoined"
)


def setting_of(**entries: Any) -> Setting:
    machine = with_entries(Project(), **entries).machine
    return Setting(machine, layout(machine, stock_book()), "likely", stock_book())


@pytest.mark.parametrize(
    "section",
    [RectangularHollow(height=0.12, width=0.08, wall=0.005), FlatBar(height=0.1, width=0.02),
     RoundTube(diameter=0.06, wall=0.004)],
)  # fmt: skip
def test_a_symmetrical_section_needs_no_axis_of_its_own(section: Any) -> None:
    shape = closed_properties(section)
    assert find_axis(shape) is None
    assert find_axis(shape.turned()) is None


def test_a_centre_that_a_mesh_leaves_beside_the_middle_is_in_it() -> None:
    shape = replace(
        closed_properties(RectangularHollow(height=0.12, width=0.08, wall=0.005)), shear_centre_z=5e-6
    )
    assert find_axis(shape) is None


@given(
    iyy=st.floats(1e-7, 1e-5), izz=st.floats(1e-7, 1e-5), share=st.floats(-0.9, 0.9), turn=st.booleans(),
    mirrored=st.booleans(),
)  # fmt: skip
def test_main_axes_keep_what_every_turn_keeps(
    iyy: float, izz: float, share: float, turn: bool, mirrored: bool
) -> None:
    iyz = share * (iyy * izz) ** 0.5
    p = SectionProperties(
        "any", 0.1, 0.1, 1e-3, iyy, izz, 1e-7, 5e-4, 4e-4, 0.0, 0.01, 0.02, -0.01, 0.005, iyz
    )
    p = p.turned() if turn else p
    axis = find_axis(p, mirrored)
    assert axis is not None
    assert axis.iyy + axis.izz == pytest.approx(iyy + izz, rel=1e-12)
    assert axis.iyy * axis.izz == pytest.approx(iyy * izz - iyz**2, rel=1e-9)
    assert sorted((axis.iyy, axis.izz)) == pytest.approx(sorted(p.principal()[:2]), rel=1e-9)
    assert abs(axis.turn) <= np.pi / 4 + 1e-12
    far = np.hypot(p.centroid_y + p.shear_centre_y, p.centroid_z + p.shear_centre_z)
    assert np.linalg.norm(axis.shear_centre) == pytest.approx(far, rel=1e-12)


@pytest.mark.parametrize("section", [CHANNEL, ANGLE, SIDEWAYS])
@pytest.mark.parametrize("build", [{}, {"gantry__beam__turned": True}, {"gantry__upright__seat": "in front"}])
def test_all_places_at_once_are_as_each_by_itself(section: Any, build: dict[str, Any]) -> None:
    setting = setting_of(
        gantry__beam__section=section, gantry__upright__section=CHANNEL, base__section=CHANNEL, **build
    )
    found, _ = compliance_map(setting, np.array([-0.1, 0.2]), np.array([0.0, 0.1]))
    one = solve_place(setting, 0.2, 0.1).compliance
    assert np.abs(found[1, 1] - one).max() < 1e-8 * np.abs(one).max()
    assert carriage_forces(setting, np.array([0.0, 0.2]), np.array([0.1])).balance < 1e-8


def test_an_off_axis_beam_gives_more_than_its_second_moments_say() -> None:
    """Of a channel that stays in the middle, and the same with its centres where they are."""
    off = setting_of(gantry__beam__section=CHANNEL)
    shape = off.layout.sections.beam
    middle = replace(shape, centroid_y=0.0, shear_centre_y=0.0)
    straight = replace(off, layout=replace(off.layout, sections=replace(off.layout.sections, beam=middle)))
    soft, stiff = (solve_place(s, 0.0, 0.0).compliance for s in (off, straight))
    assert abs(soft[2, 2] / stiff[2, 2] - 1.0) > 0.02


def test_uprights_and_side_beams_are_laid_as_in_a_mirror() -> None:
    """The tip at +x moves as the mirror of the tip at -x, with channels all round."""
    x = 0.22
    setting = setting_of(gantry__upright__section=CHANNEL, base__section=CHANNEL)
    left, right = (solve_place(setting, place, 0.05).compliance for place in (-x, x))
    for axis in (1, 2):  # along X the drive is held at one end
        assert left[axis, axis] == pytest.approx(right[axis, axis], rel=2e-3)


def test_mass_hangs_on_the_centroid() -> None:
    b = FrameBuilder()
    b.add_node("a", (0.0, 0.0, 0.0))
    b.add_node("b", (2.0, 0.0, 0.0))
    p = closed_properties(CHANNEL)
    b.add_member(
        "m", "a", "b", (0, 0, 1), p, linear_weight=10.0, centroid=(-0.01, 0.02), shear_centre=(-0.04, 0.03),
        young=210e9, shear=81e9,
    )  # fmt: skip
    frame = b.build()
    rigid = rigid_motions(frame)
    found = rigid.T @ mass(frame) @ rigid
    assert found[0, 0] == pytest.approx(20.0)
    assert found[1, 3] == pytest.approx(
        -20.0 * 0.02
    )  # turning about X carries the mass towards -Y by its height
    assert found[2, 3] == pytest.approx(20.0 * -0.01)
    polar = (p.iyy + p.izz) / p.area + 0.01**2 + 0.02**2
    assert found[3, 3] == pytest.approx(20.0 * polar)


def test_the_first_mode_of_a_ranking_follows_the_true_axis() -> None:
    project = with_entries(Project(), gantry__beam__section=CHANNEL)
    own = candidate(project, CHANNEL, "own", "tried")
    answer = find_rank(project, stock_book(), [own])
    assert answer is not None
    machine = project.machine
    setting = Setting(machine, layout(machine, stock_book()), "likely", stock_book())
    frame, lumps = with_lumps(setting, whole_frame(setting, 0.0, 0.0).frame)
    assert answer.first_mode[0] == pytest.approx(find_modes(frame, 1, lumps).frequencies[0], rel=5e-3)


def test_side_by_side_pieces_are_turned_over_with_the_section() -> None:
    p = properties(SIDEWAYS, PropertyBook())
    one, other = find_axis(p), find_axis(p, mirrored=True)
    assert one is not None
    assert other is not None
    assert one.centroid[..., 0] == pytest.approx(-other.centroid[..., 0])
    assert one.shear_centre[..., 0] == pytest.approx(-other.shear_centre[..., 0])
