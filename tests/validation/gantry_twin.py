"""A complete machine described once for our program, and built a second time by hand for a general-purpose frame library.

Every place in the second one follows from the description's own numbers; nothing is read from our layout, model or export.
"""

from __future__ import annotations

import numpy as np

from core.fields import band
from core.machine.base import Base, Floor
from core.machine.drives import KnownStiffness
from core.machine.gantry import FootPlate, Gantry, GantryBeam, Upright
from core.machine.guides import Guides
from core.machine.head import Cutter, Head, Saddle
from core.machine.project import Machine, WorkArea
from core.sections import Datasheet

BEAM = {
    "width": 0.08,
    "height": 0.16,
    "area": 3.1e-3,
    "iyy": 9.0e-6,
    "izz": 2.6e-6,
    "it": 4.9e-6,
    "avy": 1.1e-3,
    "avz": 1.6e-3,
}
POST = {
    "width": 0.02,
    "height": 0.2,
    "area": 4.0e-3,
    "iyy": 13.3e-6,
    "izz": 0.133e-6,
    "it": 0.5e-6,
    "avy": 3.3e-3,
    "avz": 3.4e-3,
}
SIDE = {
    "width": 0.1,
    "height": 0.1,
    "area": 1.84e-3,
    "iyy": 2.7e-6,
    "izz": 2.7e-6,
    "it": 4.4e-6,
    "avy": 0.8e-3,
    "avz": 0.8e-3,
}


def sheet(name, values):
    return Datasheet(name=name, wall=0.004, **values)


def described():
    """The machine; figures invented for this test."""
    exact = lambda k: band(k, k, k)  # noqa: E731  # one line says it all
    return Machine(
        work=WorkArea(travel_x=1.2, travel_y=2.0, clearance=0.2, margin_x=0.05, margin_y=0.03),
        gantry=Gantry(
            beam=GantryBeam(section=sheet("beam", BEAM), material="en_aw_6082_t6", overhang=0.06),
            upright=Upright(
                section=sheet("post", POST), material="s235", seat="on top",
                joint_stiffness=exact(4e8), joint_turning=exact(3e5),
            ),
            foot_plate=FootPlate(thickness=0.02, width=0.12, upright_place=0.03, material="s235"),
        ),
        x_guides=Guides(
            size=20, carriages=2, spread=0.2, rail_spacing=0.1,
            normal_stiffness=exact(2e8), lateral_stiffness=exact(1.5e8),
        ),
        y_guides=Guides(
            size=25, carriages=2, spread=0.3, normal_stiffness=exact(3e8), lateral_stiffness=exact(2e8)
        ),
        saddle=Saddle(width=0.3, height=0.25, thickness=0.02, material="s235"),
        head=Head(
            travel=0.15, plate_width=0.16, plate_thickness=0.018, material="s235",
            guides=Guides(
                size=15, carriages=2, spread=0.11, rail_spacing=0.09,
                normal_stiffness=exact(1.2e8), lateral_stiffness=exact(0.9e8),
            ),
            drive=KnownStiffness(stiffness=exact(5e7), mass_each=0.0),
            carriages_above_table=0.23, mount_above_tip=0.15, reach=0.07,
            mount_stiffness=exact(7e7), mount_turning=exact(2e5),
        ),
        cutter=Cutter(diameter=0.008, stick_out=0.035, material="s235"),
        x_drive=KnownStiffness(stiffness=exact(3e7)),
        y_drive=KnownStiffness(stiffness=exact(2.2e7)),
        base=Base(
            section=sheet("side", SIDE), material="s235", top=-0.04, supports=3, support_inset=0.1,
            stand=Floor(support_stiffness=exact(2e8), support_turning=exact(1.7e5)),
        ),
    )  # fmt: skip


SIZES = {
    "work.travel_x": 1.2,
    "work.clearance": 0.2,
    "x_guides.spread": 0.2,
    "saddle.thickness": 0.02,
    "head.plate_thickness": 0.018,
    "head.reach": 0.07,
    "head.carriages_above_table": 0.23,
    "head.guides.spread": 0.11,
    "head.mount_above_tip": 0.15,
    "cutter.diameter": 0.008,
    "cutter.stick_out": 0.035,
}
"""Sizes of the description that a test changes, m, by their place below the machine."""


class Twin:
    """The same machine in the library's own terms.

    `part` is the component of the compliance budget that members and springs belong to from here on; `times` is what the
    stiffness of a component is multiplied by.
    """

    def __init__(self, ops, times=None):
        self.ops, self.count, self.places = ops, 0, {}
        self.part, self.times = "", times or {}

    def node(self, name, xyz):
        self.count += 1
        self.ops.node(self.count, *map(float, xyz))
        self.places[name] = (self.count, np.array(xyz, dtype=float))
        return self.count

    def at(self, name, point):
        """A node at a point, tied rigidly to another node."""
        number, place = self.places[name]
        if np.allclose(place, point, atol=1e-12):
            return number
        self.count += 1
        self.ops.node(self.count, *map(float, point))
        self.ops.rigidLink("beam", number, self.count)
        return self.count

    def member(self, a, b, up, stuff, s, start=None, end=None):
        self.count += 1
        tag = self.count
        ends = [self.at(n, self.places[n][1] if p is None else p) for n, p in ((a, start), (b, end))]
        self.ops.geomTransf("Linear", tag, *up)
        values = (
            *(self.times.get(self.part, 1.0) * modulus for modulus in stuff),
            s["area"],
            s["it"],
            s["iyy"],
            s["izz"],
            s["avy"],
            s["avz"],
        )
        self.ops.element("ElasticTimoshenkoBeam", tag, *ends, *map(float, values), tag)

    def spring(self, a, b, point, direction, k, turning=False):
        d = np.array(direction, dtype=float)
        other = np.array([0.0, 0.0, 1.0]) if abs(d[2]) < 0.5 else np.array([1.0, 0.0, 0.0])
        self.count += 1
        tag = self.count
        ends = []
        for name in (a, b):
            self.count += 1
            self.ops.node(self.count, *map(float, point))
            if name is None:
                self.ops.fix(self.count, 1, 1, 1, 1, 1, 1)
            else:
                self.ops.rigidLink("beam", self.places[name][0], self.count)
            ends.append(self.count)
        self.ops.uniaxialMaterial("Elastic", tag, float(k) * self.times.get(self.part, 1.0))
        where = 4 if turning else 1
        self.ops.element("zeroLength", tag, *ends, "-mat", tag, "-dir", where, "-orient", *d, *other)

    def six(self, a, b, point, shifting, turning):
        for d in np.eye(3):
            self.spring(a, b, point, d, shifting)
            self.spring(a, b, point, d, turning, turning=True)


def rectangle(height, width):
    """Solid rectangle: Cowper's shear coefficient with nu 0.3; torsion by the exact series (Timoshenko, Theory of
    Elasticity, art. 109)."""
    a, b = max(height, width), min(height, width)
    n = np.arange(1, 200, 2)
    torsion = a * b**3 / 3 * (1 - 192 * b / (np.pi**5 * a) * np.sum(np.tanh(n * np.pi * a / (2 * b)) / n**5))
    shear = height * width * 10 * 1.3 / (12 + 11 * 0.3)
    return {
        "area": height * width,
        "iyy": width * height**3 / 12,
        "izz": height * width**3 / 12,
        "it": torsion,
        "avy": shear,
        "avz": shear,
    }


def build_twin(t, x, tool_y, sizes=None, beam=None):
    """Build it into a twin with the tool at x, tool_y, perhaps with another beam; the node of the tool's tip."""
    bar = BEAM if beam is None else beam
    (
        travel_x,
        clearance,
        spread_x,
        saddle,
        plate_z,
        reach,
        carriages_z,
        spread_z,
        mount_z,
        shank,
        stick_out,
    ) = {**SIZES, **(sizes or {})}.values()
    steel, alu = (210e9, 210e9 / 2.6), (70e9, 27e9)
    spacing = travel_x + 0.3 + 2 * 0.05 + 0.02  # travel, saddle, margins, upright
    # Rail size 20: 30 mm assembly height; 25: 36 mm and an 84 mm carriage; 15: 24 mm.
    beam_y, beam_z = 0.03, clearance + bar["height"] / 2
    saddle_front = beam_y - bar["width"] / 2 - 0.030 - saddle
    saddle_y, head_y = saddle_front + saddle / 2, saddle_front - 0.024 - plate_z / 2
    spindle_y = saddle_front - 0.024 - plate_z - reach
    g = tool_y - spindle_y
    length = 2.0 + 0.3 + 0.084 + 2 * 0.03
    first, last = -spindle_y - length / 2, -spindle_y + length / 2
    foot_z = -0.04 + 0.036 + 0.01
    supports = [first + 0.1, -spindle_y, last - 0.1]
    for sign, side in ((-1, "L"), (1, "R")):
        sx = sign * spacing / 2
        stops = sorted([first, last, *supports, g - 0.15, g + 0.15])
        for k, y in enumerate(stops):
            t.node(f"{side}s{k}", (sx, y, -0.09))
        t.part = "side_beams"
        for k in range(len(stops) - 1):
            t.member(f"{side}s{k}", f"{side}s{k + 1}", (0, 0, 1), steel, SIDE)
        t.part = "stand"
        for y in supports:
            name = f"{side}s{stops.index(y)}"
            t.six(name, None, (sx, y, -0.14), 2e8, 1.7e5)
        for name, y in (("a", g - 0.15), ("m", g + 0.03), ("b", g + 0.15)):
            t.node(f"{side}f{name}", (sx, y, foot_z))
        t.part = "foot_plates"
        plate = rectangle(0.02, 0.12)
        t.member(f"{side}fa", f"{side}fm", (0, 0, 1), steel, plate)
        t.member(f"{side}fm", f"{side}fb", (0, 0, 1), steel, plate)
        t.part = "y_guides"
        contact = foot_z - 0.01 - 0.018
        for name, y in (("a", g - 0.15), ("b", g + 0.15)):
            below = f"{side}s{stops.index(y)}"
            t.spring(below, f"{side}f{name}", (sx, y, contact), (0, 0, 1), 3e8)
            t.spring(below, f"{side}f{name}", (sx, y, contact), (1, 0, 0), 2e8)
        t.part = "y_drive"
        # The drive's pull runs along Y, so where along the side beam it is anchored is the start of the beam.
        t.spring(f"{side}s0", f"{side}fm", (sx, g, contact), (0, 1, 0), 2.2e7)
        t.part = "uprights"
        t.node(f"{side}u", (sx, g + 0.03, clearance))
        t.member(f"{side}fm", f"{side}u", (0, 1, 0), steel, POST, start=(sx, g + 0.03, foot_z + 0.01))
    stops = [
        -spacing / 2 - 0.06,
        -spacing / 2,
        x - spread_x / 2,
        x + spread_x / 2,
        spacing / 2,
        spacing / 2 + 0.06,
    ]
    for k, bx in enumerate(stops):
        t.node(f"b{k}", (bx, g + beam_y, beam_z))
    t.part = "beam"
    for k in range(5):
        t.member(f"b{k}", f"b{k + 1}", (0, 0, 1), alu, bar)
    t.part = "beam_joint"
    for name, beam, sign in (("Lu", "b1", -1), ("Ru", "b4", 1)):
        t.six(name, beam, (sign * spacing / 2, g + beam_y, clearance), 4e8, 3e5)
    t.node("saddle", (x, g + saddle_y, beam_z))
    t.part = "x_guides"
    rail_y = g + beam_y - bar["width"] / 2 - 0.015
    for z in (beam_z - 0.05, beam_z + 0.05):
        for beam, bx in (("b2", x - spread_x / 2), ("b3", x + spread_x / 2)):
            t.spring(beam, "saddle", (bx, rail_y, z), (0, 1, 0), 2e8)
            t.spring(beam, "saddle", (bx, rail_y, z), (0, 0, 1), 1.5e8)
    t.part = "x_drive"
    t.spring("b1", "saddle", (x, rail_y, beam_z), (1, 0, 0), 3e7)
    t.part = "saddle"
    t.node("front", (x, g + saddle_y, carriages_z))
    t.member("saddle", "front", (0, 1, 0), steel, rectangle(saddle, 0.3))
    t.node("head", (x, g + head_y, carriages_z))
    t.part = "z_guides"
    z_y = g + saddle_front - 0.012
    for dx in (-0.045, 0.045):
        for dz in (-spread_z / 2, spread_z / 2):
            t.spring("front", "head", (x + dx, z_y, carriages_z + dz), (0, 1, 0), 1.2e8)
            t.spring("front", "head", (x + dx, z_y, carriages_z + dz), (1, 0, 0), 0.9e8)
    t.part = "z_drive"
    t.spring("front", "head", (x, z_y, carriages_z), (0, 0, 1), 5e7)
    t.part = "head_plate"
    t.node("end", (x, g + head_y, mount_z))
    t.member("head", "end", (0, 1, 0), steel, rectangle(plate_z, 0.16))
    t.node("nose", (x, g + spindle_y, stick_out))
    t.part = "spindle_mount"
    t.six("end", "nose", (x, g + spindle_y, mount_z), 7e7, 2e5)
    tip = t.node("tip", (x, g + spindle_y, 0.0))
    inertia = np.pi * shank**4 / 64
    area = np.pi * shank**2 / 4
    shear = area * 6 * 1.3 / (7 + 6 * 0.3)  # Cowper, circle
    round_bar = {"area": area, "iyy": inertia, "izz": inertia, "it": 2 * inertia, "avy": shear, "avz": shear}
    t.part = "cutter"
    t.member("nose", "tip", (0, 1, 0), steel, round_bar)
    return tip


def solve_twin(library, x, y, times=None, sizes=None, beam=None):
    columns = []
    for axis in range(3):
        library.wipe()
        library.model("basic", "-ndm", 3, "-ndf", 6)
        tip = build_twin(Twin(library, times), x, y, sizes, beam)
        library.timeSeries("Constant", 1)
        library.pattern("Plain", 1, 1)
        library.load(tip, *(1.0 if k == axis else 0.0 for k in range(6)))
        library.system("FullGeneral")
        library.numberer("Plain")
        library.constraints("Transformation")
        library.algorithm("Linear")
        library.integrator("LoadControl", 1.0)
        library.analysis("Static", "-noWarnings")
        assert library.analyze(1) == 0
        columns.append(library.nodeDisp(tip)[:3])
    library.wipe()
    return np.array(columns).T
