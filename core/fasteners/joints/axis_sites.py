"""Joints of the three axes: carriages to their plates, drives to what they move, end supports, racks, motors."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from core.fasteners.joints.layers import Partner
from core.fasteners.joints.pattern import Wish
from core.fasteners.joints.sites import PLATE, JointSite, bar_partner, clamp, plate_partner
from core.fasteners.joints.tables import carriage_holes, motor_flanges
from core.fasteners.stack import Ground
from core.machine.drives import BallScrew, Drive, RackPinion, ToothedBelt
from core.machine.guides import Guides
from core.machine.joints import AxisJoints
from core.machine.layout import Layout
from core.machine.project import Machine
from core.sections.outlines import Face

BRACKET = 0.015  # m, foot of a nut bracket or pinion plate
SUPPORT = (
    0.05,
    0.06,
    0.02,
)  # m, foot of an end support: along the screw, across it, thickness under the heads
HOUSING = (0.08, 0.08)  # m, face of a nut bracket, belt clamp or pinion plate
MOTOR_PLATE = 0.012  # m
RACK_PITCH = 0.06  # m between the screws of a rack, common practice
OWN_PITCH = 0.047  # m, where a motor's own pattern is not entered yet


@dataclass(frozen=True, slots=True)
class _Axis:
    letter: str
    guides: Guides
    drive: Drive
    joints: AxisJoints
    sides: tuple[str, ...]
    plate: tuple[str, str, float]  # what the carriages carry: words, material, thickness
    moved: tuple[str, str, float]  # what the drive moves
    fixed: Partner  # what end supports and racks stand on
    slots: tuple[float, ...]
    taken: tuple[float, ...]  # rails from the middle of that face, m
    length: float
    facing: tuple[str, str]  # axes along and across the carriages' plate
    width: float = 0.0  # of that face across, m

    @property
    def path(self) -> str:
        return f"machine.joints.{self.letter.lower()}"


def axis_sites(machine: Machine, lay: Layout) -> Iterator[JointSite]:
    """X, Y, Z: for each its carriages, drive, end supports or racks, motor."""
    for axis in _axes(machine, lay):
        yield _blocks(axis)
        yield _nut(axis)
        if isinstance(axis.drive, BallScrew | ToothedBelt):
            yield _ends(axis, axis.drive)
        if isinstance(axis.drive, RackPinion):
            yield _rack(axis, axis.drive)
        yield _motor(axis)


def _axes(machine: Machine, lay: Layout) -> Iterator[_Axis]:
    beam, base, head, saddle = machine.gantry.beam, machine.base, machine.head, machine.saddle
    foot, joints = machine.gantry.foot_plate, machine.joints
    saddle_plate = ("saddle plate", saddle.material, saddle.thickness)
    front = beam.rail_face == "front"
    face: Face = "left" if front else "top"
    partner, slots = bar_partner("beam", beam.section, beam.turned, lay.sections.beam, beam.material, face)
    yield _Axis(
        "X", machine.x_guides, machine.x_drive, joints.x, ("",), saddle_plate, saddle_plate, partner, slots,
        (-machine.x_guides.rail_spacing / 2.0, machine.x_guides.rail_spacing / 2.0), lay.x_rail_length,
        ("X", "Z" if front else "Y"), lay.sections.beam.height if front else lay.sections.beam.width,
    )  # fmt: skip
    top = base.rail_face == "top"
    face = "top" if top else "left"
    partner, slots = bar_partner(
        "side beam", base.section, base.turned, lay.sections.side_beam, base.material, face
    )
    plate = ("foot plate", foot.material, foot.thickness)
    yield _Axis(
        "Y", machine.y_guides, machine.y_drive, joints.y, ("left", "right"), plate, plate, partner, slots,
        (0.0,), lay.y_rail_length, ("Y", "X" if top else "Z"),
        lay.sections.side_beam.width if top else lay.sections.side_beam.height,
    )  # fmt: skip
    head_plate = ("head plate", head.material, head.plate_thickness)
    yield _Axis(
        "Z", head.guides, head.drive, joints.z, ("",), saddle_plate, head_plate,
        plate_partner(*saddle_plate), (), (), lay.z_rail_length, ("Z", "X"),
    )  # fmt: skip


def _blocks(axis: _Axis) -> JointSite:
    holes, joint = carriage_holes()[axis.guides.size], axis.joints.blocks
    data = axis.guides.data
    words, metal, thick = axis.plate
    depth = joint.thread or holes.depth
    ground = Ground("steel", depth, depth, depth)
    rails = {"X": ("lower", "upper"), "Y": ("left", "right"), "Z": ("left", "right")}[axis.letter]
    names = tuple(f"{axis.letter}, {rail}, {n + 1}" for rail in rails for n in range(axis.guides.carriages))
    return JointSite(
        f"{axis.letter.lower()}_blocks", f"{axis.letter} carriages to {words}", f"{axis.path}.blocks", joint, names,
        clamp(joint, words, thick, metal), Partner("carriage", "bearing_steel", ground, thread=depth, blind=True),
        (data.carriage_length, data.carriage_width), axis.facing, holes.thread,
        Wish(2, 2, holes.along, holes.across), can_weld=False,
    )  # fmt: skip


def _nut(axis: _Axis) -> JointSite:
    joint, drive = axis.joints.nut, axis.drive
    what = (
        "nut bracket"
        if isinstance(drive, BallScrew)
        else "pinion plate"
        if isinstance(drive, RackPinion)
        else "belt clamp"
        if isinstance(drive, ToothedBelt)
        else "drive bracket"
    )
    words, metal, thick = axis.moved
    return JointSite(
        f"{axis.letter.lower()}_nut", f"{axis.letter} {what} to {words}", f"{axis.path}.nut", joint,
        _sides(axis, what), clamp(joint, what, BRACKET, "en_aw_6082_t6"),
        plate_partner(words, metal, thick), HOUSING, axis.facing, "M6", Wish(2, 2, 0.05, 0.05), can_weld=False, stock=True,
    )  # fmt: skip


def _sides(axis: _Axis, what: str) -> tuple[str, ...]:
    return tuple(f"{side} {axis.letter} {what}".strip() for side in axis.sides)


def _ends(axis: _Axis, drive: BallScrew | ToothedBelt) -> JointSite:
    """Bearings of a screw, or the supports that a belt's pulleys (or its clamped ends) pull at."""
    joint = axis.joints.ends
    ends: tuple[str, ...] = ("fixed end", "far end")
    what, part = "screw", "bearing support"
    if isinstance(drive, ToothedBelt):
        what, part, ends = "belt", "pulley support", ("motor's end", "far end")
    elif drive.ends == "fixed-free":
        ends = ends[:1]
    names = tuple(f"{name}, {end}" for name in _sides(axis, what) for end in ends)
    along, across, thick = SUPPORT
    lines, offset = _beside(axis, across)
    return JointSite(
        f"{axis.letter.lower()}_ends", f"{axis.letter} {what}'s end supports", f"{axis.path}.ends", joint, names,
        clamp(joint, part, thick, "s235"), axis.fixed, (along, across), axis.facing,
        "M6" if axis.letter != "Z" else "M5", Wish(2, 2, 0.03, None if axis.slots else 0.04), lines,
        strong=False, can_weld=False, stock=True, offset=offset, every_line=axis.slots,
    )  # fmt: skip


def _beside(axis: _Axis, room: float, rows: int = 2) -> tuple[tuple[float, ...], float]:
    """Slots for a part that stands on the rails' face, counted from its middle, and where that middle is.

    Slots that no rail lies on come first: a pair about the middle where the part is wide enough, else the one farthest from
    the rails. Where every slot lies under a rail the part stands on the rails' own slots, beyond their ends.
    """
    free = tuple(s for s in axis.slots if all(abs(s - rail) > 1e-3 for rail in axis.taken))
    if not free:
        return axis.slots, 0.0
    paired = any(s > 1e-3 and 2.0 * s < room and any(abs(s + t) < 1e-3 for t in free) for s in free)
    if rows > 1 and paired:
        return free, 0.0
    middle = max(free, key=lambda s: (round(min(abs(s - rail) for rail in axis.taken), 6), s))
    return (0.0,), middle


def _room(axis: _Axis, lines: tuple[float, ...], offset: float, taken: float) -> float:
    """Width that a part along the rails finds beside them, m: about its slot, else the widest strip of the face.

    Args:
        taken: width along each rail that nothing else may stand in, m.
    """
    if lines and axis.taken:
        return 2.0 * min(abs(offset - rail) for rail in axis.taken) - taken
    half, strips = axis.width / 2.0, []
    edge = -half
    for rail in sorted(axis.taken):
        strips.append(rail - taken / 2.0 - edge)
        edge = rail + taken / 2.0
    return max(*strips, half - edge) if strips else axis.width


def _rack(axis: _Axis, drive: RackPinion) -> JointSite:
    joint = axis.joints.rack
    pieces = max(1, math.ceil(axis.length / drive.piece_length - 1e-9))
    piece = min(drive.piece_length, axis.length)
    wide = max(drive.face_width, 10.0 * drive.module)
    thread = "M6" if drive.module >= 0.00149 else "M5"
    names = tuple(f"{side} {n + 1}" for side in _sides(axis, "rack") for n in range(pieces))
    lines, offset = _beside(axis, wide, 1)
    last = axis.length - (pieces - 1) * piece
    on_slot = any(abs(line) < 1e-3 for line in lines)
    fixed = axis.fixed if on_slot else replace(axis.fixed, slot=0.0)  # between two slots there are no T-nuts
    return JointSite(
        f"{axis.letter.lower()}_rack", f"{axis.letter} racks", f"{axis.path}.rack", joint, names,
        clamp(joint, "rack", PLATE, "s355"), fixed, (piece, wide), axis.facing, thread,
        Wish(max(2, round(piece / RACK_PITCH)), 1, RACK_PITCH), lines, strong=False, can_weld=False, stock=True,
        offset=offset, every_line=axis.slots, cut=(len(axis.sides), last),
        room=_room(axis, lines, offset, axis.guides.data.carriage_width),
        clear=_room(axis, lines, offset, axis.guides.data.rail_width),
    )  # fmt: skip


def _motor(axis: _Axis) -> JointSite:
    joint = axis.joints.motor
    flange = motor_flanges().get(axis.joints.motor_frame)
    pitch = OWN_PITCH if flange is None else flange.pitch
    thread = "M5" if flange is None else flange.thread
    if flange is not None and flange.tapped:
        ground = Ground("aluminium", flange.flange, flange.flange, flange.flange)
        partner = Partner("motor flange", "en_aw_6082_t6", ground, thread=flange.flange)
        clamped = clamp(joint, "motor plate", 0.006, "en_aw_6082_t6")
    else:
        partner = plate_partner("motor plate", "en_aw_6082_t6", MOTOR_PLATE)
        thick = 0.005 if flange is None else flange.flange
        clamped = clamp(joint, "motor flange", thick, "en_aw_6082_t6")
    wide = pitch + 0.012
    return JointSite(
        f"{axis.letter.lower()}_motor", f"{axis.letter} motor, {axis.joints.motor_frame}", f"{axis.path}.motor", joint,
        _sides(axis, "motor"), clamped, partner, (wide, wide), ("X", "Z"), thread,
        Wish(2, 2, joint.pitch_along or pitch, joint.pitch_across or pitch), can_weld=False,
    )  # fmt: skip
