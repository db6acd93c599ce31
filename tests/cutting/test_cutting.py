"""Chip, pressure and forces over a turn: what must hold for every cut, and what is said of bad ones."""

from __future__ import annotations

import json
import math
import time

import msgspec
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.cutting import (
    find_chip,
    find_cutting,
    find_turn,
    mean_power,
    mean_tangential,
    pressure_at,
    tip_force,
)
from core.errors import BadEntry
from core.fields import band
from core.machine.loads import CutForce, DirectForce, LoadCase
from core.machine.project import Project, replace_at
from core.machine.spindle import Spindle
from core.materials.workpieces import metals, workpieces


def project_of(*loads, **changes):
    cases = tuple(LoadCase(name=f"Cut {k}", load=load) for k, load in enumerate(loads))
    made = Project(cases=cases)
    for path, value in changes.items():
        made = replace_at(made, path.replace("__", "."), value)
    return made


def codes(answer, severity=None):
    return [f.code for f in answer.findings if severity in (None, f.severity)]


cuts = st.builds(
    lambda d, w, z, n, fz, ap, key, climb, helix, share: CutForce(
        workpiece=key, diameter=d, width=w * d, teeth=z, speed=n, feed=fz * z * n, depth=ap, climb=climb,
        helix=helix, radial_share=share,
    ),
    st.floats(0.002, 0.02), st.floats(0.05, 1.0), st.integers(1, 7), st.floats(50.0, 400.0),
    st.floats(1e-5, 2e-4), st.floats(0.0005, 0.02), st.sampled_from(["", *(m.key for m in metals())]),
    st.booleans(), st.sampled_from([0.0, 0.5, 0.8]), st.floats(0.0, 1.0),
)  # fmt: skip


@given(cuts)
def test_peak_is_no_less_than_mean_and_the_mean_is_that_of_the_power(cut):
    turn = find_turn(cut)
    assert turn.peak >= turn.mean * (1 - 1e-12)
    assert np.isfinite(turn.resultant).all()
    assert turn.angle.size % cut.teeth == 0
    if not cut.workpiece:  # a pressure that does not depend on the chip makes both means the same
        assert turn.tangential.mean() == pytest.approx(mean_tangential(cut), rel=0.03)
    assert mean_power(cut, "low") <= mean_power(cut) * (1 + 1e-12)
    assert mean_power(cut) <= mean_power(cut, "high") * (1 + 1e-12)


@given(cuts)
def test_climbing_mirrors_the_turn(cut):
    """Turning the other way round meets the same chips in reverse order: the same mean and peak tooth force."""
    other = msgspec.structs.replace(cut, climb=not cut.climb)
    one, two = find_turn(cut), find_turn(other)
    assert two.tangential.mean() == pytest.approx(one.tangential.mean(), rel=0.03)
    assert find_chip(cut).largest == find_chip(other).largest
    assert find_chip(other).engagement == find_chip(cut).engagement


def test_a_helix_spreads_the_bite_and_keeps_the_mean():
    straight = CutForce(width=0.002, depth=0.01)
    spiral = msgspec.structs.replace(straight, helix=0.7)
    assert find_turn(spiral).peak < 0.8 * find_turn(straight).peak
    assert find_turn(spiral).tangential.mean() == pytest.approx(
        find_turn(straight).tangential.mean(), rel=0.01
    )


def test_chip_of_a_narrow_cut():
    chip = find_chip(CutForce(diameter=0.01, width=0.0025, teeth=1, speed=100.0, feed=0.01))
    assert chip.engagement == pytest.approx(math.pi / 3)
    assert chip.largest == pytest.approx(1e-4 * math.sin(math.pi / 3))
    assert chip.mean == pytest.approx(1e-4 * 0.5 / (math.pi / 3))


def test_without_a_metal_the_pressure_is_the_entered_one():
    cut = CutForce(pressure=band(1e6, 2e6, 3e6))
    assert [pressure_at(cut, 1e-5, side) for side in ("low", "likely", "high")] == [1e6, 2e6, 3e6]
    power = cut.depth * cut.width * cut.feed * 2e6
    assert mean_power(cut) == pytest.approx(power)
    direct = tip_force(LoadCase(name="a", load=DirectForce(x=1.0, y=2.0, z=3.0)))
    assert direct.tolist() == [1.0, 2.0, 3.0]


def test_an_unknown_workpiece_is_refused_with_near_names():
    with pytest.raises(BadEntry) as caught:
        CutForce(workpiece="aluminum_wrought")
    assert "aluminium_wrought" in caught.value.accepted
    with pytest.raises(BadEntry):
        CutForce(workpiece="mdf")  # a sheet material has no Kienzle figures


def test_every_workpiece_rises_and_says_where_it_comes_from():
    for stuff in workpieces():
        assert 0.0 < stuff.pressure[0] <= stuff.pressure[1] <= stuff.pressure[2]
        assert stuff.source
        assert stuff.source != "same"
        assert stuff.status
        assert (stuff.exponent[1] > 0.0) == (stuff.kind == "metal")


def test_findings_of_power_speed_and_chip():
    hard = CutForce(workpiece="s235", depth=0.02, width=0.006, feed=0.05)
    assert "spindle-power" in codes(find_cutting(project_of(hard)), "warning")
    assert "spindle-power" not in codes(find_cutting(project_of(CutForce())))
    near = CutForce(pressure=band(1e6, 2e6, 5e9))
    assert codes(find_cutting(project_of(near))) == ["spindle-power"]
    assert codes(find_cutting(project_of(near)), "note") == ["spindle-power"]
    assert "spindle-speed" in codes(find_cutting(project_of(CutForce(speed=50.0))))
    assert "spindle-speed" in codes(find_cutting(project_of(CutForce(speed=500.0))))
    assert "chip-thin" in codes(find_cutting(project_of(CutForce(feed=0.005))))
    assert "chip-thick" in codes(find_cutting(project_of(CutForce(feed=0.5))))
    assert codes(find_cutting(project_of(CutForce(feed=0.5, thickest_chip=0.01)))) == []
    assert codes(find_cutting(project_of(CutForce(feed=0.005, thinnest_chip=0.0)))) == []


def test_below_its_full_power_speed_the_spindle_gives_less():
    spindle = Spindle(power=1000.0, full_power_speed=200.0, usable=1.0)
    assert [spindle.available(s) for s in (100.0, 200.0, 400.0)] == [500.0, 1000.0, 1000.0]
    with pytest.raises(BadEntry):
        Spindle(slowest=300.0, full_power_speed=200.0)


def test_load_cases_given_as_a_force_are_left_out():
    answer = find_cutting(project_of(DirectForce(x=1.0), CutForce(), DirectForce(y=1.0)))
    assert [case.number for case in answer.cases] == [1]
    assert find_cutting(Project()).cases == ()


def test_an_old_cut_opens_with_defaults():
    text = json.dumps(
        {"kind": "cut", "pressure": {"low": 1e6, "likely": 2e6, "high": 3e6}, "diameter": 0.006}
    )
    cut = msgspec.json.decode(text, type=CutForce)
    assert cut.workpiece == ""
    assert cut.helix == 0.0


def test_it_is_quick():
    project = project_of(CutForce(), CutForce(workpiece="brass"), CutForce(helix=0.5))
    find_cutting(project)
    best = min(_time(project) for _ in range(5))
    assert best < 0.02  # 5 ms on the machine that it was written on


def _time(project):
    start = time.perf_counter()
    find_cutting(project)
    return time.perf_counter() - start
