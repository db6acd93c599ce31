"""A base solved once serves every design that stands on it alike, and no other."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.machine.layout import layout
from core.machine.project import Machine, replace_at
from core.model.condensed import condense_gantry, solve_base
from core.model.setting import Setting
from core.sections import PropertyBook, RectangularHollow

Y = np.array([-0.7, 0.0, 0.4])


def setting_of(machine):
    book = PropertyBook()
    return Setting(machine, layout(machine, book), "likely", book)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("gantry.beam.section", RectangularHollow(height=0.2, width=0.1, wall=0.006)),
        ("head.reach", 0.12),
        ("saddle.thickness", 0.03),
        ("work.travel_x", 1.7),
        ("base.top", -0.02),
        ("base.supports", 5),
        ("gantry.foot_plate.thickness", 0.03),
        ("gantry.foot_plate.upright_place", 0.04),
        ("rigid", ("stand",)),
    ],
)
def test_a_base_of_another_design_changes_no_figure(path, value):
    under = solve_base(setting_of(Machine()), Y)
    other = setting_of(replace_at(Machine(), path, value))
    own, shared = condense_gantry(other, Y), condense_gantry(other, Y, under)
    size = np.abs(own.flexibility).max()
    assert np.allclose(own.flexibility, shared.flexibility, rtol=0, atol=1e-9 * size)
    assert np.allclose(own.weight, shared.weight, rtol=0, atol=1e-9 * np.abs(own.weight).max())


def test_the_base_is_not_solved_again_for_another_beam():
    under = solve_base(setting_of(Machine()), Y)
    softer = replace(under, soft=2.0 * under.soft)
    other = setting_of(
        replace_at(Machine(), "gantry.beam.section", RectangularHollow(height=0.2, width=0.1, wall=0.006))
    )
    with_shared, own = condense_gantry(other, Y, softer), condense_gantry(other, Y)
    assert np.abs(with_shared.flexibility).max() > 1.01 * np.abs(own.flexibility).max()
