"""Joints of the gantry and the head: foot plates, seat plates, uprights to beam, spindle mount."""

from __future__ import annotations

from collections.abc import Iterator

from core.fasteners.joints.bores import on_bores
from core.fasteners.joints.layers import Layer
from core.fasteners.joints.pattern import Wish
from core.fasteners.joints.sites import (
    PLATE,
    JointSite,
    bar_partner,
    clamp,
    edge_thread,
    end_partner,
    plate_partner,
    solid,
    steel,
)
from core.machine.layout import Layout
from core.machine.project import Machine
from core.sections import screw_wall
from core.sections.outlines import Face

BOTH = ("left", "right")
SEAT_PLATE = 0.015  # m
FLANGE = 0.08  # m, least width of a plate that screws stand in
MOUNT = (0.08, 0.02)  # m, height of the spindle mount's foot and thickness under its screws


def gantry_sites(machine: Machine, lay: Layout) -> Iterator[JointSite]:
    """From the foot plates up to the beam, then the spindle mount."""
    yield _foot(machine, lay)
    if machine.base.rail_face != "top":
        yield _angle(machine, lay)
    yield from _seat(machine, lay)
    head, joint = machine.head, machine.joints.mount
    yield JointSite(
        "mount", "Spindle mount to head plate", "machine.joints.mount", joint, ("spindle mount",),
        clamp(joint, "spindle mount", MOUNT[1], "en_aw_6082_t6"),
        plate_partner("head plate", head.material, head.plate_thickness),
        (0.75 * head.plate_width, MOUNT[0]), ("X", "Z"), "M6", Wish(2, 2), can_weld=False, stock=True,
    )  # fmt: skip


def _foot(machine: Machine, lay: Layout) -> JointSite:
    foot, upright, joint = machine.gantry.foot_plate, machine.gantry.upright, machine.joints.foot
    shape = lay.sections.upright
    flat = machine.base.rail_face == "top"
    partner = end_partner("upright", upright.section, upright.material)
    clamped = clamp(joint, "foot plate", foot.thickness, foot.material)
    if not flat:  # the plate stands on edge beside the rail: an angle under the upright is screwed to it
        partner = plate_partner("foot plate", foot.material, foot.thickness)
        clamped = clamp(joint, "angle under the upright", PLATE, upright.material)
    across = shape.width if flat else min(foot.width, FLANGE)
    made = JointSite(
        "foot", "Foot plates to uprights", "machine.joints.foot", joint, BOTH, clamped, partner,
        (shape.height, across), ("Y", "X" if flat else "Z"), edge_thread(across), Wish(4 if shape.height > 0.12 else 2, 2),
        welds=steel(foot.material, upright.material), box=(shape.height, shape.width),
    )  # fmt: skip
    return on_bores(made, upright.section) if flat else made


def _angle(machine: Machine, lay: Layout) -> JointSite:
    """The upright on the angle that its foot plate, on edge, carries."""
    upright, joint, shape = machine.gantry.upright, machine.joints.foot, lay.sections.upright
    made = JointSite(
        "angle", "Angles to uprights", "machine.joints.foot", joint, BOTH,
        clamp(joint, "angle under the upright", PLATE, upright.material),
        end_partner("upright", upright.section, upright.material), (shape.height, shape.width), ("Y", "X"),
        edge_thread(shape.width), Wish(4 if shape.height > 0.12 else 2, 2), welds=steel(upright.material),
        box=(shape.height, shape.width), stock=True,
    )  # fmt: skip
    return on_bores(made, upright.section)


def _seat(machine: Machine, lay: Layout) -> Iterator[JointSite]:
    gantry, joints = machine.gantry, machine.joints
    upright, beam = gantry.upright, gantry.beam
    shape, stood = lay.sections.beam, lay.sections.upright
    both = steel(upright.material, beam.material)
    words, path, joint = "Uprights to beam", "machine.joints.seat", joints.seat
    if upright.seat == "between":
        wall = stood.width if solid(upright.section) else screw_wall(upright.section, upright.turned, "left")
        made = JointSite(
            "seat", words, path, joint, BOTH, clamp(joint, "upright", wall or 0.005, upright.material),
            end_partner("beam", beam.section, beam.material),
            (shape.height, min(shape.width, stood.height)), ("Z", "Y"), "M8", Wish(3 if shape.height > 0.1 else 2, 2),
            welds=both, box=(shape.height, shape.width),
        )  # fmt: skip
        yield on_bores(made, beam.section)
        return
    on_top = upright.seat == "on top"
    face: Face = "bottom" if on_top else "right"
    partner, slots = bar_partner("beam", beam.section, beam.turned, shape, beam.material, face)
    room = min(shape.width, max(stood.height, FLANGE)) if on_top else shape.height
    long = max(stood.width, FLANGE)
    yield _cap(machine, lay, on_top)
    yield JointSite(
        "seat", words, path, joint, BOTH, clamp(joint, "seat plate", SEAT_PLATE, upright.material), partner,
        (long, room), ("X", "Y" if on_top else "Z"), "M8", Wish(2, 2), slots,
        box=(long, room), stock=True, bar=stood.width,
    )  # fmt: skip


def _cap(machine: Machine, lay: Layout, on_top: bool) -> JointSite:
    """The plate on the upright that the beam is screwed to."""
    upright, joint, stood = machine.gantry.upright, machine.joints.cap, lay.sections.upright
    slots: tuple[float, ...] = ()
    if on_top:
        partner, face, axes = (
            end_partner("upright", upright.section, upright.material),
            stood.height,
            ("Y", "X"),
        )
    else:
        front, slots = bar_partner(
            "upright", upright.section, upright.turned, stood, upright.material, "bottom"
        )
        partner, face, axes = front, lay.sections.beam.height, ("Z", "X")
    plate: tuple[Layer, ...] = clamp(joint, "seat plate", SEAT_PLATE, upright.material)
    made = JointSite(
        "cap", "Seat plates to uprights", "machine.joints.cap", joint, BOTH, plate, partner,
        (face, stood.width), axes, edge_thread(stood.width), Wish(4 if face > 0.12 else 2, 2), slots,
        welds=steel(upright.material), box=(face, stood.width), stock=True,
    )  # fmt: skip
    return on_bores(made, upright.section) if on_top else made
