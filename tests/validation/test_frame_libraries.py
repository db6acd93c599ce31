"""Random 3D frames, solved a second time by two general-purpose frame libraries.

The libraries get nodes, sections and loads only; their own matrices, axes and rigid arms do the rest.
"""

from __future__ import annotations

import numpy as np
import pytest

from core.frame import FrameBuilder, Station, solve, station_matrix
from core.frame.assemble import member_axes
from tests.frame.frames import STEEL, TUBE, random_frame

SEEDS = range(6)


def agree(ours, theirs, tol):
    """Largest difference among displacements, and among rotations, against the largest of its kind."""
    for part in (slice(0, 3), slice(3, 6)):
        a, b = ours.reshape(-1, 6)[:, part], theirs.reshape(-1, 6)[:, part]
        assert np.abs(a - b).max() <= tol * np.abs(b).max()


@pytest.fixture
def ops():
    """The library, with an empty model before and after."""
    library = pytest.importorskip("openseespy.opensees", exc_type=ImportError)
    library.wipe()
    library.model("basic", "-ndm", 3, "-ndf", 6)
    yield library
    library.wipe()


def put_nodes(ops, frame):
    """The frame's nodes and holds."""
    for number, place in enumerate(frame.nodes.tolist()):
        ops.node(number, *place)
        ops.fix(number, *frame.held[number].astype(int).tolist())


def put_members(ops, frame):
    """Timoshenko members between nodes of their own, which rigid links tie to the frame's nodes.

    Not by -jntOffset: this element of the library takes it without a word and leaves the arms out.
    """
    m = frame.members
    for e, points in enumerate(np.stack(frame.member_ends(), axis=1).tolist()):
        ends = (1000 + 2 * e, 1001 + 2 * e)
        for end, node, point in zip(ends, (m.i[e], m.j[e]), points, strict=True):
            ops.node(end, *point)
            ops.rigidLink("beam", int(node), end)
        ops.geomTransf("Linear", e, *m.up[e].tolist())
        values = [float(a[e]) for a in (m.young, m.shear, m.area, m.it, m.iyy, m.izz, m.avy, m.avz)]
        ops.element("ElasticTimoshenkoBeam", e, *ends, *values, e)


def put_slender_members(ops, frame):
    """Euler-Bernoulli members with the library's own rigid joint offsets."""
    m = frame.members
    for e in range(len(m.names)):
        arms = (*m.offset_i[e].tolist(), *m.offset_j[e].tolist())
        ops.geomTransf("Linear", e, *m.up[e].tolist(), "-jntOffset", *arms)
        values = [float(a[e]) for a in (m.area, m.young, m.shear, m.it, m.iyy, m.izz)]
        ops.element("elasticBeamColumn", e, int(m.i[e]), int(m.j[e]), *values, e)


def run(ops, loads):
    """Displacements and reactions under loads on the nodes."""
    ops.timeSeries("Constant", 1)
    ops.pattern("Plain", 1, 1)
    for number, load in enumerate(loads.reshape(-1, 6).tolist()):
        ops.load(number, *load)
    ops.system("FullGeneral")
    ops.numberer("Plain")
    ops.constraints("Transformation")
    ops.algorithm("Linear")
    ops.integrator("LoadControl", 1.0)
    ops.analysis("Static", "-noWarnings")
    assert ops.analyze(1) == 0
    ops.reactions()
    count = len(loads) // 6
    moved = np.array([ops.nodeDisp(number) for number in range(count)])
    return moved.ravel(), np.array([ops.nodeReaction(number) for number in range(count)]).ravel()


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.outside(
    what="random 3D frames of Timoshenko members with rigid arms: displacements",
    source="OpenSees through openseespy, element ElasticTimoshenkoBeam, arms as rigidLink beam",
    status="reference library",
    tolerance="1e-8 of the largest displacement and rotation",
)
def test_timoshenko_members_on_arms(ops, seed):
    frame = random_frame(seed, nodes=7, springs=False, off_axis=False)
    loads = np.random.default_rng(seed).normal(size=frame.dofs) * 500
    put_nodes(ops, frame)
    put_members(ops, frame)
    theirs, _ = run(ops, loads)
    agree(solve(frame, loads).displacements, theirs, 1e-8)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.outside(
    what="random 3D frames of slender members with rigid arms: displacements and reactions",
    source="OpenSees through openseespy, element elasticBeamColumn with -jntOffset",
    status="reference library",
    tolerance="1e-8 of the largest displacement, rotation, force and moment",
)
def test_slender_members_on_arms(ops, seed):
    frame = random_frame(seed, nodes=7, shear=False, springs=False, off_axis=False)
    loads = np.random.default_rng(seed).normal(size=frame.dofs) * 500
    put_nodes(ops, frame)
    put_slender_members(ops, frame)
    theirs, reactions = run(ops, loads)
    ours = solve(frame, loads)
    agree(ours.displacements, theirs, 1e-8)
    agree(ours.reactions, reactions * frame.held.ravel(), 1e-8)


@pytest.mark.outside(
    what="springs along and about slanted directions between the free ends of two posts",
    source="OpenSees through openseespy, element zeroLength with its own axes",
    status="reference library",
    tolerance="1e-8 of the largest displacement and rotation",
)
def test_springs_between_nodes(ops):
    rng = np.random.default_rng(4)
    axes = np.linalg.qr(rng.normal(size=(3, 3)))[0]
    axes[2] = np.cross(axes[0], axes[1])
    stiffness = np.array([3e6, 8e5, 5e6, 2e4, 9e3, 4e4])
    b = FrameBuilder()
    for name, place in (("a", (0, 0, 0)), ("b", (0.2, 0.1, 0.9)), ("c", (0.2, 0.1, 0.9))):
        b.add_node(name, place)
    b.add_node("d", (1.0, -0.3, 0.4))
    b.add_member("post", "a", "b", up=(1, 0, 0), **STEEL, **TUBE)
    b.add_member("arm", "c", "d", up=(0, 0, 1), **STEEL, **TUBE)
    b.hold("a")
    b.hold("d", (0, 1, 2))
    for k in range(6):
        b.add_spring(f"s{k}", "b", "c", axes[k % 3], stiffness[k], turning=k > 2)
    frame = b.build()
    put_nodes(ops, frame)
    put_members(ops, frame)
    for k in range(6):
        ops.uniaxialMaterial("Elastic", k + 1, float(stiffness[k]))
    orient = (*axes[0].tolist(), *axes[1].tolist())
    ops.element("zeroLength", 9, 1, 2, "-mat", *range(1, 7), "-dir", *range(1, 7), "-orient", *orient)
    loads = rng.normal(size=frame.dofs) * 100
    theirs, _ = run(ops, loads)
    agree(solve(frame, loads).displacements, theirs, 1e-8)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.outside(
    what="random 3D frames of slender members, loaded on nodes and inside members",
    source="PyNiteFEA, FEModel3D with Euler-Bernoulli members",
    status="reference library",
    tolerance="1e-8 of the largest displacement and rotation",
)
def test_slender_members_loaded_inside(seed):
    pynite = pytest.importorskip("Pynite")
    frame = random_frame(seed, nodes=6, shear=False, offsets=False, springs=False, off_axis=False)
    rng = np.random.default_rng(seed)
    loads, force, xi = rng.normal(size=frame.dofs) * 500, rng.normal(size=3) * 900, 0.37
    loaded = 2
    model = pynite.FEModel3D()
    put_slender(model, frame)
    start, end = frame.member_ends()
    length = float(np.linalg.norm(end[loaded] - start[loaded]))
    for axis, value in zip(("FX", "FY", "FZ"), force.tolist(), strict=True):
        model.add_member_pt_load(f"m{loaded}", axis, value, xi * length)
    for name, load in zip(frame.node_names, loads.reshape(-1, 6).tolist(), strict=True):
        for axis, value in zip(("FX", "FY", "FZ", "MX", "MY", "MZ"), load, strict=True):
            model.add_node_load(name, axis, value)
    model.analyze_linear(check_stability=False)
    wanted = ("DX", "DY", "DZ", "RX", "RY", "RZ")
    nodes = [model.nodes[name] for name in frame.node_names]
    theirs = np.array([[getattr(node, axis)["Combo 1"] for axis in wanted] for node in nodes], dtype=float)
    phi = station_matrix(frame, Station(np.array([loaded]), np.array([xi])))
    ours = solve(frame, loads + phi[:3].T @ force).displacements
    agree(ours, theirs.ravel(), 1e-8)


def put_slender(model, frame):
    """The frame in the library's terms; its members are rolled about their axes until they lie as ours."""
    m = frame.members
    for name, place, held in zip(frame.node_names, frame.nodes.tolist(), frame.held.tolist(), strict=True):
        model.add_node(name, *place)
        model.def_support(name, *held)
    for e, name in enumerate(m.names):
        young, shear = float(m.young[e]), float(m.shear[e])
        model.add_material(name, young, shear, 0.3, 0.0)
        model.add_section(name, *(float(a[e]) for a in (m.area, m.iyy, m.izz, m.it)))
        model.add_member(name, frame.node_names[m.i[e]], frame.node_names[m.j[e]], name, name)
        _, y, z = np.asarray(model.members[name].T())[:3, :3]
        ours = member_axes(frame)[e, 1]
        model.members[name].rotation = float(np.degrees(np.arctan2(ours @ z, ours @ y)))
