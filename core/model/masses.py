"""Where the mass of saddle and head really is: bodies with inertia at their own places, for vibration.

Statics only ask for weights and put them into nodes; here the same kilograms stand where they stand on the machine.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from core.frame import Frame
from core.frame.batch import stack
from core.frame.checks import Floats
from core.frame.mass import Lumps, box_inertia, rod_inertia
from core.model.setting import SHORT, Setting, point

Body = tuple[str, str, tuple[float, float, float], float, Floats]
"""Name, node, arm from the node (m), mass (kg), inertia about its own centre (kg m2)."""
MOST_PLATE = (
    0.6  # estimate: plate and rails are not taken for more than this share of the head's entered mass
)


def with_lumps(setting: Setting, frame: Frame) -> tuple[Frame, Lumps]:
    """The frame without the node masses of saddle and head, and these masses as lumps at their places.

    Args:
        frame: one that `core.model.head.add_head` took part in.
    """
    nose = "spindle nose" if "spindle nose" in frame.node_names else "tool tip"
    kept = frame.node_mass.copy()
    kept[[frame.node("saddle"), frame.node(nose)]] = 0.0
    bodies = [body for body in (*_saddle(setting), *_head(setting, nose)) if body[3] > 0.0]
    lumps = Lumps(
        node=np.array([frame.node(body[1]) for body in bodies]),
        arm=stack([body[2] for body in bodies], (3,)),
        mass=np.array([body[3] for body in bodies]),
        inertia=np.array([body[4] for body in bodies]),
        names=tuple(body[0] for body in bodies),
    )
    return replace(frame, node_mass=kept), lumps


def _saddle(setting: Setting) -> list[Body]:
    lay, machine = setting.layout, setting.machine
    saddle, guides = machine.saddle, machine.x_guides
    sizes = (saddle.width, saddle.thickness, saddle.height)
    plate = setting.material(saddle.material).density * saddle.width * saddle.height * saddle.thickness
    middle = (0.0, 0.0, 0.0)
    bodies: list[Body] = [
        ("saddle plate", "saddle", middle, plate, box_inertia(plate, sizes)),
        # Motor and brackets: nobody says where; spread over the plate.
        (
            "other mass on the saddle",
            "saddle",
            middle,
            saddle.extra_mass,
            box_inertia(saddle.extra_mass, sizes),
        ),
    ]
    data = guides.data
    block = (data.carriage_length, data.assembly_height, data.carriage_width)
    for rail, (y, z) in enumerate(lay.x_carriages):
        for number, place in enumerate(guides.places()):
            arm = point(place, y - lay.saddle_y, z - lay.saddle_z)
            inertia = box_inertia(data.carriage_mass, block)
            bodies.append((f"X carriage {rail} {number}", "saddle", arm, data.carriage_mass, inertia))
    drive_y = sum(y for y, _ in lay.x_carriages) / 2.0
    arm = point(0.0, drive_y - lay.saddle_y, 0.0)
    bodies.append(("X drive", "saddle", arm, machine.x_drive.mass_each, np.zeros((3, 3))))
    return bodies


def _head(setting: Setting, nose: str) -> list[Body]:
    """Plate with its rails on the Z carriages, and the rest as a cylinder in the mount (estimated sizes)."""
    lay, machine = setting.layout, setting.machine
    head, cutter, guides = machine.head, machine.cutter, machine.head.guides
    length = guides.rail_length or head.travel + guides.spread + guides.data.carriage_length + 0.02
    density = setting.material(head.material).density
    plate = (
        density * head.plate_width * head.plate_thickness * length + 2.0 * guides.data.linear_mass * length
    )
    plate = min(plate, MOST_PLATE * head.mass)
    low = lay.mount_z - 0.05
    arm = (0.0, 0.0, low + length / 2.0 - lay.z_carriage_z)
    inertia = box_inertia(plate, (head.plate_width, head.plate_thickness, length))
    rest = head.mass - plate
    collet = lay.tip_z + (cutter.stick_out if cutter.stick_out > SHORT else 0.0)
    top, bottom = max(lay.mount_z + 0.1, collet + 0.06), collet + 0.02
    across = min(0.08, 2.0 * head.reach) if head.reach > 0.01 else 0.05
    up = (0.0, 0.0, 0.5 * (top + bottom) - collet)
    return [
        ("head plate and rails", "head", arm, plate, inertia),
        ("spindle and mount", nose, up, rest, rod_inertia(rest, across, top - bottom)),
    ]
