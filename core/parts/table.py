"""One table of every part that the description implies, with quantities, lengths, masses and packs."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from core.fasteners import FittedJoint, RailAnswer, held, totals
from core.machine.base import Legs
from core.machine.diagonals import diagonals
from core.machine.drives import BallScrew, Drive, RackPinion, ToothedBelt
from core.machine.guides import Guides
from core.machine.layout import Layout
from core.machine.project import Project
from core.materials import material
from core.parts.keys import fastener_key, slug, told_apart
from core.parts.masses import foot_mass, plate_mass, saddle_mass
from core.parts.pieces import bar_pieces
from core.sections import Section, SectionProperties
from core.units import show


@dataclass(frozen=True, slots=True)
class PartLine:
    """One row. Lengths in m, masses in kg; None where the description does not tell.

    `key` stays the same while the part is the same thing, so that records of stock find it again.
    `quantity` is what the machine needs; `spare` comes on top. `pack_size` and `packs` are 0 for what is
    bought singly. `section` is what a length is cut from, `material` the key of what it is made of; None and empty where
    that is no question. `counted` is False for a mass that stands for things listed nowhere: nothing to order.
    """

    key: str
    group: str
    what: str
    spec: str
    quantity: int
    length: float | None
    mass_each: float | None
    mass: float | None
    spare: int = 0
    pack_size: int = 0
    packs: int = 0
    where: str = ""
    section: Section | None = None
    material: str = ""
    counted: bool = True


def parts(
    project: Project, layout: Layout, rails: tuple[RailAnswer, ...], joints: tuple[FittedJoint, ...] = ()
) -> tuple[PartLine, ...]:
    """Every part, in the order in which a machine grows: base, guides, gantry, head, drives, fasteners; then the user's own.

    No two lines have the same key.
    """
    lines = (
        *_base(project, layout),
        *_gantry(project, layout),
        *_head(project, layout),
        *_guides(project, layout, rails),
        *_drives(project, layout),
        *_fasteners(project, rails, joints),
        *_own(project),
    )
    return tuple(told_apart(lines))


def _line(
    key: str,
    group: str,
    what: str,
    spec: str,
    quantity: int,
    length: float | None,
    each: float | None,
    where: str,
    section: Section | None = None,
    material: str = "",
    counted: bool = True,
) -> PartLine:
    mass = None if each is None else quantity * each
    return PartLine(
        key, group, what, spec, quantity, length, each, mass,
        where=where, section=section, material=material, counted=counted,
    )  # fmt: skip


def _bars(
    key: str,
    group: str,
    what: str,
    bar: tuple[Section, SectionProperties, str],
    quantity: int,
    length: float,
    where: str,
) -> Iterator[PartLine]:
    """A row for each kind of piece of a bar (section, its properties, main material)."""
    for piece in bar_pieces(*bar):
        words = f"{what}: {piece.words}" if piece.words else what
        count, mass = quantity * piece.count, piece.linear_mass * length
        stuff = (piece.section, piece.metal)
        yield _line(f"{key}{piece.suffix}", group, words, piece.spec, count, length, mass, where, *stuff)


def _words(project: Project, *lengths: float) -> str:
    return " x ".join(show(length, "length", project.units) for length in lengths)


def _base(project: Project, layout: Layout) -> Iterator[PartLine]:
    base = project.machine.base
    side, length = layout.sections.side_beam, layout.side_beam_length
    bar = (base.section, side, base.material)
    yield from _bars("side_beam", "Base", "Side beam", bar, 2, length, "base")
    stand, leg, cross = base.stand, layout.sections.leg, layout.sections.cross
    if not isinstance(stand, Legs) or leg is None or cross is None:
        return
    bar = (stand.section, leg, stand.material)
    yield from _bars("leg", "Base", "Leg", bar, 2 * base.supports, stand.height, "base")
    yield from _cross_members(project, layout, stand, leg, cross)
    yield from _diagonals(project, layout, stand)


def _cross_members(
    project: Project, layout: Layout, stand: Legs, leg: SectionProperties, cross: SectionProperties
) -> Iterator[PartLine]:
    base = project.machine.base
    bar = (stand.cross_section, cross, stand.cross_material)
    low = stand.low_cross > 0.0
    upper = 2.0 * layout.side_x - layout.sections.side_beam.width
    rows = [("cross_member", "Cross member", base.supports, upper, "between the side beams")]
    if low:
        across = 2.0 * layout.side_x - leg.width
        rows.append(("lower_cross_member", "Lower cross member", base.supports, across, "between the legs"))
    if low and stand.low_rails:
        # Clear length between neighbouring legs; supports stand as the stiffness model has them.
        inset = min(base.support_inset, 0.45 * layout.side_beam_length)
        step = (layout.side_beam_length - 2.0 * inset) / (base.supports - 1)
        along = max(step - leg.height, 0.0)
        rows.append(("lower_rail", "Lower rail", 2 * (base.supports - 1), along, "between the legs, along Y"))
    for key, what, quantity, length, where in rows:
        yield from _bars(key, "Base", what, bar, quantity, length, where)


def _diagonals(project: Project, layout: Layout, stand: Legs) -> Iterator[PartLine]:
    """Diagonals by plane; all of one plane are cut alike."""
    section = layout.sections.diagonal
    if stand.diagonals is None or section is None:
        return
    bar = (stand.diagonals.section, section, stand.diagonals.material)
    every = diagonals(project.machine, layout)
    for plane, where in (("along", "between the legs, along Y"), ("across", "between the legs, along X")):
        found = [d for d in every if d.plane == plane]
        if found:
            length = found[0].cut_length(section.height)
            what = f"Diagonal {plane} the table, both ends mitred"
            yield from _bars(f"diagonal_{plane}", "Base", what, bar, len(found), length, where)


def _gantry(project: Project, layout: Layout) -> Iterator[PartLine]:
    machine, gantry = project.machine, project.machine.gantry
    beam, upright, foot = gantry.beam, gantry.upright, gantry.foot_plate
    bar = (beam.section, layout.sections.beam, beam.material)
    yield from _bars("beam", "Gantry", "Gantry beam", bar, 1, layout.beam_length, "gantry")
    if beam.extra_mass > 0.0:
        yield _line(
            "beam_other", "Gantry", "Other mass on the beam", "as entered", 1, None, beam.extra_mass, "gantry",
            counted=False,
        )  # fmt: skip
    bar = (upright.section, layout.sections.upright, upright.material)
    yield from _bars("upright", "Gantry", "Upright", bar, 2, layout.upright_length, "gantry")
    spec = f"Plate {_words(project, foot.width, foot.thickness)}, {material(foot.material).name}"
    mass = foot_mass(machine, layout)
    yield _line(
        "foot_plate", "Gantry", "Foot plate", spec, 2, layout.foot_length, mass, "under the uprights",
        None, foot.material,
    )  # fmt: skip


def _head(project: Project, layout: Layout) -> Iterator[PartLine]:
    saddle, head = project.machine.saddle, project.machine.head
    spec = f"Plate {_words(project, saddle.width, saddle.thickness)}, {material(saddle.material).name}"
    mass = saddle_mass(project.machine)
    yield _line(
        "saddle", "Head", "Saddle plate", spec, 1, saddle.height, mass, "on the X carriages",
        None, saddle.material,
    )  # fmt: skip
    if saddle.extra_mass > 0.0:
        yield _line(
            "saddle_other",
            "Head",
            "Other mass on the saddle",
            "as entered",
            1,
            None,
            saddle.extra_mass,
            "saddle",
            counted=False,
        )
    length = layout.z_rail_length
    spec = f"Plate {_words(project, head.plate_width, head.plate_thickness)}, {material(head.material).name}"
    mass = plate_mass(head.plate_width, length, head.plate_thickness, head.material)
    yield _line(
        "head_plate", "Head", "Head plate", spec, 1, length, mass, "on the Z carriages",
        None, head.material,
    )  # fmt: skip
    rails = 2.0 * head.guides.data.linear_mass * length
    rest = max(head.mass - mass - rails, 0.0)
    spec = "entered mass less plate and rails"
    yield _line("head_rest", "Head", "Spindle, mount and the rest of the head", spec, 1, None, rest, "head")


def _guides(project: Project, layout: Layout, rails: tuple[RailAnswer, ...]) -> Iterator[PartLine]:
    machine = project.machine
    axes: tuple[tuple[str, Guides, float, str], ...] = (
        ("x", machine.x_guides, layout.x_rail_length, "on the gantry beam"),
        ("y", machine.y_guides, layout.y_rail_length, "on the side beams"),
        ("z", machine.head.guides, layout.z_rail_length, "on the head plate"),
    )
    for axis, guides, length, where in axes:
        data = guides.data
        spec = f"Profiled rail size {guides.size} (ISO 12090-1)"
        yield from _rail_lines(axis, spec, length, data.linear_mass, where, rails)
        spec = f"Carriage size {guides.size} (ISO 12090-1)"
        count = 2 * guides.carriages
        what = f"{axis.upper()} carriage"
        yield _line(f"{axis}_carriage", "Guides", what, spec, count, None, data.carriage_mass, where)


def _rail_lines(
    axis: str, spec: str, length: float, linear_mass: float, where: str, rails: tuple[RailAnswer, ...]
) -> Iterator[PartLine]:
    """Both rails whole, or a line for each length of their pieces, the longest first."""
    own = [piece for rail in rails if rail.axis == axis for piece in rail.pieces]
    if len(own) <= 2:
        mass = linear_mass * length
        yield _line(f"{axis}_rail", "Guides", f"{axis.upper()} rail", spec, 2, length, mass, where)
        return
    counts = Counter(round(piece.length, 6) for piece in own)
    for each, count in sorted(counts.items(), reverse=True):
        key = f"{axis}_rail_piece_{slug(f'{each * 1000:g}')}"
        what = f"{axis.upper()} rail, piece"
        yield _line(key, "Guides", what, spec, count, each, linear_mass * each, where)


def _drives(project: Project, layout: Layout) -> Iterator[PartLine]:
    machine = project.machine
    axes: tuple[tuple[str, Drive, int, float, str], ...] = (
        ("x", machine.x_drive, 1, layout.x_rail_length, "along the gantry beam"),
        ("y", machine.y_drive, 2, layout.y_rail_length, "along the side beams"),
        ("z", machine.head.drive, 1, layout.z_rail_length, "on the saddle"),
    )
    for axis, drive, count, length, where in axes:
        name = axis.upper()
        if isinstance(drive, BallScrew):
            spec = (
                f"Root diameter {_words(project, drive.diameter)}, lead {_words(project, drive.lead)}, "
                f"{drive.ends}"
            )
            mass: float | None = _shaft_mass(drive.diameter, length)
            yield _line(f"{axis}_screw", "Drives", f"{name} ball screw", spec, count, length, mass, where)
        elif isinstance(drive, RackPinion):
            spec = f"Module {drive.module * 1000:g}"
            yield _line(f"{axis}_rack", "Drives", f"{name} rack", spec, count, length, None, where)
            spec = f"Module {drive.module * 1000:g}, {drive.teeth} teeth"
            yield _line(f"{axis}_pinion", "Drives", f"{name} pinion", spec, count, None, None, where)
        elif isinstance(drive, ToothedBelt):
            # Two strands; what goes round the pulleys and into the clamps comes on top.
            spec = "Toothed belt, two strands, without pulleys and clamps"
            yield _line(f"{axis}_belt", "Drives", f"{name} belt", spec, count, 2.0 * length, None, where)
        else:
            yield _line(
                f"{axis}_drive", "Drives", f"{name} drive", "Known stiffness", count, None, None, where
            )
        if drive.mass_each > 0.0:
            what = f"{name} drive's riding parts"
            yield _line(
                f"{axis}_riding", "Drives", what, "entered mass", count, None, drive.mass_each, "gantry"
            )


def _shaft_mass(diameter: float, length: float) -> float:
    # A steel screw shaft counted at its root diameter.
    return math.pi * diameter**2 / 4.0 * length * material("bearing_steel").density


def _fasteners(
    project: Project, rails: tuple[RailAnswer, ...], joints: tuple[FittedJoint, ...]
) -> Iterator[PartLine]:
    sides = held(project)
    bars: dict[tuple[str, str, float], int] = {}
    for rail in rails:
        if rail.hold == "tapped bar":
            thick = sides[rail.axis][0].bar_thickness
            spec = f"Steel bar {_words(project, thick)} thick, {rail.count} x {rail.screw}"
            alike = (rail.axis, spec, rail.length)
            bars[alike] = bars.get(alike, 0) + 1
    for (axis, spec, length), count in bars.items():
        where = f"under the {axis.upper()} rails"
        yield _line(f"{axis}_bar", "Fasteners", "Tapped bar", spec, count, length, None, where)
    for total in totals(rails, project, joints):
        yield PartLine(
            fastener_key(total.what, total.spec), "Fasteners", total.what, total.spec, total.needed, None, None, None,
            total.spare, total.pack_size, total.packs, total.where,
        )  # fmt: skip


def _own(project: Project) -> Iterator[PartLine]:
    """Parts that the user added."""
    for part in project.own_parts:
        group = part.group.strip() or "Other"
        yield _line(
            part.key, group, part.name, part.spec, part.quantity, part.length, part.mass_each, part.where
        )
