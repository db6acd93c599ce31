"""Where the T-nuts of joints stand: on which bar, face and slot, and how far from the bar's datum edge.

Bars run from their left, front or lower end. Faces are counted by their slots from the lower, front or inner edge.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.fasteners.ground import ON_LINE
from core.fasteners.joints.base_sites import EARS, HEAD_PLATE
from core.fasteners.joints.fitted import FittedJoint
from core.machine.base import Legs
from core.machine.diagonals import diagonals, knee_height
from core.machine.layout import Layout, support_places
from core.machine.project import Machine, Project

SIDES = ("left", "right")
BAR_ENDS = {
    "gantry beam": ("left", "right"),
    "side beam": ("front", "back"),
    "leg": ("lower", "upper"),
    "upright": ("lower", "upper"),
}
"""Words for the start and the end of each kind of bar."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where one joint stands on a slotted bar.

    Attributes:
        name: of the joint. bar: "left side beam". kind: of bar, a key of `BAR_ENDS`. length: of the bar, m. face: in words.
        middle: of the joint from the bar's start, m. reach: of its part either way, m.
        kept: (from, to) of the part along the bar; places of screws beyond it are left out (a rack cut shorter).
    """

    name: str
    bar: str
    kind: str
    length: float
    face: str
    middle: float
    reach: float
    kept: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class JointNut:
    """One T-nut of a joint.

    Attributes:
        spot: of its joint. joint: the kind of joint's key. label: of the kind. slot: number on the face from 0; None when the
            screw stands beside the slots. place: from the bar's start, m. thread: of its screw.
    """

    spot: Spot
    joint: str
    label: str
    slot: int | None
    place: float
    thread: str


def joint_nuts(project: Project, lay: Layout, joints: tuple[FittedJoint, ...]) -> list[JointNut]:
    """Every T-nut of every joint."""
    return [
        nut
        for joint in joints
        if joint.hold == "T-nut" and joint.pattern is not None and joint.stack is not None
        for spot in spots(project.machine, lay, joint)
        for nut in _nuts(joint, spot)
    ]


def _nuts(joint: FittedJoint, spot: Spot) -> Iterator[JointNut]:
    assert joint.pattern is not None
    lines = joint.site.lines_of_face
    for u, v in joint.pattern.places:
        place, across = spot.middle + u, v + joint.site.offset
        if spot.kept is not None and not spot.kept[0] - 1e-9 <= place <= spot.kept[1] + 1e-9:
            continue
        near = min(range(len(lines)), key=lambda k: abs(lines[k] - across), default=None)
        slot = near if near is not None and abs(lines[near] - across) <= ON_LINE else None
        yield JointNut(spot, joint.key, joint.label, slot, place, joint.size.thread)


def spots(machine: Machine, lay: Layout, joint: FittedJoint) -> tuple[Spot, ...]:
    """Where every joint of a kind stands; empty for kinds that stand on no bar's side."""
    key, names = joint.key, joint.site.names
    reach = joint.site.face[0] / 2.0
    if key in ("seat", "cap"):
        return tuple(_upright(machine, lay, key, name, reach) for name in names)
    if key.endswith(("_ends", "_rack")):
        return tuple(_drive(machine, lay, joint))
    places = support_places(machine, lay)
    start = lay.side_y - lay.side_beam_length / 2.0
    if key in ("legs", "feet", "cross"):
        found = []
        for name in names:
            side, number = (
                (name.rpartition(", ")[2], int(name.split(",")[0].split()[-1]))
                if key == "cross"
                else name.split()
            )
            bar, face = f"{side} side beam", "inner" if key == "cross" else "bottom"
            middle = places[int(number) - 1] - start
            found.append(Spot(name, bar, "side beam", lay.side_beam_length, face, middle, reach))
        return tuple(found)
    return tuple(_on_legs(machine, lay, key, names, reach))


def _upright(machine: Machine, lay: Layout, key: str, name: str, reach: float) -> Spot:
    on_top = machine.gantry.upright.seat == "on top"
    if key == "seat":
        half = lay.beam_length / 2.0
        middle = half + lay.upright_spacing / 2.0 * (-1.0 if name == "left" else 1.0)
        return Spot(
            name, "gantry beam", "gantry beam", lay.beam_length, "bottom" if on_top else "rear", middle, reach
        )
    return Spot(
        name,
        f"{name} upright",
        "upright",
        lay.upright_length,
        "front",
        lay.beam_z - lay.upright_bottom,
        reach,
    )


def _drive(machine: Machine, lay: Layout, joint: FittedJoint) -> Iterator[Spot]:
    """End supports at the ends of screw or belt, racks one after the other from the rail's start."""
    axis, across = joint.key[0], joint.site.face[0] / 2.0
    on_x = axis == "x"
    length, rail = (lay.beam_length, lay.x_rail_length) if on_x else (lay.side_beam_length, lay.y_rail_length)
    kind = "gantry beam" if on_x else "side beam"
    face = machine.gantry.beam.rail_face if on_x else {"top": "top"}.get(machine.base.rail_face, "outer")
    margin = (length - rail) / 2.0
    for name in joint.site.names:
        bar = kind if on_x else f"{name.split()[0]} {kind}"
        if joint.key.endswith("_ends"):
            # A screw or belt along X runs between the uprights' middle lines, along Y over the whole side beam.
            away = min(lay.joint_x if on_x else length, length / 2.0 - across)
            sign = 1.0 if name.endswith("far end") else -1.0
            yield Spot(name, bar, kind, length, face, length / 2.0 + sign * away, across)
        else:
            number = int(name.split()[-1])
            start = margin + (number - 1) * 2.0 * across
            end = min(start + 2.0 * across, margin + rail)
            kept = (start, end)
            yield Spot(name, bar, kind, length, face, start + across, across, kept)


def _on_legs(machine: Machine, lay: Layout, key: str, names: tuple[str, ...], reach: float) -> Iterator[Spot]:
    stand = machine.base.stand
    if not isinstance(stand, Legs):
        return
    low = knee_height(stand)

    def spot(name: str, side: str, number: int, face: str, middle: float) -> Spot:
        return Spot(name, f"{side} leg {number}", "leg", stand.height, face, middle, reach)

    if key == "diagonals":
        # The plate of a diagonal stands right above that of the lower tie, and right below the leg's head plate.
        tie = (lay.sections.cross.height / 2.0 + EARS) if lay.sections.cross is not None and low else 0.0
        ends = {d.name: d for d in diagonals(machine, lay)}
        for name in names:
            title, _, end = name.rpartition(", ")
            one = ends[title]
            side, number = one.low if end == "lower end" else one.high
            other = one.high if end == "lower end" else one.low
            face = "inner" if one.plane == "across" else "back" if other[1] > number else "front"
            middle = low + tie + reach if end == "lower end" else stand.height - HEAD_PLATE - reach
            yield spot(name, side, number + 1, face, middle)
        return
    for name in names:
        title, _, end = name.rpartition(", ")
        if key == "low_cross":
            yield spot(name, end, int(title.split()[-1]), "inner", low)
        elif key == "low_rails":
            side, number = title.split()[0], int(title.split()[-1])
            yield spot(name, side, number + (end == "back"), "back" if end == "front" else "front", low)
