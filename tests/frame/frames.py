"""Frames for the tests: random ones, and ways to turn, split and unbatch them."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np

from core.frame import Frame, FrameBuilder, Members, Springs

STEEL = {"young": 210e9, "shear": 210e9 / 2.6}
TUBE = {"area": 1.8e-3, "iyy": 3.5e-6, "izz": 1.8e-6, "it": 4.0e-6, "avy": 0.7e-3, "avz": 1.0e-3}


def random_properties(rng, shear=True):
    """Properties of a member, each within half and twice a steel tube's."""
    values = {key: value * rng.uniform(0.5, 2.0) for key, value in {**STEEL, **TUBE}.items()}
    return values if shear else {**values, "avy": np.inf, "avz": np.inf}


def random_frame(seed=0, nodes=6, batch=(), shear=True, offsets=True, springs=True, off_axis=True):
    """A connected frame: a chain of members and some more across, springs to the ground and between nodes.

    With `off_axis` centroids and shear centres lie beside the members' axes.
    """
    rng = np.random.default_rng(seed)
    beside = np.random.default_rng(seed + 1).uniform(-0.05, 0.05, (nodes + 1, 2, *batch, 2)) * off_axis
    b = FrameBuilder()
    for n in range(nodes):
        place = np.array([n * 0.8, 0.0, 0.0]) + rng.uniform(-0.4, 0.4, (*batch, 3))
        b.add_node(f"n{n}", place, mass=rng.uniform(0, 5))
    pairs = [(n, n + 1) for n in range(nodes - 1)] + [(0, nodes - 1), (1, nodes - 2)]
    for number, (i, j) in enumerate(pairs):
        arm = 0.1 if offsets else 0.0
        b.add_member(
            f"m{number}",
            i,
            j,
            up=rng.uniform((-1, -1, 1), (1, 1, 3)),
            component=f"part {number % 3}",
            offset_i=rng.uniform(-arm, arm, 3),
            offset_j=rng.uniform(-arm, arm, 3),
            linear_weight=rng.uniform(1, 20, batch),
            centroid=beside[number, 0],
            shear_centre=beside[number, 1],
            **random_properties(rng, shear),
        )
    if springs:
        for number in range(3):
            d = rng.normal(size=3)
            d /= np.linalg.norm(d)
            arm = rng.uniform(-0.2, 0.2, 3)
            b.add_spring(f"ground {number}", number, -1, d, 1e6 * rng.uniform(0.5, 2), "ground", arm_i=arm)
            b.add_spring(f"turn {number}", number, number + 2, d, 1e4, "turning", turning=True)
        gap = b._nodes["n0"][0] - b._nodes["n3"][0]
        arm = rng.uniform(-0.2, 0.2, 3)
        b.add_spring("meet", 0, 3, d, rng.uniform(1e6, 2e6, batch), "meeting", arm_i=arm, arm_j=arm + gap)
    b.hold(0)
    b.hold(nodes - 1, (0, 1, 2))
    return b.build()


def turned(frame, rotation, shift=(0.0, 0.0, 0.0)):
    """The same frame turned and shifted as a whole; held nodes must be held wholly."""
    m, s = frame.members, frame.springs

    def turn(a):
        return a @ rotation.T

    members = replace(m, offset_i=turn(m.offset_i), offset_j=turn(m.offset_j), up=turn(m.up))
    springs = replace(s, arm_i=turn(s.arm_i), arm_j=turn(s.arm_j), direction=turn(s.direction))
    return replace(frame, nodes=turn(frame.nodes) + np.asarray(shift), members=members, springs=springs)


def split(frame, member, xi):
    """The same frame with one member split by a new last node at the share xi of its length."""
    start, end = frame.member_ends()
    place = start[member] + xi * (end[member] - start[member])
    new = len(frame.node_names)
    m = frame.members

    def twice(a):
        return np.concatenate([a, a[member : member + 1]])

    arrays = {f.name: twice(getattr(m, f.name)) for f in fields(m) if f.name not in ("names", "component")}
    arrays["j"][member], arrays["i"][-1] = new, new
    arrays["offset_j"][member] = arrays["offset_i"][-1] = 0.0
    members = Members(
        names=(*m.names, f"half {new}"), component=(*m.component, m.component[member]), **arrays
    )
    return Frame(
        np.concatenate([frame.nodes, place[None]]),
        (*frame.node_names, f"split {new}"),
        members,
        frame.springs,
        np.concatenate([frame.held, np.zeros((1, 6), bool)]),
        np.append(frame.node_mass, 0.0),
    )


def design(frame, index):
    """One design of a batch as a frame of its own."""

    def one(part, vectors):
        changed = {}
        for f in fields(part):
            a = getattr(part, f.name)
            if isinstance(a, np.ndarray) and a.dtype.kind == "f":
                tail = 2 if f.name in vectors else 1
                changed[f.name] = a[index] if a.ndim > tail else a
        return replace(part, **changed)

    members = one(frame.members, ("offset_i", "offset_j", "up", "centroid", "shear_centre"))
    springs = one(frame.springs, ("arm_i", "arm_j", "direction"))
    nodes = frame.nodes[index] if frame.nodes.ndim > 2 else frame.nodes
    return replace(frame, nodes=nodes, members=members, springs=springs)


def random_rotation(rng):
    """A proper rotation matrix."""
    q, r = np.linalg.qr(rng.normal(size=(3, 3)))
    q = q * np.sign(np.diag(r))
    return q if np.linalg.det(q) > 0 else q[:, [1, 0, 2]]


def rigid_motion(frame, move, turn):
    """Displacements (6n,) of the nodes when the whole is moved and turned a little."""
    u = np.empty((len(frame.node_names), 6))
    u[:, :3] = np.asarray(move) + np.cross(turn, frame.nodes)
    u[:, 3:] = turn
    return u.ravel()


def no_springs(frame):
    """The frame without its springs."""
    return replace(frame, springs=Springs.none())
