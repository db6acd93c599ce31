"""Changes worth trying: the next larger section, rail, plate or drive, a wider stance, a shorter arm.

Each is a list of entries to set, so that it can be put into the machine as one step. Whether it helps is for `find` to say.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import msgspec

from core.advice.bigger import Way, bigger, nearest_tube, next_plate
from core.fasteners.fitted import beam_of, with_beam
from core.fields import Band, band
from core.machine.base import Legs
from core.machine.drives import BallScrew, KnownStiffness, RackPinion, ToothedBelt
from core.machine.guides import RAILS, Guides
from core.machine.project import Machine
from core.sections import label

# Root diameters of screws with nominal diameters of 16, 20, 25, 32 and 40 mm, about (common practice), m.
SCREW_ROOTS = (0.0135, 0.0175, 0.0225, 0.029, 0.037)
# Shanks that collets take (common practice), m.
SHANKS = (0.003, 0.004, 0.006, 0.008, 0.010, 0.012, 0.016, 0.020)
NEAR = 1e-6


@dataclass(frozen=True, slots=True)
class Change:
    """A change of the machine.

    Attributes:
        key: short name of its own. words: what is done ("Beam: next taller section, 140 x 80 x 5 hollow, cold formed").
        edits: (dotted path in the project, value) to be set together.
        material: key of the material that is added, for a price; empty where it is none of the list.
        weighs: whether the parts list tells the added mass.
    """

    key: str
    words: str
    edits: tuple[tuple[str, Any], ...]
    material: str = ""
    weighs: bool = True


def changes(machine: Machine) -> tuple[Change, ...]:
    """Every change that this machine offers; some may not fit, which shows when they are tried."""
    return (
        *_sections(machine),
        *_plates(machine),
        *_rails(machine),
        *_stances(machine),
        *_arms(machine),
        *_drives(machine),
        *_joints(machine),
    )


def _sections(machine: Machine) -> Iterator[Change]:
    gantry, base = machine.gantry, machine.base
    parts: list[tuple[str, str, Any, str, str]] = [
        ("beam", "Gantry beam", gantry.beam, "machine.gantry.beam", gantry.beam.material),
        ("upright", "Uprights", gantry.upright, "machine.gantry.upright", gantry.upright.material),
        ("side_beam", "Side beams", base, "machine.base", base.material),
    ]
    ways: tuple[Way, ...] = ("taller", "wider", "thicker")
    for key, words, part, path, stuff in parts:
        for way in ways:
            found = bigger(part.section, part.turned, way)
            if found is not None:
                section, turned = found
                edits: list[tuple[str, Any]] = [(f"{path}.section", section)]
                if turned != part.turned:
                    edits.append((f"{path}.turned", turned))
                if key == "beam":
                    new = msgspec.structs.replace(part, section=section, turned=turned)
                    spacing = with_beam(machine, new).x_guides.rail_spacing
                    if spacing != machine.x_guides.rail_spacing:
                        edits.append(("machine.x_guides.rail_spacing", spacing))
                what = f"{words}: next {way} section, {label(section)}"
                yield Change(f"{key}-{way}", what, tuple(edits), stuff)
    yield from _steel_beam(machine)
    if gantry.upright.material.startswith("en_aw"):
        edit = ("machine.gantry.upright.material", "s235")
        yield Change("upright-steel", "Uprights: the same size in steel", (edit,))
    stand = base.stand
    if isinstance(stand, Legs):
        for field, words, stuff in (
            ("section", "Legs", stand.material),
            ("cross_section", "Cross members", stand.cross_material),
        ):
            found = bigger(getattr(stand, field), False, "wider") or bigger(
                getattr(stand, field), False, "thicker"
            )
            if found is not None:
                where = f"machine.base.stand.{field}"
                yield Change(
                    f"stand-{field}", f"{words}: next size, {label(found[0])}", ((where, found[0]),), stuff
                )
    if base.supports < 8:
        edit2 = ("machine.base.supports", base.supports + 1)
        yield Change("supports", "Side beams: one support more under each", (edit2,), base.material)


def _steel_beam(machine: Machine) -> Iterator[Change]:
    """A steel tube in place of an extruded beam, held and fastened as tubes are."""
    beam = machine.gantry.beam
    found = nearest_tube(beam.section, beam.turned)
    if found is None:
        return
    new = beam_of(beam, found[0], turned=found[1])
    path = "machine.gantry.beam"
    edits = [(f"{path}.{name}", getattr(new, name)) for name in ("section", "material", "rail_fastening", "turned")
             if getattr(new, name) != getattr(beam, name)]  # fmt: skip
    yield Change("beam-steel", f"Gantry beam: a steel tube, {label(new.section)}", tuple(edits), new.material)


def _plates(machine: Machine) -> Iterator[Change]:
    rows = (
        ("saddle", "Saddle plate", machine.saddle.thickness, "machine.saddle.thickness", machine.saddle.material),
        ("head_plate", "Head plate", machine.head.plate_thickness, "machine.head.plate_thickness",
         machine.head.material),
        ("foot_plate", "Foot plates", machine.gantry.foot_plate.thickness, "machine.gantry.foot_plate.thickness",
         machine.gantry.foot_plate.material),
    )  # fmt: skip
    for key, words, thickness, path, stuff in rows:
        new = next_plate(thickness)
        if new is not None:
            yield Change(key, f"{words}: {new * 1e3:g} mm thick", ((path, new),), stuff, key != "head_plate")


_AXES = (("x", "X", "machine.x_guides"), ("y", "Y", "machine.y_guides"), ("z", "Z", "machine.head.guides"))


def _guides(machine: Machine) -> Iterator[tuple[str, str, str, Guides]]:
    for (axis, words, path), guides in zip(
        _AXES, (machine.x_guides, machine.y_guides, machine.head.guides), strict=True
    ):
        yield axis, words, path, guides


def _rails(machine: Machine) -> Iterator[Change]:
    for axis, words, path, guides in _guides(machine):
        larger = next((size for size in sorted(RAILS) if size > guides.size), None)
        if larger is not None:
            least = round(RAILS[larger].carriage_length * (guides.carriages - 1) + 0.004, 2)
            edits: list[tuple[str, Any]] = [(f"{path}.size", larger)]
            if guides.carriages > 1 and guides.spread < least:
                edits.insert(0, (f"{path}.spread", least))
            yield Change(f"{axis}-rail", f"{words} rails and carriages: size {larger}", tuple(edits))
        if 1 < guides.carriages < 4:
            more, least = (
                guides.carriages + 1,
                round(guides.data.carriage_length * guides.carriages + 0.004, 2),
            )
            edits = [(f"{path}.spread", max(guides.spread, least)), (f"{path}.carriages", more)]
            yield Change(f"{axis}-carriages", f"{words} guides: {more} carriages on each rail", tuple(edits))


def _stances(machine: Machine) -> Iterator[Change]:
    for axis, words, path, guides in _guides(machine):
        if guides.carriages > 1:
            wider = round(1.25 * guides.spread, 2)
            edits: list[tuple[str, Any]] = [(f"{path}.spread", wider)]
            if axis == "x" and machine.saddle.width < wider + guides.data.carriage_length:
                edits.append(("machine.saddle.width", machine.saddle.width + wider - guides.spread))
            length = machine.gantry.foot_plate.length
            if axis == "y" and length is not None:
                edits.append(("machine.gantry.foot_plate.length", length + wider - guides.spread))
            yield Change(
                f"{axis}-spread", f"{words} carriages: spread {wider * 1e3:g} mm along the rail", tuple(edits)
            )
        if axis != "y":
            apart = round(1.25 * guides.rail_spacing, 2)
            edits = [(f"{path}.rail_spacing", apart)]
            if axis == "z" and machine.head.plate_width < apart + guides.data.rail_width + 0.01:
                edits.append(
                    ("machine.head.plate_width", machine.head.plate_width + apart - guides.rail_spacing)
                )
            yield Change(f"{axis}-spacing", f"{words} rails: {apart * 1e3:g} mm apart", tuple(edits))


def _arms(machine: Machine) -> Iterator[Change]:
    head, cutter = machine.head, machine.cutter
    shank = next((d for d in SHANKS if d > cutter.diameter + NEAR), None)
    if shank is not None:
        yield Change(
            "shank", f"Cutter: {shank * 1e3:g} mm shank", (("machine.cutter.diameter", shank),), "", False
        )
    rows = (
        ("stick-out", "Cutter: 10 mm less stick-out", "machine.cutter.stick_out", cutter.stick_out, 0.01, 0.005),
        ("reach", "Head: spindle 10 mm nearer to its plate", "machine.head.reach", head.reach, 0.01, 0.02),
        ("mount", "Head: spindle mount 20 mm nearer to the tool tip", "machine.head.mount_above_tip",
         head.mount_above_tip, 0.02, 0.04),
        ("lower", "Head: Z carriages 20 mm lower", "machine.head.carriages_above_table",
         head.carriages_above_table, 0.02, 0.06),
        ("clearance", "Gantry: 20 mm less clearance under the beam", "machine.work.clearance",
         machine.work.clearance, 0.02, 0.05),
    )  # fmt: skip
    for key, words, path, value, less, least in rows:
        if value - less >= least - NEAR:
            yield Change(key, words, ((path, value - less),))


def _drives(machine: Machine) -> Iterator[Change]:
    rows = (
        ("x", "X drive", machine.x_drive, "machine.x_drive"),
        ("y", "Y drives", machine.y_drive, "machine.y_drive"),
        ("z", "Z drive", machine.head.drive, "machine.head.drive"),
    )
    for axis, words, drive, path in rows:
        if isinstance(drive, BallScrew):
            root = next((d for d in SCREW_ROOTS if d > drive.diameter + NEAR), None)
            if root is not None:
                what = f"{words}: next larger screw, root diameter {root * 1e3:g} mm"
                yield Change(f"{axis}-screw", what, ((f"{path}.diameter", root),))
            if drive.ends != "fixed-fixed":
                what = f"{words}: screw held fixed at both ends"
                yield Change(f"{axis}-ends", what, ((f"{path}.ends", "fixed-fixed"),), "", False)
        elif isinstance(drive, RackPinion):
            if drive.teeth >= 20:
                what = f"{words}: pinion of {drive.teeth - 4} teeth"
                yield Change(f"{axis}-pinion", what, ((f"{path}.teeth", drive.teeth - 4),), "", False)
            stiffer = (f"{path}.gearbox_stiffness", times(drive.gearbox_stiffness, 1.5))
            yield Change(f"{axis}-gearbox", f"{words}: gearbox half as stiff again", (stiffer,), "", False)
        elif isinstance(drive, ToothedBelt):
            stiffer = (f"{path}.specific_stiffness", times(drive.specific_stiffness, 1.5))
            yield Change(f"{axis}-belt", f"{words}: belt half as wide again", (stiffer,), "", False)
        elif isinstance(drive, KnownStiffness):
            stiffer = (f"{path}.stiffness", times(drive.stiffness, 1.5))
            yield Change(f"{axis}-drive", f"{words}: half as stiff again", (stiffer,), "", False)


def _joints(machine: Machine) -> Iterator[Change]:
    upright, head = machine.gantry.upright, machine.head
    joint = ("machine.gantry.upright.joint_turning", times(upright.joint_turning, 2.0))
    yield Change(
        "joint", "Beam to upright joints: braced to twice the turning stiffness", (joint,), "", False
    )
    mount = (
        ("machine.head.mount_turning", times(head.mount_turning, 2.0)),
        ("machine.head.mount_stiffness", times(head.mount_stiffness, 2.0)),
    )
    yield Change("spindle-mount", "Spindle mount: twice as stiff", mount, "", False)
    if isinstance(machine.base.stand, Legs):
        feet = ("machine.base.stand.foot_stiffness", times(machine.base.stand.foot_stiffness, 2.0))
        yield Change("feet", "Feet: twice as stiff", (feet,), "", False)


def times(b: Band, factor: float) -> Band:
    """A band with all its figures times a factor."""
    return band(b.low * factor, b.likely * factor, b.high * factor)


def apply(machine: Machine, edits: tuple[tuple[str, Any], ...]) -> Machine:
    """The machine with the edits made together. Raises BadEntry when the result would not be accepted."""
    changed: Any = machine
    for path, value in edits:
        changed = _set(changed, path.split(".")[1:], value)
    return _checked(changed, [path.split(".")[1:] for path, _ in edits])  # type: ignore[no-any-return]


def _set(struct: Any, steps: list[str], value: Any) -> Any:
    inner = value if len(steps) == 1 else _set(getattr(struct, steps[0]), steps[1:], value)
    return msgspec.structs.replace(struct, **{steps[0]: inner})


def _checked(machine: Any, paths: list[list[str]]) -> Any:
    """Check every struct along the paths, innermost first; replace() does not, and two edits may only fit together."""
    for path in paths:
        structs = [machine]
        for step in path[:-1]:
            structs.append(getattr(structs[-1], step))
        for struct in reversed(structs):
            struct.__post_init__()
    return machine
