"""What rides the beam, in series: saddle, Z carriages and drive, head plate, spindle mount, cutter.

Seen from the saddle it never changes with the tool's place, so one small frame answers for all places.
"""

from __future__ import annotations

import numpy as np

from core.frame import FrameBuilder
from core.model.setting import SHORT, Setting, add_member, point
from core.sections import RoundSolid, SectionProperties, properties


def add_head(setting: Setting, builder: FrameBuilder, x: float, y: float) -> str:
    """Add saddle and head with the tool at x and the gantry's datum at y; returns the tip node's name ("tool tip").

    The saddle's node is "saddle". Masses: the saddle's at the saddle, the head's at the spindle's axis.
    """
    lay, machine = setting.layout, setting.machine
    saddle, head = machine.saddle, machine.head
    plate_mass = setting.material(saddle.material).density * saddle.width * saddle.height * saddle.thickness
    carriages = 2 * machine.x_guides.carriages * machine.x_guides.data.carriage_mass
    mass = plate_mass + saddle.extra_mass + carriages + machine.x_drive.mass_each
    builder.add_node("saddle", point(x, y + lay.saddle_y, lay.saddle_z), mass)
    front = "saddle"
    if np.all(np.abs(lay.saddle_z - lay.z_carriage_z) > SHORT):  # designs of one batch are all alike in this
        front = "saddle at the Z carriages"
        builder.add_node(front, point(x, y + lay.saddle_y, lay.z_carriage_z))
        strip = setting.plate(saddle.thickness, saddle.width)
        _weightless(setting, builder, "saddle plate", ("saddle", front), strip, saddle.material, "saddle")
    builder.add_node("head", point(x, y + lay.head_y, lay.z_carriage_z))
    _add_z_guides(setting, builder, x, y, front)
    bottom = "head"
    if abs(lay.z_carriage_z - lay.mount_z) > SHORT:
        bottom = "head plate end"
        builder.add_node(bottom, point(x, y + lay.head_y, lay.mount_z))
        strip = setting.plate(head.plate_thickness, head.plate_width)
        _weightless(setting, builder, "head plate", ("head", bottom), strip, head.material, "head_plate")
    return _add_spindle(setting, builder, x, y, bottom)


def _weightless(
    setting: Setting,
    builder: FrameBuilder,
    name: str,
    ends: tuple[str, str],
    strip: SectionProperties,
    key: str,
    component: str,
) -> None:
    # The plates' masses are entered as lumps, so the members carry none.
    add_member(setting, builder, name, ends, (0, 1, 0), strip, key, component, own_mass=False)


def _add_z_guides(setting: Setting, builder: FrameBuilder, x: float, y: float, front: str) -> None:
    lay, guides = setting.layout, setting.machine.head.guides
    normal = setting.shifting("z_guides", guides.normal)
    lateral = setting.shifting("z_guides", guides.lateral)
    front_z = lay.saddle_z if front == "saddle" else lay.z_carriage_z  # nodes nearer than SHORT are one
    from_front = np.asarray(point(0.0, lay.z_carriage_y - lay.saddle_y, lay.z_carriage_z - front_z))
    from_head = np.asarray(point(0.0, lay.z_carriage_y - lay.head_y, 0.0))
    for column, sign in (("left", -1.0), ("right", 1.0)):
        for number, place in enumerate(guides.places()):
            shift = np.array([sign * guides.rail_spacing / 2.0, 0.0, place])
            for kind, direction, k in (("normal", (0, 1, 0), normal), ("lateral", (1, 0, 0), lateral)):
                name = f"Z carriage {column} {number} {kind}"
                builder.add_spring(
                    name, front, "head", direction, k, "z_guides", from_front + shift, from_head + shift
                )
    # The head is down when it cuts: a screw held at its top is then at its longest, the Z travel and the guides' spread.
    length = setting.machine.head.travel + guides.spread
    drive = setting.shifting("z_drive", setting.machine.head.drive.stiffness_at(0.9 * length, length))
    builder.add_spring("Z drive", front, "head", (0, 0, 1), drive, "z_drive", from_front, from_head)


def _add_spindle(setting: Setting, builder: FrameBuilder, x: float, y: float, bottom: str) -> str:
    lay, machine = setting.layout, setting.machine
    cutter, head = machine.cutter, machine.head
    collet = lay.tip_z + (cutter.stick_out if cutter.stick_out > SHORT else 0.0)
    spindle = "spindle nose" if collet > lay.tip_z else "tool tip"
    builder.add_node(spindle, point(x, y + lay.spindle_y, collet), head.mass)
    bottom_z = lay.z_carriage_z if bottom == "head" else lay.mount_z
    arm_i = point(0.0, lay.spindle_y - lay.head_y, lay.mount_z - bottom_z)
    arm_j = (0.0, 0.0, lay.mount_z - collet)
    shifting = setting.shifting("spindle_mount", head.mount_stiffness)
    turning = setting.turning("spindle_mount", head.mount_turning)
    for axis, direction in zip("XYZ", np.eye(3), strict=True):
        name = f"spindle mount {axis}"
        builder.add_spring(name, bottom, spindle, direction, shifting, "spindle_mount", arm_i, arm_j)
        builder.add_spring(
            f"spindle mount about {axis}", bottom, spindle, direction, turning, "spindle_mount", turning=True
        )
    if spindle == "spindle nose":
        builder.add_node("tool tip", point(x, y + lay.spindle_y, lay.tip_z))
        shank = properties(RoundSolid(diameter=cutter.diameter), setting.book)
        _weightless(setting, builder, "cutter shank", (spindle, "tool tip"), shank, cutter.material, "cutter")
    return "tool tip"
