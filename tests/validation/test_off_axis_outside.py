"""Beams whose centroid or shear centre lies beside their middle, or whose main axes lie askew: handbook and library."""

from __future__ import annotations

import json

import numpy as np
import pytest

from core.frame import FrameBuilder, solve
from core.frame.assemble import member_axes
from core.frame.subdivide import subdivide
from core.machine.layout import layout
from core.machine.project import Project
from core.materials import material
from core.model.export import frame_data
from core.model.setting import Setting, add_member
from core.modes import find_modes
from core.sections import Angle, Channel, PropertyBook, closed_properties, stock_book
from scripts import second_solver
from tests.frame.frames import random_frame
from tests.rank.test_rank import with_entries
from tests.validation.test_frame_libraries import agree, ops, put_nodes, run  # noqa: F401  (ops is a fixture)

STEEL = {"young": 210e9, "shear": 210e9 / 2.6}
L, P = 1.2, 800.0
CHANNEL = Channel(height=0.12, width=0.055, web=0.007, flange=0.009)


def cantilever(
    section: object, point: tuple[float, float], force: tuple[float, float], length: float = L
) -> np.ndarray:
    """(6,) movement of the end's middle of the box under a force (y, z) that is carried there from a point (y, z)."""
    project = with_entries(Project(), gantry__beam__section=section)
    setting = Setting(project.machine, layout(project.machine, stock_book()), "likely", PropertyBook())
    builder = FrameBuilder()
    builder.add_node("root", (0.0, 0.0, 0.0))
    builder.add_node("end", (length, 0.0, 0.0))
    shape = closed_properties(section)
    add_member(setting, builder, "beam", ("root", "end"), (0, 0, 1), shape, "s235", "beam", true_axis=True)
    builder.hold("root")
    frame = builder.build()
    loads = np.zeros(12)
    loads[7:9] = force
    loads[9] = point[0] * force[1] - point[1] * force[0]
    return np.asarray(solve(frame, loads).displacements[6:])


@pytest.mark.outside(
    what="cantilever channel loaded through its web's middle line: twist by P e, none when loaded through the shear centre",
    source="Timoshenko, Strength of Materials, and Roark's Formulas, Table 9.2: e = 3 b^2 / (h + 6 b), thin walls; P e L / G J",
    status="memory high",
    tolerance="1e-6",
)
def test_a_channel_loaded_through_its_web_twists() -> None:
    t = 0.004
    section = Channel(height=0.12 + t, width=0.05 + t / 2, web=t, flange=t)
    shape = closed_properties(section)
    web = t / 2 - section.width / 2
    e = 3 * 0.05**2 / (0.12 + 6 * 0.05)
    twist = cantilever(section, (web, 0.0), (0.0, -P))[3]
    assert twist == pytest.approx(-P * e * L / (material("s235").shear * shape.it), rel=1e-6)
    centred = cantilever(section, (web - e, 0.0), (0.0, -P))
    assert abs(centred[3]) < 1e-6 * abs(twist)


@pytest.mark.outside(
    what="cantilever angle under a load along one leg: both deflections of its centroid's axis",
    source="unsymmetrical bending, Timoshenko, Strength of Materials, and Roark's Formulas, ch. 8: "
    "w = P L^3 Izz / 3 E (Iyy Izz - Iyz^2), v = -P L^3 Iyz / 3 E (Iyy Izz - Iyz^2)",
    status="memory high",
    tolerance="1e-3 of each, the rest is give by shear, which the formula leaves out",
)
def test_an_angle_bends_sideways() -> None:
    section = Angle(height=0.05, width=0.035, thickness=0.004)
    p = closed_properties(section)
    young = material("s235").young
    at = (p.centroid_y + p.shear_centre_y, p.centroid_z + p.shear_centre_z)
    length = 3.0
    moved = cantilever(section, at, (0.0, -P), length)
    assert abs(moved[3]) < 1e-9
    determinant = p.iyy * p.izz - p.iyz**2
    down = -P * length**3 * p.izz / (3 * young * determinant)
    aside = P * length**3 * p.iyz / (3 * young * determinant)
    assert moved[2] == pytest.approx(down, rel=1e-3)
    assert moved[1] == pytest.approx(aside, rel=1e-3)
    assert abs(aside) > 0.2 * abs(down)


@pytest.mark.outside(
    what="cantilever channel pulled at its box's middle: bends by the eccentricity of the centroid",
    source="eccentric pull, Timoshenko, Strength of Materials: slope N c L / E Izz, lengthening N L (1 / E A + c^2 / E Izz)",
    status="memory high",
    tolerance="1e-12",
)
def test_a_pull_beside_the_centroid_bends() -> None:
    frame, p = _pulled()
    moved = solve(frame, np.array([0.0] * 6 + [P, 0, 0, 0, 0, 0])).displacements[6:]
    c, young = p.centroid_y, STEEL["young"]
    assert moved[0] == pytest.approx(P * L * (1 / (young * p.area) + c**2 / (young * p.izz)), rel=1e-12)
    assert moved[5] == pytest.approx(P * c * L / (young * p.izz), rel=1e-12)


def _pulled():  # type: ignore[no-untyped-def]
    p = closed_properties(Channel(height=0.12, width=0.055, web=0.007, flange=0.009))
    b = FrameBuilder()
    b.add_node("root", (0.0, 0.0, 0.0))
    b.add_node("end", (L, 0.0, 0.0))
    b.add_member(
        "beam",
        "root",
        "end",
        (0, 0, 1),
        p,
        centroid=(p.centroid_y, 0.0),
        shear_centre=(p.shear_centre_y, 0.0),
        **STEEL,
    )
    b.hold("root")
    return b.build(), p


@pytest.mark.outside(
    what="channel on forks: frequencies of bending that brings twist with it, first and second of each half wave",
    source="coupled bending and torsion, Timoshenko, Young and Weaver, Vibration Problems in Engineering, ch. 5: "
    "(wb^2 - w^2)(wt^2 - w^2) = w^4 e^2 / r^2, r^2 = Ip / A + e^2, St-Venant torsion alone",
    status="memory high",
    tolerance="3e-3; the formula leaves turning inertia of bending out",
)
def test_a_channel_on_forks_bends_and_twists_together() -> None:
    length, density, pieces = 6.0, 7850.0, 48
    p = closed_properties(Channel(height=0.12, width=0.055, web=0.007, flange=0.009))
    b = FrameBuilder()
    b.add_node("0", (0.0, 0.0, 0.0))
    b.add_node("1", (length, 0.0, 0.0))
    b.add_member(
        "beam", "0", "1", (0, 0, 1), p, shear_centre=(p.shear_centre_y, 0.0), linear_weight=density * p.area,
        avy=np.inf, avz=np.inf, **STEEL,
    )  # fmt: skip
    b.hold("0", (0, 1, 2, 3))
    b.hold("1", (1, 2, 3))
    modes = find_modes(subdivide(b.build(), np.array([pieces])), 12)
    e, mass = p.shear_centre_y, density * p.area
    r = (p.iyy + p.izz) / p.area + e**2
    for half_waves in (1, 2):
        k = half_waves * np.pi / length
        bend = STEEL["young"] * p.iyy * k**4 / mass
        twist = STEEL["shear"] * p.it * k**2 / (mass * r)
        roots = np.roots([1.0 - e**2 / r, -(bend + twist), bend * twist])
        for frequency in np.sqrt(roots) / (2 * np.pi):
            assert np.abs(modes.frequencies / frequency - 1.0).min() < 3e-3


def put_off_axis_members(ops, frame):  # type: ignore[no-untyped-def]  # noqa: F811
    """Each member as two: one through the shear centres without area, one through the centroids with nothing but area."""
    m, axes = frame.members, member_axes(frame)
    start, end = frame.member_ends()
    for e in range(len(m.names)):
        points = np.stack([start[e], end[e]])
        for kind, (y, z) in enumerate((m.shear_centre[e], m.centroid[e])):
            ends = [1000 + 4 * e + 2 * kind, 1001 + 4 * e + 2 * kind]
            shifted = points + y * axes[e, 1] + z * axes[e, 2]
            for number, node, place in zip(ends, (m.i[e], m.j[e]), shifted.tolist(), strict=True):
                ops.node(number, *place)
                ops.rigidLink("beam", int(node), number)
            if kind:
                ops.uniaxialMaterial("Elastic", e + 1, float(m.young[e]))
                ops.element("Truss", 500 + e, *ends, float(m.area[e]), e + 1)
                continue
            ops.geomTransf("Linear", e, *m.up[e].tolist())
            values = [
                float(a[e]) for a in (m.young, m.shear, 1e-9 * m.area, m.it, m.iyy, m.izz, m.avy, m.avz)
            ]
            ops.element("ElasticTimoshenkoBeam", e, *ends, *values, e)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.outside(
    what="random 3D frames of members whose centroids and shear centres lie beside their axes: displacements",
    source="OpenSees through openseespy, ElasticTimoshenkoBeam through the shear centres and Truss through the centroids, "
    "tied by rigidLink beam",
    status="reference library",
    tolerance="1e-6 of the largest displacement and rotation",
)
def test_random_off_axis_frames(ops, seed):  # type: ignore[no-untyped-def]  # noqa: F811
    frame = random_frame(seed, nodes=6, springs=False)
    assert frame.members.off_axis
    loads = np.random.default_rng(seed).normal(size=frame.dofs) * 500
    put_nodes(ops, frame)
    put_off_axis_members(ops, frame)
    theirs, _ = run(ops, loads)
    agree(solve(frame, loads).displacements, theirs, 1e-6)


@pytest.mark.parametrize("section", [CHANNEL, Angle(height=0.12, width=0.09, thickness=0.012)])
@pytest.mark.outside(
    what="tip compliance of a whole machine with channels as uprights and side beams and a channel or angle as beam",
    source="OpenSees through openseespy, from the exported frame: ElasticTimoshenkoBeam through the shear centres, Truss through "
    "the centroids, rigidLink beam",
    status="reference library",
    tolerance="1e-5 of the largest",
)
def test_a_whole_machine_of_off_axis_sections(ops, section):  # type: ignore[no-untyped-def]  # noqa: F811
    project = with_entries(
        Project(), gantry__beam__section=section, gantry__upright__section=CHANNEL, base__section=CHANNEL
    )
    setting = Setting(project.machine, layout(project.machine, stock_book()), "likely", stock_book())
    data = json.loads(json.dumps(frame_data(setting, project, 0.15, -0.1)))
    assert any(any(row["shear_centre_from_ends_m"]) for row in data["members"])
    theirs = second_solver.tip_compliance(ops, second_solver.build(ops, data), "FullGeneral")
    ours = np.array(data["tip_compliance_m_per_N"])
    assert np.abs(theirs - ours).max() < 1e-5 * np.abs(ours).max()
