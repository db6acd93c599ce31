"""Masses of single parts and of all that the Y drives move, as the stiffness model counts them."""

from __future__ import annotations

from core.machine.layout import Layout
from core.machine.project import Machine, Project
from core.materials import material
from core.sections import SectionProperties


def bar_mass(section: SectionProperties, length: float, key: str) -> float:
    """Mass of a straight piece of a section, kg; length in m, `key` of its main material."""
    return section.linear_mass(material(key).density) * length


def plate_mass(width: float, height: float, thickness: float, key: str) -> float:
    """Mass of a plate, kg; sizes in m."""
    return width * height * thickness * material(key).density


def beam_mass(machine: Machine, layout: Layout) -> float:
    """The bare gantry beam, kg."""
    return bar_mass(layout.sections.beam, layout.beam_length, machine.gantry.beam.material)


def upright_mass(machine: Machine, layout: Layout) -> float:
    """One upright, kg."""
    return bar_mass(layout.sections.upright, layout.upright_length, machine.gantry.upright.material)


def foot_mass(machine: Machine, layout: Layout) -> float:
    """One foot plate, kg."""
    foot = machine.gantry.foot_plate
    return plate_mass(foot.width, layout.foot_length, foot.thickness, foot.material)


def saddle_mass(machine: Machine) -> float:
    """The bare saddle plate, kg."""
    saddle = machine.saddle
    return plate_mass(saddle.width, saddle.height, saddle.thickness, saddle.material)


def moving_mass(project: Project, layout: Layout) -> float:
    """All that moves along Y, kg: gantry with rails, carriages, drives' riding parts, saddle and head.

    The head counts with its entered mass; screws and nuts are not counted.
    """
    machine = project.machine
    x, y = machine.x_guides, machine.y_guides
    gantry = beam_mass(machine, layout) + machine.gantry.beam.extra_mass
    gantry += 2.0 * (upright_mass(machine, layout) + foot_mass(machine, layout))
    gantry += 2.0 * x.data.linear_mass * layout.x_rail_length
    gantry += 2.0 * y.carriages * y.data.carriage_mass + 2.0 * machine.y_drive.mass_each
    saddle = saddle_mass(machine) + machine.saddle.extra_mass
    saddle += 2.0 * x.carriages * x.data.carriage_mass + machine.x_drive.mass_each
    return gantry + saddle + machine.head.mass
