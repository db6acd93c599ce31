"""The bow of beams with rails of another metal, the tip's path, the scale of the axes and held screws."""

from __future__ import annotations

import msgspec
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadEntry
from core.machine.drives import BallScrew, KnownStiffness
from core.machine.heat import Heat
from core.machine.layout import layout
from core.machine.project import Project, replace_at
from core.model.setting import Setting
from core.sections import stock_book
from core.thermal import Bar, HeatAnswer, Pair, bow_line, find_heat


def answer(project: Project) -> HeatAnswer:
    book = stock_book()
    setting = Setting(project.machine, layout(project.machine, book), "likely", book)
    return find_heat(setting, project)


def changed(**entries: object) -> Project:
    project = Project()
    for path, value in entries.items():
        project = replace_at(project, path.replace("__", "."), value)  # type: ignore[assignment]
    return project


ALUMINIUM = changed(machine__gantry__beam__material="en_aw_6060_t66")


def test_nothing_happens_at_the_temperature_of_set_up() -> None:
    found = answer(changed(heat=Heat(coldest=20.0, warmest=20.0, screw_warming=0.0)))
    assert found.changes == (0.0, 0.0)
    assert all(path.worst == 0.0 for path in found.paths)
    assert all(scale.worst == 0.0 for scale in found.scales)
    assert not found.findings


def test_a_warm_aluminium_beam_with_steel_rails_in_front_bows_to_the_back() -> None:
    found = answer(ALUMINIUM)
    moved = found.paths[0].moved
    assert moved[1, 0, 1] < 0.0 < moved[0, 0, 1]  # the ends come forward (-Y) of the middle when warm
    assert moved[..., 2] == pytest.approx(0.0)
    assert "heat-bow" in {f.code for f in found.findings}


def test_rails_on_top_bow_the_middle_down_when_warm() -> None:
    project = replace_at(ALUMINIUM, "machine.gantry.beam.rail_face", "top")
    moved = answer(project).paths[0].moved  # type: ignore[arg-type]
    assert moved[1, 0, 2] > 0.0  # the ends rise above the middle
    assert moved[..., 1] == pytest.approx(0.0)


def test_the_turning_of_the_head_lengthens_or_shortens_the_travel_by_curvature_arm_and_travel() -> None:
    found = answer(ALUMINIUM)
    lay = layout(ALUMINIUM.machine, stock_book())
    arm = lay.spindle_y - lay.x_carriages[0][0]
    expected = np.array(found.bows[0].curvature) * arm * ALUMINIUM.machine.work.travel_x
    assert found.paths[0].along == pytest.approx(expected, rel=1e-9)


def test_rails_outside_leave_the_tip_in_its_path_along_y() -> None:
    project = changed(machine__base__rail_face="outside", machine__base__material="en_aw_6060_t66")
    found = answer(project)
    assert found.paths[1].worst == 0.0
    assert found.bows[1].direction == "X"
    assert abs(found.bows[1].bonded[1]) > 0.0


def test_more_supports_hold_a_side_beam_flatter() -> None:
    held = [
        abs(
            answer(changed(machine__base__material="en_aw_6060_t66", machine__base__supports=n))
            .bows[1]
            .held[1]
        )
        for n in (2, 3, 5)
    ]
    assert held[0] > 10 * held[1] > 10 * held[2] > 0.0


def test_work_that_grows_as_the_axis_does_leaves_no_error() -> None:
    project = changed(
        machine__x_drive=BallScrew(ends="fixed-supported"),
        heat=Heat(work_expansion=11.5e-6, screw_warming=0.0),
    )
    own = answer(project).scales[0]
    along = answer(project).paths[0].along
    assert own.worst == pytest.approx(max(abs(a) for a in along), abs=1e-12)


def test_a_screw_fixed_at_both_ends_pushes_and_names_its_stretch() -> None:
    project = changed(machine__x_drive=BallScrew(ends="fixed-fixed"), heat=Heat(screw_warming=10.0))
    found = answer(project)
    screw = found.screws[0]
    assert screw.push[1] == pytest.approx(screw.stiffness * screw.growth[1])
    assert screw.pull == pytest.approx(max(screw.push))
    assert any(f.code == "heat-screw" for f in found.findings)
    assert not answer(changed(machine__x_drive=KnownStiffness())).screws


def test_unlike_metals_spread_the_gantry_and_say_so() -> None:
    assert answer(Project()).spread == (0.0, 0.0)
    assert {f.code for f in answer(ALUMINIUM).findings} >= {"heat-spread"}


def test_scale_limit_makes_a_finding() -> None:
    strict = changed(heat__scale_limit=1e-5)
    assert [f.limit for f in answer(strict).findings if f.code == "heat-scale"] == [1e-5, 1e-5]


def test_long_rails_shift_beyond_their_holes() -> None:
    project = changed(
        machine__gantry__beam__material="en_aw_6060_t66",
        heat=Heat(coldest=-40.0, warmest=60.0),
        machine__work__travel_x=2.5,
    )
    assert "heat-rail-shift" in {f.code for f in answer(project).findings}


def test_warmest_below_coldest_is_refused() -> None:
    with pytest.raises(BadEntry) as caught:
        Heat(coldest=20.0, warmest=10.0)
    assert caught.value.where == "warmest"


metals = st.builds(
    Bar,
    young=st.floats(1e10, 3e11),
    area=st.floats(1e-5, 1e-2),
    second_moment=st.floats(1e-10, 1e-5),
    expansion=st.floats(1e-6, 4e-5),
)


@given(beam=metals, rail=metals, distance=st.floats(0.001, 0.5), change=st.floats(-80.0, 80.0))
def test_forces_and_moments_of_the_two_bars_balance(
    beam: Bar, rail: Bar, distance: float, change: float
) -> None:
    pair = Pair(beam, rail, distance)
    curvature, force = pair.curvature(np.array([change]))[0], pair.force(np.array([change]))[0]
    own = curvature * (beam.young * beam.second_moment + rail.young * rail.second_moment)
    assert force * distance == pytest.approx(own, rel=1e-6, abs=1e-9 * abs(force * distance) + 1e-12)
    swapped = Pair(rail, beam, distance).curvature(np.array([change]))[0]
    assert swapped == pytest.approx(-curvature)


@given(inner=st.lists(st.floats(0.05, 0.95), max_size=4, unique=True), curvature=st.floats(-1e-2, 1e-2))
def test_the_line_is_nothing_at_every_support_and_smaller_the_more_there_are(
    inner: list[float], curvature: float
) -> None:
    places = np.array([0.0, *sorted(inner), 1.0])
    if np.diff(places).min() < 0.02:
        return
    x = np.linspace(0.0, 1.0, 101)
    at = np.concatenate([places, x])
    line = bow_line(at, np.array([curvature]), (0.0, 1.0), places)[0]
    free = bow_line(x, np.array([curvature]), (0.0, 1.0), places[[0, -1]])[0]
    scale = abs(curvature) / 8.0
    assert np.abs(line[: len(places)]).max() <= 1e-9 * scale + 1e-18
    assert np.abs(line).max() <= np.abs(free).max() * (1 + 1e-9) + 1e-18
    assert np.abs(free).max() == pytest.approx(scale, rel=1e-3, abs=1e-18)


def test_an_old_file_without_the_new_entries_opens_with_their_defaults() -> None:
    data = msgspec.to_builtins(Project())
    del data["heat"], data["straightness"]
    assert msgspec.convert(data, Project) == Project()
