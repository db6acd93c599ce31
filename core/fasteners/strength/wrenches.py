"""Force and moment on every joint of gantry and head under unit loads, by the balance of the bodies on its one side.

Carriages and drives are springs of the frame solution; what they pass on follows from statics alone, so nothing is estimated
but the arms that are named here. The base's joints stand in `base_wrenches`.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from core.fasteners.joints.tables import motor_flanges
from core.frame import Frame
from core.frame.assemble import GRAVITY, self_weight
from core.guides.forces import COLUMNS, FORCES, SPEEDING, WEIGHT, Chain
from core.machine.drives import RackPinion, ToothedBelt
from core.machine.project import Machine
from core.materials import material
from core.model.contact import x_contacts
from core.model.setting import Setting

Floats = npt.NDArray[np.float64]
Wrenches = dict[str, Floats]
AXES = {letter: np.eye(3)[k] for k, letter in enumerate("XYZ")}
DRIVE_ARM = 0.03  # m, line of the drive over the face of its bracket (an estimate)
END_ARM = 0.025  # m, a screw's axis over the face of its end support (an estimate)
MOTOR_ARM = 0.04  # m, a motor's middle of mass behind its flange (an estimate)
MESH = math.tan(math.radians(20.0))  # push apart over push along, of involute teeth at 20 degrees


def turned(force: Floats, moment: Floats, along: Floats, normal: Floats) -> Floats:
    """(..., 6, r) along u, v, pull, about u, v, normal, from the force and moment (..., 3, r) that the upper part receives.

    `normal` points from the lower part to the upper one; a force against it pulls the joint apart.
    """
    across = skew(normal) @ along
    rows = np.stack([along, across, normal])
    local, turn = rows @ force, rows @ moment
    out = np.concatenate([local, turn], axis=-2)
    out[..., 2, :] *= -1.0
    return np.asarray(out)


def skew(v: Floats) -> Floats:
    """(3, 3) matrix that makes the cross product with v (3,)."""
    x, y, z = v
    return np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])


def arm(offset: Floats, force: Floats) -> Floats:
    """Moment (..., 3, r) of forces (..., 3, r) at an offset (3,)."""
    return np.asarray(skew(offset) @ force)


def upper_wrenches(setting: Setting, chain: Chain) -> Wrenches:
    """(k, p, 6, 7) for each kind of joint of gantry and head: k equal joints, p places, unit loads of the chain."""
    found: Wrenches = {}
    _x_and_z(setting, chain, found)
    _y(setting, chain, found)
    _gantry(setting, chain, found)
    _mount(setting, chain, found)
    for axis in "xyz":
        found[f"{axis}_motor"] = _motor(setting.machine, axis)
    return found


def _flat(forces: Floats) -> Floats:
    """(ny, nx, s, 7) as (p, s, 7), x first."""
    return forces.reshape(-1, *forces.shape[2:])


def _carriages(
    forces: Floats, directions: Floats, sign: float, normals: Floats, along: Floats, height: float
) -> tuple[Floats, Floats]:
    """Wrenches on the plates (k, p, 6, 7) and on the rails, from (p, k, 2, 7) forces and their (k, 2, 3) directions.

    Args:
        sign: +1 when the spring's pull acts along its direction on the plate. normals (k, 3): from carriage to plate.
    """
    on_plate = sign * np.einsum("pkjr,kjd->kpdr", forces, directions)
    plates, rails = [], []
    for force, normal in zip(on_plate, normals, strict=True):
        plates.append(turned(force, arm(-height / 2.0 * normal, force), along, normal))
        rails.append(turned(force, arm(height / 2.0 * normal, force), along, normal))
    return np.stack(plates), np.stack(rails)


def _x_and_z(setting: Setting, chain: Chain, found: Wrenches) -> None:
    machine = setting.machine
    front = machine.gantry.beam.rail_face == "front"
    forces = _flat(chain.x_forces)
    row = x_contacts(setting, 0.0, 0.0)
    directions = np.array([c.direction for c in row[:-1]]).reshape(-1, 2, 3)
    normal = -AXES["Y"] if front else AXES["Z"]
    split = forces[:, :-1].reshape(len(forces), -1, 2, COLUMNS)
    height = machine.x_guides.data.assembly_height
    normals = np.broadcast_to(normal, (split.shape[1], 3))
    found["x_blocks"], found["x_rails"] = _carriages(split, directions, -1.0, normals, AXES["X"], height)
    _drive(machine, "x", forces[:, -1], AXES["X"], (-normal, normal), found)
    z = np.broadcast_to(chain.z_forces, (len(forces), *chain.z_forces.shape))
    split = z[:, :-1].reshape(len(z), -1, 2, COLUMNS)
    count = split.shape[1]
    directions = np.broadcast_to(np.stack([AXES["Y"], AXES["X"]]), (count, 2, 3))
    back = np.broadcast_to(AXES["Y"], (count, 3))  # from the carriage to the saddle behind it
    height = machine.head.guides.data.assembly_height
    found["z_blocks"], found["z_rails"] = _carriages(split, directions, 1.0, back, AXES["Z"], height)
    _drive(machine, "z", z[:, -1], AXES["Z"], (AXES["Y"], -AXES["Y"]), found)


def _y(setting: Setting, chain: Chain, found: Wrenches) -> None:
    machine = setting.machine
    top, row = machine.base.rail_face == "top", chain.y_contacts
    forces = _flat(chain.y_forces)
    guides = [k for k, c in enumerate(row) if c.component == "y_guides"]
    split = forces[:, guides].reshape(len(forces), -1, 2, COLUMNS)
    directions = np.array([row[k].direction for k in guides]).reshape(-1, 2, 3)
    sides = [1.0 if row[k].side == "right" else -1.0 for k in guides[::2]]
    normals = np.array([AXES["Z"] if top else s * AXES["X"] for s in sides])
    height = machine.y_guides.data.assembly_height
    found["y_blocks"], found["y_rails"] = _carriages(split, directions, -1.0, normals, AXES["Y"], height)
    gathered: dict[str, list[Floats]] = {}
    for k, c in enumerate(row):
        if c.component == "y_drive":
            normal = AXES["Z"] if top else (1.0 if c.side == "right" else -1.0) * AXES["X"]
            one: Wrenches = {}
            _drive(machine, "y", forces[:, k], AXES["Y"], (-normal, normal), one)
            for key, wrench in one.items():
                gathered.setdefault(key, []).append(wrench)
    for key, parts in gathered.items():
        found[key] = np.concatenate(parts)


def _drive(
    machine: Machine, axis: str, force: Floats, along: Floats, normals: tuple[Floats, Floats], found: Wrenches
) -> None:
    """Bracket, end support and rack under a drive's force (p, 7); normals of the bracket's and of the fixed part's face."""
    drive = {"x": machine.x_drive, "y": machine.y_drive, "z": machine.head.drive}[axis]
    push = force[:, None, :] * along[:, None]
    bracket, fixed = normals
    apart = (skew(bracket) @ along)[:, None] * force[:, None, :] * MESH * isinstance(drive, RackPinion)
    load = push + apart
    found[f"{axis}_nut"] = turned(load, arm(DRIVE_ARM * bracket, load), along, bracket)[None]
    ends = push
    if isinstance(drive, ToothedBelt):
        # Both strands pull at a pulley whether the machine moves or not, as the weight does: they stand in its column.
        ends = push.copy()
        ends[..., WEIGHT] += 2.0 * drive.pretension * along
    found[f"{axis}_ends"] = turned(ends, arm(END_ARM * fixed, ends), along, fixed)[None]
    if isinstance(drive, RackPinion):
        # The pinion at a rack's end turns it by the force that drives the teeth apart.
        offset = max(drive.face_width, 10.0 * drive.module) / 2.0 * fixed + drive.piece_length / 2.0 * along
        side = (skew(fixed) @ along)[:, None] * force[:, None, :] * MESH
        low = max(drive.face_width, 10.0 * drive.module) / 2.0 * fixed
        found[f"{axis}_rack"] = turned(push + side, arm(low, push) + arm(offset, side), along, fixed)[None]


def _side_loads(frame: Frame, own: Floats, side: str, point: Floats) -> tuple[Floats, Floats]:
    """Force and moment (3, 7) about a point of the own loads of one side's foot plate and upright."""
    names = [
        n
        for n, name in enumerate(frame.node_names)
        if name.startswith((f"{side} foot plate", f"{side} upright"))
    ]
    each = own.reshape(-1, 6, COLUMNS)[names]
    arms = frame.nodes[names] - point
    moment = each[:, 3:].sum(axis=0) + np.cross(arms[:, :, None], each[:, :3], axis=1).sum(axis=0)
    return each[:, :3].sum(axis=0), moment


def _gantry(setting: Setting, chain: Chain, found: Wrenches) -> None:
    lay, machine, frame = setting.layout, setting.machine, chain.gantry.frame
    own = np.zeros((frame.dofs, COLUMNS))
    own[:, WEIGHT] = self_weight(frame)
    own[:, SPEEDING.start + 1] = self_weight(frame, (0.0, -1.0, 0.0))
    row, forces = chain.y_contacts, _flat(chain.y_forces)
    datum = np.array([0.0, lay.gantry_y(float(chain.gantry.y[0])), 0.0])
    shape = lay.sections.upright
    mass = shape.linear_mass(material(machine.gantry.upright.material).density) * (
        lay.upright_top - lay.upright_bottom
    )
    kinds: dict[str, list[Floats]] = {"foot": [], "angle": [], "cap": [], "seat": []}
    for side, sign in (("left", -1.0), ("right", 1.0)):
        point = np.array([sign * lay.joint_x, lay.joint_y, lay.joint_z])
        force, moment = _side_loads(frame, own, side, point)
        mine = [k for k, c in enumerate(row) if c.side == side]
        pulls = np.stack([-forces[:, k, None, :] * np.array(row[k].direction)[:, None] for k in mine])
        on_beam = pulls.sum(axis=0) + force
        turning = (
            sum(arm(np.array(row[k].point) - datum - point, f) for k, f in zip(mine, pulls, strict=True))
            + moment
        )
        seat = machine.gantry.upright.seat
        upwards = {"on top": AXES["Z"], "in front": -AXES["Y"], "between": -sign * AXES["X"]}[seat]
        kinds["seat"].append(turned(on_beam, turning, AXES["Z"] if seat == "between" else AXES["X"], upwards))
        kinds["cap"].append(turned(on_beam, turning, AXES["Y"] if seat == "on top" else AXES["Z"], upwards))
        foot = np.array([sign * lay.upright_spacing / 2.0, lay.upright_y, lay.upright_bottom])
        middle = np.array([foot[0], foot[1], (lay.upright_bottom + lay.upright_top) / 2.0])
        weight = np.zeros((3, COLUMNS))
        weight[:, WEIGHT] = mass * np.array(GRAVITY)
        weight[1, SPEEDING.start + 1] = -mass
        on_upright = on_beam - weight
        turning = turning + arm(point - foot, on_beam) - arm(middle - foot, weight)
        normal = AXES["Z"] if machine.base.rail_face == "top" else -sign * AXES["X"]
        kinds["foot"].append(turned(on_upright, turning, AXES["Y"], normal))
        kinds["angle"].append(turned(on_upright, turning, AXES["Y"], AXES["Z"]))
    for key, parts in kinds.items():
        found[key] = np.stack(parts)


def _mount(setting: Setting, chain: Chain, found: Wrenches) -> None:
    lay, head, cutter = setting.layout, setting.machine.head, setting.machine.cutter
    face = np.array([0.0, lay.head_y - head.plate_thickness / 2.0, lay.mount_z])
    tip = np.array([0.0, lay.spindle_y, lay.tip_z])
    body = tip + np.array([0.0, 0.0, cutter.stick_out])
    at_tip, at_body = np.zeros((3, COLUMNS)), np.zeros((3, COLUMNS))
    at_tip[:, FORCES] = np.eye(3)
    at_body[:, WEIGHT] = head.mass * np.array(GRAVITY)
    at_body[:, SPEEDING] = -head.mass * np.eye(3)
    force = -(at_tip + at_body)
    moment = -(arm(tip - face, at_tip) + arm(body - face, at_body))
    one = turned(force, moment, AXES["X"], -AXES["Y"])
    places = chain.x_forces.shape[0] * chain.x_forces.shape[1]
    found["mount"] = np.broadcast_to(one, (1, places, *one.shape))


def _motor(machine: Machine, axis: str) -> Floats:
    """(1, 1, 6, 7): the largest torque of the motor about its axis, and its weight behind the flange, with all weights."""
    motor = getattr(machine.motion, axis).motor
    flange = motor_flanges().get(getattr(machine.joints, axis).motor_frame)
    weight = (1.2 if flange is None else flange.mass) * -GRAVITY[2]
    out = np.zeros((1, 1, 6, COLUMNS))
    out[0, 0, 1, WEIGHT], out[0, 0, 3, WEIGHT] = weight, weight * MOTOR_ARM
    out[0, 0, 5, WEIGHT] = motor.standstill_torque.high
    return out
