"""Where a machine's sections are described, and the ends of the shares of those that are partly joined."""

from __future__ import annotations

from typing import Any

from core.machine.project import Machine
from core.sections import BoltedPlate, TwoProfiles
from core.sections.built_up import share_band

BARS = {
    "gantry.beam.section": ("Gantry beam", "beam"),
    "gantry.upright.section": ("Uprights", "uprights"),
    "base.section": ("Side beams", "side_beams"),
    "base.stand.section": ("Legs", "stand"),
    "base.stand.cross_section": ("Cross members", "stand"),
    "base.stand.diagonals.section": ("Diagonals", "stand"),
}
"""By the path of a section in the machine: what the bar is called, and its component in the model."""


def section_at(machine: Machine, path: str) -> Any:
    """The section at one of these paths; None where there is no such part."""
    found: Any = machine
    for step in path.split("."):
        found = getattr(found, step, None)
    return found


def share_ends(machine: Machine) -> dict[str, float]:
    """What the ends of every share stand at, by path ("machine.gantry.beam.section.share_low"), typed or automatic."""
    found = {}
    for path in BARS:
        section = section_at(machine, path)
        if isinstance(section, TwoProfiles | BoltedPlate):
            low, _, high = share_band(section)
            found[f"machine.{path}.share_low"], found[f"machine.{path}.share_high"] = low, high
    return found
