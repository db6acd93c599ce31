"""The base by itself against a continuous beam's closed form, a frame library, and a rigid table with one short leg."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from core.fields import band
from core.footing.feet import settle
from core.frame.assemble import self_weight
from core.machine.base import Base, Diagonals, Legs
from core.machine.layout import layout
from core.machine.project import Machine, replace_at
from core.materials import material
from core.model.setting import Setting
from core.model.standing import stand
from core.sections import RectangularHollow, RoundSolid, properties
from core.sections.book import stock_book

BOOK = stock_book()
STEEL = material("s235")


def exact(k):
    return band(k, k, k)


def standing_of(base):
    machine = replace_at(Machine(), "base", base)
    return stand(Setting(machine, layout(machine, BOOK), "likely", BOOK))


@pytest.mark.outside(
    what="reactions of a side beam on three supports under a rolling load, at eight places",
    source="Roark, beam on two supports, load anywhere; the middle support by compatibility with its give; Timoshenko shear",
    status="memory high",
    tolerance="5e-4 of the load (the thin legs resist turning a little)",
)
def test_side_beam_over_three_supports():
    section = RectangularHollow(height=0.06, width=0.06, wall=0.004, finish="cold formed")
    # Wires for legs: they carry along their length and hardly resist turning.
    wire = RoundSolid(diameter=0.006)
    legs = Legs(section=wire, height=2.0, cross_section=wire, low_cross=0.0, foot_stiffness=exact(1e9))
    base = standing_of(Base(section=section, material="s235", supports=3, support_inset=0.1, stand=legs))
    first, middle, last = (foot.y for foot in base.feet[:3])
    span = last - first
    assert middle - first == pytest.approx(span / 2.0)
    p = properties(section, BOOK)
    bend, shear = STEEL.young * p.iyy, STEEL.shear * p.avz
    soft = 1e-9 + 2.0 / (STEEL.young * np.pi * 0.003**2)  # of a foot with its leg, m/N
    places = np.linspace(first + 0.03, last - 0.02, 8)
    height = base.at_feet(base.rails(places, np.array([0.0])))
    reactions = -height * base.foot_stiffness  # to a lift of 1 N on the left rail, then on the right one
    for place, found in zip(places, reactions, strict=True):
        a = min(place - first, last - place)  # from the nearer end
        sinks = a * (3.0 * span**2 - 4.0 * a**2) / (48.0 * bend) + a / (2.0 * shear) + soft / 2.0
        per_newton = span**3 / (48.0 * bend) + span / (4.0 * shear) + 1.5 * soft
        in_the_middle = sinks / per_newton
        at_first = (last - place) / span - in_the_middle / 2.0
        want = np.array([at_first, in_the_middle, 1.0 - at_first - in_the_middle])
        assert -found[:3, 0] == pytest.approx(want, abs=5e-4)
        assert found[3:, 0] == pytest.approx(np.zeros(3), abs=5e-4)
        assert -found[3:, 1] == pytest.approx(want, abs=5e-4)


SIDE = {"height": 0.1, "width": 0.08, "wall": 0.004, "finish": "cold formed"}
LEG = {"height": 0.07, "width": 0.07, "wall": 0.003, "finish": "cold formed"}
CROSS = {"height": 0.06, "width": 0.04, "wall": 0.003, "finish": "cold formed"}
BRACE = {"height": 0.05, "width": 0.03, "wall": 0.003, "finish": "cold formed"}
FOOT, HEIGHT, LOW = 4e7, 0.7, 0.3


def braced():
    """A table on six legs with crossed diagonals in every bay and end frame; figures invented for this test."""
    section = {name: RectangularHollow(**values) for name, values in
               (("side", SIDE), ("leg", LEG), ("cross", CROSS), ("brace", BRACE))}  # fmt: skip
    legs = Legs(
        section=section["leg"], height=HEIGHT, cross_section=section["cross"], low_cross=LOW,
        foot_stiffness=exact(FOOT),
        diagonals=Diagonals(section=section["brace"], along="every bay", across="end frames", crossed=True),
    )  # fmt: skip
    return Base(section=section["side"], material="s235", supports=3, support_inset=0.15, stand=legs), section


class Twin:
    """The same table in the library's own terms, built from the description's numbers."""

    def __init__(self, ops, section):
        self.ops, self.section, self.count, self.places = ops, section, 0, {}

    def node(self, name, xyz):
        self.count += 1
        self.ops.node(self.count, *map(float, xyz))
        self.places[name] = (self.count, np.array(xyz, dtype=float))

    def tied(self, name, shift):
        """A node on a rigid arm."""
        number, place = self.places[name]
        if not np.any(shift):
            return number
        self.count += 1
        self.ops.node(self.count, *map(float, place + shift))
        self.ops.rigidLink("beam", number, self.count)
        return self.count

    def bar(self, a, b, kind, up, start=(0, 0, 0), end=(0, 0, 0)):
        ends = self.tied(a, np.array(start, float)), self.tied(b, np.array(end, float))
        self.count += 1
        tag, p = self.count, properties(self.section[kind], BOOK)
        self.ops.geomTransf("Linear", tag, *map(float, up))
        stuff = (STEEL.young, STEEL.shear, p.area, p.it, p.iyy, p.izz, p.avy, p.avz)
        self.ops.element("ElasticTimoshenkoBeam", tag, *ends, *map(float, stuff), tag)

    def foot(self, name):
        number, place = self.places[name]
        self.count += 1
        ground = self.count
        self.ops.node(ground, *map(float, place))
        self.ops.fix(ground, 1, 1, 1, 1, 1, 1)
        self.ops.uniaxialMaterial("Elastic", ground, FOOT)
        self.count += 1
        self.ops.element(
            "zeroLength", self.count, ground, number, "-mat", ground, ground, ground, "-dir", 1, 2, 3
        )


def build_twin(ops, base, section, lay, extra):
    ops.wipe()
    ops.model("basic", "-ndm", 3, "-ndf", 6)
    twin = Twin(ops, section)
    half = lay.side_beam_length / 2.0
    supports = [lay.side_y + k * (half - 0.15) for k in (-1, 0, 1)]
    places = sorted([lay.side_y - half, *supports, lay.side_y + half, *extra])
    down, inward = (0.0, 0.0, -SIDE["height"] / 2.0), SIDE["width"] / 2.0
    for side, sign in (("left", -1.0), ("right", 1.0)):
        for y in places:
            twin.node((side, y), (sign * lay.side_x, y, lay.side_z))
        for a, b in pairwise(places):
            twin.bar((side, a), (side, b), "side", (0, 0, 1))
        floor = lay.side_z - SIDE["height"] / 2.0 - HEIGHT
        for k, y in enumerate(supports):
            twin.node((side, "foot", k), (sign * lay.side_x, y, floor))
            twin.node((side, "knee", k), (sign * lay.side_x, y, floor + LOW * HEIGHT))
            twin.bar((side, y), (side, "knee", k), "leg", (0, 1, 0), start=down)
            twin.bar((side, "knee", k), (side, "foot", k), "leg", (0, 1, 0))
            twin.foot((side, "foot", k))
        for k in range(2):
            twin.bar((side, "knee", k), (side, "knee", k + 1), "cross", (0, 0, 1))
            for a, b in ((k, k + 1), (k + 1, k)):
                twin.bar((side, "knee", a), (side, supports[b]), "brace", (0, 0, 1), end=down)
    for k, y in enumerate(supports):
        twin.bar(("left", y), ("right", y), "cross", (0, 0, 1), (inward, 0, 0), (-inward, 0, 0))
        twin.bar(("left", "knee", k), ("right", "knee", k), "cross", (0, 0, 1))
        if k != 1:
            for a, b in (("left", "right"), ("right", "left")):
                twin.bar((a, "knee", k), (b, y), "brace", (0, 0, 1), end=down)
    return twin


@pytest.mark.outside(
    what="a base on six legs with crossed diagonals: heights of both rails and of all feet under a load between supports",
    source="OpenSees through openseespy: ElasticTimoshenkoBeam, zeroLength springs, rigidLink beam; built from the description",
    status="reference library",
    tolerance="1e-6 of the largest movement",
)
@pytest.mark.parametrize("place", [-0.93, 0.21])
def test_base_with_diagonals_against_a_frame_library(place):
    ops = pytest.importorskip("openseespy.opensees", exc_type=ImportError)
    base, section = braced()
    ours = standing_of(base)
    lay = ours.setting.layout
    twin = build_twin(ops, base, section, lay, [place])
    ops.timeSeries("Linear", 1)
    ops.pattern("Plain", 1, 1)
    ops.load(twin.places[("left", place)][0], 0.0, 0.0, -1000.0, 0.0, 0.0, 0.0)
    ops.constraints("Transformation")
    ops.numberer("RCM")
    ops.system("UmfPack")
    ops.algorithm("Linear")
    ops.integrator("LoadControl", 1.0)
    ops.analysis("Static")
    assert ops.analyze(1) == 0
    want_rails = [ops.nodeDisp(twin.places[(side, place)][0], 3) for side in ("left", "right")]
    want_feet = [
        ops.nodeDisp(twin.places[(side, "foot", k)][0], 3) for side in ("left", "right") for k in range(3)
    ]
    ops.wipe()
    points = ours.rails(np.array([place]), np.array([0.0]))
    rails = -1000.0 * ours.between(points, points)[0, :, 0]
    feet = -1000.0 * ours.at_feet(points)[0, :, 0]
    size = max(map(abs, want_rails))
    assert rails == pytest.approx(want_rails, abs=1e-6 * size)
    assert feet == pytest.approx(want_feet, abs=1e-6 * size)
    assert -ours.foot_stiffness * feet.sum() == pytest.approx(1000.0)


@pytest.mark.outside(
    what="rigid table on four alike springs with one short leg: forces while it stands and after it lifts",
    source="statics: the fourth leg's share follows from the warped floor, W/4 - k g/4; three legs carry by moments",
    status="computed",
    tolerance="1e-9; 1 % for the machine's base, whose frame is not quite rigid",
)
def test_rigid_table_with_one_short_leg():
    k, load, a, b = 5e4, 2000.0, 0.7, 1.3
    corners = np.array([[-a, -b], [-a, b], [a, -b], [a, b]])
    modes = np.column_stack([np.ones(4), corners])
    give = modes @ np.linalg.solve(k * modes.T @ modes, modes.T)  # of a rigid plate on its springs
    height = -give @ np.full(4, load / 4.0)
    for gap in (0.0, 0.01, 0.039):  # lifts from W/k = 0.04 m on
        _, press, clear = settle(height, np.array([gap, 0.0, 0.0, 0.0]), give, k, True)
        warp = k * gap / 4.0
        assert press == pytest.approx([load / 4 - warp, load / 4 + warp, load / 4 + warp, load / 4 - warp])
        assert clear.max() == 0.0
    _, press, clear = settle(height, np.array([0.05, 0.0, 0.0, 0.0]), give, k, True)
    assert press == pytest.approx([0.0, load / 2, load / 2, 0.0], abs=1e-6)
    assert clear[0] > 0.0
    base = standing_of(Base(supports=2, stand=Legs(foot_stiffness=exact(1e3))))
    own = base.moved[np.ix_(base.foot_dofs, base.foot_dofs)]
    even = base.weight[base.foot_dofs]
    assert -1e3 * even.sum() == pytest.approx(-self_weight(base.frame)[2::6].sum())
    gap = 0.01
    _, press, _ = settle(even, np.array([gap, 0.0, 0.0, 0.0]), own, 1e3, True)
    shifted = press + 1e3 * even
    assert shifted == pytest.approx(1e3 * gap / 4.0 * np.array([-1.0, 1.0, 1.0, -1.0]), rel=1e-2)
