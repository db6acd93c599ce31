"""A complete machine against the same machine built by hand in a general-purpose frame library: compliance, budget, slopes."""

from __future__ import annotations

import numpy as np
import pytest

from core.advice.slopes import find_slopes
from core.machine.layout import layout
from core.machine.loads import DirectForce, LoadCase
from core.model.condensed import condense_gantry
from core.model.moving import condense_head, ride, tip_compliance
from core.model.place import solve_place
from core.model.setting import Setting
from core.sections import PropertyBook
from core.stiffness import find_budget
from tests.validation.gantry_twin import SIZES, described, solve_twin


@pytest.mark.outside(
    what="a complete gantry on its base: all nine entries of the tip compliance at three places",
    source="OpenSees through openseespy; the frame is built by hand from the description's numbers",
    status="reference library",
    tolerance="1e-6 of the largest entry (measured: about 1e-9)",
)
@pytest.mark.parametrize(("x", "y"), [(0.0, 0.0), (0.37, -0.62), (-0.55, 0.81)])
def test_tip_compliance_of_a_whole_machine(x, y):
    library = pytest.importorskip("openseespy.opensees", exc_type=ImportError)
    machine = described()
    book = PropertyBook()
    setting = Setting(machine, layout(machine, book), "likely", book)
    gantry = condense_gantry(setting, np.array([y]))
    ours = tip_compliance(gantry, ride(setting, gantry, np.array([x])), condense_head(setting))[0, 0]
    theirs = solve_twin(library, x, y)
    assert np.abs(ours - theirs).max() <= 1e-6 * np.abs(theirs).max()


@pytest.mark.outside(
    what="the compliance budget: the share of every component in a whole gantry's deflection",
    source="OpenSees through openseespy: what its deflection does when that component alone is made a little stiffer; for a "
    "linear system a share of the strain energy is minus d ln C / d ln k",
    status="reference library",
    tolerance="2e-6 of the whole (central differences of a thousandth)",
)
def test_every_share_of_the_budget_is_what_stiffening_that_component_brings():
    library = pytest.importorskip("openseespy.opensees", exc_type=ImportError)
    machine, x, y, step = described(), 0.37, -0.62, 1e-3
    force = np.array([40.0, 30.0, 10.0])
    book = PropertyBook()
    setting = Setting(machine, layout(machine, book), "likely", book)
    ours = dict(find_budget(solve_place(setting, x, y), "cut", force).shares)

    def along(**times):
        return force @ solve_twin(library, x, y, times) @ force

    whole = along()
    for part, share in ours.items():
        gain = (along(**{part: 1.0 - step}) - along(**{part: 1.0 + step})) / (2.0 * step * whole)
        assert share == pytest.approx(gain, abs=2e-6), part
    assert min(ours.values()) > 0.0


@pytest.mark.outside(
    what="how a whole gantry's deflection follows eleven sizes: travel, clearance, plates, spreads, reach, cutter",
    source="OpenSees through openseespy: the hand-built frame with that size a little larger and a little smaller",
    status="reference library",
    tolerance="2e-5 of the deflection for each relative change (central differences of a thousandth)",
)
def test_slopes_of_sizes_are_what_changing_them_brings():
    library = pytest.importorskip("openseespy.opensees", exc_type=ImportError)
    machine, x, y, step = described(), 0.37, -0.62, 1e-3
    force = np.array([40.0, 30.0, 10.0])
    book = PropertyBook()
    setting = Setting(machine, layout(machine, book), "likely", book)
    case = LoadCase(name="cut", load=DirectForce(x=40.0, y=30.0, z=10.0), any_direction=False)
    ours = {slope.path: slope.relative for slope in find_slopes(setting, case, x, y)}

    def moved(**changed):
        return np.linalg.norm(solve_twin(library, x, y, sizes=changed) @ force)

    whole = moved()
    for path, value in SIZES.items():
        more, less = (moved(**{path: value * factor}) for factor in (1.0 + step, 1.0 - step))
        assert ours[f"machine.{path}"] == pytest.approx((more - less) / (2.0 * step * whole), abs=2e-5), path
