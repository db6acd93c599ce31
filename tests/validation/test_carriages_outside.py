"""Carriages against outside figures: life and safety formulas, a plate on four carriages by hand, a whole gantry."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq

from core.guides import for_100_km, life, static_safety
from core.guides.forces import carriage_forces
from core.guides.life import lost_preload, with_preload
from core.machine.layout import layout
from core.machine.project import COMPONENTS, Machine, replace_at
from core.model.setting import Setting
from core.sections import PropertyBook
from tests.validation import gantry_twin as twin

BOOK = PropertyBook()
G = 9.80665


@pytest.mark.outside(
    what="rating life of a ball carriage: C 11.38 kN, P 1.5 kN gives 43 667 km",
    source="ISO 14728-1, L10 = (C/P)^3 x 100 km; worked figures found in the trade, recomputed",
    status="found",
    tolerance="half of the last printed kilometre",
)
def test_life_of_the_worked_figures():
    assert float(life(11.38e3, 1.5e3)) / 1000.0 == pytest.approx(43667.0, abs=0.5)


@pytest.mark.outside(
    what="a rating for 50 km is 2^(1/3) times the one for 100 km, and both give one life",
    source="ISO 14728-1: L10 grows with (C/P)^3, so half the distance asks for C smaller by 2^(1/3)",
    status="computed",
    tolerance="1e-12",
)
def test_rating_for_50_km():
    assert for_100_km(10.0e3 * 2.0 ** (1.0 / 3.0), "50 km") == pytest.approx(10.0e3, rel=1e-12)
    by_50 = (12.6e3 / 2.0e3) ** 3 * 50.0e3
    assert float(life(for_100_km(12.6e3, "50 km"), 2.0e3)) == pytest.approx(by_50, rel=1e-12)


@pytest.mark.outside(
    what="static safety S0 = C0/P0: C0 20 kN under 4 kN gives 5",
    source="ISO 14728-2, static load safety factor",
    status="memory high",
    tolerance="1e-12",
)
def test_static_safety():
    assert float(static_safety(20.0e3, 4.0e3)) == pytest.approx(5.0, rel=1e-12)


@pytest.mark.outside(
    what="load in the balls of a preloaded carriage, and the load at which the preload is lost",
    source="two opposed rows of Hertzian point contacts, force as approach^1.5, solved exactly by root finding",
    status="computed",
    tolerance="exact at both ends, 3 % between (the common formula takes the approach to grow evenly)",
)
def test_preload_by_opposed_contacts():
    preload = 240.0
    for share in (0.0, 0.2, 0.5, 0.8, 1.0):
        outer = share * float(lost_preload(np.array(preload)))
        shift = brentq(
            lambda d, f=outer: preload * ((1 + d) ** 1.5 - max(1 - d, 0.0) ** 1.5) - f, 0.0, 1.0 + 1e-12
        )
        exact = preload * (1 + shift) ** 1.5
        found = float(with_preload(np.array(outer), np.array(preload)))
        assert found == pytest.approx(exact, rel=1e-9 if share in (0.0, 1.0) else 0.03)


@pytest.mark.outside(
    what="a stiff plate on four carriages under an offset force along each axis: normal and lateral force of every carriage",
    source="statics by hand: equal springs share a force alike and a moment by their lever arms",
    status="computed",
    tolerance="1e-3 of the largest (parts held rigid give way a little)",
)
def test_stiff_plate_on_four_carriages():
    stiff = tuple(c for c in COMPONENTS if c not in ("x_guides", "x_drive"))
    machine = replace_at(Machine(), "rigid", stiff)
    lay = layout(machine, BOOK)
    found = carriage_forces(Setting(machine, lay, "likely", BOOK), np.zeros(1), np.zeros(1))
    spread, spacing = machine.x_guides.spread, machine.x_guides.rail_spacing
    (rail_y, _), _ = lay.x_carriages
    down = lay.beam_z - lay.tip_z  # the tip below the middle of the carriages
    front = rail_y - lay.spindle_y  # and in front of them
    upper, right = np.array([-1.0, -1.0, 1.0, 1.0]), np.array([-1.0, 1.0, -1.0, 1.0])
    # A push along +X swings the plate about Z with arm `front`, which the normals hold, and lifts its right-hand side with
    # arm `down`, which the laterals hold (positive: the saddle above its rail); the drive holds the push itself.
    along_x = right * front / (2.0 * spread), right * down / (2.0 * spread)
    # A push along +Y presses all four and turns about X: the lower rail presses, the upper is pulled.
    along_y = 0.25 - upper * down / (2.0 * spacing), np.zeros(4)
    # A lift is shared by the laterals; its arm in front turns the plate about X, upper rail pressed.
    lift = upper * front / (2.0 * spacing), np.full(4, 0.25)
    for column, (normal, lateral) in enumerate((along_x, along_y, lift)):
        ours = found.pressing[0, :4, column], found.lateral[0, :4, column]
        largest = max(np.abs(normal).max(), np.abs(lateral).max())
        assert np.abs(ours[0] - normal).max() <= 1e-3 * largest
        assert np.abs(ours[1] - lateral).max() <= 1e-3 * largest


class Noted(twin.Twin):
    """The twin that keeps its members and springs."""

    def __init__(self, ops):
        super().__init__(ops)
        self.members, self.springs = [], []

    def member(self, a, b, up, stuff, s, start=None, end=None):
        super().member(a, b, up, stuff, s, start, end)
        ends = [self.places[n][1] if p is None else np.array(p) for n, p in ((a, start), (b, end))]
        # The element's own number is the one taken first; the ends' extra nodes come after it.
        self.members.append((max(self.ops.getEleTags()), ends, np.array(up, dtype=float), s))

    def spring(self, a, b, point, direction, k, turning=False):
        super().spring(a, b, point, direction, k, turning)
        if not turning:
            place = tuple(round(float(v), 6) for v in point)
            self.springs.append((max(self.ops.getEleTags()), a, b, place, np.array(direction, dtype=float)))


# Line masses, kg/m, by hand: steel 7850, aluminium 2700 kg/m3; rails 2.2 (size 20) and 3.1 (size 25).
BEAM_LENGTH, X_RAIL = 1.2 + 0.3 + 0.1 + 0.02 + 2 * 0.06, 1.2 + 0.2 + 0.075 + 0.02
LINE = {
    id(twin.BEAM): 2700 * 3.1e-3 + (2 * 2.2 * X_RAIL + 3.0) / BEAM_LENGTH,
    id(twin.POST): 7850 * 4.0e-3,
    id(twin.SIDE): 7850 * 1.84e-3 + 3.1,
}
SADDLE = 7850 * 0.3 * 0.25 * 0.02 + 3.0 + 4 * 0.4 + 1.5
HEAD = 9.0
FOOT = {"a": 0.6, "m": 1.5, "b": 0.6}


def mass_loads(t, field, moving):
    """Loads of all moving masses in a field (3,) of m/s2. `moving` (part) tells which parts feel it."""
    for tag, (start, end), up, s in t.members:
        line = LINE.get(id(s), 7850 * 0.02 * 0.12 if s["area"] == 0.02 * 0.12 else 0.0)
        part = "base" if s is twin.SIDE else "gantry"
        if line == 0.0 or not moving(part):
            continue
        x = (end - start) / np.linalg.norm(end - start)
        y = np.cross(up, x) / np.linalg.norm(np.cross(up, x))
        wx, wy, wz = (float(line * field @ axis) for axis in (x, y, np.cross(x, y)))
        t.ops.eleLoad("-ele", tag, "-type", "-beamUniform", wy, wz, wx)
    lumps = [("saddle", SADDLE, "saddle"), ("nose", HEAD, "head")]
    lumps += [(f"{side}f{k}", m, "gantry") for side in "LR" for k, m in FOOT.items()]
    for name, mass, part in lumps:
        if moving(part):
            t.ops.load(t.places[name][0], *(float(mass * v) for v in field), 0.0, 0.0, 0.0)


# Which parts feel each column: gravity all, X saddle and head, Y all above the side beams, Z the head alone.
FIELDS = {
    3: ((0.0, 0.0, -G), {"base", "gantry", "saddle", "head"}),
    4: ((-1.0, 0.0, 0.0), {"saddle", "head"}),
    5: ((0.0, -1.0, 0.0), {"gantry", "saddle", "head"}),
    6: ((0.0, 0.0, -1.0), {"head"}),
}


def twin_forces(library, x, y, column):
    """Normal and lateral force of the twin's carriages, in our order, under one unit load."""
    library.wipe()
    library.model("basic", "-ndm", 3, "-ndf", 6)
    t = Noted(library)
    tip = twin.build_twin(t, x, y)
    library.timeSeries("Constant", 1)
    library.pattern("Plain", 1, 1)
    if column < 3:
        library.load(tip, *(1.0 if k == column else 0.0 for k in range(6)))
    else:
        field, parts = FIELDS[column]
        mass_loads(t, np.array(field), parts.__contains__)
    library.system("FullGeneral")
    library.numberer("Plain")
    library.constraints("Transformation")
    library.algorithm("Linear")
    library.integrator("LoadControl", 1.0)
    library.analysis("Static", "-noWarnings")
    assert library.analyze(1) == 0
    forces = {"normal": {}, "lateral": {}}
    for tag, a, b, place, d in t.springs:
        pull = float(np.array(library.eleForce(tag))[6:9] @ d)
        kind, key = _which(a, b, place, d)
        if kind:
            forces[kind][key] = pull
    library.wipe()
    order = sorted(forces["normal"])
    return np.array([forces["normal"][k] for k in order]), np.array([forces["lateral"][k] for k in order])


def _which(a, b, place, d):
    """Kind of a carriage's spring, and a key that sorts as ours: X by rail and x, Y by side and y, Z by rail and height."""
    x, y, z = place
    if b == "saddle" and a in ("b2", "b3"):
        return "normal" if d[1] else "lateral", (0, z, x)
    if b is not None and b[1:] in ("fa", "fb") and "s" in a:
        return "normal" if d[2] else "lateral", (1, x, y)
    if a == "front" and b == "head" and not d[2]:
        return "normal" if d[1] else "lateral", (2, x, z)
    return "", None


@pytest.mark.outside(
    what="forces on all twelve carriages of a complete gantry: unit forces, all weights, and each axis speeding up",
    source="OpenSees through openseespy; frame and masses built by hand from the description's numbers",
    status="reference library",
    tolerance="1e-6 of the largest force of each load",
)
@pytest.mark.parametrize(("x", "y"), [(0.0, 0.0), (0.37, -0.62)])
def test_carriage_forces_of_a_whole_machine(x, y):
    library = pytest.importorskip("openseespy.opensees", exc_type=ImportError)
    machine = twin.described()
    found = carriage_forces(
        Setting(machine, layout(machine, BOOK), "likely", BOOK), np.array([x]), np.array([y])
    )
    presses = np.array([c.presses for c in found.carriages])
    for column in range(7):
        normal, lateral = twin_forces(library, x, y, column)
        largest = max(np.abs(normal).max(), np.abs(lateral).max())
        assert np.abs(found.pressing[0, :, column] - presses * normal).max() <= 1e-6 * largest
        assert np.abs(found.lateral[0, :, column] - lateral).max() <= 1e-6 * largest
