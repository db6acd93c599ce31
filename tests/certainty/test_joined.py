"""The share of a built-up bar's joint in the bands: every sample beside the whole machine solved with its own share."""

from __future__ import annotations

from typing import Any

import msgspec
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.certainty import BandsAnswer, find_bands
from core.certainty.bands import _sample, draw, head_samples, load_inputs, tip_samples
from core.certainty.chain import make_chain
from core.certainty.chance import triangular
from core.certainty.inputs import uncertain_inputs
from core.certainty.joined import at_end, find_joints, joint_inputs, mix, stiffness_ratios
from core.certainty.springs import SpringShares
from core.errors import BadEntry
from core.machine.layout import layout
from core.machine.project import Project
from core.machine.shares import share_ends
from core.machine.sheet import SheetValues
from core.model.place import solve_place
from core.model.setting import Setting
from core.plan import begin_plan
from core.sections import BoltedPlate, FlatBar, RectangularHollow, TwoProfiles, properties, stock_book
from core.sections.built_up import share_band
from core.sections.built_up_properties import joined, unjoined
from core.vibration import find_vibration
from tests.rank.test_rank import with_entries

TUBE = RectangularHollow(height=0.08, width=0.08, wall=0.004, finish="cold formed")
PAIR = TwoProfiles(first=TUBE, second=TUBE, way="stacked", joint="partly joined", share=0.4)
BOOK = stock_book()


def setting_of(project: Project) -> Setting:
    return Setting(project.machine, layout(project.machine, BOOK), "likely", BOOK)


def bands(project: Project, samples: int = 256) -> BandsAnswer:
    found = find_bands(setting_of(project), begin_plan(project, BOOK), samples)
    assert found is not None
    return found


def partly(**changes: Any) -> Project:
    return with_entries(Project(), gantry__beam__section=msgspec.structs.replace(PAIR, **changes))


@given(share=st.floats(0.0, 1.0))
def test_an_automatic_band_lies_between_unjoined_and_fully_joined(share: float) -> None:
    low, likely, high = share_band(msgspec.structs.replace(PAIR, share=share))
    assert 0.0 <= low <= likely == share <= high <= 1.0


def test_ends_that_do_not_rise_are_refused() -> None:
    for wrong, at in (({"share_low": 0.5}, "share_low"), ({"share_high": 0.3}, "share_high")):
        with pytest.raises(BadEntry) as caught:
            TwoProfiles(first=TUBE, second=TUBE, joint="partly joined", share=0.4, **wrong)  # type: ignore[arg-type]
        assert caught.value.where == at


def test_figures_rise_from_unjoined_over_the_band_to_fully_joined() -> None:
    low, likely, high = share_band(PAIR)
    found = [
        properties(msgspec.structs.replace(PAIR, joint=joint, share=share, share_low=None, share_high=None), BOOK)
        for joint, share in (
            ("unjoined", 0.4), ("partly joined", low), ("partly joined", likely), ("partly joined", high),
            ("fully joined", 0.4),
        )
    ]  # fmt: skip
    for name in ("iyy", "it"):
        figures = [getattr(p, name) for p in found]
        assert figures == sorted(figures)
        assert figures[0] < figures[-1]


def test_only_partly_joined_bars_are_uncertain() -> None:
    assert [i.path for i in joint_inputs(partly().machine)] == ["machine.gantry.beam.section.share"]
    assert not joint_inputs(partly(joint="fully joined").machine)
    assert not joint_inputs(partly(share_low=0.4, share_high=0.4).machine)
    twice = with_entries(partly(), base__section=PAIR)
    assert [i.label for i in joint_inputs(twice.machine)] == [
        "Gantry beam: share of the joint", "Side beams: share of the joint",
    ]  # fmt: skip


def test_deflections_lie_between_those_of_unjoined_and_fully_joined() -> None:
    found = bands(partly(share_low=0.0, share_high=1.0))
    soft, stiff = bands(partly(joint="unjoined")), bands(partly(joint="fully joined"))
    for case, low, high in zip(found.cases, stiff.cases, soft.cases, strict=True):
        cause = next(c for c in case.causes if c.input.path.endswith(".share"))
        assert cause.at_low == pytest.approx(high.spread.likely, rel=1e-6)
        assert cause.at_high == pytest.approx(low.spread.likely, rel=1e-6)
        assert low.spread.likely < case.spread.likely < high.spread.likely
    assert found.first_mode.low < found.first_mode.high


def test_a_closed_share_leaves_the_bands_as_they_are() -> None:
    closed, open_ = bands(partly(share_low=0.4, share_high=0.4)), bands(partly(share_low=0.0, share_high=1.0))
    for one, other in zip(closed.cases, open_.cases, strict=True):
        assert one.spread.likely == pytest.approx(other.spread.likely, rel=1e-9)
        assert one.spread.high - one.spread.low < other.spread.high - other.spread.low
        assert not any(c.input.path.endswith(".share") for c in one.causes)
    assert closed.sag.high - closed.sag.low < open_.sag.high - open_.sag.low
    assert closed.first_mode.high - closed.first_mode.low < open_.first_mode.high - open_.first_mode.low


def test_every_sample_is_the_machine_with_its_own_share() -> None:
    """Two bars at once; what is left out is the interplay of both, and the parabola."""
    project = with_entries(partly(share_low=0.1, share_high=0.9), base__section=PAIR)
    setting, plan = setting_of(project), begin_plan(project, BOOK)
    shares = SpringShares(setting, uncertain_inputs(setting.machine))
    joints = find_joints(setting)
    assert len(joints) == 2
    drawn = draw(shares.inputs, load_inputs(project.cases), 64, tuple(j.input for j in joints))
    found = find_bands(setting, plan, 64)
    assert found is not None
    assert found.checked < 5e-3
    case = found.cases[0]
    number = np.linspace(0, 63, 6).astype(int)
    exact = [solve_place(_sample(setting, drawn, row), case.x, case.y).compliance for row in number]
    assert len({round(float(c[2, 2]) * 1e12) for c in exact}) == len(number)
    weights = mix(joints, drawn.shares)
    chain = make_chain(setting, case.y, shares)
    above = head_samples(chain, drawn)
    ends = [
        None if s is None else tip_samples(make_chain(s, case.y, shares), case.x, drawn, above)
        for s in weights.settings
    ]
    ours = weights.of(tip_samples(chain, case.x, drawn, above), ends)
    for row, whole in zip(number, exact, strict=True):
        assert np.abs(ours[row] - whole).max() < 2e-3 * np.abs(whole).max()


def test_typed_figures_stay_with_their_bar() -> None:
    sheet = SheetValues(section=PAIR, iyy=8e-6, izz=3e-6, it=6e-6, avy=8e-4, avz=8e-4)
    assert not find_joints(setting_of(with_entries(partly(), datasheet=(sheet,))))
    some = SheetValues(section=PAIR, izz=3e-6)
    (joint,) = find_joints(setting_of(with_entries(partly(), datasheet=(some,))))
    assert joint.low is not None
    assert joint.low.layout.sections.beam.izz == 3e-6


def test_a_plate_of_another_metal_has_a_share_too() -> None:
    plate = BoltedPlate(
        profile=FlatBar(height=0.05, width=0.03),
        plate_width=0.03,
        plate_thickness=0.01,
        joint="partly joined",
    )
    assert share_band(plate) == (0.25, 0.5, 0.75)
    find, metal = lambda piece: properties(piece, BOOK), "en_aw_6060_t66"
    low = unjoined(plate, find, metal)
    high = joined(plate, find, lambda key, make: low, metal)
    assert low.iyy < high.iyy


def test_triangular_draws_stay_inside_and_may_begin_at_nothing() -> None:
    chance = np.linspace(0.0, 1.0, 1001)
    drawn = triangular(0.0, 0.3, 1.0, chance)
    assert drawn.min() == 0.0
    assert drawn.max() == 1.0
    assert np.all(np.diff(drawn) >= 0.0)
    assert drawn.mean() == pytest.approx((0.0 + 0.3 + 1.0) / 3.0, abs=1e-3)
    assert triangular(0.2, 0.2, 0.2, chance) == pytest.approx(np.full(1001, 0.2))


def test_modes_and_comparison_take_the_ends_of_the_share() -> None:
    open_, closed = (
        setting_of(partly(share_low=0.0, share_high=1.0)),
        setting_of(partly(share_low=0.4, share_high=0.4)),
    )
    low, high = (stiffness_ratios(open_, side)["beam"] for side in ("low", "high"))  # type: ignore[arg-type]
    assert low < 1.0 < high
    assert stiffness_ratios(closed, "low") == {}
    assert at_end(closed, "low") is closed
    unjoined_ = setting_of(partly(joint="unjoined"))
    assert at_end(open_, "low").layout.sections.beam.iyy == pytest.approx(unjoined_.layout.sections.beam.iyy)
    wide, narrow = (
        find_vibration(s, p, begin_plan(p, BOOK)).modes[0]
        for s, p in (
            (open_, partly(share_low=0.0, share_high=1.0)),
            (closed, partly(share_low=0.4, share_high=0.4)),
        )
    )
    assert wide.low < narrow.low < narrow.high < wide.high
    assert wide.frequency == pytest.approx(narrow.frequency)


def test_a_section_of_an_older_file_opens_with_ends_half_way_to_either_bound() -> None:
    data = msgspec.to_builtins(PAIR)
    del data["share_low"], data["share_high"]
    opened = msgspec.convert(data, TwoProfiles)
    assert opened == PAIR
    assert share_band(opened) == (0.2, 0.4, 0.7)


def test_automatic_ends_are_told_by_path() -> None:
    found = share_ends(with_entries(partly(share_low=0.1), base__section=PAIR).machine)
    assert found["machine.gantry.beam.section.share_low"] == 0.1
    assert found["machine.base.section.share_high"] == pytest.approx(0.7)
    assert len(found) == 4
