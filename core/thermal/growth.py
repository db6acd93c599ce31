"""What grows: beams, rails, uprights; the travel of an axis against the work; and a screw that is held at both ends."""

from __future__ import annotations

import math

import numpy as np

from core.bars.two_metals import expansion_by_heat, has_two_metals
from core.machine.drives import BallScrew, RackPinion, ToothedBelt
from core.machine.heat import Heat
from core.machine.project import Machine
from core.materials import material
from core.model.setting import Setting
from core.sections import Section
from core.thermal.bimetal import Floats
from core.thermal.bows import RAIL_METAL
from core.thermal.results import Growth, HeatPath, HeldScrew, Scale

RACK_METAL = "s235"
CONCRETE = 10e-6
"""Expansion of a concrete floor, 1/K (from memory, low)."""


def beam_expansion(machine: Machine) -> float:
    """Expansion of the gantry beam, a plate of another metal included, 1/K."""
    return expansion_by_heat(machine.gantry.beam.section, machine.gantry.beam.material)


def side_expansion(machine: Machine) -> float:
    """The same of the side beams."""
    return expansion_by_heat(machine.base.section, machine.base.material)


def find_growths(setting: Setting, changes: Floats) -> tuple[Growth, ...]:
    """Every long part by itself, held by nothing."""
    machine, lay = setting.machine, setting.layout
    gantry, base = machine.gantry, machine.base
    upright = gantry.upright
    rows: tuple[tuple[str, str, float, str, Section | None], ...] = (
        ("beam", "Gantry beam", lay.beam_length, gantry.beam.material, gantry.beam.section),
        ("x_rails", "X rails", lay.x_rail_length, RAIL_METAL, None),
        ("uprights", "Uprights, upwards", lay.upright_length, upright.material, upright.section),
        ("side_beams", "Side beams", lay.side_beam_length, base.material, base.section),
        ("y_rails", "Y rails", lay.y_rail_length, RAIL_METAL, None),
    )
    found = []
    for key, label, length, metal, section in rows:
        stuff = material(metal)
        two = section is not None and has_two_metals(section, metal)
        expansion = stuff.expansion if section is None else expansion_by_heat(section, metal)
        change = (float(expansion * length * changes[0]), float(expansion * length * changes[1]))
        found.append(
            Growth(key, label, length, f"{stuff.name} and a plate" if two else stuff.name, expansion, change)
        )
    return tuple(found)


def find_spread(setting: Setting, changes: Floats) -> tuple[float, float]:
    """How much more the gantry beam grows between the uprights than the base below it, m."""
    machine, lay = setting.machine, setting.layout
    stand = machine.base.stand
    below = getattr(stand, "cross_material", None)
    base = material(below).expansion if below is not None else CONCRETE
    more = (beam_expansion(machine) - base) * lay.upright_spacing * changes
    return float(more[0]), float(more[1])


def find_scales(
    setting: Setting, heat: Heat, changes: Floats, paths: tuple[HeatPath, ...]
) -> tuple[Scale, ...]:
    """Error over the whole travel of X and Y."""
    machine = setting.machine
    return tuple(
        _scale(axis, travel, drive, carrier, heat, changes, path)
        for axis, travel, drive, carrier, path in (
            ("X", machine.work.travel_x, machine.x_drive, beam_expansion(machine), paths[0]),
            ("Y", machine.work.travel_y, machine.y_drive, side_expansion(machine), paths[1]),
        )
    )


def _scale(
    axis: str, travel: float, drive: object, carrier: float, heat: Heat, changes: Floats, path: HeatPath
) -> Scale:
    """Both ends of what the axis may follow, each with and without the turning of the head by a bonded bow."""
    screw, rack = material(RAIL_METAL).expansion, material(RACK_METAL).expansion
    warming = 0.0
    if isinstance(drive, BallScrew):
        warming = heat.screw_warming
        held = drive.ends == "fixed-fixed"
        kinds = (screw, carrier) if held else (screw,)
        words = "the screw, or the beam that holds both its ends" if held else "the screw"
    elif isinstance(drive, RackPinion):
        kinds, words = (rack, carrier), "the rack, or the beam it is screwed to"
    elif isinstance(drive, ToothedBelt):
        kinds, words = (carrier,), "the beam that holds the belt's ends"
    else:
        kinds, words = (screw, carrier), "a steel screw, or the beam that carries the drive"
    spans = []
    for change, turned in zip(changes, path.along, strict=True):
        own = [kind * change for kind in kinds]
        own += [screw * (change + warming)] if warming else []
        errors = [(grown - heat.work_expansion * change) * travel + t for grown in own for t in (0.0, turned)]
        spans.append((float(min(errors)), float(max(errors))))
    worst = max(abs(value) for span in spans for value in span)
    return Scale(axis, travel, words, (min(kinds), max(kinds)), spans[0], spans[1], worst)


def find_screws(setting: Setting, heat: Heat, changes: Floats) -> tuple[HeldScrew, ...]:
    """Ball screws of X and Y that are fixed at both ends."""
    machine, lay = setting.machine, setting.layout
    return tuple(
        _held(axis, drive, length, carrier, heat, changes)
        for axis, drive, length, carrier in (
            ("X", machine.x_drive, 2.0 * lay.joint_x, beam_expansion(machine)),
            ("Y", machine.y_drive, lay.side_beam_length, side_expansion(machine)),
        )
        if isinstance(drive, BallScrew) and drive.ends == "fixed-fixed"
    )


def _held(
    axis: str, drive: BallScrew, length: float, carrier: float, heat: Heat, changes: Floats
) -> HeldScrew:
    """Source: E A / L of the shaft in series with two bearings; Euler load 4 pi^2 E I / L^2 with both ends fixed."""
    steel = material(RAIL_METAL)
    area = math.pi * drive.diameter**2 / 4.0
    second = math.pi * drive.diameter**4 / 64.0
    stiffness = 1.0 / (length / (steel.young * area) + 2.0 / drive.bearing_stiffness.likely)
    warm = changes + np.array([0.0, heat.screw_warming])
    growth = (steel.expansion * warm - carrier * changes) * length
    stretch = max(0.0, float(growth.max()))
    buckling = 4.0 * math.pi**2 * steel.young * second / length**2
    push = stiffness * growth
    return HeldScrew(axis, length, (float(growth[0]), float(growth[1])), stiffness, (float(push[0]), float(push[1])),
                     buckling, stretch, stiffness * stretch)  # fmt: skip
