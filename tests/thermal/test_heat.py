"""The bow of beams with rails of another metal, the tip's path, the scale of the axes and held screws."""

from __future__ import annotations

from dataclasses import replace

import msgspec
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadEntry
from core.machine.drives import BallScrew, KnownStiffness
from core.machine.heat import Heat
from core.machine.layout import find_sections, lay_out, layout
from core.machine.project import Project, replace_at
from core.model.setting import Setting
from core.sections import BoltedPlate, RectangularHollow, properties, stock_book
from core.sections.built_up_properties import joined, unjoined
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


def plated(face: str, joint: str = "fully joined", **more: object) -> Project:
    """An aluminium beam with a steel plate on one face."""
    profile = RectangularHollow(height=0.12, width=0.08, wall=0.006)
    section = BoltedPlate(profile=profile, plate_width=0.06, plate_thickness=0.01, face=face, joint=joint)
    entries = {
        "machine__gantry__beam__material": "en_aw_6060_t66",
        "machine__gantry__beam__section": section,
        **more,
    }
    return changed(**entries)


def plated_answer(project: Project) -> HeatAnswer:
    """With the plate's torsion taken from the unjoined pieces: heat asks for none, and nothing waits for an analysis."""
    beam = project.machine.gantry.beam
    find = lambda piece: properties(piece, stock_book())  # noqa: E731
    shape = joined(
        beam.section, find, lambda key, make: properties(beam.section.profile, stock_book()), beam.material
    )
    if beam.section.joint != "fully joined":
        shape = unjoined(beam.section, find, beam.material)
    others = find_sections(changed().machine, stock_book())
    sections = replace(others, beam=shape.turned() if beam.turned else shape)
    lay = lay_out(project.machine, sections, project.machine.x_guides.rail_spacing)
    return find_heat(Setting(project.machine, lay, "likely", stock_book()), project)


def test_a_steel_plate_on_top_of_an_aluminium_beam_lowers_its_middle_when_warm() -> None:
    found = plated_answer(plated("top"))
    bow, path = found.bows[0], found.paths[0]
    assert bow.across == "Z"
    assert bow.plate == (0.0, 0.0)
    assert bow.plate_across[1] < 0.0 < bow.plate_across[0]  # the middle is below its ends
    assert path.moved[1, 0, 2] > 0.0
    assert path.moved[1, 0, 1] < 0.0  # as without the plate, by the rails in front
    below = plated_answer(plated("bottom"))
    assert below.bows[0].plate_across == pytest.approx([-v for v in bow.plate_across])
    top = plated_answer(plated("top", machine__gantry__beam__rail_face="top")).bows[0]
    assert top.plate == pytest.approx(bow.plate_across)  # towards the rails, which lie on top
    assert abs(top.whole[1]) > abs(top.plate[1])


def test_a_plate_opposite_the_rails_balances_them_and_one_beside_them_helps() -> None:
    behind, front = (plated_answer(plated(face)).bows[0] for face in ("right", "left"))
    assert behind.plate == pytest.approx([-v for v in front.plate])
    assert abs(behind.whole[1]) < min(abs(behind.bonded[1]), abs(behind.plate[1]))
    assert abs(front.whole[1]) > max(abs(front.bonded[1]), abs(front.plate[1]))
    assert behind.distance > front.distance  # the axis of all lies towards the plate
    path = plated_answer(plated("right")).paths[0]
    assert path.rails == "slide"
    assert path.moved[1, 0, 1] > 0.0  # the ends go to the plate, at the back
    assert plated_answer(plated("left")).paths[0].rails == "hold"


def test_a_turned_section_carries_its_plate_along() -> None:
    turned = plated_answer(plated("top", machine__gantry__beam__turned=True)).bows[
        0
    ]  # top comes to the front
    assert turned.direction == "Y"
    assert turned.plate[1] * plated_answer(plated("left")).bows[0].plate[1] > 0.0
    assert turned.plate_across == pytest.approx((0.0, 0.0), abs=1e-15)


def test_a_plate_that_slides_bows_nothing_by_itself_and_grows_by_itself() -> None:
    free, tight = plated_answer(plated("right", "unjoined")), plated_answer(plated("right"))
    assert free.bows[0].plate == (0.0, 0.0)
    assert free.bows[0].whole == free.bows[0].bonded
    assert free.growths[0].expansion > tight.growths[0].expansion > 12e-6


@given(
    thin=st.floats(0.002, 0.02), change=st.floats(1.0, 40.0), gap=st.floats(0.05, 0.2), alike=st.booleans()
)
def test_beam_plate_and_rail_are_as_three_layers_at_once(
    thin: float, change: float, gap: float, alike: bool
) -> None:
    """Pair with a bow of its own, against the forces of three bars that keep together."""
    e, a = np.array([70e9, 210e9, 190e9]), np.array([2e-3, 0.06 * thin, 3e-4])
    own = np.array([3e-6, 0.06 * thin**3 / 12, 1e-8])
    alpha, at = np.array([23e-6, 23e-6 if alike else 12e-6, 11e-6]), np.array([0.0, -0.06, gap])
    # Unknown: strain at 0 and curvature; the sums of pulls and of moments are nothing.
    ea, ei = e * a, e * own
    matrix = np.array([[ea.sum(), -(ea * at).sum()], [-(ea * at).sum(), (ea * at**2 + ei).sum()]])
    right = np.array([(ea * alpha).sum(), -(ea * alpha * at).sum()]) * change
    curvature = np.linalg.solve(matrix, right)[1]
    two = slice(0, 2)
    middle = (ea[two] * at[two]).sum() / ea[two].sum()
    stiff = (ei[two] + ea[two] * (at[two] - middle) ** 2).sum()
    mean = (ea[two] * alpha[two]).sum() / ea[two].sum()
    bow = -(ea[two] * alpha[two] * (at[two] - middle)).sum() / stiff
    beam = Bar(70e9, ea[two].sum() / 70e9, stiff / 70e9, mean)
    pair = Pair(beam, Bar(e[2], a[2], own[2], alpha[2]), gap - middle, bow)
    assert pair.curvature(np.array([change]))[0] == pytest.approx(curvature, rel=1e-9, abs=1e-15)
