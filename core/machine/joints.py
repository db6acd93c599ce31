"""Joints of the frame other than the rails: how each is made, and what the builder wants to say about it.

Whatever is left automatic follows in `core.fasteners.joints` from the parts that meet; strength in `core.fasteners.strength`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from core.errors import BadEntry
from core.fields import Band, Described, Spec, band
from core.machine.fastening import NutKind, PropertyClass

JointThread = Literal["automatic", "M3", "M4", "M5", "M6", "M8", "M10", "M12"]
JointHold = Literal["automatic", "tapped hole", "tapped bar", "T-nut", "rivet nut", "through bolt"]
Making = Literal["automatic", "bolted", "welded"]
MotorFrame = Literal["NEMA 11", "NEMA 14", "NEMA 17", "NEMA 23", "NEMA 34", "NEMA 42", "own pattern"]


class Joint(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One kind of joint, made alike wherever it stands."""

    made: Annotated[
        Making,
        Spec(
            "count", None, None, "Made", "Automatic: welded where steel bars meet in the base, else bolted."
        ),
    ] = "automatic"
    screw: Annotated[JointThread, Spec("count", None, None, "Screw", "Socket head cap screw, ISO 4762.")] = (
        "automatic"
    )
    property_class: Annotated[
        PropertyClass, Spec("count", None, None, "Property class", "Of the screws, ISO 898-1.")
    ] = "8.8"
    hold: Annotated[
        JointHold,
        Spec(
            "count",
            None,
            None,
            "Screws go into",
            "Automatic: a slot, else a wall thick enough for a thread, else a nut or a bar behind it.",
        ),
    ] = "automatic"
    along: Annotated[
        int | None, Spec("count", 1, 40, "Screws in a row", "Along the longer way of the joint.")
    ] = None
    across: Annotated[int | None, Spec("count", 1, 8, "Rows", "Rows of screws beside each other.")] = None
    pitch_along: Annotated[
        float | None, Spec("length", 0.005, 2.0, "Pitch in a row", "From screw to screw.")
    ] = None
    pitch_across: Annotated[float | None, Spec("length", 0.005, 2.0, "Pitch of the rows")] = None
    plate: Annotated[
        float | None,
        Spec("length", 0.001, 0.2, "Clamped part", "Thickness under the screws' heads, without packing."),
    ] = None
    spacer: Annotated[float, Spec("length", 0.0, 0.1, "Packing", "Shim or spacer between the parts.")] = 0.0
    sunk: Annotated[
        float, Spec("length", 0.0, 0.1, "Heads sunk by", "Depth of the counterbore in the clamped part.")
    ] = 0.0
    washer: Annotated[
        Literal["automatic", "yes", "no"],
        Spec("count", None, None, "Washers", "ISO 7089. Automatic: wherever a standard length allows one."),
    ] = "automatic"
    thread: Annotated[
        float | None,
        Spec(
            "length",
            0.001,
            0.1,
            "Thread offered",
            "Length of thread in the hole, bar or nut. Automatic: what the part has, or what practice asks for.",
        ),
    ] = None
    torque: Annotated[
        float | None,
        Spec(
            "torque",
            0.05,
            500.0,
            "Tightening torque",
            "Automatic: the least of what the screw and its partners bear.",
        ),
    ] = None
    weld_length: Annotated[
        float | None,
        Spec("length", 0.005, 10.0, "Weld length", "Of one joint, when welded. Automatic: all round."),
    ] = None
    weld_throat: Annotated[
        float, Spec("length", 0.001, 0.02, "Weld throat", "Effective thickness of the fillet.")
    ] = 0.003

    def check(self) -> None:
        for count, pitch in (("along", "pitch_along"), ("across", "pitch_across")):
            if getattr(self, count) == 1 and getattr(self, pitch) is not None:
                raise BadEntry(pitch, "a pitch", "means nothing with one screw", "two screws, or automatic")


class AxisJoints(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Joints of one axis: its carriages, drive and motor."""

    blocks: Annotated[Joint, Spec("count", None, None, "Carriages to their plate")] = Joint()
    nut: Annotated[Joint, Spec("count", None, None, "Drive to what it moves")] = Joint()
    ends: Annotated[Joint, Spec("count", None, None, "End supports of the screw")] = Joint()
    rack: Annotated[Joint, Spec("count", None, None, "Racks")] = Joint()
    motor: Annotated[Joint, Spec("count", None, None, "Motor")] = Joint()
    motor_frame: Annotated[
        MotorFrame,
        Spec(
            "count", None, None, "Motor flange", "NEMA ICS 16, or the pattern entered with the motor's joint."
        ),
    ] = "NEMA 23"


class Joints(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Every kind of joint, and what tightening and friction are reckoned with."""

    x: Annotated[AxisJoints, Spec("count", None, None, "Along X")] = AxisJoints()
    y: Annotated[AxisJoints, Spec("count", None, None, "Along Y")] = AxisJoints()
    z: Annotated[AxisJoints, Spec("count", None, None, "Along Z")] = AxisJoints()
    foot: Annotated[Joint, Spec("count", None, None, "Foot plates to uprights")] = Joint()
    cap: Annotated[Joint, Spec("count", None, None, "Seat plates to uprights")] = Joint()
    seat: Annotated[Joint, Spec("count", None, None, "Uprights to beam")] = Joint()
    mount: Annotated[Joint, Spec("count", None, None, "Spindle mount to head plate")] = Joint()
    legs: Annotated[Joint, Spec("count", None, None, "Legs to side beams")] = Joint()
    feet: Annotated[Joint, Spec("count", None, None, "Feet or floor supports")] = Joint()
    cross: Annotated[Joint, Spec("count", None, None, "Cross members")] = Joint()
    low_rails: Annotated[Joint, Spec("count", None, None, "Lower rails")] = Joint()
    diagonals: Annotated[Joint, Spec("count", None, None, "Diagonals")] = Joint()
    friction: Annotated[
        Band,
        Spec(
            "ratio",
            None,
            None,
            "Friction between the parts",
            "Of dry machined faces; oil or paint takes much of it (common practice).",
        ),
    ] = band(0.1, 0.15, 0.2)
    screw_friction: Annotated[
        Band,
        Spec(
            "ratio",
            None,
            None,
            "Friction of screws",
            "In the thread and under the head (VDI 2230, from memory: 0.08 to 0.16 for usual finishes).",
        ),
    ] = band(0.1, 0.12, 0.16)
    tightened: Annotated[
        Literal["torque wrench", "by feel"],
        Spec(
            "count",
            None,
            None,
            "Tightened",
            "A torque wrench is within 10 %, a hand within 35 % (common practice).",
        ),
    ] = "torque wrench"
    wanted_margin: Annotated[
        float,
        Spec(
            "ratio",
            1.0,
            10.0,
            "Margin wanted",
            "Of slipping and opening, with likely figures; 1.2 at rest to 1.8 in turn (VDI 2230, from memory).",
        ),
    ] = 1.5
    nut_kind: Annotated[
        NutKind,
        Spec(
            "count",
            None,
            None,
            "Kind of T-nut",
            "Of all joints but the rails. Slide-in goes in from a slot's end, roll-in through its opening, swivel turns across.",
        ),
    ] = "slide-in"
    spare_share: Annotated[float, Spec("share", 0.0, 1.0, "Spares", "Share that is bought on top.")] = 0.1
    pack_size: Annotated[int, Spec("count", 1, 10000, "Screws in a pack")] = 50
    nut_pack_size: Annotated[int, Spec("count", 1, 10000, "Nuts in a pack")] = 50
    washer_pack_size: Annotated[int, Spec("count", 1, 10000, "Washers in a pack")] = 100

    def check(self) -> None:
        for name in ("friction", "screw_friction"):
            if getattr(self, name).high > 1.0:
                raise BadEntry(name, f"{getattr(self, name).high:g}", "is more than faces hold", "up to 1")
