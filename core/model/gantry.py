"""The gantry: foot plates on their carriages, uprights, joints and the beam, around the gantry's own datum (y = 0)."""

from __future__ import annotations

import numpy as np

from core.frame import FrameBuilder
from core.model.base import SIDES
from core.model.setting import SHORT, Setting, add_member, point
from core.sections import SectionProperties


def foot_places(setting: Setting) -> tuple[list[float], dict[float, int]]:
    """Places (y) of a foot plate's nodes: carriages and the upright; and the node number of each wanted place."""
    wanted = [*setting.machine.y_guides.places(), setting.layout.upright_y]
    places: list[float] = []
    for y in sorted(wanted):
        if not places or y - places[-1] > SHORT:
            places.append(y)
    return places, {w: int(np.argmin([abs(w - p) for p in places])) for w in wanted}


def foot_section(setting: Setting) -> SectionProperties:
    """The foot plate's cross-section as it lies (rails on top) or stands (rails outside)."""
    foot = setting.machine.gantry.foot_plate
    if setting.machine.base.rail_face == "top":
        return setting.plate(foot.thickness, foot.width)
    return setting.plate(foot.width, foot.thickness)


def add_gantry(
    setting: Setting, builder: FrameBuilder, y: float, beam_places: list[float]
) -> dict[float, str]:
    """Add the gantry with its datum at y; `beam_places` (x) get nodes of their own on the beam.

    Returns the beam's node by x. Nodes: "left foot 0".., "left upright top", "left beam joint", "beam at 0"..
    """
    for side, sign in SIDES:
        add_foot(setting, builder, y, side, sign)
        add_upright(setting, builder, y, side, sign)
    names = add_beam(setting, builder, y, beam_places)
    add_joints(setting, builder, y)
    return names


def add_joints(setting: Setting, builder: FrameBuilder, y: float) -> None:
    """Add the springs between uprights and beam."""
    lay = setting.layout
    upright = setting.machine.gantry.upright
    for side, sign in SIDES:
        top, beam = f"{side} upright top", f"{side} beam joint"
        joint = np.asarray(point(sign * lay.joint_x, y + lay.joint_y, lay.joint_z))
        arm_i = joint - point(sign * lay.upright_spacing / 2.0, y + lay.upright_y, lay.upright_top)
        arm_j = joint - point(sign * lay.joint_x, y + lay.beam_y, lay.beam_z)
        shifting = setting.shifting("beam_joint", upright.joint_stiffness)
        turning = setting.turning("beam_joint", upright.joint_turning)
        for axis, direction in zip("XYZ", np.eye(3), strict=True):
            builder.add_spring(
                f"{side} joint {axis}", top, beam, direction, shifting, "beam_joint", arm_i, arm_j
            )
            builder.add_spring(
                f"{side} joint about {axis}", top, beam, direction, turning, "beam_joint", turning=True
            )


def add_foot(setting: Setting, builder: FrameBuilder, y: float, side: str, sign: float) -> None:
    """Add one side's foot plate; its nodes are "left foot plate 0" and so on."""
    lay, machine = setting.layout, setting.machine
    x = sign * lay.upright_spacing / 2.0
    places, nearest = foot_places(setting)
    middle = nearest[lay.upright_y]
    masses = [0.0] * len(places)
    for place in machine.y_guides.places():
        masses[nearest[place]] += machine.y_guides.data.carriage_mass
    masses[middle] += machine.y_drive.mass_each
    for k, place in enumerate(places):
        builder.add_node(f"{side} foot plate {k}", (x, y + place, lay.foot_z), masses[k])
    plate = foot_section(setting)
    for k in range(len(places) - 1):
        ends = (f"{side} foot plate {k}", f"{side} foot plate {k + 1}")
        add_member(
            setting, builder, f"{side} foot plate piece {k}", ends, (0, 0, 1), plate,
            machine.gantry.foot_plate.material, "foot_plates",
        )  # fmt: skip


def add_upright(setting: Setting, builder: FrameBuilder, y: float, side: str, sign: float) -> None:
    """Add one side's upright on the node of its foot plate, which is there already."""
    lay, machine = setting.layout, setting.machine
    places, nearest = foot_places(setting)
    middle = nearest[lay.upright_y]
    x = sign * lay.upright_spacing / 2.0
    builder.add_node(f"{side} upright top", point(x, y + lay.upright_y, lay.upright_top))
    offset = (0.0, y + lay.upright_y - (y + places[middle]), lay.upright_bottom - lay.foot_z)
    add_member(
        setting, builder, f"{side} upright", (f"{side} foot plate {middle}", f"{side} upright top"), (0, 1, 0),
        lay.sections.upright, machine.gantry.upright.material, "uprights", offsets=(offset, (0.0, 0.0, 0.0)),
        true_axis=True, mirrored=sign < 0.0,
    )  # fmt: skip


def beam_rail_mass(setting: Setting) -> float:
    """Mass that rides along the beam without stiffening it: rails and other parts, kg/m."""
    machine, lay = setting.machine, setting.layout
    rails = 2.0 * machine.x_guides.data.linear_mass * lay.x_rail_length
    return (rails + machine.gantry.beam.extra_mass) / lay.beam_length


def beam_nodes(setting: Setting, extra: list[float]) -> tuple[list[float], dict[float, int]]:
    """Places (x) of the beam's nodes: ends, joints and the extra places, near ones merged."""
    lay = setting.layout
    half, joint = lay.beam_length / 2.0, lay.joint_x
    ends = [-half, half] if half > joint + SHORT else []
    clipped = {e: min(max(e, -joint), joint) for e in extra}
    places: list[float] = []
    for x in sorted([*ends, -joint, joint, *clipped.values()]):
        if not places or x - places[-1] > SHORT:
            places.append(x)
    wanted = {-joint: -joint, joint: joint, **clipped}
    return places, {w: int(np.argmin([abs(c - p) for p in places])) for w, c in wanted.items()}


def add_beam_nodes(
    setting: Setting, builder: FrameBuilder, y: float, extra: list[float]
) -> tuple[list[str], dict[float, int]]:
    """Add the beam's nodes alone; returns their names from left to right, and the number of each wanted place."""
    lay = setting.layout
    places, nearest = beam_nodes(setting, extra)
    names = [f"beam at {k}" for k in range(len(places))]
    names[nearest[-lay.joint_x]] = "left beam joint"
    names[nearest[lay.joint_x]] = "right beam joint"
    for name, x in zip(names, places, strict=True):
        builder.add_node(name, point(x, y + lay.beam_y, lay.beam_z))
    return names, nearest


def add_beam(setting: Setting, builder: FrameBuilder, y: float, extra: list[float]) -> dict[float, str]:
    """Add the beam with nodes of their own at the places `extra` (x); returns its node by x."""
    lay = setting.layout
    names, nearest = add_beam_nodes(setting, builder, y, extra)
    beam = setting.machine.gantry.beam
    for k in range(len(names) - 1):
        add_member(
            setting, builder, f"beam piece {k}", (names[k], names[k + 1]), (0, 0, 1), lay.sections.beam, beam.material,
            "beam", other_mass=beam_rail_mass(setting), true_axis=True,
        )  # fmt: skip
    return {x: names[k] for x, k in nearest.items()}
